"""New parts measured as they arrive, against their drawing."""

from dataclasses import replace

import pytest

from kitting.buying.arrivals import join_readings, judge_arrival, reading_of, readings_of
from kitting.buying.drawings import Check, checks_of
from kitting.catalog.model import Verdict
from kitting.errors import BadInput
from kitting.job.assess import State
from kitting.job.settings import Settings
from tests.buying.orders import JOB, a_line
from tests.wren import tiny_family, tiny_trade

WREN = tiny_family()
SETTINGS = Settings.of_shop(tiny_trade().shop)
FAMILIES = {JOB: WREN}


def shells(grade: str = "-010", pieces: int = 2) -> tuple[Check, ...]:
    line = a_line("hob:W110", pieces, "10.00", positions=("shells",), grade=grade)
    return checks_of(FAMILIES, line)


def verdict(*figures: str, checks: tuple[Check, ...] | None = None) -> Verdict | None:
    wanted = shells(pieces=1) if checks is None else checks
    return judge_arrival(WREN, wanted, readings_of(wanted, figures), SETTINGS).verdict


def test_a_shell_is_measured_at_its_wall_by_the_grade_that_was_ordered() -> None:
    (standard,), (under,) = shells("std"), shells("-010")
    table = WREN.table_by_key["crankpin"]
    assert (standard.feature.low, standard.feature.high) == (
        table.grade("std").wall_low,
        table.grade("std").wall_high,
    )
    assert under.feature.low == table.grade("-010").wall_low
    assert [place[0] for place in under.places] == ["1", "2"]


def test_a_spring_is_measured_at_its_rate_against_the_drawing() -> None:
    (check,) = checks_of(FAMILIES, a_line("hob:W205", 1, "9.75", positions=("relief-spring",)))
    assert check.key == "rate"
    assert verdict("rate = 22 lbf/in", checks=(check,)) is Verdict.REUSE
    assert verdict("rate = 40 lbf/in", checks=(check,)) is Verdict.WRONG_PART


def test_a_gasket_need_not_be_measured() -> None:
    assert checks_of(FAMILIES, a_line("hob:W310", 1, "4.45", positions=("head-gasket",))) == ()


def test_a_new_part_is_held_against_the_drawing_and_never_against_wear() -> None:
    feature = next(f for f in WREN.features if f.kind == "rate")
    worn = replace(feature, wear_low=feature.low, low=feature.high)
    family = replace(WREN, features=tuple(worn if f == feature else f for f in WREN.features))
    line = a_line("hob:W205", 1, "9.75", positions=(feature.position,))
    checks = checks_of({JOB: family}, line)
    arrival = judge_arrival(family, checks, readings_of(checks, ["rate = 22 lbf/in"]), SETTINGS)
    assert arrival.verdict is Verdict.WRONG_PART


def test_a_wall_inside_its_drawing_by_the_micrometers_uncertainty_is_good() -> None:
    grade = WREN.table_by_key["crankpin"].grade("-010")
    assert grade.wall_low is not None
    assert grade.wall_high is not None
    middle = (grade.wall_low + grade.wall_high).half()
    assert verdict(f"wall = {middle.to('in').value}") is Verdict.REUSE
    assert verdict(f"wall = {grade.wall_low.to('in').value}") is Verdict.RECHECK
    thin = grade.wall_low.to("in").value - grade.step.to("in").value
    assert verdict(f"wall = {thin}") is Verdict.WRONG_PART


def test_one_shell_of_two_outside_makes_the_line_the_wrong_part() -> None:
    grade = WREN.table_by_key["crankpin"].grade("-010")
    assert grade.wall_low is not None
    assert grade.wall_high is not None
    good = (grade.wall_low + grade.wall_high).half().to("in").value
    figures = (f"wall 1 = {good}", "wall 2 = 0.09")
    assert verdict(*figures, checks=shells(pieces=2)) is Verdict.WRONG_PART


def test_half_measured_is_not_measured() -> None:
    grade = WREN.table_by_key["crankpin"].grade("-010")
    assert grade.wall_low is not None
    assert grade.wall_high is not None
    good = (grade.wall_low + grade.wall_high).half().to("in").value
    checks = shells(pieces=2)
    arrival = judge_arrival(WREN, checks, readings_of(checks, [f"wall 1 = {good}"]), SETTINGS)
    assert (arrival.verdict, arrival.word) == (None, "not measured")
    assert arrival.missing == (checks[0].feature.name,)
    assert arrival.assessments[0].state is State.GOOD


def test_a_later_figure_takes_the_place_of_an_earlier_one_at_the_same_place() -> None:
    checks = shells(pieces=2)
    first = readings_of(checks, ["wall 1 = .06", "wall 2 = .06"])
    again = readings_of(checks, ["wall 2 = .0609"])
    assert [r.text for r in join_readings(first, again)] == [".06", ".0609"]


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("wall 3 = .06", "'3' is no place of wall; one of 1, 2"),
        ("length = 1", "'length = 1' is no figure of this line; 'wall 1 = "),
        ("wall 1 .06", "is no figure of this line"),
        ("wall 1 = thick", "thick"),
        ("wall 1 = 3 lbf", "'3 lbf' is a force; a length belongs here"),
    ],
)
def test_a_figure_that_cannot_be_taken_is_told(text: str, sentence: str) -> None:
    with pytest.raises(BadInput) as refused:
        reading_of(shells(pieces=2), text)
    assert sentence in str(refused.value)
