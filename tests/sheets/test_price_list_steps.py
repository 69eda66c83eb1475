"""Quantity prices that have a column each: found by their headings, read, and told when faulty."""

from pathlib import Path

import pytest

from kitting.sheets.price_lists.by_sheet import by_sheet, remembered_by_sheet
from kitting.sheets.price_lists.fields import Field
from kitting.sheets.price_lists.steps import packs_named
from tests.sheets.price_lists import csv_file, list_of, prices, problems


@pytest.mark.parametrize(
    ("headings", "packs"),
    [
        (("Price", "10+", "50+"), (10, 50)),
        (("1+", "10+", "100+"), (10, 100)),
        (("1-9", "10-49", "50+"), (10, 50)),
        (("Net", "from 5", "from 25"), (5, 25)),
        (("Preis", "ab 10 Stk", "ab 50 Stk."), (10, 50)),
        (("Each", "Qty 10", "Qty 25"), (10, 25)),
        (("Net price", "Net price (10 off)", "Net price (50 off)"), (10, 50)),
        (("Prix HT", "à partir de 10", "≥ 20"), (10, 20)),
    ],
)
def test_a_column_for_each_quantity_becomes_a_price_from_so_many_on(
    tmp_path: Path, headings: tuple[str, ...], packs: tuple[int, int]
) -> None:
    path = csv_file(
        tmp_path / "list.csv",
        [["Code", *headings], ["K-101", "4.50", "4.20", "3.90"], ["K-102", "2.00", "", "1.75"]],
    )
    reader, rows = list_of(path)
    assert prices(rows) == [("K-101", 45000), ("K-102", 20000)]
    assert rows[0].breaks == ((packs[0], 42000), (packs[1], 39000))
    assert rows[1].breaks == ((packs[1], 17500),)
    assert reader.columns is not None
    assert reader.columns.left == ()
    shown = [(each.heading, each.how) for each in reader.columns.shown][-2:]
    assert shown == [
        (heading, f"the price from {count} packs on")
        for heading, count in zip(headings[1:], packs, strict=True)
    ]


def test_two_rows_of_headings_name_the_quantity_below_the_price(tmp_path: Path) -> None:
    path = csv_file(
        tmp_path / "list.csv",
        [["Code", "Net price", "", ""], ["", "1+", "10+", "50+"], ["K-101", "4.50", "4.2", "3.9"]],
    )
    _, rows = list_of(path)
    assert prices(rows) == [("K-101", 45000)]
    assert rows[0].breaks == ((10, 42000), (50, 39000))


@pytest.mark.parametrize(
    "heading", ["Price 2026", "2026-2027", "Net", "10", "Width 10", "9-3", "0+", "Drawer 12", ""]
)
def test_a_number_in_a_heading_alone_is_no_quantity(heading: str) -> None:
    assert packs_named(heading) == 0


def test_a_years_price_beside_last_years_is_not_taken_for_a_quantity(tmp_path: Path) -> None:
    path = csv_file(
        tmp_path / "list.csv", [["Code", "Price 2026", "Price 2025"], ["K-101", "4.50", "4.20"]]
    )
    _, rows = list_of(path, "price=Price 2026")
    assert rows[0].breaks == ()


def test_a_quantity_price_that_is_none_sets_its_row_aside(tmp_path: Path) -> None:
    path = csv_file(
        tmp_path / "list.csv",
        [
            ["Code", "Net £", "10+"],
            ["K-101", "4.50", "4.20"],
            ["K-102", "4.50", "cheap"],
            ["K-103", "4.50", "€4.20"],
            ["K-104", "4.50", "0.00"],
            ["K-105", "4.50", "POA"],
        ],
    )
    said = problems(path)
    assert len(said) == 3
    assert "row 3, column C (10+): 'cheap' is no price" in said[0]
    assert "row 4, column C (10+): €4.20 is not in GBP, as the row's price is" in said[1]
    assert "row 5, column C (10+): a price of nothing" in said[2]
    _, rows = list_of(path)
    assert [(row.number, bool(row.why), row.breaks) for row in rows][-1] == ("K-105", False, ())


def test_breaks_told_to_be_none_leave_the_columns_alone(tmp_path: Path) -> None:
    path = csv_file(tmp_path / "list.csv", [["Code", "Net", "10+"], ["K-101", "4.50", "4.20"]])
    reader, rows = list_of(path, "breaks=none")
    assert rows[0].breaks == ()
    assert reader.columns is not None
    assert reader.columns.left == ("10+",)


