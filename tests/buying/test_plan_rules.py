"""What a sound plan keeps to: packs, terms, makers, work, held lines, the shelf; and its sums."""

from dataclasses import replace
from decimal import Decimal

import pytest

from kitting.buying.planning.demand import (
    LineWay,
    PlanLine,
    PlanProblem,
    PlanSet,
    Policy,
    ShelfStock,
    SmallOrder,
)
from kitting.buying.planning.plan import NoPlan, compare, make_plan
from kitting.buying.planning.reasons import reasons_of
from kitting.buying.planning.values import Aim, Plan, Proof, Source
from kitting.catalog.trade import Offer, Supplier
from kitting.errors import BadInput
from tests.buying.baselines import best_single_supplier, line_by_line
from tests.buying.markets import DAY, RATES, Size, a_line, a_market, a_supplier, an_offer, part_of
from tests.buying.small_markets import a_small_market

SHELL, OTHER_SHELL = part_of(1, "ash"), part_of(1, "birch")
GASKET, WASHER, BOLT = part_of(2), part_of(3), part_of(4)
SET = part_of("set")
NORTH, SOUTH = a_supplier("north", "5.00"), a_supplier("south", "6.00")


def a_problem(
    lines: tuple[PlanLine, ...],
    offers: tuple[Offer, ...],
    suppliers: tuple[Supplier, ...] = (NORTH, SOUTH),
    sets: tuple[PlanSet, ...] = (),
    shelf: tuple[ShelfStock, ...] = (),
    policy: Policy | None = None,
) -> PlanProblem:
    return PlanProblem(DAY, "GBP", lines, offers, suppliers, RATES, sets, shelf, policy or Policy())


def where(plan: Plan) -> dict[str, str]:
    """The line's key, and who supplies it."""
    return {each.line.key: ", ".join(s.supplier for s in each.shares) for each in plan.lines}


def test_a_dearer_part_is_bought_where_it_saves_a_parcel() -> None:
    lines = (a_line("1", (GASKET, 1)), a_line("2", (BOLT, 1)))
    offers = (
        an_offer("north", GASKET, "10.00"),
        an_offer("north", BOLT, "9.00"),
        an_offer("south", BOLT, "4.00"),
    )
    plan = make_plan(a_problem(lines, offers))
    assert where(plan) == {"1": "north", "2": "north"}
    assert (plan.goods, plan.carriage, plan.total) == (Decimal(19), Decimal(5), Decimal(24))
    reason = reasons_of(a_problem(lines, offers), plan)[1]
    assert reason.sentence == (
        "ash:P4 from North: GBP 5.00 dearer by itself than from South, but cheapest in all; "
        "next best: ash:P4 from South, GBP 1.00 more in all"
    )


def test_one_pack_serves_two_jobs_and_each_bears_its_pieces() -> None:
    lines = (a_line("1", (WASHER, 4), job="A"), a_line("1", (WASHER, 3), job="B"))
    offers = (an_offer("north", WASHER, "7.77", pack=10),)
    plan = make_plan(a_problem(lines, offers))
    assert [p.packs for parcel in plan.parcels for p in parcel.purchases] == [1]
    assert [line.goods for line in plan.lines] == [Decimal("4.44"), Decimal("3.33")]
    assert plan.by_job == {"A": Decimal("7.30"), "B": Decimal("5.47")}
    assert [(each.part, each.pieces) for each in plan.surplus] == [(WASHER, 3)]


def test_a_price_break_is_taken_where_more_packs_cost_less() -> None:
    offers = (an_offer("north", BOLT, "3.00", breaks=((5, "2.00"),)),)
    plan = make_plan(a_problem((a_line("1", (BOLT, 4)),), offers))
    assert plan.goods == Decimal("10.00")
    assert plan.surplus[0].pieces == 1


