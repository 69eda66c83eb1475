"""`kitting calc spring`."""

from typing import Any

import pytest

from tests.cli.calc_runs import answered, refused, shown

RELIEF: dict[str, Any] = {
    "unit": "in",
    "wire": "0.064",
    "outside": "0.48",
    "total_coils": 11,
    "free_length": "1.53",
    "installed": "1.2",
    "seat": "0.5",
}
FAMILY = {
    "rate": {"low": "38 lbf/in", "high": "42 lbf/in"},
    "free_length": {"low": "1.52 in", "high": "1.55 in"},
}


def test_a_spring_gives_rate_load_and_blow_off_pressure() -> None:
    found = answered("spring", RELIEF)
    assert found["design"]["rate"] == "38.2601 lbf/in"
    assert found["design"]["active_coils"] == "9"
    assert found["design"]["solid_length"] == "0.7040"
    assert found["points"][0]["load"] == "12.6258 lbf"
    assert found["blow_off"] == "64.3028 psi"
    assert found["verdict"] is None


@pytest.mark.parametrize(
    ("rig", "free_length", "state"),
    [
        ([("1.2 in", "10.8 lbf"), ("1.0 in", "18.8 lbf")], "1.47 in", "tired"),
        ([("1.2 in", "13.2 lbf"), ("1.0 in", "21.2 lbf")], "1.53 in", "agrees"),
        ([("1.2 in", "9.9 lbf"), ("1.0 in", "15.9 lbf")], "1.53 in", "another spring"),
    ],
)
def test_two_rig_loads_tell_tired_from_another(
    rig: list[tuple[str, str]], free_length: str, state: str
) -> None:
    found = answered(
        "spring",
        {
            "free_length": free_length,
            "rig": [{"length": length, "load": load} for length, load in rig],
            "family": FAMILY,
        },
    )
    assert found["verdict"]["state"] == state


def test_a_spring_is_recognised_from_a_list() -> None:
    known = [
        {"name": "relief", "wire": "0.064 in", "free_length": "1.53 in", "total_coils": 11},
        {"name": "clutch", "wire": "0.104 in", "free_length": "1.85 in"},
    ]
    found = answered("spring", {"wire": "0.0645 in", "free_length": "1.525 in", "known": known})
    assert [one["candidate"] for one in found["known"]] == [True, False]
    assert found["known"][0]["name"] == "relief"


def test_the_sheet_from_options() -> None:
    sheet = shown(
        "spring", "--unit", "in", "--wire", ".064", "--outside", ".48", "--total-coils", "11",
        "--free-length", "1.53", "--at", "1.2", "--load", "5 lbf", "--rig", "1.2=10.8 lbf",
        "--rig", "1.0=18.8 lbf", "--family-rate", "38 lbf/in,42 lbf/in",
    )  # fmt: skip
    assert "agrees" in sheet
    assert "40 lbf/in" in sheet
    assert "bites" in sheet


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"total_coils": 0}, "0 coils make no spring"),
        ({"total_coils": "ten"}, "'ten' is not a number"),
        ({"wire": "-0.064"}, "is not above zero"),
        ({"outside": "0.1"}, "cannot be coiled"),
        ({"installed": "1.6"}, "the spring is loose"),
        ({"material": "cheese"}, "no spring wire 'cheese'"),
        ({"ends": "bent"}, "is not one of the choices"),
        ({"free_length": None}, "no free length is given"),
        ({"installed": None}, "blow-off needs the spring and its installed length"),
        ({"rig": [{"length": "1", "load": "5 mm"}]}, "a force belongs here"),
        ({"rig": [{"length": "1", "load": "-5 N"}]}, "rig, number 1"),
        ({"family": {"rate": {"low": "5 N/mm", "high": "4 N/mm"}}}, "wrong way round"),
    ],
)
def test_a_spring_that_cannot_be_is_refused(changes: dict[str, Any], sentence: str) -> None:
    assert sentence in refused("spring", RELIEF | changes)


def test_nothing_to_work_out_is_said() -> None:
    assert "nothing to work out" in refused("spring", {"free_length": "1 in"})
