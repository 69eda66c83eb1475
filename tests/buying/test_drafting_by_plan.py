"""Orders out of a buying plan: what the plan buys, for whom it buys it, and nothing twice."""

from collections import Counter
from dataclasses import replace
from decimal import Decimal

import pytest

from kitting.buying.drafting import Before
from kitting.buying.drafting_plan import (
    failed_before,
    orders_of_plan,
    still_to_plan,
    why_not_planned,
)
from kitting.buying.failures import Failure, Failures
from kitting.buying.orders import Order
from kitting.buying.planning.demand import Policy
from kitting.buying.planning.of_jobs import problem_of
from kitting.buying.planning.plan import make_plan
from kitting.buying.planning.values import Aim, Plan
from kitting.buying.standing import OrderRecord, before_of
from kitting.job.path import JobPath
from kitting.job.pricing import rounded
from tests.sheets.values import a_ready_job, number

PATH = a_ready_job()
JOB = PATH.bench.job.number
OTHER = "24-9"
BOTH = (PATH, replace(PATH, bench=replace(PATH.bench, job=replace(PATH.bench.job, number=OTHER))))


def planned(paths: tuple[JobPath, ...] = (PATH,), policy: Policy | None = None) -> Plan:
    whole = problem_of(paths, policy)
    sold = {offer.part for offer in whole.offers if offer.valid_on(whole.day)}
    lines = tuple(
        line
        for line in whole.lines
        if any(part in sold for way in line.ways for part, _ in way.parts)
    )
    return make_plan(replace(whole, lines=lines), Aim.CHEAPEST)


def bought(orders: tuple[Order, ...]) -> Counter[object]:
    return Counter({(o.supplier.key, x.part): x.packs for o in orders for x in o.lines})


@pytest.mark.parametrize("paths", [(PATH,), BOTH], ids=["one job", "two jobs"])
def test_the_orders_are_the_plans_purchases_at_the_plans_prices(
    paths: tuple[JobPath, ...],
) -> None:
    plan = planned(paths)
    orders = orders_of_plan(plan, paths)
    wanted: Counter[object] = Counter()
    for parcel in plan.parcels:
        for purchase in parcel.purchases:
            wanted[(parcel.supplier.key, purchase.offer.part)] += purchase.packs
    assert bought(orders) == wanted
    ours = sorted((order.supplier.key, order.at_home(order.total)) for order in orders)
    home = plan.currency
    theirs = sorted((p.supplier.key, rounded(p.goods + p.carriage, home)) for p in plan.parcels)
    assert [key for key, _ in ours] == [key for key, _ in theirs]
    for (_, mine), (_, plans) in zip(ours, theirs, strict=True):
        assert abs(mine - plans) <= Decimal("0.02")


@pytest.mark.parametrize("paths", [(PATH,), BOTH], ids=["one job", "two jobs"])
def test_each_line_belongs_to_the_jobs_that_need_it_piece_for_piece(
    paths: tuple[JobPath, ...],
) -> None:
    plan = planned(paths)
    needed: Counter[tuple[str, str]] = Counter()
    for order in orders_of_plan(plan, paths):
        for line in order.lines:
            for need in line.needed_by:
                needed[(need.job, need.kit_line)] += need.pieces
    for each in plan.lines:
        assert needed[(each.line.job, each.line.key)] >= each.line.quantity
    assert {job for job, _ in needed} == {path.bench.job.number for path in paths}


def test_what_the_orders_bring_is_not_planned_again() -> None:
    problem = problem_of((PATH,))
    records = [OrderRecord(order) for order in orders_of_plan(planned(), (PATH,))]
    left = still_to_plan(problem, (PATH,), before_of(records)).lines
    covered = {each.line.key for each in planned().lines}
    assert not covered & {line.key for line in left}


def test_a_line_that_is_partly_there_is_planned_for_the_rest() -> None:
    problem = problem_of((PATH,))
    nuts = next(line for line in problem.lines if line.quantity == 4)
    records = [OrderRecord(order) for order in orders_of_plan(planned(), (PATH,))]
    coming = [each for each in before_of(records).coming if each.need.kit_line == nuts.key]
    one = replace(coming[0], need=replace(coming[0].need, pieces=1))
    (left,) = [
        line
        for line in still_to_plan(problem, (PATH,), Before((one,))).lines
        if line.key == nuts.key
    ]
    assert left.quantity == 3
    assert {count for way in left.ways for _, count in way.parts} == {3}


def test_what_failed_with_a_supplier_is_not_asked_of_him_again_for_that_job_alone() -> None:
    nuts = number("W320")
    failures = Failures((Failure("brook", "Brook", nuts, "P1001", (JOB,), "1 short"),))
    left = still_to_plan(problem_of((PATH,)), (PATH,), Before(failures=failures))
    assert ("brook", nuts) not in {(offer.supplier, offer.part) for offer in left.offers}
    (passed,) = left.passed_over
    assert (passed.offer.supplier, passed.why) == ("brook", f"1 short, P1001, for job {JOB}")
    line = next(each for each in left.lines if each.ways[0].parts[0][0] == nuts)
    assert "1 short" in why_not_planned(line, left, Before(failures=failures))
    other = replace(failures, every=(replace(failures.every[0], jobs=("24-9",)),))
    left = still_to_plan(problem_of((PATH,)), (PATH,), Before(failures=other))
    assert ("brook", nuts) in {(offer.supplier, offer.part) for offer in left.offers}
    assert why_not_planned(line, left, Before(failures=other)) == ""


def test_a_plan_over_several_jobs_says_that_the_others_avoid_what_failed_for_one() -> None:
    """One pack may serve several jobs of a plan, so that a part is bought for all of them alike."""
    nuts = number("W320")
    failures = Failures((Failure("brook", "Brook", nuts, "P1001", (JOB,), "1 short"),))
    before = Before(failures=failures)
    both = still_to_plan(problem_of(BOTH), BOTH, before)
    assert ("brook", nuts) not in {(offer.supplier, offer.part) for offer in both.offers}
    (said,) = failed_before(before, both, ())
    assert said.startswith("not asked for there again: Brook, hob:W320: 1 short (P1001, for job")
    assert said.endswith(
        f"job {OTHER} avoids it only because one pack may serve several jobs here: planned by "
        "itself, it is open"
    )
    theirs = next(x for x in both.lines if x.job == OTHER and x.ways[0].parts[0][0] == nuts)
    assert f"job {OTHER} avoids it only because" in why_not_planned(theirs, both, before)
    alone = still_to_plan(problem_of(BOTH[1:]), BOTH[1:], before)
    assert ("brook", nuts) in {(offer.supplier, offer.part) for offer in alone.offers}
    assert failed_before(before, alone, ()) == ()
    assert why_not_planned(theirs, alone, before) == ""


def test_both_sizes_of_a_held_line_come_on_sale_or_return_each_known_for_what_it_is() -> None:
    held = next(line for line in PATH.kit.lines if line.hold)
    policy = Policy(sale_or_return=frozenset({"ashby", "brook"}))
    orders = orders_of_plan(planned(policy=policy), (PATH,))
    found = {
        line.part: need.stands_for
        for order in orders
        for line in order.lines
        if line.on_return
        for need in line.needed_by
        if set(need.positions) & set(held.positions)
    }
    assert found == {held.part: held.part, held.worst_part: held.worst_part}
