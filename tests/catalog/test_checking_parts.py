"""How near a part says it is to its thickness or outside must be a length that says something."""

from dataclasses import replace

import pytest

from kitting.catalog.check import check_family
from tests.builders import a_part
from tests.wren import tiny_family


def faults(**attributes: str) -> list[str]:
    family = tiny_family()
    shim = a_part("hob:W777", "shim", attributes)
    more = replace(family, parts=(*family.parts, shim))
    return [str(each) for each in check_family(more, {}).faults if "W777" in str(each)]


def test_a_shim_with_thickness_and_how_near_it_is_passes() -> None:
    assert faults(thickness="0.005 in", within="0.0003 in") == []
    assert faults(thickness="0.10 mm", within="0.01 mm") == []


def test_a_bush_is_as_near_to_its_outside_and_a_ring_to_its_thickness() -> None:
    assert faults(bore="22 mm", outside="25.04 mm", within="0.005 mm") == []
    assert faults(thickness="3.0 mm", outside="wide", within="0.02 mm") == []


@pytest.mark.parametrize(
    ("attributes", "sentence"),
    [
        ({"within": "0.0003 in"}, "there is no thickness that is a length"),
        ({"thickness": "thin", "within": "0.0003 in"}, "there is no thickness that is a length"),
        ({"thickness": "0.005 in", "within": "a hair"}, "within=a hair is no length"),
        ({"thickness": "0.005 in", "within": "3 lbf"}, "within=3 lbf is no length"),
        (
            {"thickness": "0.005 in", "within": "0.005 in"},
            "within 0.0050 in of a thickness of 0.0050 in says nothing",
        ),
        ({"thickness": "0.005 in", "within": "0 in"}, "says nothing"),
        ({"outside": "wide", "within": "0.1 mm"}, "there is no outside that is a length"),
        (
            {"outside": "25 mm", "within": "25 mm"},
            "within 25.000 mm of an outside of 25.000 mm says nothing",
        ),
    ],
)
def test_what_says_nothing_is_named_with_what_would_be_right(
    attributes: dict[str, str], sentence: str
) -> None:
    (fault,) = faults(**attributes)
    assert sentence in fault
    assert fault.startswith("parts hob:W777, column attributes")
