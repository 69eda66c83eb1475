"""`calc clearance`, `shims` and `thrust` through the door."""

from typing import Any

import pytest

from tests.cli.calc_runner import answer, refused, run

PUMP: dict[str, Any] = {
    "unit": "mm",
    "housing": {"low": "66.010", "high": "66.029"},
    "wall": {"low": "2.973", "high": "2.985"},
    "journal": {"low": "59.971", "high": "59.990"},
    "target": {"low": "0.050", "high": "0.112", "limit": "0.300"},
}


def test_clearance_by_drawing_and_the_band_to_grind() -> None:
    found = answer("clearance", given=PUMP)
    assert found["clearance"] == {"low": "0.050", "high": "0.112"}
    assert found["lined"] == {"low": "60.040", "high": "60.083"}
    grind = found["grind_to"]
    assert (grind["low"], grind["high"]) == ("59.971", "59.990")
    assert found["basis"] == "housing by drawing, shells by drawing, journal by drawing"
    assert found["verdict"].startswith("all of 0.050 mm to 0.112 mm lies in the target")


def test_measured_shells_and_housing_are_said_to_be_measured() -> None:
    found = answer(
        "clearance",
        given={
            "unit": "mm",
            "housing": {"measured": "66.020", "uncertainty": "0.002"},
            "wall": {"measured": "2.980", "uncertainty": "0.001"},
            "target": {"low": "0.050", "high": "0.080"},
            "finished": {"low": "59.971", "high": "59.990"},
        },
    )
    assert found["basis"] == "housing as measured, shells as measured"
    assert found["clearance"] is found["likely"] is found["verdict"] is found["felt"] is None
    assert (found["grind_to"]["low"], found["grind_to"]["high"]) == ("59.984", "60.006")
    assert "part of the band" in found["grind_to"]["notes"][0]


def test_a_target_that_no_journal_gives_says_why() -> None:
    tight = PUMP | {"target": {"low": "0.050", "high": "0.060"}}
    grind = answer("clearance", given=tight)["grind_to"]
    assert grind["low"] is None
    assert "measure the housing bolted up" in grind["because"]
    assert "no journal will do" in run("clearance", given=tight).stdout


@pytest.mark.parametrize(
    ("journal", "said"),
    [
        ("59.70", "over the limit 0.300 mm: worn out"),
        ("59.90", "lies outside the target"),
        ("59.965", "measure, or fit selectively"),
    ],
)
def test_the_verdict_on_a_worn_journal(journal: str, said: str) -> None:
    worn = PUMP | {"journal": {"measured": journal, "uncertainty": "0"}}
    assert said in answer("clearance", given=worn)["verdict"]


def test_a_nipped_journal_is_warned_of() -> None:
    tight = PUMP | {"journal": {"measured": "60.05"}}
    found = answer("clearance", given=tight)
    assert "nipped" in found["notes"][0]
    assert "at the tightest, the shaft is nipped" in found["felt"]


def test_shells_are_mixed_within_one_step_best_first() -> None:
    shells = [
        {"name": name, "wall": {"measured": wall}, "halves": 2}
        for name, wall in (("standard", "2.979"), ("+0.01", "2.984"), ("+0.02", "2.989"))
    ]
    found = answer(
        "clearance",
        given=PUMP | {"shells": shells, "target": {"low": "0.050", "high": "0.100"}},
    )["shells"]
    assert (found[0]["loaded"], found[0]["other"]) == ("+0.01", "standard")
    assert len(found) == 5
    assert ("+0.02", "standard") not in {(pair["loaded"], pair["other"]) for pair in found}


def test_a_sample_is_the_same_for_the_same_seed() -> None:
    sampled = PUMP | {"sample": {"seed": 4, "trials": 500, "spread": "uniform"}}
    one, two = (answer("clearance", given=sampled)["sample"] for _ in range(2))
    assert one == two
    assert one["trials"] == 500
    assert "500 trials, seed 4" in run("clearance", given=sampled).stdout


