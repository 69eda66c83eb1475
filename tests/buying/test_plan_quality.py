"""What an offered part is by origin: what the shop will not have is not bought, and is named."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kitting.buying.planning.demand import PlanProblem, PlanSet, Policy
from kitting.buying.planning.plan import NoPlan, make_plan
from kitting.buying.planning.reasons import reasons_of
from kitting.buying.planning.values import Plan, Source
from kitting.catalog.trade import Offer, Quality
from tests.buying.markets import a_line, an_offer, part_of
from tests.buying.small_markets import a_small_market
from tests.buying.test_plan_rules import BOLT, SET, a_problem, where

CRITICAL = replace(a_line("1", (BOLT, 1)), critical=True)
PLAIN = a_line("2", (BOLT, 1))


def marked(supplier: str, price: str, quality: Quality) -> Offer:
    return replace(an_offer(supplier, BOLT, price), quality=quality)


NEW = an_offer("north", BOLT, "9.00")
USED = marked("south", "1.00", Quality.USED)
COPY = marked("south", "2.00", Quality.PATTERN)


def refused(problem: PlanProblem) -> str:
    with pytest.raises(NoPlan) as told:
        make_plan(problem)
    return str(told.value)


def test_a_used_part_is_not_bought_for_a_critical_line_however_cheap() -> None:
    assert where(make_plan(a_problem((CRITICAL,), (NEW, USED)))) == {"1": "north"}
    assert where(make_plan(a_problem((PLAIN,), (NEW, USED)))) == {"2": "south"}


def test_it_is_when_it_is_asked_for() -> None:
    asked = Policy(not_where_critical=frozenset())
    plan = make_plan(a_problem((CRITICAL,), (NEW, USED), policy=asked))
    assert where(plan) == {"1": "south"}


def test_one_part_for_two_lines_comes_used_for_the_one_and_new_for_the_critical() -> None:
    carriage_free = tuple(
        replace(each, carriage=Decimal(0)) for each in a_problem((), ()).suppliers
    )
    plan = make_plan(a_problem((PLAIN, CRITICAL), (NEW, USED), carriage_free))
    assert where(plan) == {"1": "north", "2": "south"}
    assert plan.total == Decimal(10)
    assert [share.quality for line in plan.lines for share in line.shares] == ["used", ""]


def test_patterns_may_be_left_out_where_it_is_critical_or_everywhere() -> None:
    critical = Policy(not_where_critical=frozenset({Quality.PATTERN}))
    nowhere = Policy(not_of=frozenset({Quality.PATTERN}))
    for policy, expected in (
        (Policy(), {"1": "south", "2": "south"}),
        (critical, {"1": "north", "2": "south"}),
        (nowhere, {"1": "north", "2": "north"}),
    ):
        plan = make_plan(a_problem((CRITICAL, PLAIN), (NEW, COPY), policy=policy))
        assert where(plan) == expected, policy


def test_what_no_supplier_states_can_be_refused_too() -> None:
    stated = Policy(not_of=frozenset({Quality.UNSAID}))
    assert where(make_plan(a_problem((PLAIN,), (NEW, COPY), policy=stated))) == {"2": "south"}
    told = refused(a_problem((PLAIN,), (NEW,), policy=stated))
    assert (
        "no plan can supply part 2 (job J1, line 2) while nothing of no stated quality is bought;"
    ) in told


def test_a_quality_that_is_refused_is_named_where_no_plan_is_left() -> None:
    assert (
        "no plan can supply part 1 (job J1, line 1) while nothing used is bought for a critical "
        "line;"
    ) in refused(a_problem((CRITICAL,), (USED,)))
    nothing_used = Policy(not_of=frozenset({Quality.USED}))
    assert ("no plan can supply part 2 (job J1, line 2) while nothing used is bought;") in refused(
        a_problem((PLAIN,), (USED,), policy=nothing_used)
    )


def test_a_used_set_is_not_opened_for_a_critical_line() -> None:
    sets = (PlanSet(SET, ((BOLT, 1),)),)
    used_set = replace(an_offer("south", SET, "1.00"), quality=Quality.USED)
    plan = make_plan(a_problem((CRITICAL,), (NEW, used_set), sets=sets))
    assert where(plan) == {"1": "north"}
    plan = make_plan(a_problem((PLAIN,), (NEW, used_set), sets=sets))
    (share,) = plan.lines[0].shares
    assert (share.source, share.quality) == (Source.SET, Quality.USED)


def test_the_reason_says_what_is_bought_and_compares_it_with_what_may_be() -> None:
    lines = (CRITICAL, a_line("3", (part_of(9), 1)))
    genuine = marked("north", "9.00", Quality.MAKERS_OWN)
    offers = (genuine, USED, an_offer("north", part_of(9), "3.00"))
    problem = a_problem(lines, offers)
    first = reasons_of(problem, make_plan(problem))[0]
    assert first.why == "ash:P4, maker's own, from North: nobody else offers it"


@settings(max_examples=60, deadline=None)
@given(st.integers(min_value=1000, max_value=100_000))
def test_no_plan_gives_a_line_what_its_policy_bars(seed: int) -> None:
    problem = a_small_market(seed)
    policy = problem.policy
    plan = _plan(problem)
    for line in plan.lines if plan else ():
        barred = policy.not_of | (policy.not_where_critical if line.line.critical else frozenset())
        bought = [share for share in line.shares if share.source is not Source.SHELF]
        assert not {share.quality for share in bought} & barred


def _plan(problem: PlanProblem) -> Plan | None:
    try:
        return make_plan(problem)
    except NoPlan:
        return None
