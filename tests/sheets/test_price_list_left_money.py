"""Money under any heading that stands below the price in nearly every row is asked about."""

from pathlib import Path

import pytest

from kitting.sheets.price_lists.by_sheet import by_sheet, remembered_by_sheet
from kitting.sheets.price_lists.fields import Field
from tests.sheets.price_lists import csv_file, fields, list_of, prices, refused, workbook

GROSS = (1.25, 2.5, 3.0, 14.0, 120.0, 8.75)
HEADINGS = (
    "Price|Less discount;Price|After disc;Price|Disc price;Price|Discounted;Price|20% off"
    ";Price|Members;Price|Special;Price|Offer;Price|Promo;Preis|abzgl. Rabatt;Preis|Rabattpreis"
    ";Prix|Remisé;Prezzo|Scontato;Prezzo|Riservato;RRP|20% off;SRP|WS;List|Col 2;Price|Blue"
    ";Price|"
)


def list_with(one: str, other: str, share: float) -> list[list[object]]:
    """A list whose second price is a share of the first."""
    rows = [[f"K-{at}", each, round(each * share, 2)] for at, each in enumerate(GROSS, 101)]
    return [["Part no", one, other], *rows]


@pytest.mark.parametrize("said", HEADINGS.split(";"))
def test_a_lower_price_beside_the_one_that_was_taken_is_asked_about(
    tmp_path: Path, said: str
) -> None:
    one, other = said.split("|")
    rows = list_with(one, other, 0.7)
    name = other or "column C"
    for path in (
        csv_file(tmp_path / "l.csv", rows),
        workbook(tmp_path / "l.xlsx", Prices=rows),
    ):
        assert "what the shop pays" in (question := refused(path)) or "may be the price" in question
        assert prices(list_of(path, f"price={name}")[1])[0] == ("K-101", 8800)
        assert prices(list_of(path, f"price={one}")[1])[0] == ("K-101", 12500)


def test_the_question_names_both_columns_and_how_to_say_which(tmp_path: Path) -> None:
    path = csv_file(tmp_path / "l.csv", list_with("Price", "Less discount", 0.7))
    assert refused(path) == (
        "l.csv, column C: its figures ('Less discount') may be what the shop pays, in place of "
        '\'Price\'; say which: --map "price=Price" or --map "price=Less discount"'
    )


def test_a_new_price_is_asked_about_though_it_is_dearer(tmp_path: Path) -> None:
    path = csv_file(tmp_path / "l.csv", list_with("Price", "New", 1.05))
    assert "its figures ('New') may be what the shop pays" in refused(path)


@pytest.mark.parametrize(
    ("one", "other", "share"),
    [
        ("Price", "Members", 1.3),  # a dearer price that nobody named is what others pay
        ("Net", "Discount", 0.2),  # what is taken off
        ("Price", "VAT", 0.5), ("Price", "Old price", 0.9), ("Price", "Weight kg", 0.8),
        ("Net", "List price", 0.9), ("Price", "Core charge", 0.5), ("Trade", "RRP", 0.9),
    ],
)  # fmt: skip
def test_money_that_is_plainly_something_else_is_left_alone(
    tmp_path: Path, one: str, other: str, share: float
) -> None:
    path = csv_file(tmp_path / "l.csv", list_with(one, other, share))
    assert fields(list_of(path)[0])[Field.PRICE] == one


def test_one_discount_for_every_row_is_no_price(tmp_path: Path) -> None:
    rows = [
        ["Part no", "Price", "Discount"],
        *([f"K-{at}", f"{at}.00", "40"] for at in range(50, 90)),
    ]
    said = refused(csv_file(tmp_path / "l.csv", rows))
    assert "its percentages ('Discount')" in said
    assert "may be what the shop pays" not in said


def test_what_was_answered_of_a_price_is_remembered_and_a_new_column_asked_about(
    tmp_path: Path,
) -> None:
    first = csv_file(tmp_path / "l.csv", list_with("Price", "Members", 0.7))
    remembered, _ = by_sheet(remembered_by_sheet(list_of(first, "price=Price")[0].sheets))
    again, _ = list_of(first, remembered=remembered)
    assert fields(again)[Field.PRICE] == "Price"
    assert by_sheet(remembered_by_sheet(again.sheets))[0] == remembered
    other = csv_file(tmp_path / "m.csv", list_with("Price", "Nett", 0.5))
    assert "its figures ('Nett') may be what the shop pays" in refused(other, remembered=remembered)
    other = csv_file(tmp_path / "n.csv", list_with("Price", "New price", 1.1))
    assert "its figures ('New price') may be" in refused(other, remembered=remembered)