def test_a_set_is_taken_whole_and_its_surplus_is_shown() -> None:
    lines = (a_line("1", (GASKET, 1)), a_line("2", (WASHER, 2)))
    offers = (
        an_offer("north", GASKET, "9.00"),
        an_offer("north", WASHER, "1.00"),
        an_offer("north", SET, "8.80"),
    )
    sets = (PlanSet(SET, ((GASKET, 1), (WASHER, 4))),)
    plan = make_plan(a_problem(lines, offers, sets=sets))
    assert {share.source for line in plan.lines for share in line.shares} == {Source.SET}
    # borne as the pieces cost singly: 9 to 2
    assert [line.goods for line in plan.lines] == [Decimal("7.20"), Decimal("1.60")]
    assert [(each.part, each.pieces) for each in plan.surplus] == [(WASHER, 2)]


def test_more_is_bought_only_where_free_carriage_makes_it_cheaper_and_the_policy_lets_it() -> None:
    supplier = a_supplier("north", "5.00", free_over="10")
    offers = (an_offer("north", BOLT, "3.00"),)
    problem = a_problem((a_line("1", (BOLT, 3)),), offers, (supplier,))
    assert make_plan(problem).total == Decimal("12.00")
    as_needed = replace(problem, policy=Policy(top_up=False))
    assert make_plan(as_needed).total == Decimal("14.00")


def test_an_order_under_the_least_is_not_placed_or_is_made_up_as_the_policy_says() -> None:
    offers = (an_offer("north", BOLT, "3.00", stock=1), an_offer("south", BOLT, "20.00"))
    suppliers = (a_supplier("north", "1.00", least="8"), SOUTH)
    problem = a_problem((a_line("1", (BOLT, 1)),), offers, suppliers)
    assert where(make_plan(problem)) == {"1": "south"}
    made_up = make_plan(replace(problem, policy=Policy(small_order=SmallOrder.MADE_UP)))
    assert where(made_up) == {"1": "north"}
    assert (made_up.parcels[0].made_up, made_up.total) == (Decimal("5.00"), Decimal("9.00"))


def test_no_more_is_bought_than_the_supplier_has_told() -> None:
    offers = (an_offer("north", BOLT, "1.00", stock=3), an_offer("south", BOLT, "2.00"))
    plan = make_plan(a_problem((a_line("1", (BOLT, 5)),), offers))
    bought = {p.offer.supplier: p.packs for parcel in plan.parcels for p in parcel.purchases}
    # splitting would cost a second carriage
    assert bought == {"south": 5}
    free = (a_supplier("north"), a_supplier("south"))
    plan = make_plan(a_problem((a_line("1", (BOLT, 5)),), offers, free))
    bought = {p.offer.supplier: p.packs for parcel in plan.parcels for p in parcel.purchases}
    assert bought == {"north": 3, "south": 2}


def test_both_rods_shells_are_of_one_maker() -> None:
    ways = (LineWay(((SHELL, 1),)), LineWay(((OTHER_SHELL, 1),), "either way", 1))
    left = PlanLine("J1", "1", "left shells", 1, ways, match="big-end-shells")
    right = replace(left, key="2", name="right shells")
    offers = (
        an_offer("north", SHELL, "10.00", stock=1),
        an_offer("north", OTHER_SHELL, "12.00"),
    )
    matched = make_plan(a_problem((left, right), offers))
    assert {line.way.made_by for line in matched.lines} == {"birch"}
    apart = tuple(replace(line, match="") for line in (left, right))
    assert make_plan(a_problem(apart, offers)).goods == Decimal("22.00")


def test_a_way_with_work_must_cost_less_in_all_and_not_just_as_much() -> None:
    with_work = LineWay(((BOLT, 1),), "with work", 4, Decimal("2.00"), ("ease the hole",))
    line = PlanLine("J1", "1", "bolt", 1, (with_work, LineWay(((GASKET, 1),))))
    for price, taken in (("7.99", True), ("8.00", False), ("8.01", False)):
        offers = (an_offer("north", GASKET, "10.00"), an_offer("north", BOLT, price))
        plan = make_plan(a_problem((line,), offers))
        assert plan.lines[0].way.with_work is taken, price
    assert plan.work == 0


