"""The build: what is to be measured, by which limits, and when a job may be closed."""

from dataclasses import replace

import pytest

from kitting.catalog.family import Family
from kitting.catalog.model import Feature, Verdict
from kitting.job.assess import State
from kitting.job.build import BuildRecord, Planned, judge_build, plan_build
from kitting.job.build_figures import BuildFigure
from kitting.job.findings import Bench
from kitting.job.path import JobPath, walk
from kitting.job.settings import Lean, Settings
from kitting.measure import Limits
from tests.builders import a_feature, q
from tests.job.benches import DAY, JOB, a_finding
from tests.sheets.values import a_family, a_ready_job, a_trade

SHELLS = a_feature(
    "shell-clearance", "shells", "clearance", ("0.0010", "0.0020"), ("", "0.0050"),
    critical=True, at_build=True,
)  # fmt: skip
FLOAT = a_feature(
    "rod-float", "rod", "end float", ("0.005", "0.010"), ("0.004", "0.020"), at_build=True
)
TORQUE = a_feature("bolt-torque", "rod-bolts", "torque", ("18", "20"), unit="lbf·ft", at_build=True)
GAP = a_feature(
    "nut-gap", "barrel-nuts", "gap", ("0.010", "0.014"), ("", "0.030"), at_build=True,
    stations=("left", "right"),
)  # fmt: skip
SETTINGS = Settings({"micrometer": q("0.0001 in")})


def a_build(*features: Feature) -> JobPath:
    """The Wren with its pin to be ground, and these figures to measure at assembly."""
    family = a_family()
    before = tuple(replace(feature, at_build=False) for feature in family.features)
    more = replace(family, features=(*before, *features))
    path = a_ready_job()
    return walk(more, a_trade(), path.bench, path.day)


def planned(path: JobPath, key: str) -> Planned:
    return next(each for each in plan_build(path) if each.feature.key == key)


def figure(feature: Feature, text: str, station: str = "") -> BuildFigure:
    value = q(text, feature.unit.symbol)
    return BuildFigure(feature.key, station, "", text, value, "micrometer", "Joan", DAY)


def judged(path: JobPath, *figures: BuildFigure, lean: Lean = Lean.RECHECK) -> BuildRecord:
    return judge_build(plan_build(path), figures, replace(SETTINGS, lean=lean))


def ground(path: JobPath, *figures: BuildFigure) -> BuildRecord:
    """As judged when the size that the plan follows has been decided."""
    plan = [replace(each, settled=True) for each in plan_build(path)]
    return judge_build(plan, figures, SETTINGS)


def test_the_clearance_of_what_is_ground_is_that_of_the_size_decided() -> None:
    plan = planned(a_build(SHELLS), "shell-clearance")
    table = a_family().table_by_key["crankpin"]
    assert plan.limits == Limits(table.clearance_low, table.clearance_high)
    assert plan.basis == "crankpin -010 grade"
    assert not plan.settled, "the grinder may still come to -020"


def test_a_journal_is_held_against_the_finished_size_decided() -> None:
    family = a_family()
    path = walk(family, a_trade(), a_ready_job().bench, DAY)
    plan = planned(path, "crankpin-diameter")
    grade = family.table_by_key["crankpin"].grade("-010")
    assert plan.limits == Limits(grade.finish_low, grade.finish_high)
    assert plan.basis == "crankpin -010 grade"


def test_a_part_that_goes_back_as_it_was_is_held_against_the_limits_of_use() -> None:
    plan = planned(a_build(replace(FLOAT, if_out=Verdict.RENEW)), "rod-float")
    assert plan.limits == Limits(q("0.004"), q("0.020"))
    assert "reused" in plan.basis


def test_an_end_float_that_the_builder_sets_is_held_against_the_drawing() -> None:
    plan = planned(a_build(replace(FLOAT, if_out=Verdict.RECHECK)), "rod-float")
    assert (plan.limits, plan.basis) == (Limits(q("0.005"), q("0.010")), "set at assembly")


def test_a_renewed_part_is_held_against_the_drawing() -> None:
    gone = replace(GAP, position="barrel-nuts")
    plan = planned(a_build(gone), "nut-gap")
    assert (plan.limits, plan.basis) == (Limits(q("0.010"), q("0.014")), "as new")


