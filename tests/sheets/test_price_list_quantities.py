"""A column of quantities: taken where a number stands with several of them, else left alone."""

from pathlib import Path

import pytest

from kitting.sheets.price_lists.fields import Field
from tests.sheets.price_lists import csv_file, fields, list_of, problems


@pytest.mark.parametrize("heading", ["Qty", "Quantity", "From qty", "Min. qty", "Menge", "Aantal"])
def test_a_row_for_each_quantity_says_from_how_many_its_price_holds(
    tmp_path: Path, heading: str
) -> None:
    path = csv_file(
        tmp_path / "list.csv",
        [
            ["Part", heading, "Price"],
            ["K-1", "1", "1.50"],
            ["K-1", "10+", "1.30"],
            ["K-1", "100-499", "1.10"],
            ["K-2", "", "2.00"],
        ],
    )
    reader, rows = list_of(path)
    assert fields(reader)[Field.QUANTITY] == heading
    assert [(row.number, row.least, row.pack) for row in rows] == [
        ("K-1", 1, 1), ("K-1", 10, 1), ("K-1", 100, 1), ("K-2", 1, 1)
    ]  # fmt: skip


def test_a_quantity_that_says_nothing_of_the_price_is_left_alone(tmp_path: Path) -> None:
    path = csv_file(
        tmp_path / "list.csv", [["Part", "Qty", "Price"], ["K-1", "5", "1.5"], ["K-2", "9", "2.5"]]
    )
    reader, rows = list_of(path, "pack=none")
    assert reader.columns is not None
    assert reader.columns.left == ("Qty",)
    assert [row.least for row in rows] == [1, 1]
    assert [row.least for row in list_of(path, "quantity=Qty")[1]] == [5, 9]


def test_pieces_become_packs_where_the_price_is_for_so_many(tmp_path: Path) -> None:
    path = csv_file(
        tmp_path / "list.csv",
        [["Part", "Qty", "Price per 100"], ["K-1", "100", "150.00"], ["K-1", "1000", "130.00"]],
    )
    _, rows = list_of(path)
    assert [(row.pack, row.least, row.price) for row in rows] == [
        (100, 1, 1500000), (100, 10, 1300000)
    ]  # fmt: skip


@pytest.mark.parametrize("heading", ["Unit price", "Price ea.", "Prix unitaire HT", "Price each"])
def test_a_price_for_one_is_not_taken_for_that_of_a_pack(tmp_path: Path, heading: str) -> None:
    path = csv_file(tmp_path / "list.csv", [["Part", "Pack size", heading], ["K-1", "10", "0.15"]])
    _, rows = list_of(path)
    assert [(row.pack, row.price) for row in rows] == [(10, 15000)]


def test_a_heading_in_pence_is_believed_unless_a_cell_says_otherwise(tmp_path: Path) -> None:
    path = csv_file(
        tmp_path / "list.csv", [["Part", "Price (pence)"], ["K-1", "150"], ["K-2", "£1.50"]]
    )
    _, rows = list_of(path)
    assert [(row.price, row.currency) for row in rows] == [(15000, "GBP"), (15000, "GBP")]


def test_a_quantity_that_is_none_is_told_at_its_cell(tmp_path: Path) -> None:
    path = csv_file(
        tmp_path / "list.csv",
        [["Part", "Qty", "Price"], ["K-1", "1", "1.5"], ["K-1", "lots", "1.3"],
         ["K-1", "100", "1.1"]],
    )  # fmt: skip
    assert problems(path) == [
        "list.csv, row 3, column B (Qty): 'lots' is no quantity; write a number"
    ]
