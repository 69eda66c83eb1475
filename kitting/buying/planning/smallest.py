"""The fewest of some items that fail together: what clashes, told as shortly as it can be.

Items that fail together fail with more beside them. So every set that fails meets every set whose
leaving out lets the rest hold. As few as meet all such sets that are known are tried: where they
hold, they are grown until nothing more can be added, and what is left out then is one set more.
Where they fail, or would be no fewer than what is known to fail, the fewest are found (the smallest
unsatisfiable subset by hitting sets: Ignatiev, Previti, Liffiton and Marques-Silva 2015, from
memory).
"""

from __future__ import annotations

from time import monotonic
from typing import TYPE_CHECKING, TypeVar

from kitting.buying.planning.solver import Effort, Outcome, Program, solve

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

_Item = TypeVar("_Item")


def smallest(
    items: Sequence[_Item],
    known: tuple[_Item, ...],
    fails: Callable[[tuple[_Item, ...]], bool],
    effort: Effort,
) -> tuple[tuple[_Item, ...], bool]:
    """Return the fewest of the items that fail together, in their order, and whether it is settled
    that there are no fewer.

    Args:
        items: all of them.
        known: some that fail, none of them spare; returned where there are no fewer, or where the
            time is up before that is settled.
        fails: whether some of the items fail together.
        effort: how long to try, and the seed.
    """
    until = monotonic() + effort.seconds
    met: list[frozenset[int]] = []
    while monotonic() < until:
        chosen = _meeting(len(items), met, effort)
        if chosen is None:
            break
        if len(chosen) >= len(known):
            return known, True
        tried = tuple(items[at] for at in sorted(chosen))
        if fails(tried):
            return tried, True
        held = _grown(items, chosen, fails)
        met.append(frozenset(range(len(items))) - held)
    return known, False


def _meeting(count: int, met: Iterable[frozenset[int]], effort: Effort) -> frozenset[int] | None:
    """The fewest items of which one is in each set; None where that was not settled."""
    program = Program()
    columns = [program.column(1) for _ in range(count)]
    for each in met:
        program.at_least(1, {columns[at]: 1 for at in each})
    found = solve(program, effort, reduced=False)
    if found.outcome is not Outcome.PROVED:
        return None
    return frozenset(at for at, value in enumerate(found.values) if value)


def _grown(
    items: Sequence[_Item],
    chosen: frozenset[int],
    fails: Callable[[tuple[_Item, ...]], bool],
) -> frozenset[int]:
    """The chosen, and all that hold with them: in halves, quarters, one by one."""
    held = set(chosen)
    left = [at for at in range(len(items)) if at not in held]
    size = max(1, len(left) // 2)
    while True:
        at = 0
        while at < len(left):
            more = left[at : at + size]
            if fails(tuple(items[each] for each in sorted({*held, *more}))):
                at += size
            else:
                held.update(more)
                del left[at : at + size]
        if size == 1:
            return frozenset(held)
        size //= 2
