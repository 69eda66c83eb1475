"""`calc journal`, `bore` and `decide` through the door."""

from typing import Any

import pytest

from tests.cli.calc_runner import answer, refused, run

READINGS = [
    {"station": station, "direction": direction, "value": value}
    for station, direction, value in (
        ("A", "0", "1.7500"),
        ("A", "90", "1.7493"),
        ("B", "0", "1.7504"),
        ("B", "90", "1.7501"),
        ("C", "0", "1.7499"),
        ("C", "90", "1.7495"),
    )
]
JOURNAL: dict[str, Any] = {
    "unit": "in",
    "readings": READINGS,
    "uncertainty": "0.0001",
    "grades": [
        {"name": "standard", "finish_min": "1.7500", "finish_max": "1.7505"},
        {"name": ".010", "finish_min": "1.7400", "finish_max": "1.7405"},
    ],
    "limits": {"ovality": "0.0005", "taper": "0.0008", "wear_min": "1.7490"},
}
GRADES = [
    {"name": "standard", "finish_min": "68.000", "finish_max": "68.010"},
    {"name": "+0.25", "finish_min": "68.250", "finish_max": "68.260"},
]


def test_a_journal_has_form_grade_wear_and_what_is_over() -> None:
    found = answer("journal", given=JOURNAL)
    assert (found["least"], found["greatest"], found["mean"]) == ("1.7493", "1.7504", "1.74987")
    assert (found["ovality"], found["taper"], found["shape"]) == ("0.0007", "0.0008", "barrel")
    assert found["least_at"] == {"station": "A", "direction": "90"}
    assert (found["present"], found["wear"]) == ("standard", "0.0007")
    assert [said.split(":")[0] for said in found["over"]] == ["ovality"]
    assert [said.split(":")[0] for said in found["undecided"]] == ["taper"]
    assert "three-lobed" in found["notes"][0]
    assert found["roundness"] is None


def test_a_journal_without_grades_has_no_wear() -> None:
    found = answer("journal", given={"unit": "in", "readings": READINGS})
    assert (found["present"], found["wear"]) == (None, None)


def test_turning_readings_give_roundness_and_lobes() -> None:
    turning = ["0.010", "0", "-0.010", "0"] * 3
    found = answer("journal", given={"unit": "mm", "readings": mm_readings(), "turning": turning})[
        "roundness"
    ]
    assert found["runout"] == "0.020"
    assert found["roundness"] == "0.0200"
    assert found["lobes"][0] == {"lobes": 3, "amplitude": "0.0100"}


def test_points_round_a_section_give_roundness() -> None:
    points = [{"x": x, "y": y} for x, y in ((10, 0), (0, 10), (-10, 0), (0, -10), ("6", "8"))]
    found = answer("journal", given={"unit": "mm", "readings": mm_readings(), "points": points})
    assert found["roundness"]["radius"] == "10.0000"
    assert found["roundness"]["roundness"] == "0.0000"


def mm_readings() -> list[dict[str, str]]:
    return [
        {"station": "A", "direction": direction, "value": "20.000"} for direction in ("0", "90")
    ]


def test_a_journal_by_options_and_its_sheet() -> None:
    options = [part for r in READINGS for part in ("--reading", ",".join(r.values()))]
    result = run(
        "journal",
        *("--unit", "in", "--grade", "standard,1.75,1.7505", "--present", "standard"),
        *options,
        *("--ovality", "0.0005", "--turning", "0", "--turning", "0.001", "--turning", "0"),
        *("--turning", "0.001", "--turning", "0"),
    )
    assert result.exit_code == 0
    assert "Along the journal  barrel" in result.stdout
    assert "Run-out            0.0010 in" in result.stdout
    assert max(len(line) for line in result.stdout.splitlines()) <= 80


def test_a_bad_grade_table_is_refused_by_the_journal_too() -> None:
    twice = JOURNAL | {"grades": [JOURNAL["grades"][0]] * 2}
    assert "grades: 'standard' is there twice" in refused("journal", given=twice)


def test_a_bore_by_six_readings() -> None:
    found = answer(
        "bore",
        *("--unit", "mm", "--six", "68.05,68.04,68.03,68.02,68.01,68.00", "--unworn", "68.004"),
        *("--grade", "standard,68.000,68.010", "--grade", "+0.25,68.250,68.260", "--hone", "0.02"),
        *("--ring", "0.20,68.00", "--wear-max", "68.04"),
    )
    assert found["six"] == {"bore": "68.050", "taper": "0.040", "out_of_round": "0.050"}
    assert (found["ridge"], found["ring_gap"], found["shape"]) == ("0.023", "0.3571", "tapered")
    rebore = found["rebore"]
    assert rebore["needed"] is True
    assert rebore["likely"] == rebore["worst"] == {"grade": "+0.25"}
    assert rebore["clean_up"] == {"even": "68.070", "one_sided": "68.120"}
    assert rebore["bore_to"] == {"low": "68.230", "high": "68.240"}


