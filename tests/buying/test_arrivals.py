"""New parts measured as they arrive, against their drawing."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.buying.arrivals import (
    Arrival,
    join_readings,
    judge_arrival,
    reading_of,
    readings_of,
)
from kitting.buying.drawings import Check, checks_of
from kitting.errors import BadInput
from kitting.job.settings import Settings
from tests.buying.orders import JOB, a_line
from tests.wren import tiny_family, tiny_trade

WREN = tiny_family()
SETTINGS = Settings.of_shop(tiny_trade().shop)
FAMILIES = {JOB: WREN}


def shells(grade: str = "-010", pieces: int = 2) -> tuple[Check, ...]:
    line = a_line("hob:W110", pieces, "10.00", positions=("shells",), grade=grade)
    return checks_of(FAMILIES, line)


def found(*figures: str, checks: tuple[Check, ...] | None = None) -> str:
    return judged(*figures, checks=checks).word


def judged(*figures: str, checks: tuple[Check, ...] | None = None) -> Arrival:
    wanted = shells(pieces=1) if checks is None else checks
    return judge_arrival(WREN, wanted, readings_of(wanted, figures), SETTINGS)


def walls() -> tuple[Decimal, Decimal]:
    """The middle of what the drawing allows the wall, and its least."""
    grade = WREN.table_by_key["crankpin"].grade("-010")
    assert grade.wall_low is not None
    assert grade.wall_high is not None
    return (grade.wall_low + grade.wall_high).half().to("in").value, grade.wall_low.to("in").value


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
    assert found("rate = 22 lbf/in", checks=(check,)) == "good"
    assert found("rate = 40 lbf/in", checks=(check,)) == "wrong part"
    with pytest.raises(BadInput, match="put ! after it"):
        found("rate = 33 N/mm", checks=(check,))
    assert found("rate = 33 N/mm !", checks=(check,)) == "wrong part"


def test_what_is_to_be_measured_names_every_place() -> None:
    (check,) = shells(pieces=2)
    two = replace(check, inner=("top", "bottom")).of_pieces(2)
    assert two.places_text == " at 1 top, 1 bottom, 2 top, 2 bottom"
    assert two.of_pieces(8).places_text.endswith("6 top, … 8 bottom")
    (single,) = shells(pieces=1)
    assert single.places_text == ""


def test_a_gasket_need_not_be_measured() -> None:
    assert checks_of(FAMILIES, a_line("hob:W310", 1, "4.45", positions=("head-gasket",))) == ()


def test_a_new_part_is_held_against_the_drawing_and_never_against_wear() -> None:
    feature = next(f for f in WREN.features if f.kind == "rate")
    worn = replace(feature, wear_low=feature.low, low=feature.high)
    family = replace(WREN, features=tuple(worn if f == feature else f for f in WREN.features))
    line = a_line("hob:W205", 1, "9.75", positions=(feature.position,))
    checks = checks_of({JOB: family}, line)
    arrival = judge_arrival(family, checks, readings_of(checks, ["rate = 22 lbf/in"]), SETTINGS)
    assert arrival.word == "wrong part"


def test_a_wall_inside_its_drawing_by_the_micrometers_uncertainty_is_good() -> None:
    middle, least = walls()
    assert found(f"wall = {middle}") == "good"
    assert found(f"wall = {least}") == "recheck"
    assert found(f"wall = {least - Decimal('0.01')}") == "wrong part"


def test_each_figure_judges_its_own_piece_and_no_other() -> None:
    good, least = walls()
    figures = (f"wall 1 = {good}", "wall 2 = 0.09", f"wall 3 = {least}", f"wall 5 = {good}")
    arrival = judged(*figures, checks=shells(pieces=6))
    assert (arrival.by_figures, arrival.unmeasured) == ((2, 1, 1), 2)
    assert arrival.word == "2 good, 1 wrong part, 1 recheck, 2 not measured"
    assert [test.what.rpartition(", ")[2] for test in arrival.telling] == ["2:", "3:"]
    assert arrival.missing == ("wall, -010 grade of piece 4, 6",)


def test_one_shell_of_two_measured_is_good_and_the_other_waits() -> None:
    arrival = judged(f"wall 1 = {walls()[0]}", checks=shells(pieces=2))
    assert (arrival.by_figures, arrival.unmeasured, arrival.is_open) == ((1, 0, 0), 1, True)
    assert arrival.missing == ("wall, -010 grade of piece 2",)


def test_of_many_alike_a_sample_that_is_all_good_proves_the_others() -> None:
    good, _ = walls()
    checks = shells(pieces=12)
    figures = [f"wall {at} = {good}" for at in range(1, 9)]
    assert judged(*figures, checks=checks).by_figures == (12, 0, 0)
    assert judged(*figures[:7], checks=checks).by_figures == (7, 0, 0)


@pytest.mark.parametrize(("eighth", "by_figures"), [("0.09", (7, 1, 0)), ("", (7, 0, 1))])
def test_a_sample_with_a_piece_that_is_not_good_proves_none_of_the_others(
    eighth: str, by_figures: tuple[int, int, int]
) -> None:
    good, least = walls()
    checks = shells(pieces=12)
    figures = [*(f"wall {at} = {good}" for at in range(1, 8)), f"wall 8 = {eighth or least}"]
    arrival = judged(*figures, checks=checks)
    assert (arrival.by_figures, arrival.unmeasured) == (by_figures, 4)
    assert arrival.missing == ("wall, -010 grade of piece 9, 10, 11, 12",)
    rest = [f"wall {at} = {good}" for at in range(9, 13)]
    inside, outside, near = by_figures
    assert judged(*figures, *rest, checks=checks).by_figures == (inside + 4, outside, near)


def test_a_part_that_is_bought_singly_is_judged_by_all_its_places() -> None:
    (check,) = shells(pieces=1)
    two = replace(check, inner=("top", "bottom")).of_pieces(1)
    good, _ = walls()
    assert found(f"wall top = {good}", checks=(two,)) == "not measured"
    assert found(f"wall top = {good}", f"wall bottom = {good}", checks=(two,)) == "good"
    assert found(f"wall top = {good}", "wall bottom = .09", checks=(two,)) == "wrong part"


def test_of_what_went_back_unused_no_figure_is_wanted_any_more() -> None:
    """Two of four shells went back, two are measured; or one is, and one more waits."""
    good = f"{walls()[0]} in"
    two = judged(f"wall 1 = {good}", f"wall 2 = {good}", checks=shells(pieces=4))
    assert two.missing[0].endswith("of piece 3, 4")
    left = two.kept(0)
    assert (left.missing, left.is_open, left.word) == ((), False, "good")
    one = judged(f"wall 1 = {good}", checks=shells(pieces=4)).kept(1)
    assert (one.missing, one.is_open, one.unmeasured) == (("1 piece",), True, 1)
    assert two.kept(2) == two


@given(st.integers(1, 12), st.dictionaries(st.integers(1, 12), st.sampled_from("gbn")))
def test_no_piece_is_condemned_or_cleared_by_a_bad_figure_of_another(
    pieces: int, said: dict[int, str]
) -> None:
    good, least = walls()
    text = {"g": good, "b": Decimal("0.09"), "n": least}
    mine = {at: sort for at, sort in said.items() if at <= pieces}
    figures = [f"wall {at} = {text[sort]}" for at, sort in mine.items()]
    sorts = list(mine.values())
    (check,) = shells(pieces=12)
    arrival = judged(*figures, checks=(check.of_pieces(pieces),))
    assert arrival.outside == sorts.count("b")
    assert arrival.near == sorts.count("n")
    spotless = set(sorts) == {"g"} and len(sorts) >= min(pieces, 8)
    assert arrival.inside == (pieces if spotless else sorts.count("g"))
    assert bool(arrival.missing) is bool(arrival.unmeasured)


def test_a_later_figure_takes_the_place_of_an_earlier_one_at_the_same_place() -> None:
    checks = shells(pieces=2)
    first = readings_of(checks, ["wall 1 = .06", "wall 2 = .06"])
    again = readings_of(checks, ["wall 2 = .0609"])
    assert [r.text for r in join_readings(first, again)] == [".06", ".0609"]


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("wall 3 = .06", "'3' is no place of wall; one of 1, 2"),
        ("wall 0 = .06", "'0' is no place of wall; one of 1, 2"),
        ("wall 01 = .06", "'01' is no place of wall; one of 1, 2"),
        ("wall 2 top = .06", "'2 top' is no place of wall; one of 1, 2"),
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
