"""Pieces that turn up after they were missed, held against what was bought in their place."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.buying.drafting import StillOpen, serves
from kitting.buying.orders import OrderState
from kitting.buying.replies import counted
from kitting.buying.standing import before_of
from kitting.errors import Problems

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from kitting.buying.deliveries import Delivery, DeliveryLine
    from kitting.buying.orders import OrderLine
    from kitting.buying.standing import OrderRecord
    from kitting.job.path import JobPath


def missed_before(record: OrderRecord, came: DeliveryLine) -> int:
    """How many of the pieces that came had been open again, for the shop to buy elsewhere."""
    standing = record.by_line.get(came.line)
    if standing is None:
        return 0
    return max(0, min(standing.made(came.good - standing.coming), standing.reopened))


def check_turned_up(
    record: OrderRecord, came: Delivery, paths: Mapping[str, JobPath], others: Iterable[OrderRecord]
) -> None:
    """Refuse as good what was bought again meanwhile: it is asked for no more, and may go back.

    Args:
        record: the order as it stands before the delivery.
        came: what is booked now.
        paths: the jobs that the order is for, as of today, by number.
        others: the other orders of those jobs.

    Raises:
        BadInput: naming the order that brings the pieces by now.
    """
    bought = [r for r in others if r.order.number != record.order.number and not r.cancelled]
    bought = [r for r in bought if r.state is not OrderState.DRAFT]
    before = before_of((record, *bought))
    problems = Problems()
    for each in came.lines:
        pieces = missed_before(record, each)
        if not pieces:
            continue
        line = record.by_line[each.line].line
        named = [r.order.number for r in bought if _asks_for(r, line)]
        wanted = sum(
            missing
            for job, path in paths.items()
            for missing in _still_missing(line, job, path, StillOpen(path, before))
        )
        if named and wanted < pieces:
            orders = " and ".join(named)
            problems.add(
                f"order {record.order.number}, line {each.line}",
                f"{counted(pieces - wanted, 'piece')} of it turned up after order {orders} asked "
                "for it again",
                f"book it as wrong, to go back (--wrong {each.line}=PIECES), or cancel {orders}",
            )
    problems.raise_if_any()


def drafts_that_ask(
    record: OrderRecord, line_id: str, others: Iterable[OrderRecord]
) -> tuple[str, ...]:
    """The drafts that still ask for what a line of an order was for, by number."""
    line = record.by_line[line_id].line
    return tuple(
        each.order.number
        for each in others
        if each.state is OrderState.DRAFT and _asks_for(each, line)
    )


def _asks_for(other: OrderRecord, line: OrderLine) -> bool:
    """Whether another order brings something for the places that a line is for."""
    places = {(need.job, key) for need in line.needed_by for key in need.positions}
    return any(
        (need.job, key) in places
        for each in other.lines
        if each.secured
        for need in each.line.needed_by
        for key in need.positions
    )


def _still_missing(
    line: OrderLine, job: str, path: JobPath, still_open: StillOpen
) -> Iterator[int]:
    """How many pieces each kit line that an order line is for still misses."""
    needs = [need for need in line.needed_by if need.job == job]
    for kit_line in path.kit.lines:
        if any(serves(need, line.part, kit_line) for need in needs):
            yield still_open.made(kit_line).missing
