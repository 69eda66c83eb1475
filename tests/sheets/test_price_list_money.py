"""Prices in every habit of writing them, and part numbers as they are compared."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.buying.price_lists.rows import money_of, plain_number
from kitting.catalog.model import normal_number
from kitting.sheets.price_lists.cells import days_of, number_fault, pack_of, stock_of
from kitting.sheets.price_lists.dates import day_of
from kitting.sheets.price_lists.marks import Figure, number_text
from kitting.sheets.price_lists.money import MoneyReader, decimal_sign

PENCE = st.integers(1, 99_999_999)


def grouped(pence: int, thousands: str, decimal: str) -> str:
    """An amount as some country writes it."""
    whole, rest = divmod(pence, 100)
    return f"{whole:,}".replace(",", thousands) + f"{decimal}{rest:02}"


@given(
    pence=PENCE,
    marks=st.sampled_from([(",", "."), (".", ","), (" ", ","), ("'", "."), ("", "."), ("", ",")]),
    around=st.sampled_from(["{}", "£{}", "{} €", "EUR {}", "{} GBP", " {} ", "US${}", "{} each"]),
    told=st.sampled_from(["", ".", ","]),
)
def test_a_price_with_pence_means_the_same_in_every_countrys_writing(
    pence: int, marks: tuple[str, str], around: str, told: str
) -> None:
    amount = MoneyReader(told)(around.format(grouped(pence, *marks)))
    assert (amount.price, amount.wrong) == (pence * 100, "")


@given(whole=st.integers(1, 999), tail=st.integers(0, 999), mark=st.sampled_from(".,"))
def test_three_figures_after_a_mark_are_read_by_the_lists_habit_or_not_at_all(
    whole: int, tail: int, mark: str
) -> None:
    text = f"{whole}{mark}{tail:03}"
    thousands = (whole * 1000 + tail) * 10_000
    decimals = whole * 10_000 + tail * 10
    assert "two ways" in MoneyReader("")(text).wrong
    assert MoneyReader(mark)(text).price == decimals
    assert MoneyReader("," if mark == "." else ".")(text).price == thousands
    assert MoneyReader(",")(Figure(f"{whole}.{tail:03}")).price == decimals


@given(st.decimals("0.0001", "9999", places=4))
def test_a_price_comes_back_as_it_was_kept(value: Decimal) -> None:
    kept = MoneyReader(".")(f"{value:f}")
    assert money_of(kept.price) == value
    assert not kept.rounded


@given(st.floats(0.01, 1e6).map(lambda number: round(number, 2)))
def test_a_spreadsheets_number_is_the_text_that_was_typed(number: float) -> None:
    assert Decimal(number_text(number)) == Decimal(repr(number))


def test_more_decimals_than_are_kept_are_rounded_half_up_and_said() -> None:
    read = MoneyReader(".")
    assert (read("1.23455").price, read("1.23455").rounded) == (12346, True)
    assert (read("1.23454").price, read("1.2345").rounded) == (12345, False)


@pytest.mark.parametrize(
    ("text", "price", "currency"),
    [
        ("85p", 8500, "GBP"),
        ("12,-", 120000, ""),
        ("SFr. 12.50", 125000, "CHF"),
        ("$5", 50000, "USD"),
        (".50", 5000, ""),
        ("1.234.567,8", 12345678000, ""),
        ("7", 70000, ""),
    ],
)
def test_odd_ways_of_writing_a_price_are_understood(text: str, price: int, currency: str) -> None:
    amount = MoneyReader(".")(text)
    assert (amount.price, amount.currency) == (price, currency)


@pytest.mark.parametrize("text", ["1,23,4", "12.34.5", "1 23 456,0", "12;50", "1/2", "ten", "1e3"])
def test_what_might_be_a_price_and_is_none_is_never_guessed(text: str) -> None:
    assert MoneyReader(".")(text).wrong


def test_a_lists_habit_is_taken_from_prices_that_leave_no_doubt() -> None:
    assert decimal_sign(["1.234", "12,50", "POA"]) == ","
    assert decimal_sign(["1,234", "12.50", ""]) == "."
    assert decimal_sign(["1,234", "7"]) == ""
    assert decimal_sign(["3,95", "12.50"]) == ""


@given(st.text(max_size=30))
def test_the_quick_way_to_compare_numbers_is_the_same_as_the_slow(text: str) -> None:
    assert plain_number(text) == normal_number(text)


@given(st.text(st.characters(codec="ascii", categories=["Lu", "Nd"]), min_size=1, max_size=20))
def test_letters_and_figures_alone_are_never_taken_for_spoilt(text: str) -> None:
    assert number_fault(text) is None


def test_lesser_cells_are_understood_or_not_guessed() -> None:
    assert [pack_of(t) for t in ("", "10", "x 6", "Pair", "box of 25", "2.0", "some", "0")] == [
        1, 10, 6, 2, 25, 2, None, None,
    ]  # fmt: skip
    assert [days_of(t) for t in ("3", "2 weeks", "1-2 Wochen", "soon", "")] == [
        3,
        14,
        14,
        None,
        None,
    ]
    assert [stock_of(t) for t in ("7", ">20", "out of stock", "yes", "")] == [7, 20, 0, None, None]
    assert [str(day_of(t)) for t in ("3/9/26", "2026-09-03", "3rd Sept 2026", "3. Mai 2026")] == [
        "2026-09-03", "2026-09-03", "2026-09-03", "2026-05-03",
    ]  # fmt: skip
    assert [day_of(t) for t in ("31/2/2026", "2026", "soon", "13/13/2026")] == [None] * 4


@pytest.mark.parametrize(
    "text", ["1.25" * 1300, "-" + "9" * 5000, "0." + "0" * 5000 + "1", "x" * 9]
)
def test_what_is_no_price_is_shown_short(text: str) -> None:
    says = MoneyReader(".")(text)
    assert says.wrong
    assert len(says.wrong) < 110
