"""Lists without headings keep their first row, however their columns came to be taken."""

from pathlib import Path

import pytest

from kitting.sheets.price_lists.by_sheet import by_sheet, remembered_by_sheet
from kitting.sheets.price_lists.fields import Field
from tests.sheets.price_lists import csv_file, fields, list_of, prices, problems, workbook

ROWS = [["K-101", "seal", "1.25"], ["K-102", "ring", "3.95"], ["K-103", "stud", "4.20"]]
READ = [("K-101", 12500), ("K-102", 39500), ("K-103", 42000)]
BY_PLACE = "number=column A, price=column C"
KNOWN = {"K101", "K102", "K103"}
LAST = {Field.NUMBER: "column A", Field.PRICE: "column C"}


@pytest.mark.parametrize("known", [set(), KNOWN])
@pytest.mark.parametrize("maps", [(), (BY_PLACE,), (f"{BY_PLACE}, text=column B",)])
def test_every_edition_of_a_list_without_headings_has_its_first_row(
    tmp_path: Path, maps: tuple[str, ...], known: set[str]
) -> None:
    path = csv_file(tmp_path / "a.csv", ROWS)
    reader, rows = list_of(path, *maps, known=known)
    assert prices(rows) == READ
    assert "no headings" in reader.notes[0]
    for price in ("1.30", "POA"):
        remembered, _ = by_sheet(remembered_by_sheet(reader.sheets))
        assert remembered[Field.PRICE] == "column C"
        path = csv_file(tmp_path / "b.csv", [["K-101", "seal", price], *ROWS[1:]])
        reader, rows = list_of(path, remembered=remembered, known=known)
        assert [row.number for row in rows] == ["K-101", "K-102", "K-103"]
        assert "no headings" in reader.notes[0]


def test_plain_figures_of_a_workbook_named_by_their_columns_are_all_read(tmp_path: Path) -> None:
    rows: list[list[object]] = [["SUMP", "sump", 3], ["K-102", "ring", 3.2], [1042, "stud", 4.2]]
    path = workbook(tmp_path / "a.xlsx", List=rows)
    read = [("SUMP", 30000), ("K-102", 32000), ("1042", 42000)]
    assert prices(list_of(path, BY_PLACE)[1]) == read
    assert prices(list_of(path, remembered=LAST)[1]) == read


def test_packs_and_stock_remembered_too_make_no_heading_of_the_first_row(tmp_path: Path) -> None:
    rows = [[*row, "10", "4"] for row in ROWS]
    remembered = {**LAST, Field.PACK: "column D", Field.STOCK: "column E", Field.TEXT: "column B"}
    _, found = list_of(csv_file(tmp_path / "a.csv", rows), remembered=remembered, known=KNOWN)
    assert [row.pack for row in found] == [10, 10, 10]


def test_a_first_row_that_was_once_taken_for_headings_is_read_again(tmp_path: Path) -> None:
    remembered = {Field.NUMBER: "K-101", Field.PRICE: "1.25"}
    path = csv_file(tmp_path / "a.csv", ROWS)
    assert prices(list_of(path, remembered=remembered, known=KNOWN)[1]) == READ


def test_a_bad_price_in_the_first_row_is_told_and_makes_no_heading_of_it(tmp_path: Path) -> None:
    path = csv_file(tmp_path / "a.csv", [["K-101", "seal", "ask Jim"], *ROWS[1:]])
    reader, rows = list_of(path, remembered=LAST)
    assert [str(each) for each in reader.tally.problems] == [
        "a.csv, row 1, column C: 'ask Jim' is no price; write a figure, or POA"
    ]
    assert problems(path, BY_PLACE) == [str(each) for each in reader.tally.problems]
    assert prices(rows) == READ[1:]


@pytest.mark.parametrize(
    "headings",
    [
        ["Code", "Item", "Net"],
        ["Part No 2", "Item", "Net 2026"],
        ["Kód", "Název", "Cena"],
        ["Part No.", "Item", "1"],
        ["", "Item", "Price"],
    ],
)
def test_headings_that_come_with_a_later_edition_are_headings(
    tmp_path: Path, headings: list[str]
) -> None:
    path = csv_file(tmp_path / "a.csv", [headings, *ROWS])
    for maps, remembered in (((), LAST), ((BY_PLACE,), {})):
        reader, rows = list_of(path, *maps, remembered=remembered)
        assert [(row.number, row.price) for row in rows] == READ
        assert fields(reader)[Field.PRICE] == headings[2]


def test_a_column_told_by_its_heading_has_one_though_it_is_some_parts_number(
    tmp_path: Path,
) -> None:
    path = csv_file(tmp_path / "a.csv", [["K-7", "Item", "Net"], *ROWS])
    _, rows = list_of(path, "number=K-7", known={"K7"})
    assert prices(rows) == READ
    assert [row.number for row in rows] == ["K-101", "K-102", "K-103"]
