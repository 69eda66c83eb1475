"""Why there is no plan: a set of lines and conditions of which none is spare."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.buying.planning.clash import Clash, clashes_of, has_plan
from kitting.buying.planning.conditions import Rule
from kitting.buying.planning.demand import PassedOver, PlanProblem, Policy
from kitting.buying.planning.plan import NoPlan, make_plan
from kitting.buying.planning.smallest import smallest
from kitting.buying.planning.solver import Effort
from tests.buying.markets import a_line, a_supplier, an_offer, part_of
from tests.buying.small_markets import a_small_market
from tests.buying.test_plan_rules import BOLT, GASKET, SOUTH, WASHER, a_problem


def test_each_element_of_a_clash_is_needed_for_it() -> None:
    looked_at = 0
    for seed in range(120):
        problem = a_small_market(seed)
        try:
            make_plan(problem)
        except NoPlan as told:
            found = told.clashes
        else:
            continue
        looked_at += len(found)
        for each in found:
            assert_none_is_spare(problem, each)
    assert looked_at > 20


def assert_none_is_spare(problem: PlanProblem, found: Clash) -> None:
    assert not has_plan(problem, found.lines, found.conditions)
    for line in found.lines:
        fewer = tuple(each for each in found.lines if each != line)
        assert has_plan(problem, fewer, found.conditions), line
    for condition in found.conditions:
        kept = tuple(each for each in found.conditions if each != condition)
        assert has_plan(problem, found.lines, kept), condition


def test_failures_and_topping_up_clash_like_any_condition_and_none_is_spare() -> None:
    found = dict.fromkeys((Rule.FAILED, Rule.NO_TOP_UP), 0)
    for seed in range(120):
        market = a_small_market(seed)
        gone = market.offers[:: 2 + seed % 3]
        problem = replace(
            market,
            offers=tuple(each for each in market.offers if each not in gone),
            passed_over=tuple(PassedOver(each, "1 short, P1001, for job J1") for each in gone),
            policy=replace(market.policy, top_up=False),
        )
        try:
            make_plan(problem)
        except NoPlan as told:
            for each in told.clashes:
                assert_none_is_spare(problem, each)
                for rule in {condition.rule for condition in each.conditions} & found.keys():
                    found[rule] += 1
    assert min(found.values()) > 2, found


def test_a_supplier_who_failed_is_named_beside_him_who_has_not_enough() -> None:
    lines = (a_line("1", (BOLT, 1)), a_line("2", (BOLT, 1)))
    offers = (an_offer("north", BOLT, "1.00", stock=1),)
    failed = (PassedOver(an_offer("south", BOLT, "2.00"), "2 short, P1001, for job J1"),)
    found = clash(replace(a_problem(lines, offers), passed_over=failed))
    assert found.sentence.endswith(
        "while North has no more than 1 of ash:P4 and South, who failed with ash:P4 (2 short, "
        "P1001, for job J1), is not asked for it again"
    )
    assert found.advice == (
        "lift one of these (--even-from south), or leave a line out (--leave-out J1:1 or J1:2)"
    )


def test_that_nothing_is_bought_beyond_what_is_needed_is_told_with_the_least_order() -> None:
    problem = a_problem(
        (a_line("1", (BOLT, 1)),),
        (an_offer("north", BOLT, "2.00"),),
        (a_supplier("north", least="9"),),
        policy=Policy(top_up=False),
    )
    found = clash(problem)
    assert found.sentence.endswith(
        "while North takes no order under GBP 9 and nothing is bought only to fill an order up"
    )
    assert "lift one of these (--make-up or without --no-top-up), or leave" in found.advice
    assert make_plan(replace(problem, policy=Policy())).total == Decimal("10.00")


def clash(problem: PlanProblem) -> Clash:
    with pytest.raises(NoPlan) as error:
        make_plan(problem)
    (found,) = error.value.clashes
    return found


def test_a_part_that_nobody_sells_is_named_with_what_the_lists_say_of_it() -> None:
    line = a_line("1", (GASKET, 1))
    nobody = clash(a_problem((line,), ()))
    assert nobody.sentence == ("no plan can supply part 1 (job J1, line 1): nobody offers ash:P2")
    lapsed = (an_offer("north", GASKET, "1.00", until=date(2024, 3, 31)),)
    assert (
        "the last price of ash:P2 ran out on 2024-03-31"
        in clash(a_problem((line,), lapsed)).sentence
    )
    no_way = clash(a_problem((replace(line, ways=()),), ()))
    assert "no part is known to fit part 1" in no_way.sentence


def test_two_lines_that_want_the_last_part_clash_over_the_stock_told() -> None:
    lines = (a_line("1", (BOLT, 2)), a_line("2", (BOLT, 2)), a_line("3", (GASKET, 1)))
    offers = (an_offer("north", BOLT, "1.00", stock=3), an_offer("north", GASKET, "1.00"))
    found = clash(a_problem(lines, offers))
    assert [line.key for line in found.lines] == ["1", "2"]
    assert found.sentence == (
        "no plan can supply part 1 (job J1, line 1) and part 2 (job J1, line 2) while "
        "North has no more than 3 of ash:P4"
    )
    assert found.advice == "lift one of these, or leave a line out (--leave-out J1:1 or J1:2)"


def test_every_kind_of_condition_can_be_what_clashes() -> None:
    line = a_line("1", (BOLT, 1))
    offers = (an_offer("north", BOLT, "2.00", days=5, stock=1),)
    critical = replace(line, critical=True, ways=(replace(line.ways[0], rank=4),))
    little = (a_supplier("north", least="9"), SOUTH)
    pair = (replace(line, match="pair"), a_line("2", (part_of(5, "birch"), 1), match="pair"))
    both = (*offers, an_offer("south", part_of(5, "birch"), "1.00"))
    for rule, problem in (
        (
            Rule.MAKER_BANNED,
            a_problem((line,), offers, policy=Policy(banned_makers=frozenset({"ash"}))),
        ),
        (
            Rule.SUPPLIER_BANNED,
            a_problem((line,), offers, policy=Policy(banned_suppliers=frozenset({"north"}))),
        ),
        (Rule.WITHIN_DAYS, a_problem((line,), offers, policy=Policy(within_days=4))),
        (Rule.CRITICAL, a_problem((critical,), offers, policy=Policy(critical_rank=3))),
        (
            Rule.RETURN,
            a_problem(
                (replace(line, held=True),),
                offers,
                policy=Policy(sale_or_return=frozenset({"south"})),
            ),
        ),
        (Rule.STOCK, a_problem((a_line("1", (BOLT, 2)),), offers)),
        (Rule.MATCHED, a_problem(pair, both)),
        (Rule.LEAST_ORDER, a_problem((line,), offers, little)),
    ):
        assert rule in [condition.rule for condition in clash(problem).conditions], rule


def test_a_line_that_fails_only_alone_is_not_blamed() -> None:
    # the bolt alone is under the least order, and with the seals it is not
    lines = (a_line("1", (BOLT, 1)), a_line("2", (part_of(6), 1)), a_line("3", (GASKET, 1)))
    offers = (an_offer("north", BOLT, "1.00", stock=1), an_offer("north", part_of(6), "30.00"))
    found = clash(a_problem(lines, offers, (a_supplier("north", least="20"),)))
    assert [line.key for line in found.lines] == ["3"]
    assert found.conditions == ()


def test_a_clash_of_many_lines_is_found_among_more() -> None:
    lines = tuple(a_line(str(n), (BOLT, 1)) for n in range(6))
    others = tuple(a_line(f"x{n}", (GASKET, 1)) for n in range(20))
    offers = (an_offer("north", BOLT, "1.00", stock=3), an_offer("north", GASKET, "1.00"))
    (found,) = clashes_of(a_problem((*others, *lines), offers))
    assert len(found.lines) == 4
    assert {line.key[0] for line in found.lines}.isdisjoint({"x"})


_SETS = st.lists(st.frozensets(st.integers(0, 6), min_size=1, max_size=4), min_size=1, max_size=6)


@given(_SETS)
def test_the_fewest_that_fail_are_as_few_as_trying_all_finds(failing: list[frozenset[int]]) -> None:
    """Items fail together as soon as all of any of these sets are among them."""
    items = tuple(range(7))

    def fails(some: tuple[int, ...]) -> bool:
        return any(each <= set(some) for each in failing)

    known = max((tuple(sorted(each)) for each in failing), key=len)
    found, settled = smallest(items, known, fails, Effort(20, 1))
    assert settled
    assert fails(found)
    assert len(found) == min(map(len, failing))
    assert smallest(items, known, fails, Effort(0, 1)) == (known, False)


def test_that_fewer_may_clash_is_told_where_time_did_not_settle_it() -> None:
    line = a_line("1", (BOLT, 2))
    found = clash(a_problem((line,), (an_offer("north", BOLT, "1.00", stock=1),)))
    assert found.settled
    assert "fewer" not in found.advice
    assert replace(found, settled=False).advice == (
        f"{found.advice}; whether fewer clash was not settled in time"
    )


def test_two_lines_are_told_where_three_others_clash_too() -> None:
    """Three want the last two bolts; behind them two want the last washer."""
    lines = (
        *(a_line(str(at), (BOLT, 1)) for at in range(3)),
        *(a_line(str(at), (WASHER, 1)) for at in range(3, 5)),
    )
    offers = (
        an_offer("north", BOLT, "1.00", stock=2),
        an_offer("north", WASHER, "1.00", stock=1),
    )
    found = clash(a_problem(lines, offers))
    assert [line.key for line in found.lines] == ["3", "4"]
    swapped = clash(a_problem(lines[::-1], offers))
    assert {line.key for line in swapped.lines} == {"3", "4"}
