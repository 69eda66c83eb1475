"""What a workbook hides is not read and never guessed, and its reader is told."""

from pathlib import Path
from typing import Any

import openpyxl
import pytest

from kitting.sheets.price_lists.fields import Field
from tests.libreoffice import convert
from tests.sheets.price_lists import fields, list_of, prices

ROWS: list[list[Any]] = [
    ["Number", "Cost", "Price"],
    ["K-101", 1, 1.5],
    ["K-102", 2, 2.5],
    ["K-103", 3, 3.5],
]


@pytest.fixture(params=["xlsx", "ods"])
def book(request: pytest.FixtureRequest, tmp_path: Path) -> Path:
    """A workbook with a hidden column, a hidden row and a hidden sheet."""
    made = openpyxl.Workbook()
    made.worksheets[0].title = "List"
    for row in ROWS:
        made.worksheets[0].append(row)
    made.worksheets[0].column_dimensions["B"].hidden = True
    made.worksheets[0].row_dimensions[3].hidden = True
    other = made.create_sheet("Old")
    for row in ROWS:
        other.append(row)
    other.sheet_state = "hidden"
    path = tmp_path / "list.xlsx"
    made.save(path)
    return convert(path, "ods", tmp_path / "other") if request.param == "ods" else path


def test_what_is_hidden_is_passed_over_and_told(book: Path) -> None:
    reader, rows = list_of(book)
    assert prices(rows) == [("K-101", 15000), ("K-103", 35000)]
    assert fields(reader)[Field.PRICE] == "Price"
    assert reader.notes == [
        "sheet List, hidden columns, left alone unless --map names them: B (Cost)",
        "sheet List, hidden rows, passed over: 1, the first of them row 3; "
        "show them in the workbook to have them",
        "sheet Old is hidden, passed over; show it to have it",
    ]


def test_a_hidden_column_is_taken_when_somebody_names_it(book: Path) -> None:
    assert prices(list_of(book, "price=Cost")[1])[0] == ("K-101", 10000)
    assert prices(list_of(book, "price=column B")[1])[0] == ("K-101", 10000)


def test_a_habit_does_not_reach_a_hidden_column(book: Path) -> None:
    reader, rows = list_of(book, remembered={Field.PRICE: "Cost"})
    assert prices(rows)[0] == ("K-101", 15000)
    assert reader.notes[0].startswith("last time 'Cost' was the price")


def test_a_hidden_column_of_the_same_name_makes_no_question(tmp_path: Path) -> None:
    made = openpyxl.Workbook()
    twins: list[list[Any]] = [["Number", "Price", "Price"], ["K-101", 1.5, 2.5]]
    for row in twins:
        made.worksheets[0].append(row)
    made.worksheets[0].column_dimensions["B"].hidden = True
    made.save(tmp_path / "list.xlsx")
    assert prices(list_of(tmp_path / "list.xlsx")[1]) == [("K-101", 25000)]
    assert prices(list_of(tmp_path / "list.xlsx", "price=Price")[1]) == [("K-101", 25000)]
