"""How what came of an order's line is shared out to those it is for.

The first have theirs first, and what was given up by its job comes last. A piece that makes several
may serve several needs. What is in a set is there when the set is; of several sets each job has its
own.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from kitting.buying.orders import LineFor, OrderLine

_NONE = Fraction(0)
Place = tuple[str, str]
_NOTHING: Mapping[Place, Fraction] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Share:
    """What one need gets of a line: `given` of its pieces as asked, which are so many `pieces` of
    what is agreed; the need as it was asked, and as it is `agreed`."""

    need: LineFor
    agreed: LineFor
    given: Fraction
    pieces: int


def given_of(
    line: OrderLine,
    there: Fraction,
    gave_up: Callable[[LineFor], bool],
    gone: Mapping[Place, Fraction] = _NOTHING,
) -> tuple[Fraction, ...]:
    """Return how much each need of a line has, in its order, counted as it was asked for.

    Args:
        line: what was asked for.
        there: what there is of it.
        gave_up: whether the job of a need wants it no more.
        gone: what went back, by job and position: so much less is wanted there before all others
            have theirs.
    """
    sets, left = line.sets_by_job, there
    given: dict[int, Fraction] = {}
    served: dict[str, bool] = {}
    for last in (False, True):
        turn = [(at, need) for at, need in enumerate(line.needed_by) if gave_up(need) == last]
        for at, need in turn:
            if need.in_set:
                if need.job not in served:
                    served[need.job] = there >= line.quantity or left >= sets[need.job]
                    left -= sets[need.job] if served[need.job] else 0
                given[at] = Fraction(need.pieces if served[need.job] else 0)
            else:
                less = sum((gone.get((need.job, key), _NONE) for key in need.positions), _NONE)
                given[at] = max(_NONE, min(need.pieces - less, left))
                left -= given[at]
        for at, need in turn:
            if not need.in_set:
                more = max(_NONE, min(need.pieces - given[at], left))
                given[at] += more
                left -= more
    return tuple(given[at] for at in range(len(line.needed_by)))
