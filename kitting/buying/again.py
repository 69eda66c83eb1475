"""What of an order must be bought again, and where that was done meanwhile.

An order is drafted for what earlier ones leave open. So a line that failed is bought again where an
order of a later number brings pieces to the same place of the same job. An order does not say
beside which others it was drafted: what one of these brings there counts too.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from itertools import dropwhile
from typing import TYPE_CHECKING

from kitting.buying.standing import before_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from kitting.buying.orders import LineFor
    from kitting.buying.standing import LineStanding, OrderRecord

_NONE = Fraction(0)


@dataclass(frozen=True, slots=True)
class Again:
    """How many lines are still to be ordered again; what was, in `bought` orders or in `drafts`."""

    lines: int = 0
    bought: tuple[str, ...] = ()
    drafts: tuple[str, ...] = ()


def ordered_again(record: OrderRecord, every: Sequence[OrderRecord]) -> Again:
    """What became of the lines that an order left open.

    Args:
        record: the order; of a draft nothing was ordered, so nothing is ordered again.
        every: the orders of its jobs, in the order in which they were made.
    """
    if record.order.draft:
        return Again()
    number = record.order.number
    later = tuple(dropwhile(lambda each: each.order.number != number, every))[1:]
    rest = [(other, _brought(other)) for other in later]
    still = 0
    found: dict[str, OrderRecord] = {}
    for each in record.lines:
        if not each.reopened:
            continue
        left = (_left(need, opened, rest, found) for need, opened in _opened(each))
        still += sum(left, _NONE) > 0
    drafts = tuple(key for key, other in found.items() if other.order.draft)
    bought = sorted(set(found) - set(drafts), key=[each.order.number for each in later].index)
    return Again(still, tuple(bought), drafts)


def _opened(each: LineStanding) -> list[tuple[LineFor, Fraction]]:
    """The needs of a line that it leaves open, each with how much, as the kit counts it."""
    # What went back unused is not open.
    kept = each.secured + -(-each.gone_unused * each.per // each.makes)
    opened = []
    for share in each.shared(kept):
        given = _NONE if share.need.in_set else share.given
        if given < share.need.pieces:
            opened.append((share.need, _in_kit(share.need, share.need.pieces - given)))
    return opened


def _brought(other: OrderRecord) -> list[tuple[LineFor, Fraction]]:
    """What an order brings to each need, as the kit counts it."""
    return [(each.need, _in_kit(each.need, each.need.pieces)) for each in before_of([other]).coming]


def _left(
    need: LineFor,
    opened: Fraction,
    rest: list[tuple[OrderRecord, list[tuple[LineFor, Fraction]]]],
    found: dict[str, OrderRecord],
) -> Fraction:
    """What is still open of a need after it has taken what other orders bring, those in `found`."""
    left = opened
    for other, brought in rest:
        taken = _take(brought, need, left)
        left -= taken
        if taken:
            found[other.order.number] = other
    return left


def _take(brought: list[tuple[LineFor, Fraction]], need: LineFor, opened: Fraction) -> Fraction:
    """Take up to so much of what is brought to the place of a need, and say how much there was."""
    taken = _NONE
    for at, (each, amount) in enumerate(brought):
        if each.job == need.job and set(each.positions) & set(need.positions):
            here = min(amount, opened - taken)
            brought[at] = (each, amount - here)
            taken += here
    return taken


def _in_kit(need: LineFor, pieces: int | Fraction) -> Fraction:
    return Fraction(pieces * need.makes) / need.per
