"""How what came of an order's line is shared out to those it is for.

What an engine that was built has in it stays its own. Then the first have theirs first: what they
want of it, then what is left up to what was asked for. What its job wants no more comes last. A
piece that makes several may serve several needs. What is in a set is there when the set is; of
several sets each job has its own.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from kitting.buying.orders import LineFor, OrderLine

_NONE = Fraction(0)
Place = tuple[str, str]
OfLine = tuple[str, tuple[str, ...]]
"""A need within its line: its job and its positions."""


@dataclass(frozen=True, slots=True)
class Share:
    """What one need gets of a line: `given` of its pieces as asked, which are so many `pieces` of
    what is agreed; the need as it was asked, and as it is `agreed`."""

    need: LineFor
    agreed: LineFor
    given: Fraction
    pieces: int


def gone_of(line: OrderLine, gone: Mapping[Place, Fraction]) -> tuple[Fraction, ...]:
    """Return how much of what each need of a line asked for went back.

    Args:
        line: what was asked for.
        gone: what went back, by job and position, counted as it was asked for.
    """
    left = dict(gone)
    found = []
    for need in line.needed_by:
        taken = _NONE
        for place in () if need.in_set else ((need.job, key) for key in need.positions):
            part = min(need.pieces - taken, left.get(place, _NONE))
            if part:
                left[place] -= part
                taken += part
        found.append(taken)
    return tuple(found)


def given_of(
    line: OrderLine,
    there: Fraction,
    gave_up: Callable[[LineFor], bool],
    first: Sequence[Fraction],
    built_in: Sequence[Fraction],
) -> tuple[Fraction, ...]:
    """Return how much each need of a line has, in its order, counted as it was asked for.

    Args:
        line: what was asked for.
        there: what there is of it.
        gave_up: whether the job of a need wants it no more.
        first: how much each need has before any other has more than that.
        built_in: how much of it is in an engine that was built, and so no other's.
    """
    sets, left = line.sets_by_job, there
    given = [_NONE] * len(line.needed_by)
    served: dict[str, bool] = {}
    for at, need in enumerate(line.needed_by):
        if not need.in_set:
            given[at] = min(built_in[at], left)
            left -= given[at]
        elif built_in[at] and need.job not in served:
            served[need.job] = left >= sets[need.job]
            left -= sets[need.job] if served[need.job] else 0
    for last in (False, True):
        turn = [(at, need) for at, need in enumerate(line.needed_by) if gave_up(need) == last]
        wanting = {need.job for at, need in turn if need.in_set and first[at] > 0}
        for early in (True, False):
            for at, need in turn:
                if not need.in_set:
                    asked = Fraction(need.pieces)
                    most = min(first[at], asked) if early else asked
                    more = max(_NONE, min(most - given[at], left))
                    given[at] += more
                    left -= more
                elif (need.job in wanting) == early:
                    if need.job not in served:
                        served[need.job] = there >= line.quantity or left >= sets[need.job]
                        left -= sets[need.job] if served[need.job] else 0
                    given[at] = Fraction(need.pieces if served[need.job] else 0)
    return tuple(given)
