"""The names that the catalogue has for parts."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from sqlalchemy import Connection, func, select

from kitting.catalog.model import PartNumber
from kitting.store.parts import table_of
from kitting.store.tables.parts import CataloguePartRow

_NAMED = table_of(CataloguePartRow)


def names_of(connection: Connection, parts: Iterable[PartNumber]) -> Mapping[PartNumber, str]:
    """Return the catalogue's name of each part, of the newest edition that has one."""
    wanted = sorted(set(parts))
    newest = (
        select(func.max(_NAMED.c.edition_id), _NAMED.c.part_maker, _NAMED.c.part_number)
        .where(_NAMED.c.part_number.in_({part.number for part in wanted}))
        .group_by(_NAMED.c.part_maker, _NAMED.c.part_number)
        .subquery()
    )
    edition, maker, number = newest.c
    query = select(_NAMED.c.part_maker, _NAMED.c.part_number, _NAMED.c.name).join(
        newest,
        (_NAMED.c.edition_id == edition)
        & (_NAMED.c.part_maker == maker)
        & (_NAMED.c.part_number == number),
    )
    names = {PartNumber(row[0], row[1]): str(row[2]) for row in connection.execute(query)}
    return {part: names.get(part, "") for part in wanted}
