"""Why each line goes where it goes, and what the next best would cost.

The next best is the cheapest plan in which nothing comes from where the line now gets its parts:
not that offer, not that set, not the shelf for that part. The whole plan may change with it, so the
plan is solved again; first near the line alone, which is quick and gives a plan to beat. What was
not settled in the time allowed is given as 'at most', by the cheapest such plan that any line led
to.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from time import monotonic
from typing import TYPE_CHECKING

from kitting.buying.planning.plan import model_behind
from kitting.buying.planning.shares import Sharing
from kitting.buying.planning.solver import Effort, Outcome, solve
from kitting.buying.planning.values import Aim, Source

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping
    from decimal import Decimal

    from kitting.buying.planning.demand import PlanLine, PlanProblem
    from kitting.buying.planning.model import Model
    from kitting.buying.planning.solver import Answer
    from kitting.buying.planning.values import LinePlan, Plan, Share
    from kitting.catalog.model import PartNumber


class Sure(StrEnum):
    """How well the next best is known."""

    EXACT = "exact"
    AT_MOST = "at most"
    NONE = "nothing else will do"
    NOT_ASKED = "not worked out in the time allowed"


@dataclass(frozen=True, slots=True)
class Reason:
    """Of one line: why it goes there, and by how much the next best plan is dearer.

    `extra` is the difference of the two plans' totals; below zero only where the plan is not proved
    or where a preferred maker's premium is paid. `instead` is where the line would go.
    """

    line: PlanLine
    why: str
    sure: Sure
    extra: Decimal | None = None
    instead: str = ""
    currency: str = ""

    @property
    def sentence(self) -> str:
        """All of it in words."""
        if self.extra is None:
            return f"{self.why}; next best: {self.sure}"
        most = "at most " if self.sure is Sure.AT_MOST else ""
        if self.extra == 0 and self.sure is Sure.EXACT:
            return f"{self.why}; the same in all: {self.instead}"
        return (
            f"{self.why}; next best: {self.instead}, {most}{self.currency} {self.extra} more in all"
        )


def _unheard(_done: int, _of: int) -> None:
    """Tell nobody."""


def reasons_of(
    problem: PlanProblem,
    plan: Plan,
    seconds: float = 20.0,
    tell: Callable[[int, int], None] = _unheard,
) -> tuple[Reason, ...]:
    """Give the reason of every line of a plan of this problem, in the plan's order.

    `tell` hears how many of the next best plans have been looked for, of how many.
    """
    return _Asker(problem, plan, monotonic() + seconds).reasons(tell)


class _Asker:
    """Asks of one plan what else could be."""

    def __init__(self, problem: PlanProblem, plan: Plan, until: float) -> None:
        self._problem = problem
        self._plan = plan
        self._until = until
        self._model = model_behind(problem, plan)
        self._found: list[tuple[int, ...]] = []

    def reasons(self, tell: Callable[[int, int], None]) -> tuple[Reason, ...]:
        """Every line's nearest other plan first, as they are quick; then the best, in the time."""
        lines = {self._behind(line): line for line in self._plan.lines}
        near = {barred: self._nearest(barred, line) for barred, line in lines.items()}
        self._found += [each.values for each in near.values() if each is not None and each.values]
        known: dict[frozenset[int], tuple[Sure, Plan | None]] = {}
        for barred, answer in near.items():
            tell(len(known), len(near))
            known[barred] = self._without(barred, answer)
        tell(len(near), len(near))
        return tuple(self._reason(line, *known[self._behind(line)]) for line in self._plan.lines)

    def _reason(self, line: LinePlan, sure: Sure, other: Plan | None) -> Reason:
        why = _why(self._problem, self._plan, line)
        if other is None:
            return Reason(line.line, why, sure)
        instead = next(each for each in other.lines if each.line == line.line)
        extra = other.total - self._plan.total
        where = _where(self._problem, instead)
        return Reason(line.line, why, sure, extra, where, self._problem.currency)

    def _behind(self, line: LinePlan) -> frozenset[int]:
        return frozenset(_columns_behind(self._model, line.shares))

    def _nearest(self, barred: frozenset[int], line: LinePlan) -> Answer | None:
        held = self._near(line, barred)
        return self._solve(held | dict.fromkeys(barred, 0)) if held else None

    def _without(self, barred: frozenset[int], near: Answer | None) -> tuple[Sure, Plan | None]:
        """The best plan with some columns at nothing, or the nearest where time has run out."""
        start = near.values if near is not None else ()
        answer = self._solve(dict.fromkeys(barred, 0), start or None)
        if answer is not None and answer.outcome is Outcome.IMPOSSIBLE:
            return Sure.NONE, None
        if answer is not None and answer.values:
            self._found.append(answer.values)
        others = [each for each in self._found if not any(each[column] for column in barred)]
        if not others:
            return Sure.NOT_ASKED, None
        values = min(others, key=self._model.program.value)
        proved = answer is not None and answer.outcome is Outcome.PROVED
        sure = Sure.EXACT if proved and self._plan.proof.proved else Sure.AT_MOST
        decision = self._model.decision(values)
        return sure, Sharing(self._model.tables, decision).plan(self._plan.aim, self._plan.proof)

    def _solve(
        self, fixed: Mapping[int, int], start: tuple[int, ...] | None = None
    ) -> Answer | None:
        left = self._until - monotonic()
        if left <= 0:
            return None
        effort = Effort(left, self._problem.policy.seed)
        return solve(self._model.program, effort, fixed, start)

    def _near(self, line: LinePlan, barred: Iterable[int]) -> dict[int, int]:
        """The plan's own values for all that has nothing to do with a line, to be held."""
        model, values = self._model, self._plan.solution
        if len(values) != len(model.program.costs):
            return {}
        pools = {
            pool
            for _, choice in model.ways
            if model.tables.lines[choice.line] == line.line
            for pool, _ in choice.takes
        }
        numbers = {pool.part for pool in pools}
        sets = {e.number for _, e in model.opened if numbers & {part for part, _ in e.contents}}
        open_to_change = {
            *(column for column, article, _ in model.options if article.pool in pools),
            *(column for column, article, _ in model.options if article.offer.part in sets),
            *(c for columns, each in model.opened if each.number in sets for c in columns),
            *(column for pool, column in model.shelf.items() if pool in pools),
            *(column for column, choice in model.ways if self._same_group(choice.line, line)),
            *model.used.values(),
            *model.free.values(),
            *model.made_up.values(),
            *model.makers,
        }
        held = set(range(len(values))) - open_to_change - set(barred)
        return {column: values[column] for column in held}

    def _same_group(self, index: int, line: LinePlan) -> bool:
        other, this = self._model.tables.lines[index], line.line
        matched = bool(this.match) and (other.job, other.match) == (this.job, this.match)
        return other == this or matched


