"""What a part says of how near it is to its thickness must be a length that says something."""

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
    ],
)
def test_what_says_nothing_is_named_with_what_would_be_right(
    attributes: dict[str, str], sentence: str
) -> None:
    (fault,) = faults(**attributes)
    assert sentence in fault
    assert fault.startswith("parts hob:W777, column attributes")
