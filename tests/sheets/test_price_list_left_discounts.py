"""Percentages beside a price: a discount may still have to be taken off it."""

from collections.abc import Callable, Sequence
from pathlib import Path

import openpyxl
import pytest

from kitting.sheets.price_lists.by_sheet import by_sheet, remembered_by_sheet
from kitting.sheets.price_lists.fields import Field
from tests.sheets.price_lists import csv_file, fields, list_of, prices, refused, workbook

GROSS = (1.25, 2.5, 3.0, 14.0, 120.0, 8.75)


def list_with(
    price: str, heading: str, cells: Sequence[object], *more: tuple[str, Sequence[object]]
) -> list[list[object]]:
    columns = [(price, GROSS), (heading, cells), *more]
    rows = [[f"K-{at}", *(each[at - 101] for _, each in columns)] for at in range(101, 107)]
    return [["Part no", *(name for name, _ in columns)], *rows]


@pytest.mark.parametrize(
    ("price", "heading", "cells"),
    [
        ("Price", "Your discount", ("35%", "35%", "20%", "20 %", "10%", "5,5%")),
        ("Price", "Foo", ("35%", "35%", "20%", "20%", "10%", "5%")),
        ("Price", "", ("35%", "35%", "20%", "20%", "10%", "5%")),
        ("Preis", "Rabatt", (35, 35, 20, 20, 10, 0)),
        ("Prix", "Remise %", ("35,00", "35,00", "20,00", "20,00", "10,00", "0,00")),
        ("Prezzo", "Sconto", ("40+10", "40", "40", "50+5", "40", "40")),
        ("List price", "Disc", ("35%",) * 6),
        ("Trade", "Discount", (20,) * 6),
        ("Price", "Rem.", (0.35, 0.35, 0.2, 0.2, 0.1, 0.1)),
        ("Price", "Disc %", (35, 20, "Nett", 35, "NET", 35)),
        ("Price", "Foo", ("35%", "-", "n/a", "N/A", "20%", "--")),
        ("Preis", "Rabatt", ("netto", "ohne", 35, "kein Rabatt", "", 20)),
    ],
)
def test_discounts_by_row_are_asked_about(
    tmp_path: Path, price: str, heading: str, cells: Sequence[object]
) -> None:
    rows = list_with(price, heading, cells)
    name = heading or "column C"
    for path in (csv_file(tmp_path / "l.csv", rows), workbook(tmp_path / "l.xlsx", Prices=rows)):
        assert refused(path) == (
            f"{path.name}, column C: its percentages ('{name}') may still have to be taken off "
            f"'{price}'; put what is paid in a column of its own, headed 'Net', or say "
            f"--map \"price={price}\" if '{price}' is what the shop pays"
        )
        reader, found = list_of(path, f"price={price}")
        assert prices(found)[0] == ("K-101", 12500)
        told = f"'{name}' is not taken off, as was said: '{price}' is taken as what the shop pays"
        assert told in reader.notes


def test_a_share_that_its_cell_shows_as_a_percentage_is_one(tmp_path: Path) -> None:
    path = workbook(tmp_path / "l.xlsx", Prices=list_with("Price", "Foo", (0.35, 0.2) * 3))
    book = openpyxl.load_workbook(path)
    for (cell,) in book.worksheets[0].iter_rows(min_row=2, min_col=3, max_col=3):
        cell.number_format = "0%"
    book.save(path)
    assert "its percentages ('Foo') may still have to be taken off" in refused(path)


def _less(*discounts: int) -> Callable[[float], float]:
    def less(price: float) -> float:
        for each in discounts:
            price -= price * each / 100
        return round(price, 2)

    return less


