"""The undersize a journal cleans up at."""

from dataclasses import replace

import pytest

from kitting.engineering.form_limits import FormLimits
from kitting.engineering.grades import Grade, HalfStep
from kitting.engineering.regrind import CleansUp, RegrindRequest, choose_regrind
from kitting.errors import BadInput
from kitting.measure import Quantity
from kitting.measure.journal import StationReading
from tests.engineering.regrind_cases import HALF_STEPS, TABLE, inch


def readings(*values: str) -> tuple[StationReading, ...]:
    places = [(station, direction) for station in "ABC" for direction in ("0", "90")]
    return tuple(
        StationReading(s, d, inch(value)) for (s, d), value in zip(places, values, strict=False)
    )


JOURNAL = RegrindRequest(
    grades=TABLE,
    readings=readings("1.6990", "1.6984", "1.6992", "1.6988"),
    stock=inch("0.0005"),
    uncertainty=inch("0.0001"),
    score_depth=inch("0"),
    present="standard",
    limits=FormLimits(inch("0.0005"), inch("0.0010"), inch("1.6980")),
    half_steps=HALF_STEPS,
)


def test_the_clean_up_diameters_are_worked_from_the_least_reading() -> None:
    choice = choose_regrind(replace(JOURNAL, score_depth=inch("0.0010")))
    assert choice.clean_up_even == inch("1.6958")
    assert choice.unworn == inch("1.7000")
    assert choice.clean_up_one_sided == inch("1.6942")
    assert choice.likely is choice.worst is TABLE[1]


def test_where_even_and_one_sided_differ_shells_wait_for_the_grinder() -> None:
    choice = choose_regrind(replace(JOURNAL, score_depth=inch("0.0036")))
    assert (choice.likely, choice.worst) == (TABLE[1], TABLE[2])
    assert "until the grinder has clocked the crank" in choice.advice[0]
    assert [row.cleans_up for row in choice.grades] == [
        CleansUp.NO,
        CleansUp.EVEN,
        CleansUp.ONE_SIDED,
        CleansUp.ONE_SIDED,
        CleansUp.ONE_SIDED,
    ]


def test_every_grade_says_why_with_its_figures() -> None:
    rows = choose_regrind(replace(JOURNAL, score_depth=inch("0.0036"))).grades
    assert rows[0].because == "the shaft is at this grade now"
    assert rows[1].because == (
        "its top limit 1.6905 in is within the clean-up diameter 1.6906 in of even wear, "
        "but over 1.6890 in if the wear is all on one side"
    )


def test_ovality_calls_for_grinding_and_the_taper_near_its_limit_stays_open() -> None:
    choice = choose_regrind(replace(JOURNAL, limits=replace(JOURNAL.limits, taper=inch("0.0004"))))
    assert choice.needed
    assert choice.reasons == ("ovality: 0.0006 in at station A is over the limit 0.0005 in",)
    assert [said.split(":")[0] for said in choice.undecided] == ["taper"]


def test_a_reading_on_the_wear_limit_is_not_below_it() -> None:
    limits = FormLimits(wear_min=inch("1.6984"))
    assert not choose_regrind(replace(JOURNAL, limits=limits)).needed
    limits = FormLimits(wear_min=inch("1.6985"))
    assert choose_regrind(replace(JOURNAL, limits=limits)).needed


def test_any_score_calls_for_grinding() -> None:
    choice = choose_regrind(replace(JOURNAL, score_depth=inch("0.0001"), limits=FormLimits()))
    assert choice.reasons == ("scoring: scored 0.0001 in deep",)


def test_a_little_wear_takes_the_smallest_half_step_that_is_enough() -> None:
    worn = replace(JOURNAL, limits=FormLimits(wear_min=inch("1.6980")))
    choice = choose_regrind(worn)
    assert not choice.needed
    assert choice.wear == inch("0.0016")
    assert choice.not_ground == HALF_STEPS[1]
    less = choose_regrind(replace(worn, readings=readings("1.6990", "1.6991")))
    assert less.not_ground == HALF_STEPS[0]
    unworn = choose_regrind(replace(worn, readings=readings("1.7001", "1.7002")))
    assert unworn.not_ground is None
    on_it = choose_regrind(replace(worn, readings=readings("1.7000", "1.7002")))
    assert on_it.not_ground is None


def test_a_ground_shaft_has_its_own_half_step() -> None:
    at_ten = replace(
        JOURNAL,
        present="0.010 undersize",
        readings=readings("1.6890", "1.6891"),
        limits=FormLimits(wear_min=inch("1.6880")),
    )
    assert choose_regrind(at_ten).not_ground == HALF_STEPS[2]