def test_the_banned_sell_nothing_and_a_preferred_maker_may_cost_a_little_more() -> None:
    ways = (LineWay(((SHELL, 1),)), LineWay(((OTHER_SHELL, 1),), "either way", 1))
    line = PlanLine("J1", "1", "shells", 1, ways)
    offers = (
        an_offer("north", SHELL, "10.00"),
        an_offer("south", SHELL, "10.50"),
        an_offer("north", OTHER_SHELL, "10.40"),
    )
    problem = a_problem((line,), offers, (a_supplier("north"), a_supplier("south")))

    def cost(policy: Policy) -> Decimal:
        return make_plan(replace(problem, policy=policy)).total

    assert cost(Policy()) == Decimal("10.00")
    assert cost(Policy(banned_makers=frozenset({"ash"}))) == Decimal("10.40")
    assert cost(Policy(banned_suppliers=frozenset({"north"}))) == Decimal("10.50")
    assert cost(Policy(preferred_maker="birch", premium=Decimal(3))) == Decimal("10.00")
    assert cost(Policy(preferred_maker="birch", premium=Decimal(5))) == Decimal("10.40")


def test_held_lines_wait_unless_somebody_takes_parts_back() -> None:
    lines = (a_line("1", (BOLT, 1)), a_line("2", (SHELL, 1), held=True))
    offers = (
        an_offer("north", BOLT, "1.00"),
        an_offer("north", SHELL, "10.00"),
        an_offer("south", SHELL, "30.00"),
    )
    problem = a_problem(lines, offers)
    plan = make_plan(problem)
    assert (set(where(plan)), [line.key for line in plan.waiting]) == ({"1"}, ["2"])
    on_return = Policy(sale_or_return=frozenset({"south"}))
    plan = make_plan(replace(problem, policy=on_return))
    assert where(plan) == {"1": "north", "2": "south"}
    assert [p.on_return for parcel in plan.parcels for p in parcel.purchases] == [False, True]


def test_what_lies_on_the_shelf_is_not_bought_nor_taken_where_a_set_brings_it_anyway() -> None:
    lines = (a_line("1", (GASKET, 2)),)
    offers = (an_offer("north", GASKET, "9.00"),)
    shelf = (ShelfStock(GASKET, 1),)
    plan = make_plan(a_problem(lines, offers, shelf=shelf))
    assert (plan.goods, [each.pieces for each in plan.shelf]) == (Decimal("9.00"), [1])
    pairs = (an_offer("north", GASKET, "9.00", pack=2),)
    plan = make_plan(a_problem(lines, pairs, shelf=shelf))
    assert (plan.goods, plan.shelf) == (Decimal("9.00"), ())
    dear = (ShelfStock(GASKET, 2, Decimal("20.00")),)
    assert make_plan(a_problem(lines, offers, shelf=dear)).shelf == ()


def test_three_plans_stand_side_by_side_each_best_at_its_own_aim() -> None:
    plans = compare(a_market(3, Size(lines=20, parts=20, suppliers=5, sets=3, breaks=2)))
    assert [plan.aim for plan in plans.each] == list(Aim)
    assert plans.cheapest.total == min(plan.total for plan in plans.each)
    assert plans.soonest.days == min(plan.days for plan in plans.each)
    assert len(plans.fewest.parcels) == min(len(plan.parcels) for plan in plans.each)
    assert plans.soonest.last_arrival == max(
        DAY.replace(day=1 + parcel.days) for parcel in plans.soonest.parcels
    )


@pytest.mark.parametrize("seed", range(6))
def test_every_sum_is_the_sum_of_its_lines_to_the_penny(seed: int) -> None:
    size = Size(lines=24, jobs=3, parts=18, suppliers=5, sets=5, breaks=2, matched=30)
    for plan in compare(a_market(seed, size)).each:
        assert plan.total == sum(line.total for line in plan.lines)
        assert plan.total == sum(plan.by_job.values())
        assert plan.total == plan.goods + plan.carriage + plan.work
        assert plan.carriage == sum(parcel.carriage for parcel in plan.parcels)
        for parcel in plan.parcels:
            assert parcel.goods == sum(purchase.home for purchase in parcel.purchases)
        for line in plan.lines:
            for part, quantity in line.way.parts:
                got = sum(share.pieces for share in line.shares if share.part == part)
                assert got == quantity


