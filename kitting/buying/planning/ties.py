"""Of plans that cost the same, the one whose last part comes soonest.

Asked anew, with what comes as late as the plan's last part, or later, not to be had: is there a
plan for the same cost? Mostly there is none, and that is seen at once, as nothing dearer need be
looked at.
"""

from __future__ import annotations

from time import monotonic
from typing import TYPE_CHECKING

from kitting.buying.planning.solver import Effort, solve

if TYPE_CHECKING:
    from kitting.buying.planning.model import Model
    from kitting.buying.planning.solver import Relaxed


def soonest_of_equals(
    model: Model, values: tuple[int, ...], effort: Effort, in_part: Relaxed | None
) -> tuple[int, ...]:
    """Return a solution that costs what a cheapest one costs, and comes as soon as any of these.

    Where the time runs out, the soonest found so far.
    """
    until = monotonic() + effort.seconds
    program, cost = model.program, model.program.value(values)
    dearer = in_part.out_of_reach(program, cost) if in_part else {}
    days = {column: article.offer.days for column, article, _ in model.options}
    while True:
        latest = max((each for column, each in days.items() if values[column]), default=0)
        too_late = {column: 0 for column, each in days.items() if each >= latest}
        left = until - monotonic()
        if not latest or left <= 0:
            return values
        found = solve(program, Effort(left, effort.seed), dearer | too_late, worth=cost).values
        if not found or program.value(found) > cost:
            return values
        values = found
