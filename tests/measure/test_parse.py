"""Reading what a person typed."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.errors import BadInput
from kitting.measure import Quantity, parse_quantity, unit_named

INCH = unit_named("in")


@pytest.mark.parametrize(
    ("typed", "value", "unit"),
    [
        ("1.6872", "1.6872", "in"),
        ('1.6872"', "1.6872", "in"),
        (" 42.85 mm ", "42.85", "mm"),
        ("1.5 thou", "1.5", "thou"),
        ("1 11/16 in", "1.6875", "in"),
        ("1-11/16", "1.6875", "in"),
        ("11/16", "0.6875", "in"),
        (".0005", "0.0005", "in"),
        ("5.", "5", "in"),
        ("-0.002", "-0.002", "in"),
        ("−0.002", "-0.002", "in"),
        ("+0.002", "0.002", "in"),
    ],
)
def test_figures_are_read_as_the_bench_writes_them(typed: str, value: str, unit: str) -> None:
    found = parse_quantity(typed, INCH)
    assert found == Quantity.of(value, unit)
    assert found.unit.symbol == unit


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("", "is not a figure"),
        ("1,6872", "use a point for the decimals: 1.6872"),
        ("1.68.72", "only one decimal point"),
        ("—", "leave the cell empty"),
        ("1e-3", "write the number in full"),
        ("2E5", "write the number in full"),
        ("worn", "words go in the notes"),
        ("1.5 cubits", "'cubits' is no unit known here"),
        ("12 lbf", "'12 lbf' is a force; a length belongs here"),
        ("1/3", "is no fraction of a rule"),
        ("1/0", "is no fraction of a rule"),
        ("1/2048", "is no fraction of a rule"),
        ("0.1234567890123", "more decimals than can be measured"),
        ("1" * 60, "is too long for a figure"),
    ],
)
def test_what_is_no_figure_is_refused_in_a_sentence(typed: str, said: str) -> None:
    with pytest.raises(BadInput, match=said):
        parse_quantity(typed, INCH)


def test_a_bare_number_needs_a_unit_from_somewhere() -> None:
    with pytest.raises(BadInput, match=r"'1\.5' has no unit; add one"):
        parse_quantity("1.5")


@given(
    st.decimals(-999, 999, places=6, allow_nan=False, allow_infinity=False),
    st.sampled_from(["in", "mm", "thou", "µm"]),
)
def test_what_is_shown_is_read_back_the_same(value: Decimal, unit: str) -> None:
    quantity = Quantity.of(value, unit)
    assert parse_quantity(str(quantity)) == quantity
