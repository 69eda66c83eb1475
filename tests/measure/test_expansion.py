"""Lengths brought to 20 °C."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.errors import BadInput, NotFound
from kitting.measure import Quantity
from kitting.measure.expansion import PER_MILLION, Body, at_reference, at_temperature, expansion_of

materials = st.sampled_from(sorted(PER_MILLION))
degrees = st.integers(-20, 200).map(lambda n: Quantity.of(n, "°C"))
lengths = st.integers(1000, 200000).map(lambda n: Quantity.of(Decimal(n).scaleb(-3), "mm"))


def test_a_warm_aluminium_case_measures_large() -> None:
    warm = Body("aluminium 356", Quantity.of(30, "°C"))
    found = at_reference(Quantity.of(100, "mm"), warm)
    assert found == Quantity.of("99.9785046", "mm")


def test_a_steel_micrometer_at_the_parts_temperature_reads_a_steel_part_right() -> None:
    warm = Body("carbon steel", Quantity.of(31, "°C"))
    read = Quantity.of("1.7500", "in")
    assert at_reference(read, warm, warm) == read


@given(lengths, materials, degrees)
def test_there_and_back_again_to_a_nanometre(length: Quantity, what: str, warm: Quantity) -> None:
    body = Body(what, warm)
    back = at_reference(at_temperature(length, body), body)
    assert abs(back - length) <= Quantity.of("0.000001", "mm")


def test_an_unknown_material_offers_what_is_near() -> None:
    with pytest.raises(NotFound, match="did you mean grey iron"):
        expansion_of("gray iron")


@pytest.mark.parametrize("warm", ["900", "-100"])
def test_a_temperature_out_of_reason_is_refused(warm: str) -> None:
    with pytest.raises(BadInput, match="is outside"):
        Body("carbon steel", Quantity.of(warm, "°C"))


def test_a_length_is_no_temperature() -> None:
    with pytest.raises(BadInput, match="give it in °C"):
        Body("carbon steel", Quantity.of(20, "mm"))
