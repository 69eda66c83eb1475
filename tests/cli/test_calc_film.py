"""`kitting calc film`."""

from typing import Any

import pytest

from tests.cli.calc_runs import answered, refused, shown

BEARING: dict[str, Any] = {
    "journal": "25 mm",
    "length": "12.5 mm",
    "clearance": ["0.03 mm", "0.05 mm"],
    "load": "1200 N",
    "speed": 1100,
    "viscosity": 55,
}


def test_clearances_are_compared() -> None:
    found = answered("film", BEARING)
    assert [row["sommerfeld"] for row in found["films"]] == ["0.182352", "0.0656467"]
    assert found["films"][0]["flow"] == "219.2"
    assert found["pressure"] == "3.84 MPa"
    assert "second opinion" in found["range_of_validity"]


def test_the_sheet_warns_of_a_thin_film() -> None:
    sheet = shown(
        "film", "--journal", "25 mm", "--length", "12.5 mm", "--clearance", "0.03 mm",
        "--load", "1200 N", "--speed", "1100", "--viscosity", "55",
    )  # fmt: skip
    assert "Thinner than that at" in sheet


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"clearance": []}, "there is none"),
        ({"clearance": ["0.03 mm", "-0.03 mm"]}, "clearance, number 2"),
        ({"clearance": ["3 mm"]}, "no running clearance"),
        ({"length": "1 mm"}, "the solutions serve"),
        ({"load": "9000000 N"}, "the journal would touch"),
        ({"speed": "fast"}, "is not a number"),
        ({"viscosity": 0}, "is not above zero"),
    ],
)
def test_a_bearing_that_cannot_run_is_refused(changes: dict[str, Any], sentence: str) -> None:
    assert sentence in refused("film", BEARING | changes)
