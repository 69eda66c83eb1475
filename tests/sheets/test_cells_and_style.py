"""What a cell holds is what was typed, and text stays text."""

from datetime import date
from decimal import Decimal
from pathlib import Path

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import Workbook
from openpyxl.cell.cell import Cell

from kitting.errors import BadInput
from kitting.measure import UNITS, parse_quantity
from kitting.sheets.cells import day_in, figure_in, number_in, words_in
from kitting.sheets.style import put_formula, put_text, safe_text


def cell_with(value: str | float | date | None) -> Cell:
    cell = Workbook().worksheets[0]["A1"]
    assert isinstance(cell, Cell)
    cell.value = value
    return cell


@given(st.decimals(min_value=0, max_value=9999, places=6))
def test_a_binary_number_is_the_decimal_that_was_typed(typed: Decimal) -> None:
    text = figure_in(cell_with(float(typed)))
    assert parse_quantity(text, UNITS["mm"]).value == typed


@pytest.mark.parametrize(
    ("typed", "day"),
    [
        ("2024-05-01", date(2024, 5, 1)),
        ("1/5/2024", date(2024, 5, 1)),
        ("01.05.2024", date(2024, 5, 1)),
        ("1/5/24", date(2024, 5, 1)),
        ("1st May 2024", date(2024, 5, 1)),
        ("1 may 2024", date(2024, 5, 1)),
        ("1. Mai 2024", date(2024, 5, 1)),
        ("May 1, 2024", date(2024, 5, 1)),
        (date(2024, 5, 1), date(2024, 5, 1)),
        ("  ", None),
    ],
)
def test_a_day_is_read_day_first(typed: str | date, day: date | None) -> None:
    assert day_in(cell_with(typed)) == day


@pytest.mark.parametrize("typed", ["31/2/2024", "May", "5/2024", "24-5-1", "1 Mark 2024", 45000])
def test_a_day_that_is_none_is_refused(typed: str | int) -> None:
    with pytest.raises(BadInput, match="is no date"):
        day_in(cell_with(typed))


def test_a_part_number_of_digits_alone_is_text_again() -> None:
    assert number_in(cell_with(651042)) == "651042"
    assert number_in(cell_with(651042.0)) == "651042"


def test_a_part_number_turned_into_a_power_of_ten_is_lost() -> None:
    cell = cell_with(1200000.0)
    cell.number_format = "0.00E+00"
    with pytest.raises(BadInput, match="type the number again"):
        number_in(cell)


def test_words_keep_a_date_and_lose_odd_blanks() -> None:
    assert words_in(cell_with("bent\u00a0 and\n blue ")) == "bent and blue"
    assert words_in(cell_with(date(2024, 5, 1))) == "2024-05-01"
    assert words_in(cell_with("=see the other side")) == "=see the other side"


@given(st.text())
def test_no_text_of_a_person_is_ever_a_formula(text: str) -> None:
    cell = cell_with(None)
    put_text(cell, text)
    assert cell.data_type == "s"


@pytest.mark.parametrize("text", ["=1+1", "+44 20", "-see over", "@home", '=HYPERLINK("x")'])
def test_text_stays_text_through_the_file(tmp_path: Path, text: str) -> None:
    book = Workbook()
    cell = book.worksheets[0]["A1"]
    assert isinstance(cell, Cell)
    put_text(cell, text)
    book.save(tmp_path / "text.xlsx")
    again = openpyxl.load_workbook(tmp_path / "text.xlsx").worksheets[0]["A1"]
    assert (again.value, again.data_type) == (text, "s")


def test_what_no_cell_can_hold_is_left_out() -> None:
    assert safe_text("rod\x00 bent\x0b") == "rod bent"
    assert len(safe_text("x" * 40_000)) == 32_767


def test_only_a_formula_is_written_as_one() -> None:
    with pytest.raises(ValueError, match="is no formula"):
        put_formula(cell_with(None), "1+1")
