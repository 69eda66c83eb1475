"""No number of packs that would make a plan cheaper is kept from the solver."""

from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st

from kitting.buying.planning.demand import PlanProblem, Policy
from kitting.buying.planning.options import Option, Pricer, Terms
from kitting.buying.planning.plan import NoPlan, make_plan, weighed_total
from kitting.buying.planning.values import Plan
from tests.buying.every_plan import least_cost
from tests.buying.markets import DAY, RATES, a_line, a_supplier, an_offer, part_of
from tests.buying.tight_markets import a_tight_market

BOLT, CAP = part_of(1), part_of(2)
# Beyond the last break and the need; every term below is reached within it.
BEYOND = 120
CHEAPEST = 30

money = st.integers(0, 5000)
steps = st.lists(st.tuples(st.integers(1, 6), st.integers(50, 102)), max_size=4)


def cheapest(problem: PlanProblem) -> Plan | None:
    try:
        return make_plan(problem)
    except NoPlan:
        return None


def test_a_break_that_is_dearer_than_a_few_yet_reaches_free_carriage_is_taken() -> None:
    dropping = ((4, "27.86"), (5, "24.24"), (6, "19.39"))
    offers = (an_offer("north", BOLT, "30.00", breaks=dropping), an_offer("north", CAP, "80.16"))
    north = a_supplier("north", "21.45", free_over="194.41")
    lines = (a_line("1", (BOLT, 4)), a_line("2", (CAP, 1)))
    plan = make_plan(PlanProblem(DAY, "GBP", lines, offers, (north,), RATES))
    assert plan.total == 6 * Decimal("19.39") + Decimal("80.16") == Decimal("196.50")
    assert [p.packs for parcel in plan.parcels for p in parcel.purchases] == [6, 1]


@settings(max_examples=250, deadline=None)
@given(st.integers(0, 2**40))
def test_where_a_pack_decides_the_plan_costs_what_the_best_of_all_plans_costs(seed: int) -> None:
    problem = a_tight_market(seed)
    plan = cheapest(problem)
    assert (weighed_total(problem, plan) if plan else None) == least_cost(problem)
    assert plan is None or plan.proof.proved


@st.composite
def articles(draw: st.DrawFn) -> Pricer:
    """One offer whose price drops now and then, and its supplier's terms."""
    price = draw(st.integers(40, 900))
    packs, breaks, asked = 1, [], price
    for more, percent in draw(steps):
        packs, asked = packs + more, max(CHEAPEST, asked * percent // 100)
        breaks.append((packs, str(Decimal(asked) / 100)))
    currency = draw(st.sampled_from(("GBP", "EUR")))
    offer = an_offer(
        "north",
        BOLT,
        str(Decimal(price) / 100),
        pack=draw(st.integers(1, 3)),
        breaks=tuple(breaks),
        currency=currency,
    )
    north = a_supplier("north", currency=draw(st.sampled_from(("GBP", "EUR"))))
    policy = Policy(preferred_maker=draw(st.sampled_from(("", "ash"))), premium=Decimal(20))
    problem = PlanProblem(DAY, "GBP", (), (offer,), (north,), RATES, policy=policy)
    least, made_up = draw(st.integers(0, 2000)), draw(st.booleans())
    free = draw(st.none() | st.integers(0, 3000))
    carriage = draw(st.integers(0, 900))
    terms = Terms(north, carriage, free, 0 if made_up else least, least if made_up else 0)
    return Pricer(problem, offer, terms, None)


def cost(option: Option, terms: Terms, counted: int, home: int) -> int | None:
    """What an order costs with it, beside goods that count and cost so much."""
    if counted + option.counted < terms.barred:
        return None
    free = terms.free_over is not None and counted + option.counted >= terms.free_over
    short = max(0, terms.made_up - home - option.home)
    return option.weighed + short + (0 if free else terms.carriage)


@settings(max_examples=300, deadline=None)
@given(articles(), st.integers(1, 12), st.lists(st.tuples(money, money), min_size=1))
def test_beside_whatever_else_is_ordered_a_number_kept_is_as_cheap_as_any(
    pricer: Pricer, most: int, beside: list[tuple[int, int]]
) -> None:
    offer, terms = pricer.offer, pricer.terms
    needed = -(-most // offer.pack)
    last = max([needed, *(step.packs for step in offer.breaks)]) + BEYOND
    kept = [each for each in pricer.options(most) if each.packs >= needed]
    every = [pricer.priced(packs) for packs in range(needed, last)]
    for counted, home in beside:
        best = least(every, terms, counted, home)
        mine = least(kept, terms, counted, home)
        assert mine is not None
        assert best is not None
        assert mine <= best


def least(options: list[Option], terms: Terms, counted: int, home: int) -> int | None:
    costs = (cost(each, terms, counted, home) for each in options)
    return min((each for each in costs if each is not None), default=None)
