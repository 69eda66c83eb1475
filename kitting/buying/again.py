"""What of an order must be bought again, and where that was done meanwhile.

A line that failed must be bought again where the kit of its job still misses pieces, with all that
lies here and comes by any order. As far as it misses none, the last orders that bring pieces to the
same place are where it was bought again: one drafted beside the order that failed brought its own.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from itertools import dropwhile
from typing import TYPE_CHECKING, NamedTuple

from kitting.buying.drafting import StillOpen, is_declined, serves
from kitting.buying.standing import before_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from kitting.buying.orders import LineFor
    from kitting.buying.standing import LineStanding, OrderRecord
    from kitting.catalog.model import PartNumber
    from kitting.job.kit import KitLine
    from kitting.job.path import JobPath

_NONE = Fraction(0)


@dataclass(frozen=True, slots=True)
class Again:
    """How many lines are still to be ordered again; what was, in `bought` orders or in `drafts`."""

    lines: int = 0
    bought: tuple[str, ...] = ()
    drafts: tuple[str, ...] = ()


class Missing(NamedTuple):
    """So many pieces that a kit line still misses, beside what lies here and what is to come."""

    job: str
    line: KitLine
    pieces: Fraction


def still_missing(path: JobPath, every: Iterable[OrderRecord]) -> tuple[Missing, ...]:
    """Return what the kit of a job misses; `every` are the orders that anything of it is in."""
    left = StillOpen(path, before_of(every))
    counts = ((line, left.made(line).missing) for line in path.kit.lines)
    job = path.bench.job.number
    return tuple(
        Missing(job, line, Fraction(count))
        for line, count in counts
        if count and not is_declined(path, line)
    )


def ordered_again(
    record: OrderRecord, every: Sequence[OrderRecord], missing: Iterable[Missing]
) -> Again:
    """What became of the lines that an order left open.

    Args:
        record: the order; of a draft nothing was ordered, so nothing is ordered again.
        every: the orders of its jobs, in the order in which they were made.
        missing: what the kits of its open jobs miss; for a job that is closed nothing is bought.
    """
    return _again(record, every, list(missing))


def ordered_again_each(
    records: Iterable[OrderRecord], every: Sequence[OrderRecord], missing: Iterable[Missing]
) -> Mapping[str, Again]:
    """The same of several orders side by side, by number: a piece that is missing is told once.

    Where several orders left it open, the first that still stands tells it.
    """
    pools = list(missing)
    standing_first = sorted(records, key=lambda record: record.cancelled)
    return {each.order.number: _again(each, every, pools) for each in standing_first}


def _again(record: OrderRecord, every: Sequence[OrderRecord], pools: list[Missing]) -> Again:
    """What became of what an order left open; what is missing of it is taken from the pools."""
    if record.order.draft:
        return Again()
    number = record.order.number
    later = tuple(dropwhile(lambda each: each.order.number != number, every))[1:]
    rest = [(other, _brought(other)) for other in reversed(later)]
    still = 0
    found: dict[str, OrderRecord] = {}
    for each in record.lines:
        if not each.left_open:
            continue
        wanted = {
            (need.job, need.positions): _lacking(pools, need, each.line.part, opened)
            for need, opened in _opened(each, each.secured)
        }
        # What went back unused was not bought again, whatever else comes to the place.
        kept = each.secured + -(-each.gone_unused * each.per // each.makes)
        for need, opened in _opened(each, kept):
            again = max(_NONE, opened - wanted[need.job, need.positions])
            _bought(need, again, rest, found)
        still += any(wanted.values())
    drafts = tuple(other.order.number for other in later if other.order.draft)
    named = [other.order.number for other in later if other.order.number in found]
    return Again(
        still,
        tuple(each for each in named if each not in drafts),
        tuple(each for each in named if each in drafts),
    )


def _lacking(pools: list[Missing], need: LineFor, part: PartNumber, opened: Fraction) -> Fraction:
    """Take what the kit still misses of an open need, and say how much that is."""
    lacking = _NONE
    for at, each in enumerate(pools):
        if each.job == need.job and serves(need, part, each.line):
            taken = min(each.pieces, opened - lacking)
            pools[at] = each._replace(pieces=each.pieces - taken)
            lacking += taken
    return lacking


def _opened(each: LineStanding, kept: int) -> list[tuple[LineFor, Fraction]]:
    """The needs that a line leaves open beside what is kept, and how much, as the kit counts it."""
    opened = []
    for share in each.shared(kept, as_asked=True):
        if share.given < share.need.pieces:
            opened.append((share.need, _in_kit(share.need, share.need.pieces - share.given)))
    return opened


def _brought(other: OrderRecord) -> list[tuple[LineFor, Fraction]]:
    """What an order brings to each need, as the kit counts it."""
    return [(each.need, _in_kit(each.need, each.need.pieces)) for each in before_of([other]).coming]


def _bought(
    need: LineFor,
    amount: Fraction,
    rest: list[tuple[OrderRecord, list[tuple[LineFor, Fraction]]]],
    found: dict[str, OrderRecord],
) -> None:
    """Note in `found` the orders, the last first, that brought so much to a need's place."""
    for other, brought in rest:
        taken = _take(brought, need, amount)
        amount -= taken
        if taken:
            found[other.order.number] = other


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
