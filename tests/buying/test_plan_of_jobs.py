"""From the paths of jobs to one plan, each line still its job's."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest

from kitting.buying.planning.clash import lines_without_plan
from kitting.buying.planning.demand import PlanProblem, Policy
from kitting.buying.planning.of_jobs import every_way, part_of_kit, problem_of, without_part
from kitting.buying.planning.plan import make_plan
from kitting.errors import BadInput
from kitting.job.path import JobPath
from tests.sheets.values import a_ready_job


def another(path: JobPath, number: str) -> JobPath:
    """The same engine's troubles again, on another bench."""
    return replace(path, bench=replace(path.bench, job=replace(path.bench.job, number=number)))


def can_be_had(problem: PlanProblem) -> PlanProblem:
    lost = set(lines_without_plan(problem))
    return replace(problem, lines=tuple(line for line in problem.lines if line not in lost))


def test_every_line_of_the_kit_with_a_number_is_in_the_problem_with_the_kits_choice_first() -> None:
    path = a_ready_job()
    problem = problem_of([path])
    wanted = [line for line in path.kit.lines if line.part is not None]
    assert [line.key for line in problem.lines] == [line.key for line in wanted]
    for line, kit_line in zip(problem.lines, wanted, strict=True):
        assert line.ways[0].parts == ((kit_line.part, kit_line.quantity),)
        assert (line.job, line.held) == (path.bench.job.number, kit_line.hold)
    assert without_part([path]) == tuple(
        (path.bench.job.number, line) for line in path.kit.lines if line.part is None
    )


def test_the_resolvers_ways_never_make_a_plan_dearer_than_the_kits_own_choice() -> None:
    path = a_ready_job()
    one = make_plan(can_be_had(problem_of([path], ways=part_of_kit)))
    all_ways = make_plan(can_be_had(problem_of([path], ways=every_way)))
    assert all_ways.total <= one.total
    assert [line.key for line in one.waiting] == [line.key for line in path.kit.lines if line.hold]


def test_each_job_is_bought_for_at_the_offers_of_its_own_family() -> None:
    path = a_ready_job()
    bare = another(replace(path, trade=replace(path.trade, offers=())), "24-002")
    offers = set(problem_of([path]).offers)
    assert set(problem_of([path, bare]).offers) == set(problem_of([bare, path]).offers) == offers


def test_a_line_whose_only_price_has_lapsed_can_be_told_before_planning() -> None:
    lost = list(lines_without_plan(problem_of([a_ready_job()])))
    assert [line.name for line in lost] == ["bolt W140"]


def test_a_held_line_is_asked_for_at_both_its_sizes_where_a_supplier_takes_parts_back() -> None:
    path = a_ready_job()
    held = [line for line in path.kit.lines if line.hold]
    sellers = frozenset(supplier.key for supplier in path.trade.suppliers)
    problem = problem_of([path], Policy(sale_or_return=sellers))
    parts = {p for line in problem.lines if line.held for w in line.ways for p, _ in w.parts}
    assert parts == {p for line in held for p in (line.part, line.worst_part) if p is not None}


def test_two_jobs_share_carriage_and_each_bears_its_own() -> None:
    first = a_ready_job()
    second = another(first, "24-002")
    alone = make_plan(can_be_had(problem_of([first])))
    both = make_plan(can_be_had(problem_of([first, second])))
    assert both.total < 2 * alone.total
    assert len({parcel.supplier.key for parcel in both.parcels}) == len(both.parcels)
    assert both.carriage == sum(line.carriage for line in both.lines) > 0
    assert set(both.by_job) == {"24-001", "24-002"}
    assert sum(both.by_job.values(), Decimal(0)) == both.total
    assert len(both.of_job("24-001")) == len(both.of_job("24-002")) == len(alone.lines)


def test_jobs_of_different_days_or_the_same_job_twice_make_no_plan() -> None:
    path = a_ready_job()
    tomorrow = replace(another(path, "24-002"), day=path.day + timedelta(days=1))
    for paths, said in (
        ([path, tomorrow], "the jobs are priced as of 2024-05-02 and of 2024-05-03"),
        ([path, path], "job 24-001 is named twice"),
        ([], "no job is named"),
    ):
        with pytest.raises(BadInput, match=said):
            problem_of(paths)
