"""A column of quantities: taken where a number stands with several of them, else left alone."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.sheets.price_lists.fields import Field
from kitting.sheets.price_lists.size import Counted, Size
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


def test_quantities_in_columns_under_a_price_for_100_are_of_pieces(tmp_path: Path) -> None:
    path = csv_file(
        tmp_path / "list.csv",
        [["Teil", "Preis je 100", "ab 500", "ab 1000"], ["K-1", "15,00", "12,00", "10,00"],
         ["K-2", "25,00", "", "20,00"]],
        ";",
    )  # fmt: skip
    reader, rows = list_of(path)
    assert [(row.pack, row.price, row.breaks) for row in rows] == [
        (100, 150000, ((5, 120000), (10, 100000))),
        (100, 250000, ((10, 200000),)),
    ]
    assert reader.tally.counted == {Counted.PIECES: 2}
    assert reader.columns is not None
    assert [step.column.how for step in reader.columns.steps] == [
        "the price from 500 pieces on", "the price from 1000 pieces on",
    ]  # fmt: skip


def test_quantities_in_a_cell_beside_a_unit_of_100_are_of_pieces(tmp_path: Path) -> None:
    path = csv_file(
        tmp_path / "list.csv",
        [["Part", "Price", "Unit", "Breaks"], ["K-1", "15.00", "100", "500: 12.00 | 1000: 10"],
         ["K-2", "1.50", "EA", "10: 1.20"], ["K-3", "15.00", "per 100", "10: 12.00"]],
    )  # fmt: skip
    reader, rows = list_of(path)
    assert [(row.pack, row.breaks) for row in rows] == [
        (100, ((5, 120000), (10, 100000))), (1, ((10, 12000),)), (100, ((10, 120000),)),
    ]  # fmt: skip
    assert reader.tally.counted == {Counted.PIECES: 1, Counted.UNSURE: 1}


@pytest.mark.parametrize(
    ("headings", "packs", "counted"),
    [
        (("Price each", "Price each 50+", "Price each 100+"), (5, 10), Counted.PIECES),
        (("Price each", "50 pcs", "100 pcs"), (5, 10), Counted.PIECES),
        (("Price each", "50+", "100+"), (50, 100), Counted.UNSURE),
        (("Price each", "Price each 10+", "Price each 100+"), (10, 100), Counted.UNSURE),
        (("Price each", "5 packs", "10 packs"), (5, 10), None),
        (("Price each", "22 pcs", "28 pcs"), (3,), Counted.PIECES),
        (("Price", "50+", "100+"), (50, 100), None),
    ],
)
def test_quantities_beside_packs_of_ten_are_pieces_only_where_that_is_said(
    tmp_path: Path, headings: tuple[str, ...], packs: tuple[int, ...], counted: Counted | None
) -> None:
    rows = [["Part", "Pack size", *headings], ["K-1", "10", "1.00", "0.90", "0.80"],
            ["K-2", "10", "2.00", "1.90", "1.80"]]  # fmt: skip
    reader, (row, _) = list_of(csv_file(tmp_path / "list.csv", rows))
    assert tuple(least for least, _ in row.breaks) == packs
    assert reader.tally.counted == ({counted: 2} if counted else {})


@given(
    st.integers(0, 200),
    st.integers(0, 200),
    st.lists(st.integers(2, 5000), min_size=1, max_size=4, unique=True),
    st.sampled_from([Counted.UNSAID, Counted.PACKS, Counted.PIECES]),
)
def test_packs_are_never_fewer_than_the_pieces_that_were_said(
    per: int, said: int, quantities: list[int], counted: Counted
) -> None:
    size = Size(per, said)
    packs, taken = size.in_packs(quantities, counted)
    for least, quantity in zip(packs, quantities, strict=True):
        assert least * size.pack >= quantity
        assert least >= 2
        assert taken is Counted.PIECES or least == quantity
