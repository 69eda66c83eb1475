"""A head start for large problems: good plans found quickly, in case the proof takes too long.

First the plan without any set, which is easy. Then the plan that uses only the columns that look
best when decisions may be taken in part. Neither proves anything; the proof runs on the whole.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.buying.planning.solver import Effort, reduced_costs, solve

if TYPE_CHECKING:
    from kitting.buying.planning.model import Model

# Smaller programs are proved sooner than a head start is found.
_LARGE = 6000
# Of the time allowed, so much for each of the two; and so many of the columns are looked at.
_SHARE = 0.2
_COLUMNS = 0.2
# As near to its own best as a head start need come, as a part of its cost.
_NEAR = 0.002


def head_start(model: Model, effort: Effort) -> tuple[int, ...] | None:
    """Return a good solution of a large model; None where it is small, or none was found."""
    program = model.program
    if len(program.costs) < _LARGE:
        return None
    short = Effort(effort.seconds * _SHARE, effort.seed)
    opened = {column: 0 for columns, _ in model.opened for column in columns}
    first = solve(program, short, opened, near=_NEAR).values or None
    prices = reduced_costs(program, short)
    if prices is None:
        return first
    limit = sorted(prices)[int(len(prices) * _COLUMNS)]
    kept = {column for column, value in enumerate(first or ()) if value}
    dull = {
        column: 0 for column, price in enumerate(prices) if price > limit and column not in kept
    }
    return solve(program, short, dull, first, near=_NEAR).values or first