def test_a_discount_that_is_taken_off_already_is_no_question(tmp_path: Path) -> None:
    for heading in ("Price", "Trade", "Cost", "Foo"):
        rows = list_with("RRP", "Disc", (35,) * 6, (heading, [*map(_less(35), GROSS)]))
        said = [f"price={heading}"] if heading == "Foo" else []
        reader, _ = list_of(csv_file(tmp_path / "l.csv", rows), *said)
        assert fields(reader)[Field.PRICE] == heading
        assert not any("taken off" in note for note in reader.notes)
    two = list_with("Listino", "Sc.1", (45,) * 6, ("Sc.2", (15,) * 6))
    paid = ["Prezzo", *map(_less(45, 15), GROSS)]
    both = [[*row, last] for row, last in zip(two, paid, strict=True)]
    reader, _ = list_of(csv_file(tmp_path / "m.csv", both))
    assert fields(reader)[Field.PRICE] == "Prezzo"
    reader, _ = list_of(csv_file(tmp_path / "n.csv", list_with("Net", "Discount", (35,) * 6)))
    assert fields(reader)[Field.PRICE] == "Net"


def test_a_net_row_among_discounts_that_are_taken_off_is_paid_in_full(tmp_path: Path) -> None:
    paid = [price if at % 3 == 2 else _less(35)(price) for at, price in enumerate(GROSS)]
    rows = list_with("RRP", "Disc", (35, 35, "Nett") * 2, ("Cost", paid))
    reader, _ = list_of(csv_file(tmp_path / "l.csv", rows))
    assert fields(reader)[Field.PRICE] == "Cost"
    assert not any("taken off" in note for note in reader.notes)


def test_a_discounted_price_that_stands_there_too_is_the_only_question(tmp_path: Path) -> None:
    rows = list_with("Price", "Disc", (35,) * 6, ("Members", [*map(_less(35), GROSS)]))
    said = refused(csv_file(tmp_path / "l.csv", rows))
    assert "its figures ('Members') may be what the shop pays" in said
    assert "percentages" not in said


@pytest.mark.parametrize(
    ("heading", "cells"),
    [
        ("VAT", ("20%",) * 6), ("MwSt %", (19, 7) * 3), ("Margin", ("35%", "40%") * 3),
        ("Increase", ("3%", "5%") * 3), ("Discount", ("0%",) * 6), ("Discount group", (1, 2) * 3),
        ("Discount", ("A", "B") * 3), ("Foo", ("A1", "") * 3),
        ("Discount", ("Nett", "-", "n/a", "NET", "", "nil")), ("Discount", ("A", "B", 35) * 2),
    ],
)  # fmt: skip
def test_percentages_of_something_else_are_left_alone(
    tmp_path: Path, heading: str, cells: Sequence[object]
) -> None:
    reader, found = list_of(csv_file(tmp_path / "l.csv", list_with("Price", heading, cells)))
    assert prices(found)[0] == ("K-101", 12500)
    assert not any(heading in note for note in reader.notes)


def test_one_rate_of_tax_in_every_row_below_words_nobody_knows_is_told(tmp_path: Path) -> None:
    cells = ("20%", "20%", "20%", "0%", "20%", "20%")
    reader, _ = list_of(csv_file(tmp_path / "l.csv", list_with("Price", "Foo", cells)))
    told = "'Foo' seems to be the rate of VAT: 'Price' is taken as what the shop pays"
    assert told in reader.notes
    named = csv_file(tmp_path / "m.csv", list_with("Price", "Your disc.", cells))
    assert "may still have to be taken off" in refused(named)


def test_the_answer_is_remembered_and_a_new_column_of_discounts_asked_about(
    tmp_path: Path,
) -> None:
    cells = ("35%", "20%") * 3
    first = csv_file(tmp_path / "l.csv", list_with("Price", "Your discount", cells))
    remembered, _ = by_sheet(remembered_by_sheet(list_of(first, "price=Price")[0].sheets))
    again, _ = list_of(first, remembered=remembered)
    assert by_sheet(remembered_by_sheet(again.sheets))[0] == remembered
    other = csv_file(tmp_path / "m.csv", list_with("Price", "Rebate", cells))
    assert "its percentages ('Rebate')" in refused(other, remembered=remembered)
