"""`kitting calc fit`: the JSON that others' checks rely on, to the letter."""

import pytest

from tests.cli.calc_runs import answered, refused, shown


def test_the_fixed_json_of_a_press_fit() -> None:
    found = answered("fit", {"size": "40 mm", "hole": "H7", "shaft": "p6"})
    assert found["hole"]["upper"] == 25
    assert found["hole"]["lower"] == 0
    assert found["shaft"]["upper"] == 42
    assert found["shaft"]["lower"] == 26
    assert found["clearance_min"] == -42
    assert found["clearance_max"] == -1
    whole = (found["hole"]["upper"], found["shaft"]["lower"], found["clearance_min"])
    assert all(isinstance(number, int) for number in whole)


def test_an_array_of_fits_is_answered_in_order() -> None:
    found = answered(
        "fit",
        [
            {"size": "25 mm", "hole": "H7", "shaft": "p6"},
            {"unit": "mm", "size": "30", "hole": "H7", "shaft": "f7"},
        ],
    )
    assert [one["clearance_max"] for one in found] == [-1, 62]
    assert found[1]["kind"] == "clearance"


def test_an_inch_size_has_its_limits_in_inches() -> None:
    found = answered("fit", {"size": "1.5 in", "hole": "H7", "shaft": "g6"})
    assert found["unit"] == "in"
    assert found["hole"]["least"] == "1.5000"
    assert found["hole"]["upper"] == 25


def test_a_half_micrometre_is_told_as_it_is() -> None:
    found = answered("fit", {"size": "25 mm", "hole": "H7", "shaft": "js6"})
    assert found["shaft"]["upper"] == 6.5
    assert found["hole"]["upper"] == 21


def test_a_half_of_an_odd_tolerance_is_exact_and_tables_that_round_it_are_named() -> None:
    found = answered("fit", {"size": "30 mm", "hole": "JS7", "shaft": "js7"})
    for side in ("hole", "shaft"):
        assert (found[side]["upper"], found[side]["lower"]) == (10.5, -10.5)
        assert (found[side]["greatest"], found[side]["least"]) == ("30.0105", "29.9895")
    assert (found["clearance_min"], found["clearance_max"]) == (-21, 21)
    sheet = " ".join(shown("fit", "--size", "30 mm", "--hole", "H7", "--shaft", "js7").split())
    assert "+10.5 -10.5 µm: 29.9895 to 30.0105 mm" in sheet
    assert "js7: the exact half of 21 µm" in sheet
    assert "some round it to ±10 µm" in sheet


@pytest.mark.parametrize("shaft", ["js6", "js9", "h7"])
def test_where_tables_agree_nothing_is_said(shaft: str) -> None:
    """30 js6 is printed ±6.5 everywhere, and 52 µm of js9 halves to whole micrometres."""
    assert answered("fit", {"size": "30 mm", "hole": "H7", "shaft": shaft})["shaft"]["note"] == ""


def test_the_sheet_names_both_bands_and_the_kind() -> None:
    sheet = shown("fit", "--size", "40 mm", "--hole", "H7", "--shaft", "p6")
    assert "interference" in sheet
    assert "40.026 to 40.042 mm" in sheet


@pytest.mark.parametrize(
    ("given", "sentence"),
    [
        ({"size": "900 mm", "hole": "H7", "shaft": "p6"}, "beyond the tables"),
        ({"size": "-40 mm", "hole": "H7", "shaft": "p6"}, "not above zero"),
        ({"size": "40 mm", "hole": "p6", "shaft": "H7"}, "'p6' is no hole's class"),
        ({"size": "40 mm", "hole": "H7"}, "shaft: it is missing"),
        ({"size": "40", "hole": "H7", "shaft": "p6"}, "has no unit"),
        ({"size": "40 N", "hole": "H7", "shaft": "p6"}, "a length belongs here"),
        ({"size": "40 mm", "holes": "H7", "shaft": "p6"}, "did you mean hole"),
        ({"size": "20 mm", "hole": "H7", "shaft": "t6"}, "use u"),
        ("H7", "not an object"),
    ],
)
def test_a_fit_that_cannot_be_is_said_and_the_status_is_two(given: object, sentence: str) -> None:
    assert sentence in refused("fit", given)
