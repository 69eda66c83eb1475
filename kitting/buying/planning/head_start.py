"""A head start: a good plan found quickly, so that what is dearer need not be looked at.

It uses only the columns that look best when decisions may be taken in part. Where the problem is
large, the plan without any set is looked for first, which is easy, so that there is one if the
proof takes too long. Nothing is proved by either; the proof runs on all that could be as cheap.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.buying.planning.solver import Effort, solve

if TYPE_CHECKING:
    from kitting.buying.planning.model import Model
    from kitting.buying.planning.solver import Relaxed

# From so many columns on a problem is large.
_LARGE = 6000
# Of the time allowed, so much for each of the two.
_SHARE = 0.2
# So many of the columns are looked at, in small and in large problems, and as near to its own best
# a head start need come, as a part of its cost: found by trial on random markets.
_COLUMNS, _COLUMNS_OF_MANY = 0.35, 0.2
_NEAR, _NEAR_OF_MANY = 0.005, 0.002


def head_start(model: Model, in_part: Relaxed, effort: Effort) -> tuple[int, ...] | None:
    """Return a good solution of a model, or None where none was found."""
    program = model.program
    large = len(program.costs) >= _LARGE
    near = _NEAR_OF_MANY if large else _NEAR
    short = Effort(effort.seconds * _SHARE, effort.seed)
    first = None
    if large:
        unopened = {column: 0 for columns, _ in model.opened for column in columns}
        first = solve(program, short, unopened, near=near).values or None
    looked_at = int(len(in_part.prices) * (_COLUMNS_OF_MANY if large else _COLUMNS))
    limit = sorted(in_part.prices)[looked_at]
    kept = {column for column, value in enumerate(first or ()) if value}
    dull = {
        column: 0
        for column, price in enumerate(in_part.prices)
        if price > limit and column not in kept
    }
    return solve(program, short, dull, first, near=near).values or first