def _columns_behind(model: Model, shares: Iterable[Share]) -> list[int]:
    """The columns of everywhere that a line gets its parts from."""
    columns: list[int] = []
    for share in shares:
        if share.source is Source.SET:
            columns += [c[0] for c, each in model.opened if each.number == share.number]
            columns += [c for c, a, _ in model.options if a.offer.part == share.number]
        elif share.source is Source.SHELF:
            columns += [c for pool, c in model.shelf.items() if pool.part == share.part]
        else:
            columns += [
                column
                for column, article, _ in model.options
                if article.offer.part == share.part and article.offer.supplier == share.supplier
            ]
    return columns


def _where(problem: PlanProblem, line: LinePlan) -> str:
    """Where a line gets its parts from, in words."""
    said = [_source(problem, share) for share in line.shares]
    with_work = f" with {', '.join(line.way.operations) or 'work'}" if line.way.with_work else ""
    return " and ".join(dict.fromkeys(said)) + with_work


def _source(problem: PlanProblem, share: Share) -> str:
    name = _name(problem, share.supplier)
    quality = f", {share.quality}," if share.quality else ""
    if share.source is Source.SHELF:
        return f"{share.part} off the shelf"
    if share.source is Source.SET:
        where = f"{quality} from {name}" if name else ""
        return f"{share.part} out of the set {share.number}{where}"
    return f"{share.part}{quality} from {name}"


def _why(problem: PlanProblem, plan: Plan, line: LinePlan) -> str:
    """The plainest true reason for where a line goes."""
    where = _where(problem, line)
    if plan.aim is Aim.SOONEST:
        return f"{where}: the cheapest that comes within {plan.days} days"
    if plan.aim is Aim.FEWEST:
        return f"{where}: the cheapest with {len(plan.parcels)} parcels"
    if any(share.source is not Source.OFFER for share in line.shares) or len(line.shares) > 1:
        return f"{where}: cheapest in all"
    share = line.shares[0]
    alone = _alone(problem, line.line, share.part, share.pieces)
    mine = [price for price, supplier in alone if supplier == share.supplier]
    if len({supplier for _, supplier in alone}) == 1:
        return f"{where}: nobody else offers it"
    least, cheapest = alone[0]
    if not mine or cheapest == share.supplier or mine[0] == least:
        return f"{where}: the lowest price for {share.pieces}"
    saved = mine[0] - least
    name = _name(problem, cheapest)
    dearer = f"{problem.currency} {saved} dearer by itself than from {name}"
    return f"{where}: {dearer}, but cheapest in all"


def _alone(
    problem: PlanProblem, line: PlanLine, part: PartNumber, pieces: int
) -> list[tuple[Decimal, str]]:
    """What so many pieces cost by themselves at each valid offer fit for a line, cheapest first."""
    barred = problem.policy.not_of
    barred |= problem.policy.not_where_critical if line.critical else frozenset()
    found = []
    for offer in problem.offers:
        if offer.part == part and offer.valid_on(problem.day) and offer.quality not in barred:
            packs = -(-pieces // offer.pack)
            net = offer.pack_price(packs) * packs
            found.append((problem.at_home(net, offer.currency), offer.supplier))
    return sorted(found)


def _name(problem: PlanProblem, supplier: str) -> str:
    return next((each.name for each in problem.suppliers if each.key == supplier), supplier)
