"""`kitting calc bush`."""

from typing import Any

import pytest

from tests.cli.calc_runs import answered, refused, shown

MAIN: dict[str, Any] = {
    "unit": "in",
    "housing_bore": {"low": "1.7500", "high": "1.7505"},
    "housing_outside": "2.75",
    "bush_outside": {"low": "1.7530", "high": "1.7535"},
    "bush_bore": "1.43",
    "journal": {"low": "1.4375", "high": "1.4380"},
    "clearance": {"low": "0.0015", "high": "0.0025"},
    "play": "0.002",
    "length": "1.125",
    "running": "100 °C",
}


def test_a_main_bush_cold_and_hot() -> None:
    found = answered("bush", MAIN)
    assert found["least"]["interference"] == "0.0025"
    assert found["greatest"]["interference"] == "0.0035"
    assert found["ream"]["band"] == {"low": "1.4395", "high": "1.4400"}
    assert found["ream"]["can_be_reamed"]
    assert found["heat"]["housing_at"] == "166.2"
    assert found["hot"]["tight"]
    assert found["least"]["force"].endswith(" lbf")


def test_a_bush_that_falls_out_hot_is_said() -> None:
    loose = MAIN | {"bush_outside": {"low": "1.7506", "high": "1.7508"}, "running": 140}
    found = answered("bush", loose)
    assert not found["hot"]["tight"]
    assert any("not held" in note for note in found["notes"])


def test_a_bush_without_journal_is_pressed_only() -> None:
    bare = {key: MAIN[key] for key in MAIN if key not in {"journal", "clearance", "running"}}
    found = answered("bush", bare)
    assert found["ream"] is None
    assert found["hot"] is None


def test_the_sheet_from_options() -> None:
    sheet = shown(
        "bush", "--unit", "in", "--housing-bore", "1.7500,1.7505", "--housing-outside", "2.75",
        "--bush-outside", "1.7530,1.7535", "--bush-bore", "1.4450", "--journal", "1.4375",
        "--clearance", ".0015,.0025", "--running", "100",
    )  # fmt: skip
    assert "no metal left" in " ".join(sheet.split())
    assert "hot metal and presses bite" in sheet


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"housing_outside": "1.7"}, "cannot hold a bush"),
        ({"bush_bore": "1.8"}, "leaves no wall"),
        ({"housing_bore": {"low": "1.7505", "high": "1.7500"}}, "housing_bore: the limits"),
        ({"housing_bore": {"low": "1.7505"}}, "one of its limits is missing"),
        ({"bush_outside": {"low": "1.9", "high": "1.9"}}, "no fit at all"),
        ({"bush_material": "cheese"}, "bush_material: no material 'cheese'"),
        ({"clearance": None}, "go together"),
        ({"play": "-0.002"}, "is below zero"),
        ({"friction": "x"}, "is not a number"),
        ({"journal": {"low": "1.43", "high": "1.45"}}, "throughout"),
    ],
)
def test_a_bush_that_cannot_be_is_refused(changes: dict[str, Any], sentence: str) -> None:
    assert sentence in refused("bush", MAIN | changes)


def test_all_that_is_wrong_comes_at_once() -> None:
    said = refused("bush", MAIN | {"bush_material": "x", "housing_material": "y"})
    assert len(said.splitlines()) == 2
