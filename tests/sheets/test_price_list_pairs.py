"""Quantities in a column beside each price: never prices themselves, and steps where it is sure."""

from dataclasses import replace
from pathlib import Path

import pytest

from kitting.sheets.price_lists.by_sheet import by_sheet, remembered_by_sheet
from kitting.sheets.price_lists.fields import Field
from tests.sheets.price_lists import (
    TERMS,
    csv_file,
    fields,
    list_of,
    prices,
    problems,
    refused,
)

ROWS = [["K-101", "1", "1.25", "10", "1.10"], ["K-102", "1", "3.20", "5", "3"],
        ["K-103", "1", "2.70", "", ""], ["K-104", "2", "2.50", "25", "2.25"]]  # fmt: skip
READ = [("K-101", 12500), ("K-102", 32000), ("K-103", 27000), ("K-104", 25000)]
BREAKS = [((10, 11000),), ((5, 30000),), (), ((25, 22500),)]


@pytest.mark.parametrize(
    "headings",
    [
        ["Qty Break 1", "Price 1", "Qty Break 2", "Price 2"],
        ["Break 1", "Price 1", "Break 2", "Price 2"],
        ["Qty1", "Price Break1", "Qty2", "Price Break2"],
        ["Tier 1 qty", "Tier 1 price", "Tier 2 qty", "Tier 2 price"],
        ["Staffelmenge 1", "Staffelpreis 1", "Staffelmenge 2", "Staffelpreis 2"],
        ["Quantity 1", "Net £ 1", "Quantity 2", "Net £ 2"],
        ["Qté 1", "Prix 1", "Qté 2", "Prix 2"],
        ["Qty 1", "£ 1", "Qty 2", "£ 2"],
    ],
)
def test_each_rows_own_quantities_are_the_steps_of_the_prices_beside_them(
    tmp_path: Path, headings: list[str]
) -> None:
    path = csv_file(tmp_path / "a.csv", [["Code", *headings], *ROWS])
    reader, rows = list_of(path)
    remembered, _ = by_sheet(remembered_by_sheet(reader.sheets))
    for maps, last in (((), {}), ((f"price={headings[1]}",), {}), ((), remembered)):
        reader, rows = list_of(path, *maps, remembered=last)
        assert prices(rows) == READ
        assert [row.breaks for row in rows] == BREAKS
        assert [row.least for row in rows] == [1, 1, 1, 2]
        assert reader.columns is not None
        assert reader.columns.left == ()


def test_three_pairs_in_any_order_of_columns_are_steps(tmp_path: Path) -> None:
    rows = [["Code", "Qty 1", "Qty 2", "Qty 3", "Price 1", "Price 2", "Price 3"],
            ["K-101", "1", "10", "100", "5.00", "4.00", "3.00"],
            ["K-102", "1", "20", "0", "6.00", "5.00", "0.00"]]  # fmt: skip
    _, found = list_of(csv_file(tmp_path / "a.csv", rows))
    assert [row.breaks for row in found] == [((10, 40000), (100, 30000)), ((20, 50000),)]
    assert prices(found) == [("K-101", 50000), ("K-102", 60000)]


def test_pairs_beside_a_price_for_one_are_all_prices_for_more(tmp_path: Path) -> None:
    rows = [["Code", "Price", "Qty 1", "Price 1", "Qty 2", "Price 2"],
            ["K-101", "1.25", "10", "1.10", "50", "1.00"],
            ["K-102", "3.25", "5", "3.10", "10", "3.00"]]  # fmt: skip
    path = csv_file(tmp_path / "a.csv", rows)
    for maps in ((), ("price=Price",)):
        reader, found = list_of(path, *maps)
        assert fields(reader)[Field.PRICE] == "Price"
        assert [row.breaks for row in found] == [
            ((10, 11000), (50, 10000)), ((5, 31000), (10, 30000))
        ]  # fmt: skip


@pytest.mark.parametrize(
    ("headings", "row"),
    [
        (["Qty 7", "Price 7", "Qty 30", "Price 30"], ["7", "1.10", "30", "1.00"]),
        (["Price 1", "Qty 1", "Price 2", "Qty 2"], ["1.25", "1", "1.10", "10"]),
        (["Qty 1", "Price 1", "Qty 2", "Price 2"], ["10", "1.10", "5", "1.25"]),
        (["Qty 1", "Price 1", "Qty 2", "Price 2", "Net"], ["1", "1.25", "10", "1.10", "1.20"]),
    ],
)
def test_quantities_beside_prices_that_are_no_plain_steps_are_asked_about(
    tmp_path: Path, headings: list[str], row: list[str]
) -> None:
    rows = [["Code", *headings], ["K-101", *row], ["K-102", *row]]
    path = csv_file(tmp_path / "a.csv", rows)
    price = next(heading for heading in headings if heading.startswith("Price"))
    said = refused(path)
    assert "say from how many" in said
    assert f'--map "price={price}, breaks=none"' in said
    reader, found = list_of(path, f"price={price}, breaks=none")
    assert fields(reader)[Field.PRICE] == price
    assert [row.breaks for row in found] == [(), ()]


def test_quantities_that_were_once_remembered_for_the_price_are_none(tmp_path: Path) -> None:
    headings = ["Code", "Qty Break 1", "Price 1", "Qty Break 2", "Price 2"]
    path = csv_file(tmp_path / "a.csv", [headings, *ROWS])
    _, rows = list_of(path, remembered={Field.NUMBER: "Code", Field.PRICE: "Qty Break 1"})
    assert prices(rows) == READ


def test_a_price_without_a_quantity_or_for_fewer_than_before_is_told_by_its_cell(
    tmp_path: Path,
) -> None:
    headings = ["Code", "Qty 1", "Price 1", "Qty 2", "Price 2"]
    wrong = [["K-201", "1", "2.00", "", "1.90"], ["K-202", "10", "2.00", "5", "1.90"]]
    rows = [[f"K-{at}", "1", "2.00", "10", "1.90"] for at in range(20)]
    said = problems(csv_file(tmp_path / "a.csv", [headings, *wrong, *rows]))
    assert said == [
        "a.csv, row 2, column D (Qty 2): 'Price 2' holds from nothing on, and another from 1; "
        "write a greater number",
        "a.csv, row 3, column D (Qty 2): 'Price 2' holds from 5 on, and another from 10; "
        "write a greater number",
    ]


def test_prices_under_quantities_are_still_steps(tmp_path: Path) -> None:
    rows = [["Code", "Qty 1", "Qty 10", "Price group 1"], ["K-101", "5.00", "4.00", "7"],
            ["K-102", "6.00", "5.00", "7"]]  # fmt: skip
    _, found = list_of(csv_file(tmp_path / "a.csv", rows))
    assert [(row.price, row.breaks) for row in found] == [
        (50000, ((10, 40000),)), (60000, ((10, 50000),))
    ]  # fmt: skip


def test_a_title_just_above_the_headings_is_no_part_of_them(tmp_path: Path) -> None:
    headings = ["Code", "Qty 1", "Price 1", "Qty 2", "Price 2"]
    rows = [["All prices per 100"], headings, ["K-101", "1", "1.25", "5", "1.12"]]
    terms = replace(TERMS, per=100)
    reader, found = list_of(csv_file(tmp_path / "a.csv", rows), terms=terms)
    assert fields(reader)[Field.PRICE] == "Price 1"
    assert [(row.pack, row.price, row.breaks) for row in found] == [(100, 12500, ((5, 11200),))]