def test_a_grade_without_shells_is_no_choice_and_the_next_is_offered() -> None:
    scored = replace(JOURNAL, score_depth=inch("0.0010"))
    choice = choose_regrind(replace(scored, shells=frozenset({"standard", "0.020 undersize"})))
    assert choice.likely is choice.worst is TABLE[2]
    assert choice.grades[1].cleans_up is CleansUp.ONE_SIDED
    assert "no shells" in choice.grades[1].because
    none = choose_regrind(replace(scored, shells=frozenset({"standard"})))
    assert none.likely is none.worst is None
    assert "another crank" in none.advice[0]


def test_a_shaft_past_the_last_grade_is_for_reclaim_or_another_crank() -> None:
    past = replace(JOURNAL, present=None, readings=readings("1.6500", "1.6490"))
    choice = choose_regrind(replace(past, limits=FormLimits(wear_min=inch("1.6600"))))
    assert choice.present is TABLE[-1]
    assert choice.likely is choice.worst is None
    assert "reclaimed" in choice.advice[0]


@pytest.mark.parametrize(
    ("greatest", "grade", "said"),
    [
        ("1.7003", "standard", "lies in the band"),
        ("1.6999", "standard", "smallest grade from which"),
        ("1.6906", "0.010 undersize", "smallest grade from which"),
        ("1.6907", "standard", "smallest grade from which"),
        ("1.6850", "0.010 undersize", "smallest grade from which"),
        ("1.7020", "standard", "above every grade"),
    ],
)
def test_the_present_grade_is_found_from_the_unworn_size(
    greatest: str, grade: str, said: str
) -> None:
    choice = choose_regrind(replace(JOURNAL, present=None, readings=readings(greatest, greatest)))
    assert choice.present.name == grade
    assert said in choice.present_because


def test_a_journal_larger_than_its_stated_grade_is_questioned() -> None:
    choice = choose_regrind(replace(JOURNAL, present="0.020 undersize"))
    assert "check which grade the shaft is" in choice.present_because


def test_a_half_step_alone_takes_up_wear_and_no_other_grades() -> None:
    other = (HalfStep("0.032 undersize", "0.030 undersize", inch("0.002")),)
    quiet = replace(JOURNAL, limits=FormLimits(), half_steps=other)
    assert choose_regrind(quiet).not_ground is None


def test_all_that_is_wrong_is_said_in_one_go() -> None:
    wrong = replace(
        JOURNAL,
        present="standart",
        stock=inch("-0.0005"),
        readings=readings("1.6990"),
        half_steps=(HalfStep("x", "nowhere", inch("0.001")),),
        shells=frozenset({"0.015 undersize"}),
    )
    with pytest.raises(BadInput) as refused:
        choose_regrind(wrong)
    said = str(refused.value)
    for part in (
        "one reading only",
        "did you mean standard",
        "stock: -0.0005 in is below zero",
        "not in the table",
        "no grade '0.015 undersize'",
    ):
        assert part in said


def test_readings_in_another_unit_than_the_table_are_refused() -> None:
    millimetres = tuple(StationReading("A", d, Quantity.of("43.10", "in")) for d in ("0", "90"))
    with pytest.raises(BadInput, match="nowhere near the grades"):
        choose_regrind(replace(JOURNAL, readings=millimetres))


@pytest.mark.parametrize(
    ("grades", "said"),
    [
        ((), "the table is empty"),
        ((TABLE[0], TABLE[0]), "is there twice"),
        ((TABLE[0], TABLE[2], TABLE[1]), "does not step from '0.020 undersize'"),
        (
            (TABLE[0], Grade("0.010 undersize", TABLE[0].finish_min, TABLE[0].finish_max)),
            "does not step",
        ),
    ],
)
def test_a_table_that_does_not_step_is_refused(grades: tuple[Grade, ...], said: str) -> None:
    with pytest.raises(BadInput, match=said):
        choose_regrind(replace(JOURNAL, grades=grades))


def test_swapped_limits_and_sizes_that_are_none_are_refused() -> None:
    with pytest.raises(BadInput, match="wrong way round"):
        Grade("standard", inch("1.7005"), inch("1.7000"))
    with pytest.raises(BadInput, match="not above zero"):
        Grade("0.010 undersize", inch("-0.010"), inch("-0.009"))
    with pytest.raises(BadInput, match="not above zero"):
        HalfStep("0.002", "standard", inch("0"))
