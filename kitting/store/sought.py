"""Orders told what their needs have first, by all that comes to the same places of the jobs."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from sqlalchemy import select

from kitting.buying.going_back import asked_for
from kitting.buying.sought import sought_of
from kitting.store.aside import aside_of
from kitting.store.parts import table_of
from kitting.store.tables.orders import OrderNeedRow, OrderRow

if TYPE_CHECKING:
    from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
    from fractions import Fraction

    from sqlalchemy import Connection

    from kitting.buying.orders import OrderLine
    from kitting.buying.sharing import OfLine, Place
    from kitting.buying.standing import LineStanding, OrderRecord
    from kitting.job.path import JobPath
    from kitting.store.kits import Kits

_NEEDS, _ORDERS = table_of(OrderNeedRow), table_of(OrderRow)


def with_sought(
    connection: Connection,
    records: Sequence[OrderRecord],
    read: Callable[[str], OrderRecord],
    kits: Kits,
) -> tuple[OrderRecord, ...]:
    """Return the orders so told; `read` gives another by its number, with what happened to it.

    Only what several needs share one line of is looked into, and the orders that bring to the
    places of those. Whether a kit still asks is looked up where not all of such a line is here.
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
    tied_in = _asked([known[number] for number in numbers if number in known], kits)
    told = sought_of(tied_in, aside)
    known |= {each.order.number: each for each in told}
    return tuple(known[each.order.number] for each in records)


def _asked(records: Sequence[OrderRecord], kits: Kits) -> list[OrderRecord]:
    """The same orders, told what the kits ask for today of the jobs that may go without."""
    jobs = {need.job for record in records for each in _short(record) for need in each.needed_by}
    paths = {job: path for job in sorted(jobs) if (path := kits.path(job)) is not None}
    if not paths:
        return list(records)
    return [replace(each, asks=_asks(each, paths)) for each in records]


def _short(record: OrderRecord) -> Iterator[LineStanding]:
    """The lines that several share of which some is here or to come, and not all is here."""
    for each in () if record.order.draft else record.lines:
        here = each.good + each.unproven
        shared = len(each.line.needed_by) > 1 and each.secured > 0
        if shared and each.good < each.needed and (here or each.secured < each.needed):
            yield each


def _asks(record: OrderRecord, paths: Mapping[str, JobPath]) -> dict[str, dict[OfLine, Fraction]]:
    found: dict[str, dict[OfLine, Fraction]] = {}
    for each in () if record.order.draft else record.lines:
        for need in each.needed_by:
            path = paths.get(need.job)
            asks = asked_for(each, need, path) if path else None
            if asks is not None:
                found.setdefault(each.line.id, {})[need.job, need.positions] = asks
    return found


def _lines(records: Collection[OrderRecord]) -> Iterator[OrderLine]:
    return (line for record in records for line in record.order.lines)


def _of(line: OrderLine) -> Iterator[Place]:
    return ((need.job, key) for need in line.needed_by for key in need.positions)


def _numbers(connection: Connection, jobs: Collection[str]) -> list[str]:
    """The orders that anything of these jobs is in, in the order in which they were made."""
    mine = select(_NEEDS.c.number).where(_NEEDS.c.job.in_(jobs))
    query = select(_ORDERS.c.number).where(_ORDERS.c.number.in_(mine))
    return list(connection.execute(query.order_by(_ORDERS.c.running)).scalars())
