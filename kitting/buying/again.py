"""What of an order must be bought again, and where that was done meanwhile.

An order is drafted for what earlier ones leave open. So a line that failed is bought again where a
later order brings pieces to the same place of the same job.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from itertools import dropwhile
from typing import TYPE_CHECKING

from kitting.buying.standing import before_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

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
    still = 0
    found: dict[str, OrderRecord] = {}
    for each in record.lines:
        if each.reopened:
            left = _opened(each)
            for other in later:
                brought = [_brought(other, need) for need, _ in left]
                if any(brought):
                    found[other.order.number] = other
                left = [(n, open_ - here) for (n, open_), here in zip(left, brought, strict=True)]
            still += any(open_ > 0 for _, open_ in left)
    drafts = tuple(key for key, other in found.items() if other.order.draft)
    return Again(still, tuple(key for key in found if key not in drafts), drafts)


def _opened(each: LineStanding) -> list[tuple[LineFor, Fraction]]:
    """The needs of a line that it leaves open, each with how much, as the kit counts it."""
    # What went back unused is not open.
    left = each.secured + -(-each.gone_unused * each.per // each.makes)
    opened = []
    for need in each.needed_by:
        given = 0 if need.in_set else min(need.pieces, left)
        left -= given
        if given < need.pieces:
            opened.append((need, _in_kit(need, need.pieces - given)))
    return opened


def _brought(other: OrderRecord, need: LineFor) -> Fraction:
    """How much an order brings to the place of a need."""
    places = set(need.positions)
    mine: Iterable[LineFor] = (
        each.need
        for each in before_of([other]).coming
        if each.need.job == need.job and places & set(each.need.positions)
    )
    return sum((_in_kit(each, each.pieces) for each in mine), _NONE)


def _in_kit(need: LineFor, pieces: int) -> Fraction:
    return Fraction(pieces * need.makes, need.per)
