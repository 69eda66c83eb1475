"""What no plan can hold is told apart: not sold, waiting, or ruled out by the shop itself."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kitting.buying.planning.clash import has_plan, lines_without_plan
from kitting.buying.planning.conditions import Rule, conditions_of
from kitting.buying.planning.demand import PassedOver, PlanProblem, Policy
from kitting.buying.planning.left_out import left_out_of
from kitting.buying.planning.plan import NoPlan, make_plan
from tests.buying.markets import a_line, an_offer
from tests.buying.small_markets import a_small_market
from tests.buying.test_plan_rules import BOLT, GASKET, OTHER_SHELL, SHELL, WASHER, a_problem


def unsold(problem: PlanProblem) -> list[str]:
    return [each.unsold for each in left_out_of(problem).unsold]


def test_what_nobody_sells_is_left_out_with_what_the_lists_say_and_the_rest_is_planned() -> None:
    lines = (a_line("1", (BOLT, 1)), a_line("2", (GASKET, 1)), a_line("3", (WASHER, 1)))
    offers = (
        an_offer("north", BOLT, "2.00"),
        an_offer("north", GASKET, "2.00", until=date(2024, 3, 31)),
    )
    problem = a_problem(lines, offers)
    assert unsold(problem) == [
        "part 2 (job J1, line 2): nobody sells it at a price that is valid today "
        "(the last price of ash:P2 ran out on 2024-03-31)",
        "part 3 (job J1, line 3): nobody sells it at a price that is valid today "
        "(nobody offers ash:P3)",
    ]
    assert make_plan(left_out_of(problem).problem).goods == Decimal("2.00")


def test_what_nobody_has_enough_of_is_left_out_with_what_they_have() -> None:
    offers = (an_offer("north", BOLT, "2.00", stock=3), an_offer("south", GASKET, "1.00"))
    lines = (a_line("1", (BOLT, 4)), a_line("2", (GASKET, 1)))
    assert unsold(a_problem(lines, offers)) == [
        "part 1 (job J1, line 1): nobody has enough of it (North has no more than 3 of ash:P4)"
    ]


@pytest.mark.parametrize(
    ("policy", "why"),
    [
        (Policy(banned_makers=frozenset({"ash"})), "nothing made by 'ash' is bought"),
        (Policy(banned_suppliers=frozenset({"north"})), "nothing is bought from North"),
        (Policy(within_days=2), "everything must come within the days given"),
    ],
)
def test_what_the_shop_itself_rules_out_makes_no_plan_and_each_line_says_why(
    policy: Policy, why: str
) -> None:
    lines = (a_line("1", (BOLT, 1)), a_line("2", (GASKET, 1)), a_line("3", (OTHER_SHELL, 1)))
    offers = (
        an_offer("north", BOLT, "2.00"),
        an_offer("north", GASKET, "2.00"),
        an_offer("south", OTHER_SHELL, "2.00", days=1),
    )
    found = left_out_of(a_problem(lines, offers, policy=policy))
    assert not found.unsold
    assert not found.problem.waiting
    with pytest.raises(NoPlan) as error:
        make_plan(found.problem)
    assert [str(problem) for problem in error.value.problems] == [
        f"buying plan: no plan can supply part {key} (job J1, line {key}) while {why}; "
        f"lift one of these, or leave a line out (--leave-out J1:{key})"
        for key in ("1", "2")
    ]


def test_a_held_line_that_nobody_takes_back_waits_with_its_matched_fellow() -> None:
    lines = (
        a_line("1", (BOLT, 1)),
        replace(a_line("2", (SHELL, 1), held=True), match="shells"),
        replace(a_line("3", (GASKET, 1), held=True), match="shells"),
        a_line("4", (WASHER, 1), held=True),
    )
    offers = (
        an_offer("north", BOLT, "1.00"),
        an_offer("north", SHELL, "10.00"),
        an_offer("south", GASKET, "3.00"),
    )
    problem = a_problem(lines, offers, policy=Policy(sale_or_return=frozenset({"south"})))
    found = left_out_of(problem)
    assert [each.lines[0].key for each in found.unsold] == ["4"]
    plan = make_plan(found.problem)
    assert [line.line.key for line in plan.lines] == ["1"]
    assert [line.key for line in plan.waiting] == ["2", "3"]


@settings(max_examples=80, deadline=None)
@given(st.integers(0, 2**40))
def test_each_line_is_planned_waits_or_is_left_out_and_only_the_unsold_are_left_out(
    seed: int,
) -> None:
    problem = a_small_market(seed)
    found = left_out_of(problem)
    gone = tuple(each.lines[0] for each in found.unsold)
    parts = (*found.problem.planned, *found.problem.waiting, *gone)
    assert sorted(map(str, parts)) == sorted(map(str, problem.lines))
    told = tuple(each for each in conditions_of(problem) if each.rule is Rule.STOCK)
    for line in problem.planned:
        alone = replace(problem, lines=(line,))
        assert has_plan(alone, (line,), told) is (line not in gone), line
    for line in lines_without_plan(found.problem):
        assert not line.held


def test_what_nobody_has_enough_of_but_one_who_failed_is_left_out_with_how_to_ask_him() -> None:
    offers = (an_offer("north", BOLT, "1.00", stock=1),)
    failed = (PassedOver(an_offer("south", BOLT, "2.00"), "1 short, P1001, for job J1"),)
    found = left_out_of(replace(a_problem((a_line("1", (BOLT, 2)),), offers), passed_over=failed))
    assert [each.unsold for each in found.unsold] == [
        "part 1 (job J1, line 1): nobody has enough of it (North has no more than 1 of ash:P4; "
        "South, who failed with ash:P4 (1 short, P1001, for job J1), is not asked for it again); "
        "to lift one: --even-from south"
    ]
