"""Why there is no plan: the fewest lines and conditions that cannot be kept together.

First a deletion filter: each line and each condition is left out in turn, and stays out when there
is still no plan without it. What remains is irreducible: leave any one out and there is a plan for
the rest. Then, within the plan's time limit, a set with fewer is looked for. A line left out may
still be bought, since it may be what lifts an order to a supplier's least. A line that fails by
itself is looked for first, and told with the fewest conditions that it fails with.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, TypeVar

from kitting.buying.planning.conditions import Condition, Rule, conditions_of
from kitting.buying.planning.demand import PlanLine
from kitting.buying.planning.model import model_of
from kitting.buying.planning.smallest import smallest
from kitting.buying.planning.solver import Effort, Outcome, solve
from kitting.buying.planning.tables import tables_of
from kitting.errors import BadInput, Problem

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from kitting.buying.planning.demand import PlanProblem
    from kitting.catalog.model import PartNumber

_Item = TypeVar("_Item")


@dataclass(frozen=True, slots=True)
class Clash:
    """Lines and conditions that clash; `notes` say what is known of parts that nobody sells.

    `settled` says that no fewer clash; where not, none of these can be left out all the same.
    """

    lines: tuple[PlanLine, ...]
    conditions: tuple[Condition, ...]
    notes: tuple[str, ...]
    settled: bool = True

    @property
    def sentence(self) -> str:
        """What cannot be."""
        lines = self.named
        if not self.conditions:
            return f"no plan can supply {lines}: {'; '.join(self.notes)}"
        kept = _listed(str(condition) for condition in self.conditions)
        told = f" ({'; '.join(self.notes)})" if self.notes else ""
        return f"no plan can supply {lines} while {kept}{told}"

    @property
    def named(self) -> str:
        """The lines."""
        return _listed(str(line) for line in self.lines)

    @property
    def unsold(self) -> str:
        """Of a line that the trade cannot supply: the line, and what is known of it."""
        if self.conditions:
            said = "; ".join(map(str, self.conditions))
            lifts = self._lifts
            again = f"; to lift one: {lifts}" if lifts else ""
            return f"{self.named}: nobody has enough of it ({said}){again}"
        said = "; ".join(self.notes)
        return f"{self.named}: nobody sells it at a price that is valid today ({said})"

    @property
    def advice(self) -> str:
        """What would make a plan possible."""
        if not self.conditions:
            return "find an offer or another way, or leave the line out"
        named = " or ".join(f"{line.job}:{line.key.partition(',')[0]}" for line in self.lines)
        fewer = "" if self.settled else "; whether fewer clash was not settled in time"
        lifts = f" ({self._lifts})" if self._lifts else ""
        return f"lift one of these{lifts}, or leave a line out (--leave-out {named}){fewer}"

    @property
    def _lifts(self) -> str:
        """What would be typed to lift some of the conditions."""
        return " or ".join(dict.fromkeys(e.lifted_by for e in self.conditions if e.lifted_by))


def clashes_of(problem: PlanProblem) -> tuple[Clash, ...]:
    """Why a problem has no plan: one clash for each line that fails by itself; where none does,
    the fewest lines and conditions that clash, as far as the time limit lets that be settled.

    Raises:
        BadInput: it was not settled within the time limit.
    """
    every = conditions_of(problem)
    alone = tuple(
        alone_clash(problem, line, _but_least_orders(every)) for line in lines_without_plan(problem)
    )
    if alone:
        return alone
    lines = _irreducible(problem.planned, lambda fewer: not has_plan(problem, fewer, every))
    conditions = _irreducible(every, lambda fewer: not has_plan(problem, lines, fewer))

    tried = _Tried(problem)
    items: tuple[PlanLine | Condition, ...] = (*problem.planned, *every)
    known: tuple[PlanLine | Condition, ...] = (*lines, *conditions)
    found, settled = smallest(
        items, known, lambda some: tried.fails(*_apart(some)), _effort(problem)
    )
    settled = settled and not tried.unsure
    # What was found beside something unsettled may have a spare item; what was known has none.
    lines, conditions = _apart(found if settled else known)
    return (Clash(lines, conditions, tuple(_notes(problem, lines)), settled),)


class _Tried:
    """Tries lines with conditions; `unsure` once the time limit did not settle one of them."""

    def __init__(self, problem: PlanProblem) -> None:
        self._problem = problem
        self.unsure = False

    def fails(self, lines: Iterable[PlanLine], conditions: Iterable[Condition]) -> bool:
        """Whether they have no plan for certain."""
        outcome = _outcome(self._problem, lines, conditions)
        self.unsure = self.unsure or outcome is Outcome.UNKNOWN
        return outcome is Outcome.IMPOSSIBLE


def _apart(
    some: Iterable[PlanLine | Condition],
) -> tuple[tuple[PlanLine, ...], tuple[Condition, ...]]:
    every = tuple(some)
    return (
        tuple(each for each in every if isinstance(each, PlanLine)),
        tuple(each for each in every if isinstance(each, Condition)),
    )


def alone_clash(problem: PlanProblem, line: PlanLine, kept: tuple[Condition, ...]) -> Clash:
    """Why a line has no plan by itself while some conditions are kept."""
    lines = (line,)
    alone = replace(problem, lines=lines)

    tried = _Tried(alone)
    found = _irreducible(kept, lambda fewer: not has_plan(alone, lines, fewer))
    fewest, settled = smallest(
        kept, found, lambda fewer: tried.fails(lines, fewer), _effort(problem)
    )
    settled = settled and not tried.unsure
    notes = tuple(_notes(problem, lines))
    return Clash(lines, fewest if settled else found, notes, settled)


def lines_without_plan(problem: PlanProblem) -> Iterator[PlanLine]:
    """The lines that no plan could hold, whatever else is bought with them."""
    kept = _but_least_orders(conditions_of(problem))
    if _outcome(problem, problem.planned, kept) is Outcome.PROVED:
        return
    for line in problem.planned:
        if not has_plan(replace(problem, lines=(line,)), (line,), kept):
            yield line


def has_plan(
    problem: PlanProblem, lines: Iterable[PlanLine], conditions: Iterable[Condition]
) -> bool:
    """Whether some lines have a plan when only some conditions of the problem are kept.

    The problem's other lines may be bought with them and need not be.

    Raises:
        BadInput: it was not settled within the time limit.
    """
    outcome = _outcome(problem, lines, conditions)
    if outcome is Outcome.UNKNOWN:
        seconds = problem.policy.time_limit
        wrong = f"there may be no plan, and {seconds:g} seconds did not settle why"
        raise BadInput(Problem("buying plan", wrong, "allow more time"))
    return outcome is not Outcome.IMPOSSIBLE


def _outcome(
    problem: PlanProblem, lines: Iterable[PlanLine], conditions: Iterable[Condition]
) -> Outcome:
    needed = set(lines)
    lifted = frozenset(conditions_of(problem)) - frozenset(conditions)
    tables = tables_of(problem, lifted)
    spare = (index for index, line in enumerate(tables.lines) if line not in needed)
    program = model_of(replace(tables, spare=frozenset(spare))).with_objective({})
    return solve(program, _effort(problem)).outcome


def _effort(problem: PlanProblem) -> Effort:
    return Effort(problem.policy.time_limit, problem.policy.seed)


def _but_least_orders(conditions: tuple[Condition, ...]) -> tuple[Condition, ...]:
    return tuple(each for each in conditions if each.rule is not Rule.LEAST_ORDER)


def _irreducible(
    items: tuple[_Item, ...], fails: Callable[[tuple[_Item, ...]], bool]
) -> tuple[_Item, ...]:
    """Leave out all that can be left out while it still fails: in halves, quarters, one by one."""
    size = max(1, len(items) // 2)
    while True:
        at = 0
        while at < len(items):
            fewer = items[:at] + items[at + size :]
            if fails(fewer):
                items = fewer
            else:
                at += size
        if size == 1:
            return items
        size //= 2


def _notes(problem: PlanProblem, lines: Iterable[PlanLine]) -> Iterator[str]:
    """What the price lists say of parts that cannot be had at all."""
    for line in lines:
        if not line.ways:
            yield f"no part is known to fit {line.name}"
        for part in dict.fromkeys(part for way in line.ways for part, _ in way.parts):
            note = _note(problem, part)
            if note:
                yield note


def _note(problem: PlanProblem, part: PartNumber) -> str:
    offers = [offer for offer in problem.every_offer if offer.part == part]
    shelf = any(stock.part == part and stock.quantity for stock in problem.shelf)
    if shelf or any(offer.valid_on(problem.day) for offer in offers):
        return ""
    in_sets = [each.number for each in problem.sets if part in dict(each.contents)]
    if in_sets:
        sets = ", ".join(map(str, in_sets))
        return f"{part} is sold only in {sets}"
    if not offers:
        return f"nobody offers {part}"
    past = [offer.valid_until for offer in offers if offer.valid_until < problem.day]
    if past:
        return f"the last price of {part} ran out on {max(past)}"
    return f"the first price of {part} begins on {min(offer.valid_from for offer in offers)}"


def _listed(items: Iterable[str]) -> str:
    every = list(items)
    if len(every) < 2:
        return "".join(every)
    return f"{', '.join(every[:-1])} and {every[-1]}"