def test_a_clearance_by_options_and_its_sheet() -> None:
    options = (
        *("--unit", "in", "--housing", "1.9200,1.9205", "--wall", "0.0841", "--rod"),
        *("--journal", "1.7495,1.7500", "--target", "0.0010,0.0030", "--seed", "1"),
        *("--shell", "standard,0.0840,0.0841", "--shell", ".001,0.0845,0.0846"),
        *("--finished", "1.7495,1.7500"),
    )
    found = answer("clearance", *options)
    assert found["clearance"] == {"low": "0.0018", "high": "0.0028"}
    assert found["rule_of_thumb"] == "0.00225"
    sheet = run("clearance", *options).stdout
    assert "Grind the journal to   1.7493 to 1.7508 in" in sheet
    assert max(len(line) for line in sheet.splitlines()) <= 80


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"housing": {"low": "66.0"}}, "housing: it is not clear what size is meant"),
        ({"wall": {"low": "2.985", "high": "2.973"}}, "wall: the limits 2.985 mm to 2.973 mm"),
        ({"target": {"low": "0.112", "high": "0.050"}}, "target: the limits"),
        ({"wall": {"measured": "40"}}, "the shells fill the bore"),
        ({"journal": None, "sample": {"seed": 1}}, "give journal and target"),
        (
            {"target": None, "shells": [{"name": "x", "wall": {"measured": "1"}}]},
            "give journal and target",
        ),
        ({"sample": {"seed": 1, "trials": 5}}, "take from 100"),
    ],
)
def test_a_clearance_that_makes_no_sense_is_refused(changes: dict[str, Any], said: str) -> None:
    assert said in refused("clearance", given=PUMP | changes)


def test_shims_by_options_and_their_sheet() -> None:
    options = (
        *("--unit", "in", "--measured", "0.032", "--in-place", "0.010", "--low", "0.002"),
        *("--high", "0.005", "--shim", "0.015,2", "--shim", "0.008", "--shim", "0.020,1"),
    )
    found = answer("shims", *options)
    assert found["met"] is True
    assert found["best"]["shims"] == [
        {"thickness": "0.0150", "count": 2},
        {"thickness": "0.0080", "count": 1},
    ]
    assert found["best"]["gives"] == "0.0040"
    sheet = run("shims", *options).stdout
    assert "Best stack        2 × 0.0150 + 1 × 0.0080 = 0.0380 in" in sheet


def test_shims_that_open_the_float() -> None:
    found = answer(
        "shims",
        *("--unit", "in", "--measured", "-0.005", "--low", "0.002", "--high", "0.005", "--opens"),
        *("--shim", "0.008"),
    )
    assert found["best"]["gives"] == "0.0030"


def test_a_float_without_stock_is_refused() -> None:
    given = {"unit": "in", "measured": "0.03", "low": "0.002", "high": "0.005", "stock": []}
    assert "no shims to choose from" in refused("shims", given=given)


ROWS = (
    *("--row", "standard,,<0.016", "--row", "+0.005,0.017,0.026"),
    *("--row", "+0.010,0.027,0.036", "--row", "another crank,>0.036,", "--step", "0.001"),
)


def test_a_thrust_washer_from_end_play_and_washers() -> None:
    found = answer(
        "thrust",
        *("--unit", "in", "--end-play", "0.021", "--nominal", "0.244", "--washer", "0.1215"),
        *("--washer", "0.1220", *ROWS),
    )
    assert (found["value"], found["row"]) == ("0.0205", "+0.005")
    assert len(found["gaps"]) == 2


def test_a_figure_in_a_gap_of_the_table_gets_no_washer() -> None:
    options = ("--unit", "in", "--value", "0.016", *ROWS)
    assert answer("thrust", *options)["row"] is None
    sheet = run("thrust", *options).stdout
    assert "none: the table does not answer" in sheet
    assert "Where the table is open" in sheet


def test_a_figure_on_the_edge_belongs_to_the_row_that_names_it() -> None:
    assert answer("thrust", "--unit", "in", "--value", "0.036", *ROWS)["row"] == "+0.010"


def test_a_washer_comes_with_its_thickness_and_what_else_it_could_be() -> None:
    rows = [
        {"name": "standard", "under": "0.016", "thickness_min": "0.119", "thickness_max": "0.122"},
        {"name": "+0.005", "low": "0.016"},
    ]
    given = {"unit": "in", "rows": rows, "value": "0.0155", "uncertainty": "0.001"}
    found = answer("thrust", given=given)
    assert found["thickness"] == {"low": "0.1190", "high": "0.1220"}
    assert found["could_be"] == ["standard", "+0.005"]


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"value": None}, "give value, or end_play, nominal and washers"),
        ({"rows": []}, "the table is empty"),
        ({"rows": [{"name": "x", "low": "1", "over": "1"}]}, "number 1: an end is given twice"),
        ({"rows": [{"name": "x", "thickness_min": "1"}]}, "half a thickness"),
        ({"rows": [{"name": "x", "low": "2", "high": "1"}]}, "the wrong way round"),
    ],
)
def test_a_thrust_table_that_makes_no_sense_is_refused(changes: dict[str, Any], said: str) -> None:
    given = {"unit": "in", "value": "0.01", "rows": [{"name": "x"}]}
    assert said in refused("thrust", given=given | changes)
