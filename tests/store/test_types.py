"""Exact figures and money: what was written is what is kept, on either kind of database."""

from datetime import UTC, datetime
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sqlalchemy import Column, Integer, MetaData, Table, insert, select

from kitting.errors import BadInput
from kitting.measure import UNITS, Quantity, parse_quantity
from kitting.store.database import Database
from kitting.store.faults import plain_faults
from kitting.store.types import (
    FigureType,
    MomentType,
    MoneyType,
    WordsType,
    figure_of,
    quantity_of,
    scaled,
    unscaled,
)

EVERY_KIND = Table(
    "every_kind",
    MetaData(),
    Column("id", Integer, primary_key=True),
    Column("figure", FigureType()),
    Column("money", MoneyType()),
    Column("words", WordsType()),
    Column("moment", MomentType()),
)
MOST_FIGURE = Decimal("922337203.6854775807")
MOST_MONEY = Decimal("922337203685477.5807")


def kept(database: Database, **values: Any) -> Any:
    """What is read again of values written to a table that has a column of each type."""
    with plain_faults(database.url), database.engine.begin() as connection:
        EVERY_KIND.create(connection, checkfirst=True)
        connection.execute(insert(EVERY_KIND).values(**values))
        return connection.execute(select(EVERY_KIND).order_by(EVERY_KIND.c.id.desc())).first()


@pytest.mark.parametrize(
    "figure",
    [
        "0",
        "1.6872",
        "-0.0005",
        "0.0009765625",
        "26",
        "1000000",
        str(MOST_FIGURE),
        f"-{MOST_FIGURE}",
    ],
)
def test_a_figure_comes_back_as_it_was_written(database: Database, figure: str) -> None:
    assert str(kept(database, figure=Decimal(figure)).figure) == figure


@pytest.mark.parametrize(
    ("amount", "shown"),
    [
        ("4.2", "4.20"),
        ("0", "0.00"),
        ("0.1250", "0.125"),
        ("-12.00", "-12.00"),
        (str(MOST_MONEY), str(MOST_MONEY)),
    ],
)
def test_money_comes_back_to_the_penny_with_its_pence_shown(
    database: Database, amount: str, shown: str
) -> None:
    read = kept(database, money=Decimal(amount)).money
    assert read == Decimal(amount)
    assert str(read) == shown


def test_an_empty_cell_stays_empty(database: Database) -> None:
    row = kept(database, figure=None, money=None, words=None, moment=None)
    assert (row.figure, row.money, row.words, row.moment) == (None, None, None, None)


def test_words_keep_their_order_and_moments_their_instant(database: Database) -> None:
    noon = datetime(2024, 5, 1, 12, tzinfo=UTC)
    row = kept(database, words=("rear", "front", "£ é 🔧"), moment=noon)
    assert row.words == ("rear", "front", "£ é 🔧")
    assert row.moment == noon


@pytest.mark.parametrize(
    ("column", "value", "sentence"),
    [
        (
            "figure",
            Decimal("0.00000000001"),
            "1E-11 is too fine for a figure; give at most 10 decimals",
        ),
        (
            "figure",
            Decimal("922337203.6854775808"),
            "922337203.6854775808 is too large for a figure; the most is 922,337,203",
        ),
        (
            "money",
            Decimal("4.00001"),
            "4.00001 is too fine for an amount of money; give at most 4 decimals",
        ),
        (
            "money",
            Decimal("1E+30"),
            "1E+30 is too large for an amount of money; the most is 922,337,203,685,477",
        ),
        ("money", Decimal("NaN"), "NaN is not an amount of money; give a number"),
    ],
)
def test_what_cannot_be_kept_exactly_is_refused_in_a_sentence(
    database: Database, column: str, value: Decimal, sentence: str
) -> None:
    with pytest.raises(BadInput) as refused:
        kept(database, **{column: value})
    assert str(refused.value) == sentence


@pytest.mark.parametrize("column", ["figure", "money"])
def test_a_binary_float_never_gets_in(database: Database, column: str) -> None:
    with pytest.raises(TypeError, match="never kept from a binary float"):
        kept(database, **{column: 0.1})


def test_a_moment_without_a_zone_is_refused(database: Database) -> None:
    with pytest.raises(TypeError, match="no time zone"):
        kept(database, moment=datetime.fromisoformat("2024-05-01T12:00"))


@given(st.decimals(allow_nan=False, allow_infinity=False, places=10, min_value=-9e8, max_value=9e8))
def test_scaling_and_unscaling_give_the_same_number(figure: Decimal) -> None:
    assert unscaled(scaled(figure, 10, "a figure"), 10) == figure


@given(
    st.decimals(allow_nan=False, allow_infinity=False, places=6, min_value=-1000, max_value=1000),
    st.sampled_from(sorted(UNITS)),
)
def test_a_quantity_in_any_unit_comes_back_the_same(value: Decimal, unit: str) -> None:
    quantity = Quantity.of(value, unit)
    figure, symbol = figure_of(quantity)
    again = quantity_of(unscaled(scaled(figure, 10, "a figure"), 10), UNITS[symbol])
    assert (again, again.unit, again.show()) == (quantity, quantity.unit, quantity.show())


def test_every_fraction_of_a_rule_ends_within_ten_decimals() -> None:
    for over in range(1, 1024):
        figure, _ = figure_of(parse_quantity(f"{over}/1024 in"))
        assert unscaled(scaled(figure, 10, "a figure"), 10) == Decimal(over) / 1024


def test_an_amount_that_does_not_end_in_its_unit_is_refused() -> None:
    with pytest.raises(
        BadInput, match="does not end in in; keep it in the unit that it was written"
    ):
        figure_of(Quantity.of("42.85", "mm").to("in"))
