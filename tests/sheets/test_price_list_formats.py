"""A cell's format: pence and money are believed, anything else that it shows is told."""

from decimal import Decimal
from pathlib import Path

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.sheets.price_lists.formats import as_shown, shown_by, shown_in
from kitting.sheets.price_lists.marks import Figure
from tests.libreoffice import convert
from tests.sheets.open_document import number_cell, row_of, sheet_of, text_cell, write_ods
from tests.sheets.price_lists import list_of, problems

ODD = ("0%", "0.0%", '"POA"', ";;;", "0.00,", '0.00" per 100"', '0.00"/100"', '0.00\\%',
       '"call us"', '[>100]"POA";0.00', '"pack "0')  # fmt: skip


@pytest.mark.parametrize(
    "shown",
    ["General", "0.00", "#,##0.00", "@", "0", "# ??/??", '0.00" each"', "#,##0.00_ ;-#,##0.00",
     '#,##0.00 "kr"', "$#,##0.00", '_-* #,##0.00_-;-* #,##0.00_-;_-* "-"??_-;_-@_-', "[Red]0.00",
     "0.00;[Red]-0.00;\"POA\""],
)  # fmt: skip
def test_a_format_that_shows_the_number_says_no_more_than_it(shown: str) -> None:
    assert shown_in(shown) is None


@pytest.mark.parametrize("shown", ['0.00"p"', "0\\p", '0 "pence"', '0"p."', "0p"])
def test_a_format_in_pence_is_believed(shown: str) -> None:
    found = shown_in(shown)
    assert found
    assert (found.pence, found.other) == (True, "")


@pytest.mark.parametrize("shown", ODD)
def test_a_format_that_shows_something_else_is_never_read_through(shown: str) -> None:
    found = shown_in(shown)
    assert found
    assert found.other == f"in the format {shown}"


def test_a_currency_in_words_is_the_currency() -> None:
    found = shown_in('0.00" EUR"')
    assert found
    assert found.sign == "EUR"


@given(st.text('0#.,"p%EUR[]<;\\_*$ -', max_size=12))
def test_no_format_stops_the_reading(number_format: str) -> None:
    shown_in(number_format)


@given(st.decimals("0.01", "99999", places=2))
def test_a_shown_number_is_no_more_than_itself_in_any_countrys_writing(value: Decimal) -> None:
    for text in (
        f"{value:,}",
        f"{value}".replace(".", ","),
        f"£{value}",
        f"{value} each",
        f"{value:.1f}",
    ):
        found = shown_by(text, f"{value:f}", "")
        assert found is None or (found.other, found.pence) == ("", False)
    pence = shown_by(f"{value}p", f"{value:f}", "")
    assert pence
    assert pence.pence


@pytest.mark.parametrize(
    "text", ["POA", "150%", "1.50 per 100", "1.50/100", "x", "0.0015", "1.500,0", "15"]
)
def test_an_open_document_cell_is_believed_in_what_it_shows(text: str) -> None:
    found = shown_by(text, "1.5", "")
    assert found
    assert found.other == f"as '{text}'"
    assert shown_by("150 %", "1.5", "", percentage=True)
    assert shown_by("", "1.5", "") is None


@pytest.mark.parametrize("kind", ["xlsx", "ods"])
def test_a_workbook_with_odd_formats_is_told_cell_by_cell(tmp_path: Path, kind: str) -> None:
    path = tmp_path / "list.xlsx"
    book = openpyxl.Workbook()
    sheet = book.worksheets[0]
    formats = ("0.00", '0.00"p"', "0%", '"POA"')
    sheet.append(["Part no", "Net price"])
    for at, number_format in enumerate(formats):
        sheet.append([f"K-10{at}", 1.5])
        sheet.cell(at + 2, 2).number_format = number_format
    book.save(path)
    if kind == "ods":
        path = convert(path, kind, tmp_path)
    reader, rows = list_of(path)
    assert [(row.number, row.price) for row in rows if not row.why] == [
        ("K-100", 15000), ("K-101", 150),
    ]  # fmt: skip
    assert reader.tally.faulty == 2
    told = {"xlsx": ("in the format 0%", 'in the format "POA"'), "ods": ("as '150%'", "as 'POA'")}
    for row, problem, shown in zip((4, 5), problems(path), told[kind], strict=True):
        assert problem.startswith(
            f"{path.name}, sheet Sheet, row {row}, column B (Net price): "
            f"the cell holds 1.5 and shows it {shown}; save the list"
        )


def test_a_number_whose_format_writes_letters_before_it_is_no_bare_number(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    sheet = book.worksheets[0]
    for row in (["Part no", "Net price"], [12, 1.5], ["K-1", 1.5], ["K-2", 1.5]):
        sheet.append(row)
    sheet["A2"].number_format = '"A-"0000'
    book.save(tmp_path / "list.xlsx")
    (problem,) = problems(tmp_path / "list.xlsx")
    assert 'the cell holds 12 and shows it in the format "A-"0000; ' in problem


@pytest.mark.parametrize("kind", ["xlsx", "ods"])
def test_a_number_that_its_format_fills_with_zeros_is_read_as_shown(
    tmp_path: Path, kind: str
) -> None:
    path = tmp_path / f"list.{kind}"
    if kind == "xlsx":
        book = openpyxl.Workbook()
        sheet = book.worksheets[0]
        for row in (["Part no", "Price"], [123, 150], [4567, 2.5]):
            sheet.append(row)
        for cell in (sheet["A2"], sheet["A3"], sheet["B2"]):
            cell.number_format = "00000"
        book.save(path)
    else:
        rows = [
            row_of([text_cell("Part no"), text_cell("Price")]),
            row_of([number_cell("123", "00123"), number_cell("150", "00150")]),
            row_of([number_cell("4567", "04567"), number_cell("2.5", "2.50")]),
        ]
        write_ods(path, sheet_of(rows))
    _, read = list_of(path)
    assert [(row.number, row.price) for row in read] == [("00123", 1500000), ("04567", 25000)]


@pytest.mark.parametrize(
    ("number_format", "value", "shown"),
    [("00000", "123", "00123"), ("00-000", "1234", "01-234"), ("0000\\/00", "123", "0001/23"),
     ('000"-"00', "7", "000-07"), ("000", "12345", "12345"), ("0", "123", "123"),
     ("000.00", "1.5", "1.5"), ("#,##0", "1234", "1234"), ("000", "1.5", "1.5")],
)  # fmt: skip
def test_zeros_are_filled_in_as_the_format_says(number_format: str, value: str, shown: str) -> None:
    assert as_shown(Figure(value), shown_in(number_format)) == shown


@given(st.integers(0, 10**9), st.integers(2, 12))
def test_a_number_filled_with_zeros_is_the_same_number(value: int, places: int) -> None:
    shown = as_shown(Figure(str(value)), shown_in("0" * places))
    assert (int(shown), len(shown)) == (value, max(places, len(str(value))))
    assert shown_by(shown, str(value), "") in {None, shown_in("0" * places)}
