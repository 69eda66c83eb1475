"""Exact quantities: conversion, sums, rounding, and what never mixes."""

from decimal import ROUND_HALF_UP, Decimal
from functools import cache
from typing import Any

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.errors import BadInput
from kitting.measure import UNITS, Dimension, Quantity, UnitMismatch, unit_named

lengths = st.builds(
    Quantity.of,
    st.decimals(-1000, 1000, places=5, allow_nan=False, allow_infinity=False),
    st.sampled_from(["mm", "in", "thou", "µm"]),
)
PINT_NAMES = {
    "mm": "millimeter", "µm": "micrometer", "cm": "centimeter", "m": "meter", "in": "inch",
    "thou": "thou", "µin": "microinch", "N": "newton", "lbf": "force_pound",
    "kgf": "kilogram_force", "MPa": "megapascal", "kPa": "kilopascal", "bar": "bar", "psi": "psi",
    "N/mm": "newton/millimeter", "lbf/in": "force_pound/inch", "N·m": "newton*meter",
    "lbf·ft": "force_pound*foot", "lbf·in": "force_pound*inch", "cc": "cubic_centimeter",
    "L": "liter", "g": "gram", "oz": "ounce", "lb": "pound",
}  # fmt: skip


@cache
def second_opinion() -> pint.UnitRegistry[Decimal]:
    return pint.UnitRegistry(non_int_type=Decimal)


def test_an_inch_is_exactly_twenty_five_point_four_millimetres() -> None:
    assert Quantity.of(1, "in") == Quantity.of("25.4", "mm")
    assert hash(Quantity.of(1, "in")) == hash(Quantity.of("25.4", "mm"))
    assert Quantity.of("1.6872", "in").to("mm").value == Decimal("42.85488")


@pytest.mark.parametrize("name", PINT_NAMES)
def test_every_unit_agrees_with_a_second_opinion(name: str) -> None:
    registry, unit = second_opinion(), UNITS[name]
    for other in UNITS.values():
        if other.dimension is unit.dimension and other.symbol in PINT_NAMES:
            theirs = registry.Quantity(Decimal(1), PINT_NAMES[name]).to(PINT_NAMES[other.symbol])
            ours = Quantity.of(1, name).value_in(other)
            assert float(ours) == pytest.approx(float(theirs.magnitude), rel=1e-14)


@given(lengths, lengths)
def test_sums_are_exact_whatever_the_units(one: Quantity, other: Quantity) -> None:
    assert one + other == other + one
    assert (one + other) - other == one
    assert (one + other).unit == one.unit
    assert one.half() * 2 == one
    assert one.to("thou").to("µm") == one
    assert abs(-one) == abs(one)


@given(lengths, lengths)
def test_order_is_that_of_the_amounts(one: Quantity, other: Quantity) -> None:
    assert (one < other) == (one.base < other.base)
    assert (one <= other) == (not one > other)
    assert (one >= other) == (not one < other)


def test_two_kinds_are_never_added_or_compared() -> None:
    length, force = Quantity.of(1, "mm"), Quantity.of(1, "N")
    assert length != force
    with pytest.raises(UnitMismatch, match=r"is a length and 1\.0 N is a force"):
        length + force
    with pytest.raises(UnitMismatch):
        assert length < force
    with pytest.raises(UnitMismatch):
        length.to("N")
    with pytest.raises(UnitMismatch):
        length.value_in("N")


def test_a_binary_float_makes_no_quantity() -> None:
    floating: Any = 0.1
    with pytest.raises(TypeError, match="not a float"):
        Quantity.of(floating, "mm")
    with pytest.raises(TypeError, match="not a float"):
        Quantity.of(1, "mm") * floating


def test_rounding_is_named_and_in_the_shown_unit() -> None:
    assert Quantity.of("1.68725", "in").rounded() == Quantity.of("1.6872", "in")
    assert Quantity.of("1.68725", "in").rounded(4, ROUND_HALF_UP) == Quantity.of("1.6873", "in")


@pytest.mark.parametrize(
    ("value", "unit", "shown"),
    [
        ("1.5", "in", "1.5000 in"),
        ("1.68725", "in", "1.68725 in"),
        ("42.85", "mm", "42.850 mm"),
        ("1.5", "thou", "1.5 thou"),
    ],
)
def test_a_quantity_shows_its_unit_and_no_fewer_than_the_usual_places(
    value: str, unit: str, shown: str
) -> None:
    assert str(Quantity.of(value, unit)) == shown


def test_a_ratio_is_an_exact_fraction() -> None:
    assert Quantity.of(1, "in").ratio(Quantity.of("12.7", "mm")) == 2


@pytest.mark.parametrize(
    ("typed", "symbol"),
    [
        ('"', "in"),
        ("Inches", "in"),
        ("mils", "thou"),
        ("MM", "mm"),
        ("um", "µm"),
        ("lb/in", "lbf/in"),
    ],
)
def test_usual_spellings_of_a_unit_are_known(typed: str, symbol: str) -> None:
    assert unit_named(typed).symbol == symbol


def test_an_unknown_unit_is_refused_with_those_that_are_known() -> None:
    with pytest.raises(BadInput, match="'cubit' is no unit known here; use one such as in, thou"):
        unit_named("cubit")


def test_a_length_knows_that_it_is_one() -> None:
    assert Quantity.of(1, "mm").is_length
    assert Quantity.of(1, "N").unit.dimension is Dimension.FORCE
    assert not Quantity.of(1, "N").is_length
