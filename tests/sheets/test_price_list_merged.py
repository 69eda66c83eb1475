"""Cells merged over several rows: what stands there counts for every row, and is told."""

from pathlib import Path

import openpyxl
import pytest

from kitting.errors import BadInput
from kitting.sheets.price_lists import merged
from kitting.sheets.price_lists.merged import Merged
from tests.sheets.open_document import row_of, sheet_of, text_cell, write_ods
from tests.sheets.price_lists import list_of, prices

ROWS = [
    ["Part no", "Price", "Unit", "Notes"],
    ["A-1", "1.50", "pr", "of brass"],
    ["A-2", "2.50", "", ""],
    ["A-3", "3.50", "", ""],
    ["A-4", "4.50", "each", ""],
]
COVERED = "<table:covered-table-cell/>"


def xlsx(path: Path, rows: list[list[str]], *ranges: str) -> Path:
    book = openpyxl.Workbook()
    for row in rows:
        book.worksheets[0].append(row)
    for each in ranges:
        book.worksheets[0].merge_cells(each)
    book.save(path)
    return path


def ods(path: Path, rows: list[list[str]], column: int, first: int, last: int) -> Path:
    spanned = f' table:number-rows-spanned="{last - first + 1}" table:number-columns-spanned="1"'
    made = [
        row_of(
            COVERED
            if at == column and first < number <= last
            else text_cell(text, spanned if (at, number) == (column, first) else "")
            for at, text in enumerate(cells)
        )
        for number, cells in enumerate(rows, 1)
    ]
    return write_ods(path, sheet_of(made))


@pytest.mark.parametrize("kind", ["xlsx", "ods"])
def test_a_unit_merged_over_rows_counts_for_each(tmp_path: Path, kind: str) -> None:
    path = tmp_path / f"list.{kind}"
    made = xlsx(path, ROWS, "C2:C4") if kind == "xlsx" else ods(path, ROWS, 2, 2, 4)
    reader, rows = list_of(made)
    assert [(row.number, row.price, row.pack) for row in rows] == [
        ("A-1", 15000, 2), ("A-2", 25000, 2), ("A-3", 35000, 2), ("A-4", 45000, 1),
    ]  # fmt: skip
    assert reader.notes == [
        "sheet Sheet, 1 cell is merged over several rows, the first of them C2 down to row 4: "
        "what stands there counts for every row it covers"
    ]


def test_a_price_merged_over_rows_is_the_price_of_each_number(tmp_path: Path) -> None:
    rows = [ROWS[0], ROWS[1], ["A-2", "", "", ""], ["", "", "", "for all engines"], *ROWS[4:]]
    reader, read = list_of(xlsx(tmp_path / "list.xlsx", rows, "B2:B4", "D2:D3"))
    assert prices(read) == [("A-1", 15000), ("A-2", 15000), ("A-4", 45000)]
    assert reader.tally.passed["titles and notes"] == 1


def test_headings_merged_downward_are_headings_still(tmp_path: Path) -> None:
    rows = [["Part no", "Price", ""], ["", "each", "per 10"], ["A-1", "1.50", "12.00"]]
    reader, read = list_of(xlsx(tmp_path / "list.xlsx", rows, "A1:A2", "B1:C1"))
    assert prices(read) == [("A-1", 15000)]
    assert read[0].breaks == ((10, 12000),)
    assert reader.notes == []


def test_a_cell_that_reaches_the_last_row_costs_no_memory(monkeypatch: pytest.MonkeyPatch) -> None:
    cells = Merged()
    cells.span(0, 1, 1_048_576)
    assert [*cells.spread(((row, [""]) for row in range(2, 4)), {0}, 0)] == [(2, [""]), (3, [""])]
    monkeypatch.setattr(merged, "_MOST", 1)
    with pytest.raises(BadInput, match="over 1 cells are merged over several rows; take the"):
        cells.span(1, 1, 2)
