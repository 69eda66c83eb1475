"""Wear ridge, six-reading figures and ring gap."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.errors import BadInput
from kitting.measure import Quantity
from kitting.measure.bore import SixReadings, ring_gap_after, wear_ridge

lengths = st.integers(0, 5000).map(lambda n: Quantity.of(Decimal(n).scaleb(-4), "in"))


def mm(text: str) -> Quantity:
    return Quantity.of(text, "mm")


def six(*texts: str) -> SixReadings:
    d1, d2, d3, d4, d5, d6 = (mm(text) for text in texts)
    return SixReadings((d1, d2, d3, d4, d5, d6))


def test_six_readings_give_bore_taper_and_out_of_round() -> None:
    found = six("66.03", "66.02", "66.02", "66.01", "66.01", "66.00")
    assert found.bore == mm("66.03")
    assert found.taper == mm("0.02")
    assert found.out_of_round == mm("0.03")


def test_a_bore_larger_at_the_bottom_shows_as_taper_below_zero() -> None:
    assert six("66.00", "66.00", "66.01", "66.01", "66.02", "66.02").taper == mm("-0.02")


def test_the_wear_ridge_is_half_the_difference_of_diameters() -> None:
    assert wear_ridge(mm("70.10"), mm("70.02")) == mm("0.04")


def test_a_ridge_the_wrong_way_round_is_refused() -> None:
    with pytest.raises(BadInput, match="larger than below it"):
        wear_ridge(mm("70.00"), mm("70.02"))


def test_a_ring_gap_opens_by_pi_times_the_growth() -> None:
    assert ring_gap_after(mm("0.30"), mm("0.10")) == mm("0.6142")


@given(lengths, lengths, lengths)
def test_gap_grows_with_the_bore(gap: Quantity, one: Quantity, other: Quantity) -> None:
    less, more = sorted((one, other))
    assert ring_gap_after(gap, less) <= ring_gap_after(gap, more)
