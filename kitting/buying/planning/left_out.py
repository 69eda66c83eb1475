"""What no plan can hold, told apart: what the trade has not, what waits, what the shop forbids.

A line that nobody sells today, or of which nobody has enough, is left out with what the price lists
say of it; the rest can be bought. A held line that cannot be had on sale or return waits for the
machinist, with its matched fellows. A line that only the shop's own conditions rule out stays in
the problem: there is no plan then, and `clash` says which conditions would have to go.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from kitting.buying.planning.clash import Clash, alone_clash, has_plan, lines_without_plan
from kitting.buying.planning.conditions import Rule, conditions_of

if TYPE_CHECKING:
    from kitting.buying.planning.demand import PlanLine, PlanProblem


@dataclass(frozen=True, slots=True)
class LeftOut:
    """What is to be planned, and what is not: each line with why."""

    problem: PlanProblem
    unsold: tuple[Clash, ...]


def left_out_of(problem: PlanProblem) -> LeftOut:
    """Take out what the trade cannot supply, and let wait what cannot go back."""
    unsold: dict[PlanLine, Clash] = {}
    waiting: set[PlanLine] = set()
    for line in lines_without_plan(problem):
        short = _short_of(problem, line)
        if short:
            unsold[line] = short
        elif line.held:
            waiting.add(line)
    groups = {(line.job, line.match) for line in waiting if line.match}
    waiting |= {
        line for line in problem.planned if line.held and (line.job, line.match) in groups
    } - unsold.keys()
    kept = tuple(line for line in problem.lines if line not in unsold and line not in waiting)
    waits = tuple(line for line in problem.lines if line in waiting)
    return LeftOut(
        replace(problem, lines=kept, waits=(*problem.waits, *waits)), tuple(unsold.values())
    )


def _short_of(problem: PlanProblem, line: PlanLine) -> Clash | None:
    """Why the trade cannot supply a line, were everything allowed; None where it can.

    A supplier who failed is as good as none; to ask him again is told with it.
    """
    known = {Rule.STOCK, Rule.FAILED}
    told = tuple(each for each in conditions_of(problem) if each.rule in known)
    alone = replace(problem, lines=(line,))
    return None if has_plan(alone, (line,), told) else alone_clash(problem, line, told)
