"""`kitting calc bearing`."""

import pytest

from tests.cli.calc_runs import answered, refused, shapes_of, shown


def test_a_number_gives_sizes_and_clearances() -> None:
    found = answered("bearing", {"bearing": "6206-2RS C3"})["bearing"]
    assert (found["bore"], found["outside"], found["width"]) == ("30.000", "62.000", "16.000")
    assert (found["clearance_class"], found["closure"]) == ("C3", "sealed")
    assert {"name": "C3", "least": 13, "greatest": 28} in found["clearances"]


def test_a_wrong_bearing_is_named_by_what_differs() -> None:
    found = answered("bearing", {"bearing": "6305 C3", "against": "NU 305"})
    assert found["same"] is False
    assert [one["what"] for one in found["differs"]] == ["kind", "ribs", "internal clearance"]
    measured = {"bore": "25 mm", "outside": "62 mm", "width": "17 mm"}
    larger = answered("bearing", {"measured": measured, "against": "6205"})
    assert [one["what"] for one in larger["differs"]] == ["outside", "width"]


def test_measured_sizes_lead_to_a_number_to_be_confirmed() -> None:
    found = answered(
        "bearing", {"unit": "mm", "measured": {"bore": "25", "outside": "52", "width": "15"}}
    )
    assert found["nearest"][0]["designation"] == "6205"
    assert found["nearest"][0]["same"]


def test_the_sheets() -> None:
    assert "another bearing" in shown("bearing", "--bearing", "6305 C3", "--against", "NU 205")
    assert "same size, confirm" in shown(
        "bearing", "--bore", "25 mm", "--outside", "52 mm", "--width", "15 mm"
    )


@pytest.mark.parametrize(
    ("given", "sentence"),
    [
        ({"bearing": "xx"}, "'xx' is no designation"),
        ({"bearing": "30205"}, "taper roller"),
        ({"bearing": "6205", "against": "9999"}, "against: '9999'"),
        ({}, "one bearing is needed"),
        ({"measured": {"bore": "52 mm", "outside": "25 mm", "width": "15 mm"}}, "not larger than"),
        ({"measured": {"bore": "25 mm", "outside": "52 mm"}}, "width: it is missing"),
    ],
)
def test_a_bearing_that_is_none_is_refused(given: object, sentence: str) -> None:
    assert sentence in refused("bearing", given)


def test_every_sum_of_parts_and_machining_prints_its_shapes() -> None:
    for name in ("spring", "thread", "fit", "bush", "film", "seal", "bearing"):
        shapes = shapes_of(name)
        assert set(shapes) == {"input", "output"}
