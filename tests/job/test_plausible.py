"""Slips of the decimal point and of the unit, caught before they become verdicts."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.catalog.family import Family
from kitting.catalog.model import Feature
from kitting.errors import BadInput
from kitting.job.plausible import check_plausible
from kitting.measure import Quantity
from tests.builders import a_feature, q
from tests.wren import tiny_family

METRIC = a_feature("bore", "barrel", "bore", ("59.971", "59.990"), unit="mm")
FLOAT = a_feature("float", "oil-pump", "end float", ("0.001", "0.003"), ("", "0.005"))
RATE = a_feature("rate", "relief-spring", "rate", ("20", "24"), unit="lbf/in")
PRESSURE = a_feature("blow-off", "relief-spring", "pressure", ("24", "28"), unit="psi")
PIN = tiny_family().feature_by_key["crankpin-diameter"]
SCORE = replace(a_feature("score", "crank", "depth"), scores="crankpin-diameter")
OPEN = a_feature("open", "rod", "length")


def family() -> Family:
    return replace(tiny_family(), features=(PIN, SCORE))


def slip(feature: Feature, value: str, *, unit_said: bool = False) -> str:
    """What is said against the figure, '' when it is taken."""
    try:
        check_plausible(q(value, feature.unit.symbol), feature, family(), unit_said=unit_said)
    except BadInput as error:
        return str(error)
    return ""


@pytest.mark.parametrize(
    ("feature", "value"),
    [
        (METRIC, "59.0"), (METRIC, "58.471"), (PIN, "1.4390"), (FLOAT, "0"), (FLOAT, "0.020"),
        (RATE, "11"), (RATE, "40"), (PRESSURE, "0"), (PRESSURE, "60"), (SCORE, "0.003"),
        (OPEN, "9999"),
    ],
)  # fmt: skip
def test_worn_and_wrong_parts_are_taken(feature: Feature, value: str) -> None:
    assert slip(feature, value) == ""


@pytest.mark.parametrize(
    ("feature", "value", "said"),
    [
        (METRIC, "5.998", "ten times off? look at the decimal point"),
        (METRIC, "599.8", "ten times off? look at the decimal point"),
        (METRIC, "2.361", "looks like inches in a millimetre cell"),
        (METRIC, "59980", "looks like µm in a millimetre cell"),
        (PIN, "0.01493", "a hundred times off?"),
        (PIN, "37.92", "looks like millimetres in an inch cell"),
        (FLOAT, "3", "looks like thou in an inch cell"),
        (FLOAT, "0.050", "ten times off?"),
        (FLOAT, "-0.002", "write the figure as read, above zero"),
        (RATE, "2.2", "ten times off?"),
        (PRESSURE, "260", "ten times off?"),
        (SCORE, "2", "looks like"),
    ],
)
def test_slips_are_named(feature: Feature, value: str, said: str) -> None:
    assert said in slip(feature, value)
    assert "put ! after it" in slip(feature, value)


def test_a_stated_unit_is_no_slip_of_units() -> None:
    said = slip(METRIC, "2.361", unit_said=True)
    assert "inches" not in said
    assert said


@given(st.integers(500, 2000))
def test_every_size_between_half_and_double_is_taken(thousandths: int) -> None:
    low = METRIC.low
    assert low is not None
    middle = Quantity.of("59.9805", "mm")
    check_plausible(
        middle * thousandths * Quantity.of("0.001", "mm").value, METRIC, family(), unit_said=True
    )
