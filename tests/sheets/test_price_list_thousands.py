"""Thousands in a count: read with the list's own marks, asked where unsure, never a thousandth."""

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.sheets.price_lists.cells import pack_of, stock_of
from kitting.sheets.price_lists.counts import as_in_headings, counted
from kitting.sheets.price_lists.priced_for import per_of
from kitting.sheets.price_lists.steps import packs_named, quantity_of
from kitting.sheets.price_lists.units import unit_of
from tests.sheets.price_lists import TERMS, csv_file, list_of, prices, problems


@pytest.mark.parametrize(
    ("text", "decimal", "plain"),
    [
        ("1,000", ".", "1000"),
        ("1.000", ",", "1000"),
        ("box of 12,500", ".", "box of 12500"),
        ("1,000-9,999", ".", "1000-9999"),
        ("1,000.00", "", "1000.00"),
        ("1.000,0", ".", "1000,0"),
        ("1,000,000", "", "1000000"),
        ("1 000", "", "1000"),
        ("1\u00a0000", ".", "1000"),
        ("1'000", "", "1000"),
        ("1’000", ",", "1000"),
        ("1.000", ".", "1.000"),
        ("1,000", ",", "1,000"),
        ("10,00", "", "10,00"),
        ("0.500", ",", "0.500"),
        ("2026 100", "", "2026 100"),
        ("pack of 10", "", "pack of 10"),
        ("1,000", "", None),
        ("per 1.000", "", None),
    ],
)
def test_thousands_are_told_by_the_marks_of_the_list(
    text: str, decimal: str, plain: str | None
) -> None:
    assert counted(text, decimal) == plain


@given(st.integers(1, 999_999), st.sampled_from([(".", ","), (",", "."), (".", " "), (",", "'")]))
def test_a_count_is_itself_however_it_is_grouped(count: int, marks: tuple[str, str]) -> None:
    decimal, group = marks
    written = f"{count:,}".replace(",", group)
    plain = counted(written, decimal)
    assert plain is not None
    assert pack_of(plain) == stock_of(plain) == quantity_of(plain) == count
    unit = unit_of(f"per {plain}")
    assert unit is not None
    assert unit.many == count
    assert per_of(f"Price per {written}") == count
    assert count == 1 or packs_named(f"from {written}") == count
    assert as_in_headings(written) == str(count)


@pytest.mark.parametrize(
    ("heading", "per"),
    [("Price per 1,000", 1000), ("Price per 1.000", 1000), ("Price per 1 000", 1000),
     ("Preis/1.000 Stk", 1000), ("£/1,000", 1000), ("Prix les 1 000 pièces", 1000)],
)  # fmt: skip
def test_a_heading_with_thousands_says_for_how_many_a_price_is(heading: str, per: int) -> None:
    assert per_of(heading) == per


@pytest.mark.parametrize(
    ("heading", "packs"),
    [("1,000+", 1000), ("from 1,000", 1000), ("ab 1.000 Stk", 1000), ("1,000-9,999", 1000),
     ("Price 1 000+", 1000)],
)  # fmt: skip
def test_a_heading_with_thousands_says_for_how_many_packs_a_price_is(
    heading: str, packs: int
) -> None:
    assert packs_named(heading) == packs


COUNTS = [
    (["Per"], ["1,000"], (1000, 1250000)),
    (["Pack"], ["1,000"], (1000, 1250000)),
    (["Per", "Pack"], ["1,000", "2,000"], (2000, 2500000)),
    (["Unit"], ["1,000"], (1000, 1250000)),
    (["Unit"], ["per 1,000"], (1000, 1250000)),
    (["Unit"], ["box of 1,000"], (1000, 1250000)),
    (["PE"], ["1 000"], (1000, 1250000)),
]


@pytest.mark.parametrize(("headings", "cells", "read"), COUNTS)
@pytest.mark.parametrize("comma", [False, True])
def test_a_price_for_a_thousand_is_not_for_one(
    tmp_path: Path, headings: list[str], cells: list[str], read: tuple[int, int], *, comma: bool
) -> None:
    price = "125,00" if comma else "125.00"
    told = [cell.replace(",", ".") for cell in cells] if comma else cells
    rows = [["K-101", "Stud", price, *told], ["K-102", "Nut", price, *told]]
    path = csv_file(tmp_path / "list.csv", [["Part", "Name", "Price", *headings], *rows])
    assert [(row.pack, row.price) for row in list_of(path)[1] if not row.why] == [read, read]


@pytest.mark.parametrize("heading", ["Per", "Pack", "Unit"])
def test_a_count_that_can_be_read_two_ways_is_asked_about(tmp_path: Path, heading: str) -> None:
    rows = [["Part", "Name", "Price", heading], ["K-101", "Stud", "125", "1,000"]]
    path = csv_file(tmp_path / "list.csv", rows)
    assert problems(path) == [
        f"list.csv, row 2, column D ({heading}): '1,000' can be read two ways: is its mark for "
        "thousands or decimals?; say which with --decimal comma or --decimal point"
    ]
    for mark, count in ((".", 1000), (",", 1)):
        assert list_of(path, terms=replace(TERMS, decimal=mark))[1][0].pack == count


def test_quantities_and_stock_in_thousands_are_read_as_they_stand(tmp_path: Path) -> None:
    rows = [
        ["Part", "Name", "Price", "1,000+", "Stock"],
        ["K-101", "Stud", "125.00", "100.00", "2,000"], ["K-102", "Nut", "125.00", "100.00", "10"],
    ]  # fmt: skip
    found = list_of(csv_file(tmp_path / "list.csv", rows))[1]
    assert [(row.breaks, row.stock) for row in found] == [
        (((1000, 1000000),), 2000), (((1000, 1000000),), 10),
    ]  # fmt: skip


def test_a_row_from_a_thousand_on_is_a_price_for_more(tmp_path: Path) -> None:
    rows = [
        ["Part", "Name", "Price", "Qty from"], ["K-101", "Stud", "1.25", "1"],
        ["K-101", "Stud", "1.10", "1,000"],
    ]  # fmt: skip
    found = list_of(csv_file(tmp_path / "list.csv", rows))[1]
    assert [row.least for row in found] == [1, 1000]
    rows[0][3], rows[1][3], rows[2][3] = "Breaks", "", "1,000: 0.95"
    found = list_of(csv_file(tmp_path / "list.csv", rows))[1]
    assert [row.breaks for row in found] == [(), ((1000, 9500),)]
    assert prices(found) == [("K-101", 12500), ("K-101", 11000)]


def test_a_saving_on_thousands_is_no_price(tmp_path: Path) -> None:
    rows = [["Part", "Name", "Price", "Saving 1,000+"], ["K-101", "Stud", "125.00", "100.00"]]
    reader, found = list_of(csv_file(tmp_path / "list.csv", rows))
    assert found[0].breaks == ()
    assert reader.columns is not None
    assert reader.columns.left == ("Saving 1,000+",)
