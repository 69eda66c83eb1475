"""The buying plan: the cheapest sound way to buy, proved cheapest; the soonest; the fewest parcels.

Several jobs make one plan: their parts share packs, price breaks and carriage, and each line still
belongs to its job and bears its share by the rules of `shares`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from time import monotonic
from typing import TYPE_CHECKING

from kitting.buying.planning.clash import clashes_of
from kitting.buying.planning.demand import from_minor
from kitting.buying.planning.head_start import head_start
from kitting.buying.planning.model import model_of
from kitting.buying.planning.options import weighed
from kitting.buying.planning.shares import Sharing
from kitting.buying.planning.solver import (
    Answer,
    Effort,
    Outcome,
    Program,
    Relaxed,
    relaxed,
    solve,
)
from kitting.buying.planning.tables import tables_of
from kitting.buying.planning.ties import soonest_of_equals
from kitting.buying.planning.values import Aim, Plan, Proof
from kitting.errors import BadInput, Problem

if TYPE_CHECKING:
    from decimal import Decimal

    from kitting.buying.planning.clash import Clash
    from kitting.buying.planning.demand import PlanProblem
    from kitting.buying.planning.model import Model


class NoPlan(BadInput):
    """No plan keeps all the conditions. Each of the `clashes` is a set of lines and conditions that
    cannot be kept together, of which none can be left out."""

    def __init__(self, clashes: tuple[Clash, ...]) -> None:
        self.clashes = clashes
        super().__init__(Problem("buying plan", each.sentence, each.advice) for each in clashes)


@dataclass(frozen=True, slots=True)
class Plans:
    """Three plans side by side."""

    cheapest: Plan
    soonest: Plan
    fewest: Plan

    @property
    def each(self) -> tuple[Plan, Plan, Plan]:
        """In the order in which they are shown."""
        return self.cheapest, self.soonest, self.fewest


def compare(problem: PlanProblem) -> Plans:
    """Make all three plans.

    Raises:
        NoPlan: nothing satisfies every line under every condition.
        BadInput: no plan was found within the time limit.
    """
    cheapest = make_plan(problem, Aim.CHEAPEST)
    soonest = make_plan(problem, Aim.SOONEST)
    return Plans(cheapest, soonest, make_plan(problem, Aim.FEWEST))


def make_plan(problem: PlanProblem, aim: Aim = Aim.CHEAPEST) -> Plan:
    """Make the plan for one aim; what ties on it is settled by cost, then by less work, then by
    when the last part comes.

    Raises:
        NoPlan: nothing satisfies every line under every condition.
        BadInput: no plan was found within the time limit.
    """
    if aim is Aim.SOONEST:
        return _soonest(problem)
    model = model_of(tables_of(problem))
    if aim is Aim.FEWEST:
        parcels = dict.fromkeys(model.used.values(), 1)
        answer = _answer(model.with_objective(parcels), problem)
        model.limit_parcels(sum(answer.values[column] for column in parcels))
        plan = _cheapest(model, aim, answer.values)
        sure = answer.outcome is Outcome.PROVED
        return plan if sure else replace(plan, proof=replace(plan.proof, proved=False))
    return _cheapest(model, aim)


def model_behind(problem: PlanProblem, plan: Plan) -> Model:
    """The model that a plan of this problem solves, with what its aim has settled as a limit."""
    if plan.aim is Aim.SOONEST:
        return model_of(tables_of(within(problem, plan.days)))
    model = model_of(tables_of(problem))
    if plan.aim is Aim.FEWEST:
        model.limit_parcels(len(plan.parcels))
    return model


def within(problem: PlanProblem, days: int) -> PlanProblem:
    """The same problem when everything must come within so many days."""
    limit = problem.policy.within_days
    days = days if limit is None else min(days, limit)
    return replace(problem, policy=replace(problem.policy, within_days=days))


def _soonest(problem: PlanProblem) -> Plan:
    """Halve the days that offers take until the fewest are found that still make a plan."""
    _answer(_feasibility(problem), problem)
    days = sorted({0, *(offer.days for offer in problem.offers)})
    low, high, sure = 0, len(days) - 1, True
    while low < high:
        middle = (low + high) // 2
        tried = solve(_feasibility(within(problem, days[middle])), _effort(problem))
        sure = sure and tried.outcome is not Outcome.UNKNOWN
        if tried.values:
            high = middle
        else:
            low = middle + 1
    model = model_of(tables_of(within(problem, days[high])))
    plan = _cheapest(model, Aim.SOONEST)
    return plan if sure else replace(plan, proof=replace(plan.proof, proved=False))


def _feasibility(problem: PlanProblem) -> Program:
    return model_of(tables_of(problem)).with_objective({})


def _cheapest(model: Model, aim: Aim, known: tuple[int, ...] = ()) -> Plan:
    """Solve for the least cost; `known` is a solution to fall back upon."""
    problem = model.tables.problem
    begun = monotonic()
    in_part = relaxed(model.program, _effort(problem))
    if in_part is not None:
        known = head_start(model, in_part, _effort(problem)) or known
    answer = _answer(model.program, problem, monotonic() - begun, known, in_part)
    values = answer.values
    cost = from_minor(model.program.value(values) // model.scale, problem.currency)
    proved = answer.outcome is Outcome.PROVED
    if proved:
        left = _effort(problem, monotonic() - begun)
        values = soonest_of_equals(model, values, left, in_part)
    bound = cost if proved else _as_money(answer.bound / model.scale, problem)
    plan = Sharing(model.tables, model.decision(values)).plan(aim, Proof(proved, cost, bound))
    plan = replace(plan, solution=values)
    if proved and weighed_total(problem, plan) != cost:
        raise RuntimeError(f"the plan adds up to {weighed_total(problem, plan)}, not to {cost}")
    return plan


def weighed_total(problem: PlanProblem, plan: Plan) -> Decimal:
    """What the plan counts as beside others: its total, a preferred maker's parts for less."""
    bought = [purchase for parcel in plan.parcels for purchase in parcel.purchases]
    less = (each.home - weighed(problem, each.offer.part, each.home) for each in bought)
    return plan.total - sum(less, from_minor(0, problem.currency))


