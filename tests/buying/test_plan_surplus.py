"""What comes and is not needed says why it comes."""

from dataclasses import replace
from decimal import Decimal

import pytest

from kitting.buying.planning.demand import PlanProblem, PlanSet, Policy, SmallOrder
from kitting.buying.planning.plan import make_plan
from kitting.buying.planning.surplus import why_surplus
from kitting.catalog.trade import Offer, Supplier
from tests.buying.markets import Size, a_line, a_market, a_supplier, an_offer
from tests.buying.test_plan_rules import BOLT, GASKET, SET, WASHER, a_problem

NORTH = a_supplier("north")
BOLTS = an_offer("north", BOLT, "3.00")
HOME = "GBP"


def told(problem: PlanProblem) -> list[tuple[int, str]]:
    plan = make_plan(problem)
    return [(each.pieces, why_surplus(problem, plan, each)) for each in plan.surplus]


@pytest.mark.parametrize(
    ("offer", "supplier", "said"),
    [
        (an_offer("north", BOLT, "3.00", pack=5), NORTH, (2, "North sells 5 in a pack")),
        (
            an_offer("north", BOLT, "3.00", breaks=((4, "2.00"),)),
            NORTH,
            (1, "4 packs cost less than 3 at North's price break"),
        ),
        (BOLTS, a_supplier("north", least="15"), (2, "to reach North's least order of GBP 15")),
        (
            BOLTS,
            a_supplier("north", "5.00", free_over="12"),
            (1, "to have North's free carriage from GBP 12"),
        ),
        (
            BOLTS,
            a_supplier("north", least="10", currency="EUR"),
            (1, "to reach North's least order of EUR 10"),
        ),
    ],
)
def test_a_surplus_is_explained(offer: Offer, supplier: Supplier, said: tuple[int, str]) -> None:
    lines = (a_line("1", (BOLT, 3)),)
    if supplier.currency != HOME:
        # EUR 3.00 each are three short of ten
        offer = replace(offer, currency=supplier.currency)
    assert told(a_problem(lines, (offer,), (supplier,))) == [said]


def test_what_else_a_set_brings_is_told_of_the_set() -> None:
    offers = (an_offer("north", GASKET, "9.00"), an_offer("north", SET, "8.00"))
    sets = (PlanSet(SET, ((GASKET, 1), (WASHER, 2))),)
    problem = a_problem((a_line("1", (GASKET, 1)),), offers, (NORTH,), sets)
    assert told(problem) == [(2, "out of the set ash:Pset")]


def test_what_stands_in_for_making_an_order_up_is_told() -> None:
    rather = Policy(preferred_maker="ash", premium=Decimal(20), small_order=SmallOrder.MADE_UP)
    little = (a_supplier("north", least="15"),)
    problem = a_problem((a_line("1", (BOLT, 3)),), (BOLTS,), little, policy=rather)
    assert told(problem) == [(2, "in place of what else would make North's order up")]


def test_every_surplus_of_a_random_market_has_a_reason() -> None:
    for seed in range(6):
        problem = a_market(seed, Size(lines=20, parts=20, suppliers=5, sets=4, breaks=2))
        said = told(problem)
        assert all(why for _, why in said)
        assert not any("costs no more" in why for _, why in said)
