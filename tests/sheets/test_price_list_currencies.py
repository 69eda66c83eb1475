"""A column whose cells are currencies says the money of the prices, whatever it is headed."""

from collections.abc import Sequence
from pathlib import Path

import pytest

from kitting.buying.price_lists.rows import PriceRow
from kitting.sheets.price_lists.by_sheet import by_sheet, remembered_by_sheet
from kitting.sheets.price_lists.fields import Field
from tests.sheets.price_lists import csv_file, fields, list_of, refused, workbook

HEADINGS = "Cur|Cur.|Val.|Valuta|Moneda|Waluta|WKZ|Money|Price unit|Unit|Foo|"


def moneys(rows: Sequence[PriceRow]) -> list[str]:
    return [row.currency for row in rows if not row.why]


def list_with(heading: str, cells: Sequence[str], price: str = "Price") -> list[list[object]]:
    rows: list[list[object]] = [["Code", "Description", price, heading]]
    return rows + [[f"K-{at}", "Nut", f"{at}.25", cell] for at, cell in enumerate(cells, 101)]


@pytest.mark.parametrize("heading", HEADINGS.split("|"))
def test_a_column_of_currencies_is_taken_whatever_it_is_headed(
    tmp_path: Path, heading: str
) -> None:
    rows = list_with(heading, ["EUR", "GBP", "USD"])
    for path in (csv_file(tmp_path / "l.csv", rows), workbook(tmp_path / "l.xlsx", Prices=rows)):
        reader, found = list_of(path)
        assert fields(reader)[Field.CURRENCY] == heading
        assert moneys(found) == ["EUR", "GBP", "USD"]


@pytest.mark.parametrize(
    ("cells", "read"),
    [
        (["EUR"], ["EUR"]),  # one row, and a supplier who is paid in pounds
        (["€", "£"], ["EUR", "GBP"]),
        (["euro", "Sterling"], ["EUR", "GBP"]),
        (["EUR", ""], ["EUR", "GBP"]),
        (["US$"] * 9, ["USD"] * 9),
    ],
)
def test_a_short_list_and_signs_and_words_do_as_well(
    tmp_path: Path, cells: list[str], read: list[str]
) -> None:
    path = csv_file(tmp_path / "l.csv", list_with("Foo", cells))
    assert moneys(list_of(path)[1]) == read


def test_a_column_of_currencies_that_comes_with_a_second_edition_is_taken(tmp_path: Path) -> None:
    first = csv_file(tmp_path / "l.csv", [["Code", "EUR"], ["K-1", "1.25"], ["K-2", "2.25"]])
    reader, _ = list_of(first)
    remembered, _ = by_sheet(remembered_by_sheet(reader.sheets))
    later = csv_file(tmp_path / "m.csv", list_with("Cur", ["EUR", "GBP"]))
    assert moneys(list_of(later, remembered=remembered)[1]) == ["EUR", "GBP"]


@pytest.mark.parametrize("cells", [["EA", "PK"], ["p", "p"], ["HOB", "TAR"], ["DE", "GB"]])
def test_letters_that_name_no_money_are_no_currencies(tmp_path: Path, cells: list[str]) -> None:
    reader, _ = list_of(csv_file(tmp_path / "l.csv", list_with("Foo", cells)))
    assert Field.CURRENCY not in fields(reader)


def test_that_cells_are_not_the_money_of_the_prices_is_said_once(tmp_path: Path) -> None:
    path = csv_file(tmp_path / "l.csv", list_with("Cur", ["EUR", "USD"]))
    reader, found = list_of(path, "currency=none")
    assert moneys(found) == ["GBP", "GBP"]
    remembered, _ = by_sheet(remembered_by_sheet(reader.sheets))
    assert moneys(list_of(path, remembered=remembered)[1]) == ["GBP", "GBP"]
    other = csv_file(tmp_path / "m.csv", list_with("Val", ["EUR", "USD"]))
    assert moneys(list_of(other, remembered=remembered)[1]) == ["EUR", "USD"]


def test_cells_in_another_money_than_the_price_is_headed_with_are_asked_about(
    tmp_path: Path,
) -> None:
    path = csv_file(tmp_path / "l.csv", list_with("Cur", ["EUR", "GBP"], "Price £"))
    assert refused(path) == (
        "l.csv, column D: its cells ('Cur') name EUR, yet the price is headed 'Price £'; say so: "
        '--map "currency=Cur" if prices are in what its cells say, --map currency=none if they '
        "are in GBP"
    )
    assert moneys(list_of(path, "currency=Cur")[1]) == ["EUR", "GBP"]
    assert moneys(list_of(path, "currency=none")[1]) == ["GBP", "GBP"]


def test_two_columns_of_currencies_that_are_not_the_same_are_asked_about(tmp_path: Path) -> None:
    def with_retail(cells: Sequence[str]) -> list[list[object]]:
        more: list[list[object]] = [["Retail", "Val"], *([9, cell] for cell in cells)]
        one = list_with("Cur", ["EUR", "GBP"], "Net")
        return [row + other for row, other in zip(one, more, strict=True)]

    same = csv_file(tmp_path / "l.csv", with_retail(["EUR", "GBP"]))
    assert moneys(list_of(same)[1]) == ["EUR", "GBP"]
    path = csv_file(tmp_path / "m.csv", with_retail(["USD", "GBP"]))
    said = refused(path)
    assert "columns D, F: both name currencies ('Cur', 'Val'), and not the same" in said
    assert '--map "currency=Cur", --map "currency=Val", or --map currency=none' in said
    reader, found = list_of(path, "currency=Val")
    assert moneys(found) == ["USD", "GBP"]
    remembered, _ = by_sheet(remembered_by_sheet(reader.sheets))
    assert moneys(list_of(path, remembered=remembered)[1]) == ["USD", "GBP"]


def test_two_columns_of_one_name_are_told_by_their_letters(tmp_path: Path) -> None:
    rows: list[list[object]] = [
        ["Code", "Net", "Cur", "Retail", "Cur"],
        ["K-1", "1.25", "EUR", "2.25", "GBP"],
        ["K-2", "2.25", "GBP", "3.25", "GBP"],
    ]
    path = csv_file(tmp_path / "l.csv", rows)
    assert '--map "currency=column C"' in refused(path)
    assert moneys(list_of(path, "currency=column C")[1]) == ["EUR", "GBP"]
    again = refused(path, remembered={Field.CURRENCY: "Cur"})
    assert "2 columns are named 'Cur'; say which, such as --map \"currency=column C\"" in again