def _answer(
    program: Program,
    problem: PlanProblem,
    spent: float = 0.0,
    known: tuple[int, ...] = (),
    in_part: Relaxed | None = None,
) -> Answer:
    """Solve in the time that is left, or say why there is no plan.

    A solution that is known is not given to the solver, which is slower for it: only what could be
    as cheap is looked at. A solver that then finds nothing is wrong, as that solution is there; so
    it may be where it finds nothing at all. It is asked once more, the program as it stands.
    """
    worth = program.value(known) if known else None
    fixed = in_part.out_of_reach(program, worth) if in_part and worth is not None else None
    answer = solve(program, _effort(problem, spent), fixed, worth=worth)
    if answer.outcome is Outcome.IMPOSSIBLE:
        answer = solve(program, _effort(problem, spent), worth=worth, reduced=False)
    if answer.outcome is Outcome.IMPOSSIBLE and worth is None:
        raise NoPlan(clashes_of(problem))
    if answer.outcome is Outcome.PROVED:
        return answer
    found = [values for values in (answer.values, known) if values]
    if not found:
        seconds = problem.policy.time_limit
        wrong = f"no plan was found within {seconds:g} seconds"
        raise BadInput(Problem("buying plan", wrong, "allow more time"))
    return Answer(Outcome.STOPPED, min(found, key=program.value), answer.bound)


def _effort(problem: PlanProblem, spent: float = 0.0) -> Effort:
    """What is left of the time allowed, and a moment in any case."""
    return Effort(max(0.01, problem.policy.time_limit - spent), problem.policy.seed)


def _as_money(bound: float, problem: PlanProblem) -> Decimal:
    """The bound as an amount, rounded down to a whole minor unit, and nothing at least."""
    return from_minor(max(0, int(bound // 1)) if bound > 0 else 0, problem.currency)
