"""Limits, and what a reading proves of them."""

import pytest

from kitting.errors import BadInput
from kitting.measure import Decision, Limits, Quantity, decide


def inch(text: str) -> Quantity:
    return Quantity.of(text, "in")


@pytest.mark.parametrize(
    ("limits", "said"),
    [
        (Limits(), "no limit"),
        (Limits(low=inch("1")), "at least 1.0000 in"),
        (Limits(high=inch("1")), "at most 1.0000 in"),
        (Limits(inch("1"), inch("2")), "1.0000 in to 2.0000 in"),
    ],
)
def test_limits_say_themselves(limits: Limits, said: str) -> None:
    assert str(limits) == said


def test_limits_are_inclusive_and_a_side_may_be_open() -> None:
    assert inch("1") in Limits(inch("1"), inch("2"))
    assert inch("2") in Limits(inch("1"), inch("2"))
    assert inch("2.0001") not in Limits(inch("1"), inch("2"))
    assert inch("0.9999") not in Limits(low=inch("1"))
    assert inch("99") in Limits(low=inch("1"))


def test_swapped_limits_are_refused() -> None:
    with pytest.raises(BadInput, match="the wrong way round; low first, then high"):
        Limits(inch("2"), inch("1"))


def test_an_exact_reading_on_the_limit_is_good() -> None:
    assert decide(inch("1"), inch("0"), Limits(low=inch("1"))) is Decision.GOOD


def test_a_band_narrower_than_the_uncertainty_proves_nothing_inside() -> None:
    limits = Limits(inch("1.0000"), inch("1.0001"))
    assert decide(inch("1.00005"), inch("0.0002"), limits) is Decision.UNDECIDED


def test_an_uncertainty_below_zero_is_refused() -> None:
    with pytest.raises(BadInput, match="is below zero"):
        decide(inch("1"), inch("-0.1"), Limits())
