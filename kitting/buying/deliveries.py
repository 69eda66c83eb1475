"""What came of an order, and what goes back: counted in pieces, by line."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from kitting.errors import BadInput, Problem, Problems
from kitting.job.findings import Reading

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from datetime import date

    from kitting.buying.orders import Order


class Why(StrEnum):
    """Why something goes back."""

    SURPLUS = "surplus"
    SALE_OR_RETURN = "sale or return"
    DAMAGED = "damaged"
    WRONG = "wrong"


@dataclass(frozen=True, slots=True)
class DeliveryLine:
    """What one delivery brought of one line, in pieces.

    `good` are of the right part and whole, `damaged` of the right part, `wrong` something else or
    not asked for. What is missing of the line is open again but for `to_follow`, which the
    supplier still sends (a back order). `to_measure` says that the good ones have a drawing that
    they are held against: until that is done they are here and not proven. `readings` were taken
    then or later; of the good ones they prove so many `inside` their drawing and so many `outside`,
    and leave so many too `near` to call.
    """

    line: str
    good: int
    damaged: int = 0
    wrong: int = 0
    to_follow: int = 0
    note: str = ""
    readings: tuple[Reading, ...] = ()
    inside: int = 0
    outside: int = 0
    near: int = 0
    to_measure: bool = False

    @property
    def by_figures(self) -> tuple[int, int, int]:
        """How many pieces are inside, outside, and too near to call."""
        return self.inside, self.outside, self.near

    @property
    def counts(self) -> tuple[str, int, int, int, int]:
        """What was counted, whatever was measured since."""
        return self.line, self.good, self.damaged, self.wrong, self.to_follow


@dataclass(frozen=True, slots=True)
class Delivery:
    """One delivery: the supplier's own note number, who counted it, and when."""

    order: str
    day: date
    who: str
    lines: tuple[DeliveryLine, ...]
    their_note: str = ""

    def same_as(self, other: Delivery) -> bool:
        """Whether it is the same note with the same counts: the same parcel booked twice."""
        mine, others = ([line.counts for line in each.lines] for each in (self, other))
        return bool(self.their_note) and (self.their_note, mine) == (other.their_note, others)


@dataclass(frozen=True, slots=True)
class Return:
    """Pieces that go back to the supplier.

    `job` and `position` say for what they were, where that is known.
    """

    line: str
    pieces: int
    why: Why
    who: str
    day: date
    note: str = ""
    job: str = ""
    position: str = ""


def gone_back(returns: Iterable[Return], line: str) -> dict[Why, int]:
    """How many pieces of a line went back, by reason."""
    back = dict.fromkeys(Why, 0)
    for each in returns:
        if each.line == line:
            back[each.why] += each.pieces
    return back


def gone_by_place(returns: Iterable[Return], line: str) -> Mapping[tuple[str, str], int]:
    """How many pieces of a line went back by job and position, where that is known."""
    gone: Counter[tuple[str, str]] = Counter()
    for each in returns:
        if each.line == line and each.job:
            gone[each.job, each.position] += each.pieces
    return gone


def check_delivery(order: Order, delivery: Delivery, coming: Mapping[str, int]) -> None:
    """Refuse a delivery that cannot be one of this order; `coming` is what of a line may come.

    Raises:
        BadInput: with everything that is wrong, each at its line.
    """
    problems = Problems()
    if not delivery.lines:
        problems.add(f"order {order.number}", "the delivery has no line", "say what came")
    seen: set[str] = set()
    for came in delivery.lines:
        place = f"order {order.number}, line {came.line}"
        if came.line not in coming:
            problems.add(place, "the order has no such line", f"its lines: {', '.join(coming)}")
        elif came.line in seen:
            problems.add(place, "the line stands twice", "give each line once")
        else:
            _check_counts(place, came, coming[came.line], problems)
        seen.add(came.line)
    problems.raise_if_any()


def _check_counts(place: str, came: DeliveryLine, coming: int, problems: Problems) -> None:
    if min(came.good, came.damaged, came.wrong, came.to_follow) < 0:
        problems.add(place, "a count is below zero", "count what came")
    elif came.good + came.damaged > coming:
        problems.add(
            place,
            f"{came.good + came.damaged} pieces came and {coming} were still to come",
            "count again; more than was asked for goes down as wrong",
        )
    elif came.to_follow > coming - came.good:
        problems.add(
            place,
            f"{came.to_follow} are said to follow and {coming - came.good} are missing",
            "no more can follow than are missing",
        )


def check_return(place: str, back: Return, may_go: Mapping[Why, int]) -> None:
    """Refuse to send back more than there is to send; `may_go` is by reason.

    Raises:
        BadInput: saying what may go back.
    """
    most = may_go.get(back.why, 0)
    if 1 <= back.pieces <= most:
        return
    rest = ", ".join(f"{count} {why}" for why, count in may_go.items() if count)
    raise BadInput(
        Problem(
            place,
            f"{back.pieces} of it cannot go back as {back.why}",
            f"what may go back: {rest}" if rest else "nothing of this line may go back",
        )
    )