def test_the_same_problem_gives_the_same_plan_whoever_asks_and_nothing_is_printed(
    capfd: pytest.CaptureFixture[str],
) -> None:
    size = Size(lines=20, parts=20, suppliers=5, sets=4, breaks=2)
    assert compare(a_market(5, size)) == compare(a_market(5, size))
    assert capfd.readouterr().out == ""


def test_no_random_kit_is_dearer_than_from_one_supplier_or_line_by_line() -> None:
    size = Size(
        lines=10, parts=12, suppliers=4, sets=2, breaks=2, offered=90, foreign=20, scarce=0,
        least_orders=15, shelf=0, matched=0,
    )  # fmt: skip
    compared = 0
    for seed in range(100):
        problem = a_market(seed, size)
        plan = make_plan(problem)
        for other in (best_single_supplier(problem), line_by_line(problem)):
            if other is not None:
                compared += 1
                assert plan.total <= other, seed
    assert compared > 150


def test_a_problem_that_contradicts_itself_is_refused_with_every_fault() -> None:
    offers = (an_offer("north", BOLT, "1.00", currency="KWD"), an_offer("west", BOLT, "1.00"))
    line = a_line("1", (BOLT, 1))
    with pytest.raises(BadInput) as told:
        a_problem((line, line), offers, policy=Policy(time_limit=0))
    faults = [str(problem) for problem in told.value.problems]
    assert faults == [
        "part 1 (job J1, line 1): the line stands twice; give each line of a job its own key",
        "ash:P4 at west: no supplier 'west' is known; add him",
        "KWD: no exchange rate is given; say what 1 KWD is worth in GBP",
        "policy: a time limit of 0 s; give some seconds",
    ]
    with pytest.raises(BadInput, match="its exchange rate is 0"):
        PlanProblem(
            DAY, "GBP", (line,), (an_offer("north", BOLT, "1", currency="EUR"),), (NORTH,),
            {"EUR": Decimal(0)},
        )  # fmt: skip


def test_a_plan_stopped_by_the_time_limit_says_how_far_it_may_be_from_the_best() -> None:
    stopped = Proof(proved=False, cost=Decimal("250.00"), bound=Decimal("248.99"))
    assert stopped.sentence == "stopped by the time limit: at most 0.41 % above the best"
    assert replace(stopped, proved=True).sentence == "proved: no sound plan is better"


def test_a_time_limit_that_finds_no_plan_says_so() -> None:
    size = Size(lines=150, jobs=5, parts=60, suppliers=12, sets=40)
    with pytest.raises(BadInput, match=r"no plan was found within 0\.001 seconds; allow more time"):
        make_plan(a_market(1, size, Policy(time_limit=0.001)))


def idle(problem: PlanProblem, plan: Plan) -> list[tuple[str, int]]:
    """Purchases of which a cheaper number of packs, or none, would do as well for the lines."""
    found = []
    left = {each.part: each.pieces for each in plan.surplus if each.part == each.out_of}
    for purchase in (each for parcel in plan.parcels for each in parcel.purchases):
        over = left.get(purchase.offer.part, 0) // purchase.offer.pack
        for packs in range(max(0, purchase.packs - over), purchase.packs):
            net = purchase.offer.pack_price(packs) * packs
            if problem.at_home(net, purchase.offer.currency) < purchase.home:
                found.append((str(purchase.offer.part), purchase.packs - packs))
                break
    return found


def test_without_topping_up_nothing_is_bought_that_no_line_is_served_by() -> None:
    filled = 0
    for seed in range(80):
        problem = a_small_market(seed)
        trimmed = replace(problem, policy=replace(problem.policy, top_up=False))
        try:
            plan = make_plan(trimmed)
        except NoPlan:
            continue
        assert idle(trimmed, plan) == [], seed
        best = make_plan(problem)
        assert best.total <= plan.total
        filled += bool(idle(problem, best))
    assert filled
