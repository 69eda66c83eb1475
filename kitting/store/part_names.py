"""The names that the catalogue has for parts."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from sqlalchemy import Connection, select

from kitting.catalog.model import PartNumber
from kitting.store.parts import table_of
from kitting.store.tables.catalogue import EditionRow
from kitting.store.tables.parts import CataloguePartRow

_NAMED = table_of(CataloguePartRow)
_EDITIONS = table_of(EditionRow)


def names_of(connection: Connection, parts: Iterable[PartNumber]) -> Mapping[PartNumber, str]:
    """Return the catalogue's name of each part, of the last edition put in force that has one."""
    wanted = sorted(set(parts))
    query = (
        select(_NAMED.c.part_maker, _NAMED.c.part_number, _NAMED.c.name)
        .join(_EDITIONS, _EDITIONS.c.id == _NAMED.c.edition_id)
        .where(_NAMED.c.part_number.in_({part.number for part in wanted}))
        .order_by(_EDITIONS.c.loaded_at, _EDITIONS.c.id)
    )
    names = {PartNumber(row[0], row[1]): str(row[2]) for row in connection.execute(query)}
    return {part: names.get(part, "") for part in wanted}
