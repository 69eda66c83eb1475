"""Orders told what their needs have first, by all that comes to the same places of the jobs."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sqlalchemy import select

from kitting.buying.sought import sought_of
from kitting.store.aside import aside_of
from kitting.store.parts import table_of
from kitting.store.tables.orders import OrderNeedRow, OrderRow

if TYPE_CHECKING:
    from collections.abc import Callable, Collection, Iterator, Sequence

    from sqlalchemy import Connection

    from kitting.buying.orders import OrderLine
    from kitting.buying.sharing import Place
    from kitting.buying.standing import OrderRecord

_NEEDS, _ORDERS = table_of(OrderNeedRow), table_of(OrderRow)


def with_sought(
    connection: Connection, records: Sequence[OrderRecord], read: Callable[[str], OrderRecord]
) -> tuple[OrderRecord, ...]:
    """Return the orders so told; `read` gives another by its number, with what happened to it.

    Only what several needs share one line of is looked into, and the orders that bring to the
    places of those.
    """
    known = {each.order.number: each for each in records}
    places = {place for each in _lines(records) if len(each.needed_by) > 1 for place in _of(each)}
    if not places:
        return tuple(records)
    fresh = set(places)
    seen: set[Place] = set()
    numbers: list[str] = []
    while fresh:
        seen |= fresh
        numbers = _numbers(connection, {job for job, _ in seen})
        known |= {number: read(number) for number in numbers if number not in known}
        tied = [set(_of(each)) for each in _lines(known.values())]
        fresh = {place for each in tied if each & seen for place in each} - seen
    aside = aside_of(connection, sorted({job for job, _ in seen}))
    told = sought_of([known[number] for number in numbers if number in known], aside)
    known |= {each.order.number: each for each in told}
    return tuple(known[each.order.number] for each in records)


def _lines(records: Collection[OrderRecord]) -> Iterator[OrderLine]:
    return (line for record in records for line in record.order.lines)


def _of(line: OrderLine) -> Iterator[Place]:
    return ((need.job, key) for need in line.needed_by for key in need.positions)


def _numbers(connection: Connection, jobs: Collection[str]) -> list[str]:
    """The orders that anything of these jobs is in, in the order in which they were made."""
    mine = select(_NEEDS.c.number).where(_NEEDS.c.job.in_(jobs))
    query = select(_ORDERS.c.number).where(_ORDERS.c.number.in_(mine))
    return list(connection.execute(query.order_by(_ORDERS.c.running)).scalars())