def test_two_columns_for_one_quantity_are_not_guessed_between(tmp_path: Path) -> None:
    path = csv_file(
        tmp_path / "list.csv",
        [["Code", "Net", "10+", "10 or more"], ["K-101", "4.50", "4.20", "3.20"]],
    )
    reader, rows = list_of(path)
    assert rows[0].breaks == ()
    assert reader.columns is not None
    assert Field.BREAKS not in {each.field for each in reader.columns.shown}


@pytest.mark.parametrize(
    "heading",
    [
        "Old price from 10",
        "Stock 10+",
        "Saving 10+",
        "Discount 10+",
        "RRP 10+",
        "Price inc VAT 10+",
    ],
)
def test_a_quantity_under_what_the_shop_does_not_pay_is_no_price_for_more(
    tmp_path: Path, heading: str
) -> None:
    path = csv_file(tmp_path / "list.csv", [["Code", "Net", heading], ["K-101", "4.50", "0.50"]])
    _, rows = list_of(path)
    assert (prices(rows), rows[0].breaks) == ([("K-101", 45000)], ())


@pytest.mark.parametrize(
    "heading", ["Staffel ab 10", "Net 10+", "£ 10+", "Bulk 10+", "Preis ab 10"]
)
def test_a_quantity_under_a_price_or_alone_is_a_price_for_more(
    tmp_path: Path, heading: str
) -> None:
    path = csv_file(tmp_path / "list.csv", [["Code", "Net", heading], ["K-101", "4.50", "4.00"]])
    assert list_of(path)[1][0].breaks == ((10, 40000),)


@pytest.mark.parametrize(
    "headings",
    [
        (["Number", "1 off", "10 off"],),
        (["Number", "1-off", "10-off"],),
        (["Référence", "1 pièce", "10 pièces"],),
        (["Number", "Price", ""], ["", "1 off", "10 off"]),
        (["Part", "Price", "Price"], ["number", "1 off", "10 off"]),
        (["Part", "Price each", ""], ["number", "1 off", "10 off"]),
        (["Number", "Price £", ""], ["", "1+", "10+"]),
    ],
)
def test_quantities_head_the_columns_of_a_list_without_descriptions(
    tmp_path: Path, headings: tuple[list[str], ...]
) -> None:
    rows = [["A1-100", "1.50", "1.20"], ["A2-100", "2.50", "2.20"], ["A3-100", "3.50", ""]]
    _, read = list_of(csv_file(tmp_path / "list.csv", [*headings, *rows]))
    assert [(row.number, row.price, row.breaks) for row in read] == [
        ("A1-100", 15000, ((10, 12000),)),
        ("A2-100", 25000, ((10, 22000),)),
        ("A3-100", 35000, ()),
    ]


def test_prices_per_ten_beside_the_price_are_taken_on_the_next_edition_too(tmp_path: Path) -> None:
    rows = [["Code", "Price each", "Price per 10"], ["K-1", "1.00", "9.00"],
            ["K-2", "2.00", "18.00"]]  # fmt: skip
    path = csv_file(tmp_path / "list.csv", rows)
    remembered, _ = by_sheet(remembered_by_sheet(list_of(path)[0].sheets))
    for maps in ((), ("price=Price each",)):
        _, found = list_of(path, *maps, remembered=remembered)
        assert [row.breaks for row in found] == [((10, 9000),), ((10, 18000),)]
    _, found = list_of(path, "breaks=none", remembered=remembered)
    assert [row.breaks for row in found] == [(), ()]


def test_a_column_for_each_step_may_be_headed_by_the_word_for_steps(tmp_path: Path) -> None:
    for word in ("Staffel", "Break", "Tier"):
        rows = [["Code", "Price", f"{word} 10", f"{word} 50"], ["K-1", "1.25", "1.10", "0.95"],
                ["K-2", "2.25", "2.10", "1.95"]]  # fmt: skip
        _, found = list_of(csv_file(tmp_path / "list.csv", rows))
        assert [row.breaks for row in found] == [
            ((10, 11000), (50, 9500)), ((10, 21000), (50, 19500))
        ]  # fmt: skip
