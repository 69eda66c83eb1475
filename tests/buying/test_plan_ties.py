"""Of plans that cost the same, the one whose last part comes soonest is made."""

from dataclasses import replace
from decimal import Decimal

from hypothesis import example, given, settings
from hypothesis import strategies as st

from kitting.buying.planning.demand import LineWay, PlanLine, PlanProblem
from kitting.buying.planning.plan import NoPlan, make_plan, within
from kitting.buying.planning.values import Aim
from tests.buying.every_plan import least_cost
from tests.buying.markets import DAY, RATES, a_line, a_supplier, an_offer, part_of
from tests.buying.small_markets import a_small_market

BOLT, CAP = part_of(1), part_of(2)
SUPPLIERS = (a_supplier("north"), a_supplier("south"))


def a_problem(lines: tuple[PlanLine, ...], north: str, south: str) -> PlanProblem:
    offers = (
        an_offer("north", BOLT, north, days=12),
        an_offer("south", BOLT, south, days=4),
        an_offer("north", CAP, "3.00", days=4),
    )
    return PlanProblem(DAY, "GBP", lines, offers, SUPPLIERS, RATES)


def test_at_the_same_price_the_sooner_supplier_is_taken() -> None:
    lines = (a_line("1", (BOLT, 1)), a_line("2", (CAP, 1)))
    same = a_problem(lines, "5.00", "5.00")
    cheapest, soonest = make_plan(same), make_plan(same, Aim.SOONEST)
    assert (cheapest.total, cheapest.days) == (soonest.total, soonest.days) == (Decimal(8), 4)
    assert cheapest.proof.proved
    assert make_plan(a_problem(lines, "4.99", "5.00")).days == 12


def test_a_way_with_work_is_not_taken_because_it_comes_sooner_at_the_same_cost() -> None:
    with_work = LineWay(((CAP, 1),), "with work", 4, Decimal("2.00"), ("ease",))
    line = a_line("1", (BOLT, 1))
    lines = (replace(line, ways=(*line.ways, with_work)),)
    assert make_plan(a_problem(lines, "5.00", "9.00")).days == 12
    assert make_plan(a_problem(lines, "5.01", "9.00")).days == 4


def in_whole_pounds(problem: PlanProblem) -> PlanProblem:
    """The same without pence and without work, so that many plans cost the same."""
    offers = tuple(
        replace(offer, price=offer.price // 2 + 1, breaks=(), currency="GBP", days=1 + at % 4)
        for at, offer in enumerate(problem.offers)
    )
    lines = tuple(replace(line, ways=line.ways[:1]) for line in problem.lines)
    suppliers = tuple(
        replace(each, carriage=each.carriage // 2, currency="GBP") for each in problem.suppliers
    )
    return replace(problem, offers=offers, lines=lines, suppliers=suppliers)


@settings(max_examples=120, deadline=None)
@given(st.integers(0, 2**40))
@example(6_783_316_389)  # a used part of a critical line must not make up an order either
def test_no_plan_of_the_same_cost_comes_sooner(seed: int) -> None:
    problem = in_whole_pounds(a_small_market(seed))
    try:
        plan = make_plan(problem)
    except NoPlan:
        return
    assert plan.total == least_cost(problem)
    if plan.days:
        sooner = least_cost(within(problem, plan.days - 1))
        assert sooner is None or sooner > plan.total