def test_what_wear_cannot_alter_has_the_drawings_limits() -> None:
    plan = planned(a_build(TORQUE), "bolt-torque")
    assert plan.basis == "drawing"
    assert str(plan.limits) == "18.0 lbf·ft to 20.0 lbf·ft"


def test_only_what_was_stripped_is_built() -> None:
    path = a_build(SHELLS, GAP)
    bench = Bench(JOB, ("top-end",), (a_finding("barrel-nuts", sound=True),))
    there = walk(path.family, path.trade, bench, path.day)
    assert [each.feature.key for each in plan_build(there)] == ["nut-gap"]


def test_figures_come_in_the_order_the_engine_is_built() -> None:
    keys = [each.feature.key for each in plan_build(a_build(GAP, SHELLS))]
    assert keys == ["shell-clearance", "nut-gap"]


@pytest.mark.parametrize(
    ("text", "state"),
    [
        ("0.0011", State.GOOD),
        ("0.0010", State.UNDECIDED),
        ("0.0009", State.BAD),
        ("0.0025", State.UNDECIDED),
        ("0.0026", State.BAD),
    ],
)
def test_near_a_limit_the_instrument_decides_as_at_the_strip(text: str, state: State) -> None:
    # limits of the Wren's crankpin at -010: 0.0005 to 0.0025; U of the micrometer 0.0001
    path = a_build(replace(SHELLS, position="shells"))
    low = planned(path, "shell-clearance").limits
    shift = {"0.0011": "0.0006", "0.0010": "0.0005", "0.0009": "0.0004"}
    assert str(low) == "0.0005 in to 0.0025 in"
    (line,) = judged(path, figure(SHELLS, shift.get(text, text))).lines
    assert line.state is state


def test_a_shop_that_leans_to_reuse_takes_what_is_too_near_to_call() -> None:
    path = a_build(SHELLS)
    (line,) = judged(path, figure(SHELLS, "0.0025"), lean=Lean.REUSE).lines
    assert line.state is State.GOOD


def test_a_job_may_be_closed_when_each_critical_figure_is_there_and_none_is_bad() -> None:
    path = a_build(SHELLS, GAP)
    assert not judged(path).may_close
    assert ground(path, figure(SHELLS, "0.0015")).may_close, "the gap is not critical"
    bad = ground(path, figure(SHELLS, "0.0015"), figure(GAP, "0.050", "left"))
    assert not bad.may_close
    assert bad.sentence == "1 of 2 figures measured, 1 proven bad."


def test_no_job_is_closed_on_a_critical_figure_that_proves_nothing() -> None:
    path = a_build(SHELLS)
    held = judged(path, figure(SHELLS, "0.0015"))
    assert not held.may_close
    assert held.sentence == "1 of 1 figures measured, 1 critical ones to a size not settled."
    near = ground(path, figure(SHELLS, "0.0025"))
    assert not near.may_close
    assert near.sentence == "1 of 1 figures measured, 1 critical ones too near to call."


def test_no_job_is_closed_as_built_when_nothing_was_to_be_measured() -> None:
    record = judge_build((), (), SETTINGS)
    assert not record.may_close
    assert record.sentence == "Nothing is stripped, so there is nothing to measure."


def test_a_critical_figure_of_several_places_is_there_when_all_are() -> None:
    gap = replace(GAP, critical=True)
    path = a_build(gap)
    half = judged(path, figure(gap, "0.012", "left"))
    assert half.wanting[0].missing == (("right", ""),)
    assert judged(path, figure(gap, "0.012", "left"), figure(gap, "0.012", "right")).may_close


def test_a_figure_that_nobody_asked_for_proves_nothing_and_is_not_lost() -> None:
    path = a_build(GAP)
    record = judged(path, figure(SHELLS, "0.5"))
    assert record.may_close
    assert [each.feature for each in record.unplanned] == ["shell-clearance"]


def test_the_family_says_what_is_measured_not_the_code() -> None:
    family: Family = a_family()
    path = walk(family, a_trade(), a_ready_job().bench, DAY)
    wanted = {feature.key for feature in family.features if feature.at_build}
    assert {each.feature.key for each in plan_build(path)} == wanted
