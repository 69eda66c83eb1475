"""A part by the number that a person types, and the names that the catalogue has for parts."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from sqlalchemy import Connection, func, or_, select

from kitting.catalog.model import PartNumber, normal_number
from kitting.errors import BadInput, NotFound, Problem
from kitting.store.parts import table_of
from kitting.store.tables.parts import CataloguePartRow, PartRow

_PARTS = table_of(PartRow)
_NAMED = table_of(CataloguePartRow)
_LOOKED_AT = 5000


def part_typed(connection: Connection, typed: str) -> PartNumber:
    """Return the part that a number names; spacing, dashes and case do not count.

    A maker's key may stand before a colon. What is only near is offered, never taken.

    Raises:
        NotFound: neither the catalogue nor a price list has such a number.
        BadInput: several makers have it.
    """
    maker, _, number = typed.strip().rpartition(":")
    query = select(_PARTS).where(_PARTS.c.normal == normal_number(number))
    if maker:
        query = query.where(_PARTS.c.part_maker == maker.strip())
    found = [PartNumber(row.part_maker, row.part_number) for row in connection.execute(query)]
    exact = [part for part in found if part.number == number.strip()]
    if len(exact or found) == 1:
        return (exact or found)[0]
    if found:
        names = ", ".join(str(part) for part in sorted(found))
        raise BadInput(Problem("PART", f"'{typed}' is the number of several parts", f"say {names}"))
    raise NotFound("part number", typed, _near(connection, normal_number(number)))


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


def _near(connection: Connection, normal: str) -> list[str]:
    from rapidfuzz import process
    from rapidfuzz.distance import Levenshtein

    half = len(normal) // 2
    alike = or_(_PARTS.c.normal.startswith(normal[:half]), _PARTS.c.normal.endswith(normal[half:]))
    rows = connection.execute(select(_PARTS).where(alike).limit(_LOOKED_AT)).all()
    numbers = {f"{row.part_maker}:{row.part_number}": row.normal for row in rows}
    found = process.extract(normal, numbers, scorer=Levenshtein.distance, score_cutoff=2, limit=3)
    return [str(key) for _, _, key in found]
