"""Counts that no column of packs was taken for: asked about under any heading, told where sure."""

from pathlib import Path

import openpyxl
import pytest

from kitting.sheets.price_lists.by_sheet import by_sheet, remembered_by_sheet
from kitting.sheets.price_lists.fields import Field
from tests.sheets.price_lists import csv_file, fields, list_of, refused


def list_with(*headings: str) -> list[list[str]]:
    return [["Code", *headings], ["K-1", "1.00", "10", "100"], ["K-2", "2.00", "20", "100"],
            ["K-3", "3.00", "5", "50"]]  # fmt: skip


@pytest.mark.parametrize("heading", ["Zork", "Blister", "Trommel", "Sac", "Outer"])
def test_counts_as_things_are_sold_are_asked_about_under_any_heading(
    tmp_path: Path, heading: str
) -> None:
    path = csv_file(tmp_path / "l.csv", [row[:3] for row in list_with("Price", heading)])
    assert f"are the prices for so many as '{heading}' says?" in refused(path)
    assert [row.pack for row in list_of(path, f"pack={heading}")[1]] == [10, 20, 5]


@pytest.mark.parametrize("heading", ["Bin", "Page", "Weight g", "Group", "Lead time", "Stock"])
def test_other_whole_numbers_are_not_asked_about(tmp_path: Path, heading: str) -> None:
    path = csv_file(tmp_path / "l.csv", [row[:3] for row in list_with("Price", heading)])
    assert [row.pack for row in list_of(path)[1]] == [1, 1, 1]


@pytest.mark.parametrize("counts", [("101", "102", "103"), ("7", "13", "3"), ("a", "b", "c")])
def test_numbers_that_are_no_size_of_a_pack_are_not_asked_about(
    tmp_path: Path, counts: tuple[str, ...]
) -> None:
    rows = [["Code", "Price", "Zork"], *([f"K-{at}", "1.25", at] for at in counts)]
    assert [row.pack for row in list_of(csv_file(tmp_path / "l.csv", rows))[1]] == [1, 1, 1]


def test_of_two_columns_of_counts_a_person_says_which_the_price_is_for(tmp_path: Path) -> None:
    path = csv_file(tmp_path / "l.csv", list_with("Price", "Box qty", "Carton qty"))
    assert refused(path) == (
        "l.csv, columns C, D: are the prices for so many as 'Box qty' says, or as 'Carton qty'?; "
        'say which: --map "pack=Box qty", --map "pack=Carton qty", or --map pack=none if each is '
        "for one"
    )
    for told, packs in (("Box qty", [10, 20, 5]), ("Carton qty", [100, 100, 50])):
        reader, found = list_of(path, f"pack={told}")
        assert [row.pack for row in found] == packs
        remembered, _ = by_sheet(remembered_by_sheet(reader.sheets))
        assert [row.pack for row in list_of(path, remembered=remembered)[1]] == packs
    one = csv_file(tmp_path / "m.csv", [row[:3] for row in list_with("Price", "Box qty")])
    remembered, _ = by_sheet(remembered_by_sheet(list_of(one)[0].sheets))
    assert "or as 'Carton qty'?" in refused(path, remembered=remembered)


def test_quantities_of_a_number_that_is_merged_over_its_rows_are_those_of_its_prices(
    tmp_path: Path,
) -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    for row in (["Part", "Qty", "Price"], ["K-1", 1, 1.25], [None, 10, 1.1], [None, 50, 0.95]):
        sheet.append(row)
    sheet.merge_cells("A2:A4")
    book.save(tmp_path / "l.xlsx")
    reader, found = list_of(tmp_path / "l.xlsx")
    assert fields(reader)[Field.QUANTITY] == "Qty"
    assert [(row.number, row.least, row.pack) for row in found] == [
        ("K-1", 1, 1), ("K-1", 10, 1), ("K-1", 50, 1)
    ]  # fmt: skip


@pytest.mark.parametrize("heading", ["Qty from", "Qty break", "Menge ab", "Staffelmenge"])
def test_from_how_many_on_a_price_holds_is_said_by_the_heading(
    tmp_path: Path, heading: str
) -> None:
    rows = [["Code", "Price", heading], ["K-1", "1.25", "1,000"], ["K-2", "2.25", "500"]]
    _, found = list_of(csv_file(tmp_path / "l.csv", rows))
    assert [(row.least, row.pack) for row in found] == [(1000, 1), (500, 1)]


def test_counts_in_a_list_without_headings_are_asked_about_by_their_place(tmp_path: Path) -> None:
    rows = [["WF-14", "Nut", "100", "1.25"], ["WF-38", "Stud", "50", "3.20"],
            ["DG-33", "Seal", "10", "2.70"], ["PV-62", "Ring", "100", "9.10"]]  # fmt: skip
    path = csv_file(tmp_path / "l.csv", rows)
    named = "number=column A, price=column D"
    assert "are the prices for so many as 'column C' says?" in refused(path, named)
    _, found = list_of(path, f"{named}, pack=column C")
    assert [row.pack for row in found] == [100, 50, 10, 100]
    _, found = list_of(path, f"{named}, pack=none")
    assert [row.pack for row in found] == [1, 1, 1, 1]


@pytest.mark.parametrize("heading", ["Cyl", "Warranty", "Lead", "Seq", "Avail", "Stk qty"])
def test_nor_is_what_no_price_is_for(tmp_path: Path, heading: str) -> None:
    path = csv_file(tmp_path / "l.csv", [row[:3] for row in list_with("Price", heading)])
    assert [row.pack for row in list_of(path)[1]] == [1, 1, 1]