def test_a_bore_by_readings_alone_has_its_form_only() -> None:
    found = answer("bore", given={"unit": "in", "readings": READINGS})
    assert found["rebore"] is found["six"] is found["ridge"] is found["ring_gap"] is None
    assert found["ovality"] == "0.0007"


def test_a_bore_without_a_size_to_be_had_says_so_on_its_sheet() -> None:
    given = {
        "unit": "mm",
        "six": ["68.05"] * 6,
        "grades": GRADES,
        "pistons": ["standard"],
        "limits": {"wear_max": "68.04"},
    }
    said = run("bore", given=given).stdout
    assert "no pistons of this size" in " ".join(said.split())
    assert "sleeve it" in " ".join(said.split())


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"unit": "mm", "six": ["68.0"] * 5}, "give six and no readings"),
        ({"unit": "mm", "six": ["68.0"] * 6, "readings": READINGS}, "give six and no readings"),
        ({"unit": "mm", "six": ["68.0"] * 6, "unworn": "68.1"}, "larger than below it"),
        ({"unit": "mm"}, "there is no reading"),
        ({"unit": "mm", "six": ["68.0"] * 6, "grades": GRADES, "hone": "-1"}, "below zero"),
    ],
)
def test_a_bore_that_makes_no_sense_is_refused(given: dict[str, Any], said: str) -> None:
    assert said in refused("bore", given=given)


@pytest.mark.parametrize(
    ("reading", "decision"),
    [("1.7502", "good"), ("1.75005", "undecided"), ("1.7499", "bad")],
)
def test_a_reading_is_decided(reading: str, decision: str) -> None:
    found = answer(
        "decide",
        given={
            "unit": "in",
            "reading": reading,
            "low": "1.7500",
            "high": "1.7505",
            "uncertainty": "0.0001",
        },
    )
    assert found["decision"] == decision
    assert bool(found["would_decide"]) == (decision == "undecided")
    assert found["uncertainty"] == "0.0001"


def test_only_the_limit_in_doubt_is_spoken_of() -> None:
    found = answer(
        "decide",
        *("--unit", "in", "--reading", "1.75005", "--low", "1.7500", "--high", "1.7505"),
        *("--uncertainty", "0.0001"),
    )
    assert [said.split(":")[0] for said in found["would_decide"]] == ["against 1.7500 in"]


def test_a_low_limit_of_nothing_is_a_limit() -> None:
    found = answer(
        "decide", given={"unit": "in", "reading": "0.002", "low": "0", "uncertainty": "0.003"}
    )
    assert found["decision"] == "undecided"


def test_the_instruments_budget_is_worked_out_and_shown() -> None:
    options = (
        *("--unit", "in", "--reading", "1.7503", "--low", "1.7500", "--high", "1.7505"),
        *("--resolution", "0.0001", "--calibration", "0.00005", "--repeat", "1.7503"),
        *("--repeat", "1.7502", "--degrees", "2", "--part", "carbon steel,25"),
        *("--tool", "carbon steel,25"),
    )
    found = answer("decide", *options)
    assert [line["source"] for line in found["budget"]] == [
        "resolution",
        "calibration",
        "operator",
        "temperature of the part",
        "expansion of the part",
        "temperature of the instrument",
        "expansion of the instrument",
    ]
    assert found["at_20"] == "1.7503"
    assert found["budget"][0]["standard"] == "0.000029"
    sheet = run("decide", *options).stdout
    assert "operator" in sheet
    assert max(len(line) for line in sheet.splitlines()) <= 80


def test_a_warm_part_is_brought_to_20_degrees() -> None:
    found = answer(
        "decide",
        given={
            "unit": "mm",
            "reading": "100.0215",
            "high": "100.010",
            "uncertainty": "0.002",
            "part": {"material": "aluminium 356", "temperature": "30"},
        },
    )
    assert found["decision"] == "good"
    assert found["at_20"] == "100.000"


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"reading": "1.75", "low": "1.7"}, "give uncertainty, or instrument"),
        ({"reading": "1.75", "uncertainty": "0.0001"}, "give low, high or both"),
        ({"reading": "-1.75", "low": "1", "uncertainty": "0"}, "without a sign"),
        ({"reading": "1.75", "low": "2", "high": "1", "uncertainty": "0"}, "wrong way round"),
        ({"reading": "1.75", "low": "1", "uncertainty": "-1"}, "below zero"),
        (
            {"reading": "1.75", "low": "1", "uncertainty": "0", "part": {"material": "cheese"}},
            "no material 'cheese'",
        ),
        (
            {"reading": "1.75", "low": "1", "instrument": {"resolution": "0", "repeats": ["1"]}},
            "one reading shows no spread",
        ),
    ],
)
def test_what_cannot_be_decided_is_refused(given: dict[str, Any], said: str) -> None:
    assert said in refused("decide", given=given | {"unit": "in"})


def test_an_instrument_without_its_step_is_refused() -> None:
    assert "give the step of the scale" in refused(
        "decide", "--unit", "in", "--reading", "1.75", "--low", "1", "--operator", "0.0001"
    )
