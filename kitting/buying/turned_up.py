"""Pieces that come after they were given up, held against what was bought in their place.

They turn up in a parcel, or the supplier says that he has them after all.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from kitting.buying.drafting import StillOpen, is_declined, serves
from kitting.buying.orders import OrderState
from kitting.buying.replies import counted
from kitting.buying.standing import before_of
from kitting.errors import BadInput, Problem, Problems

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from kitting.buying.deliveries import Delivery, DeliveryLine
    from kitting.buying.orders import OrderLine
    from kitting.buying.replies import Question
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
    instead = _Instead(record, paths, others)
    problems = Problems()
    for each in came.lines:
        pieces = missed_before(record, each)
        if not pieces:
            continue
        line = record.by_line[each.line].line
        named, idle = instead.of(line), pieces - instead.still_missing(line)
        if named and idle > 0:
            orders = " and ".join(named)
            problems.add(
                f"order {record.order.number}, line {each.line}",
                f"{counted(idle, 'piece')} of it turned up after order {orders} asked for it again",
                f"book it as wrong, to go back (--wrong {each.line}=PIECES), or cancel {orders}",
            )
    problems.raise_if_any()


def check_after_all(
    record: OrderRecord,
    question: Question,
    paths: Mapping[str, JobPath],
    others: Iterable[OrderRecord],
) -> None:
    """Refuse to accept what was given up before and nobody misses any more.

    Args:
        record: the order as it stands before the answer.
        question: what the reply asks about one line.
        paths: the jobs that the order is for, as of today, by number.
        others: the other orders of those jobs.

    Raises:
        BadInput: the kits miss fewer pieces than would come.
    """
    missed = missed_of(record, question.line, paths, others)
    idle = question.after_all - missed.pieces
    if idle <= 0:
        return
    orders = " and ".join(missed.bought_in)
    where = f"order {orders} brings it" if orders else "the kit has it or asks for it no more"
    raise BadInput(
        Problem(
            f"order {record.order.number}, line {question.line.id}",
            f"{counted(idle, 'piece')} of what would come after all is missing no more: {where}",
            f"refuse it{f', or cancel {orders} first' if orders else ''}",
        )
    )


@dataclass(frozen=True, slots=True)
class Missed:
    """How many pieces of what a line is for the kits still miss; the rest is `bought_in` orders
    that bring something for the same places, or wanted no more."""

    pieces: int
    bought_in: tuple[str, ...] = ()


def missed_of(
    record: OrderRecord,
    line: OrderLine,
    paths: Mapping[str, JobPath],
    others: Iterable[OrderRecord],
) -> Missed:
    """Return what the kits still miss of what a line is for, beside its order and the others."""
    instead = _Instead(record, paths, others)
    return Missed(instead.still_missing(line), tuple(instead.of(line)))


class _Instead:
    """What other orders bring for the jobs of one, and what their kits miss all the same."""

    def __init__(
        self, record: OrderRecord, paths: Mapping[str, JobPath], others: Iterable[OrderRecord]
    ) -> None:
        self._paths = paths
        self._bought = [
            each
            for each in others
            if each.order.number != record.order.number
            and not each.cancelled
            and each.state is not OrderState.DRAFT
        ]
        self._before = before_of((record, *self._bought))

    def of(self, line: OrderLine) -> list[str]:
        """The orders that bring something for the places that a line is for."""
        return [each.order.number for each in self._bought if _asks_for(each, line)]

    def still_missing(self, line: OrderLine) -> int:
        """How many pieces of a line the kit lines that it is for still miss."""
        return sum(
            missing
            for job, path in self._paths.items()
            for missing in _still_missing(line, job, path, StillOpen(path, self._before))
        )


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
    """How many pieces of an order line each kit line that it is for still misses; of sets, how
    many sets."""
    needs = [need for need in line.needed_by if need.job == job]
    lacks_of_set = False
    for kit_line in path.kit.lines:
        need = next((each for each in needs if serves(each, line.part, kit_line)), None)
        if need is None or is_declined(path, kit_line):
            continue
        made = still_open.made(kit_line)
        if need.in_set:
            lacks_of_set = lacks_of_set or made.missing > 0
        else:
            yield made.wanted(need.lot(line.part))
    if lacks_of_set:
        yield line.sets_by_job[job]
