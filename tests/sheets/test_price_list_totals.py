"""Totals are passed over and counted; a priced part is never taken for one."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.sheets.price_lists.totals import (
    ends_as_a_number,
    perhaps_a_total,
    surely_a_total,
)
from tests.sheets.price_lists import csv_file, list_of, prices

HEAD = ["Part no", "Description", "Price"]
PARTS = [["K-1", "stud", "1.50"], ["K-2", "stud", "2.50"]]
TAKEN = [("K-1", 15000), ("K-2", 25000)]


@pytest.mark.parametrize(
    "says",
    ["Section total studs", "Totals", "TOTAL LIST VALUE", "Grand Total (2 sections)", "VAT 20%",
     "VAT @ 20 %", "20% VAT", "Average", "Subtotal: pumps", "Total ex VAT", "Total for studs",
     "Page total", "MwSt.", "C/F", "Carried forward", "Total £", "Total price", "Sum:",
     "Sub-total carried forward", "Gesamtsumme netto"],
)  # fmt: skip
def test_a_total_by_its_words_is_no_part(tmp_path: Path, says: str) -> None:
    rows = [HEAD, *PARTS, [says, "", "7.77"], ["", says, "7.77"]]
    reader, read = list_of(csv_file(tmp_path / "list.csv", rows))
    assert (prices(read), len(read), reader.tally.passed) == (TAKEN, 2, {"totals": 2})


@pytest.mark.parametrize(
    "number",
    ["Sum gasket", "C/F kit", "Total seal", "Average ring", "GST", "SUMP", "B/F-12", "Totalizer",
     "Page 3", "VAT-20", "Sum 12", "Section", "Total studs", "Summer cap"],
)  # fmt: skip
def test_a_priced_part_is_never_taken_for_a_total(tmp_path: Path, number: str) -> None:
    rows = [HEAD, *PARTS, [number, "a part of ours", "7.77"]]
    _, read = list_of(csv_file(tmp_path / "list.csv", rows))
    assert prices(read) == [*TAKEN, (number, 77700)]


@pytest.mark.parametrize("says", ["Total studs", "Sum of studs", "Summe Bolzen"])
def test_words_that_may_be_a_parts_are_a_totals_beside_the_sum_of_what_is_above(
    tmp_path: Path, says: str
) -> None:
    rows = [
        HEAD,
        *PARTS,
        [says, "", "4.00"],
        ["PUMPS", "", ""],
        ["K-3", "pump", "30.00"],
        ["K-4", "gear", "3.00"],
        ["Total pumps", "", "33.00"],
        ["Total all", "", "37.00"],
    ]
    reader, read = list_of(csv_file(tmp_path / "list.csv", rows))
    assert [row.number for row in read] == ["K-1", "K-2", "K-3", "K-4"]
    assert reader.tally.passed["totals"] == 3


def test_the_sum_since_the_last_title_makes_a_total(tmp_path: Path) -> None:
    pumps = [["K-3", "pump", "30.00"], ["K-4", "gear", "3.00"], ["Total pumps", "", "33.00"]]
    rows = [HEAD, *PARTS, ["PUMPS", "", ""], *pumps]
    reader, read = list_of(csv_file(tmp_path / "list.csv", rows))
    assert [row.number for row in read] == ["K-1", "K-2", "K-3", "K-4"]
    assert reader.tally.passed == {"titles and notes": 1, "totals": 1}


def test_the_sum_since_the_last_total_makes_a_total(tmp_path: Path) -> None:
    pumps = [["K-3", "pump", "30.00"], ["K-4", "gear", "3.00"], ["Total pumps", "", "33.00"]]
    rows = [HEAD, *PARTS, ["Sub-total", "", "4.00"], *pumps]
    reader, read = list_of(csv_file(tmp_path / "list.csv", rows))
    assert [row.number for row in read] == ["K-1", "K-2", "K-3", "K-4"]
    assert reader.tally.passed == {"totals": 2}


def test_of_one_price_alone_nothing_is_the_sum(tmp_path: Path) -> None:
    rows = [HEAD, ["K-1", "stud", "7.00"], ["Total seal", "a ring", "7.00"]]
    assert len(list_of(csv_file(tmp_path / "list.csv", rows))[1]) == 2


def test_a_priced_row_without_a_number_that_only_sounds_like_a_total_is_a_question(
    tmp_path: Path,
) -> None:
    rows = [HEAD, *PARTS, ["", "Sum gasket", "7.77"]]
    _, read = list_of(csv_file(tmp_path / "list.csv", rows))
    assert [row.why for row in read] == ["", "", "a price without a number"]


@given(st.text("TOtalSumVCF/B-0123 ", max_size=12))
def test_a_number_with_a_figure_in_it_is_a_total_by_a_percentage_alone(text: str) -> None:
    if any(mark.isdigit() for mark in text):
        assert not surely_a_total(text)


@given(st.text("TOtalSumVCF/B-0123 :(%@3", max_size=14))
def test_what_ends_as_a_number_is_no_total_however_it_begins(text: str) -> None:
    if ends_as_a_number(text):
        assert not surely_a_total(text)
        assert not perhaps_a_total(text)


def test_a_known_number_without_a_figure_alone_on_its_row_is_no_title(tmp_path: Path) -> None:
    path = csv_file(
        tmp_path / "list.csv",
        [["Part no", "Price"], ["BEARINGS", ""], ["K-1", "1.50"], ["SEAL-A", ""], ["K-2", "2.50"],
         ["K-3", "3.50"]],
    )  # fmt: skip
    reader, rows = list_of(path, known=["SEALA"])
    assert prices(rows) == [("K-1", 15000), ("K-2", 25000), ("K-3", 35000)]
    assert [(row.number, row.row, row.why) for row in rows if row.why] == [
        ("SEAL-A", 4, "no price")
    ]
    assert reader.tally.passed["titles and notes"] == 1
