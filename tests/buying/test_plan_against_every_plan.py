"""Markets so small that every plan can be tried: the planner finds the best, to the penny."""

from dataclasses import replace
from decimal import Decimal
from itertools import combinations

from kitting.buying.planning.demand import PlanProblem
from kitting.buying.planning.plan import NoPlan, make_plan
from kitting.buying.planning.reasons import Sure, reasons_of
from kitting.buying.planning.values import Aim, LinePlan, Plan, Source
from tests.buying.every_plan import least_cost
from tests.buying.filling_markets import a_filling_market
from tests.buying.small_markets import a_small_market

MARKETS = 250


def planned(problem: PlanProblem, aim: Aim = Aim.CHEAPEST) -> Plan | None:
    try:
        return make_plan(problem, aim)
    except NoPlan:
        return None


def test_the_cheapest_plan_costs_what_the_best_of_all_plans_costs() -> None:
    impossible = 0
    for seed in range(MARKETS):
        problem = a_small_market(seed)
        plan = planned(problem)
        assert (plan.total if plan else None) == least_cost(problem), seed
        assert plan is None or plan.proof.proved
        impossible += plan is None
    # the markets are no use unless there are many of either kind
    assert MARKETS * 0.15 < impossible < MARKETS * 0.6


def test_without_topping_up_the_cheapest_plan_is_the_best_of_those_that_buy_as_needed() -> None:
    dearer = 0
    for seed in range(60):
        problem = a_filling_market(seed)
        plan = planned(problem)
        assert (plan.total if plan else None) == least_cost(problem), seed
        best = planned(replace(problem, policy=replace(problem.policy, top_up=True)))
        dearer += best is not None and (plan is None or plan.total > best.total)
    # the markets are no use unless the rule bars the best plan in many
    assert dearer > 15


def test_the_soonest_plan_comes_when_any_plan_first_can_and_is_the_cheapest_then() -> None:
    for seed in range(0, MARKETS, 3):
        problem = a_small_market(seed)
        plan = planned(problem, Aim.SOONEST)
        by_day = {days: least_cost(within(problem, days)) for days in range(6)}
        days = next((days for days, cost in by_day.items() if cost is not None), None)
        assert (plan.days if plan else None) == days, seed
        if plan is not None and days is not None:
            assert plan.total == by_day[days], seed


def within(problem: PlanProblem, days: int) -> PlanProblem:
    limit = problem.policy.within_days
    days = days if limit is None else min(days, limit)
    return replace(problem, policy=replace(problem.policy, within_days=days))


def test_the_plan_of_fewest_parcels_is_the_cheapest_of_those() -> None:
    for seed in range(1, MARKETS, 3):
        problem = a_small_market(seed)
        plan = planned(problem, Aim.FEWEST)
        costs = dict(cost_by_parcels(problem))
        assert (len(plan.parcels) if plan else None) == min(costs, default=None), seed
        if plan is not None:
            assert plan.total == costs[min(costs)], seed


def cost_by_parcels(problem: PlanProblem) -> list[tuple[int, Decimal]]:
    """For each number of suppliers that will do, the least cost with no more than these."""
    every = {supplier.key for supplier in problem.suppliers}
    found: list[tuple[int, Decimal]] = []
    for count in range(len(every) + 1):
        costs = []
        for allowed in combinations(sorted(every), count):
            banned = problem.policy.banned_suppliers | (every - set(allowed))
            cost = least_cost(
                replace(problem, policy=replace(problem.policy, banned_suppliers=banned))
            )
            if cost is not None:
                costs.append(cost)
        if costs:
            found.append((count, min(costs)))
    return found


def test_the_next_best_costs_what_the_best_plan_costs_without_that_source() -> None:
    told = 0
    for seed in range(MARKETS):
        problem = a_small_market(seed)
        plan = planned(problem)
        if plan is None:
            continue
        for line, reason in zip(plan.lines, reasons_of(problem, plan), strict=True):
            cost = least_cost(without_sources(problem, line))
            if cost is None:
                assert reason.sure is Sure.NONE, (seed, reason)
            else:
                assert reason.sure is Sure.EXACT, (seed, reason)
                assert reason.extra == cost - plan.total, (seed, reason)
                told += 1
    assert told > 50


def without_sources(problem: PlanProblem, line: LinePlan) -> PlanProblem:
    """The problem as if nothing were to be had where the line gets its parts."""
    for share in line.shares:
        if share.source is Source.OFFER:
            gone = (share.supplier, share.part)
            offers = tuple(o for o in problem.offers if (o.supplier, o.part) != gone)
            problem = replace(problem, offers=offers)
        elif share.source is Source.SET:
            sets = tuple(each for each in problem.sets if each.number != share.number)
            problem = replace(problem, sets=sets)
        else:
            shelf = tuple(stock for stock in problem.shelf if stock.part != share.part)
            problem = replace(problem, shelf=shelf)
    return problem
