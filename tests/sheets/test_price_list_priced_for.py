"""A count in a price's heading: read where it plainly says for how many, asked about elsewhere."""

from dataclasses import replace
from pathlib import Path

import pytest

from kitting.sheets.price_lists.by_sheet import by_sheet, remembered_by_sheet
from kitting.sheets.price_lists.doubtful_size import count_in_doubt
from kitting.sheets.price_lists.priced_for import per_alone
from tests.sheets.price_lists import TERMS, csv_file, list_of, refused

TENS = (
    "Trade (pack of 10)|Price per pack of 10|Box of 10 price|Price box of 10, ex VAT|Price for 10"
)
HUNDREDS = (
    "Prezzo per 100 pz|Precio/100 ud.|Precio por 100 uds|Cena za 100 szt.|Pris pr. 100 stk"
    "|Preis p. 100|Prix les 100|Prix le cent|Prix au cent|EK % Stk|Preis je Hundert|Price x 100"
    "|Prezzo x 100|Prix pour 100|Preis für 100 Stück|Preis f. 100 St.|Price for a hundred"
)
ONES = "Price each (pack of 10)|Pris pr. stk"
ASKED = (
    "Price (100)|Net/C|PRICE PER C|Precio 100 uds|Price 100|Preis (VPE 100)|Price per 100 m"
    "|Net 100er|Price @ 100|Preis %|Price hundred|Price, 100 off|Net packs of 100|100 Price"
)
NO_COUNTS = (
    "Price|Price 2026|Preis 2026/27|Price 25/26|Price '26|Net 26|Price 1|Preis 3|Price (2)"
    "|Price 1/12/26|Price 1st Oct|Preis ab 1. Dezember|Price from 1.10.2026|Price Dec 26"
    "|Price -20%|Less 20%|Trade less 10|Price excl. VAT 20%|Preis ohne 19 % MwSt.|Prix TTC 20"
    "|Net 30 days|Price (orders over 50)|Level 10 price|Price list 10|Price 12 V|Price week 48"
    "|Price 1.25|Price/m|Your price (A/C 100)|Price for 2027|Prix pour cent|Pr. 2|Price (£)"
)


def a_list(path: Path, heading: str, *more: str) -> Path:
    rows = [["Code", heading, *more[:1]], ["K-1", "8.13", *more[1:2]], ["K-2", "28.08", *more[2:]]]
    return csv_file(path / "list.csv", rows)


@pytest.mark.parametrize(
    ("heading", "many"),
    [
        *((heading, 10) for heading in TENS.split("|")),
        *((heading, 100) for heading in HUNDREDS.split("|")),
        *((heading, 1) for heading in ONES.split("|")),
    ],
)
def test_a_heading_that_plainly_says_for_how_many_is_read(
    tmp_path: Path, heading: str, many: int
) -> None:
    _, rows = list_of(a_list(tmp_path, heading))
    assert [(row.pack, row.price) for row in rows] == [(many, 81300), (many, 280800)]


@pytest.mark.parametrize("heading", [*TENS.split("|"), *HUNDREDS.split("|")])
def test_a_heading_that_says_no_more_for_how_many_is_asked_about(
    tmp_path: Path, heading: str
) -> None:
    reader, _ = list_of(a_list(tmp_path, heading))
    remembered, _ = by_sheet(remembered_by_sheet(reader.sheets))
    told = refused(a_list(tmp_path, "Price"), remembered=remembered)
    assert f"last time the price was headed '{heading}', now 'Price'; say --per 10" in told


@pytest.mark.parametrize("heading", ASKED.split("|"))
def test_a_count_that_may_be_of_something_else_is_asked_about(tmp_path: Path, heading: str) -> None:
    path = a_list(tmp_path, heading)
    price = f"price={heading}"
    assert refused(path, price) == (
        f"list.csv, column B: is a price below '{heading}' for 100?; say --per 100 if it is, or "
        "--map pack=none if each is for one"
    )
    _, rows = list_of(path, price, terms=replace(TERMS, per=100))
    assert [(row.pack, row.price) for row in rows] == [(100, 81300), (100, 280800)]
    for reader, rows in (
        list_of(path, price, "pack=none"),
        list_of(path, price, terms=replace(TERMS, per=1)),
    ):
        assert [(row.pack, row.price) for row in rows] == [(1, 81300), (1, 280800)]
        remembered, _ = by_sheet(remembered_by_sheet(reader.sheets))
        assert [row.pack for row in list_of(path, remembered=remembered)[1]] == [1, 1]
    other = a_list(tmp_path, "Price (250)")
    assert "for 250?" in refused(other, remembered=remembered)


@pytest.mark.parametrize("heading", NO_COUNTS.split("|"))
def test_years_days_shares_and_numbered_columns_are_no_counts(heading: str) -> None:
    assert (count_in_doubt(heading), per_alone(0, [heading])) == (0, 0)


def test_prices_for_one_and_for_ten_may_each_be_of_one_and_are_asked_about(tmp_path: Path) -> None:
    path = a_list(tmp_path, "Price for 1", "Price for 10", "7.50", "27.00")
    assert "any of them ('Price for 1', 'Price for 10') may be the price" in refused(path)
    assert [row.pack for row in list_of(path, "price=Price for 1")[1]] == [1, 1]
    assert "is a price below 'Price for 10' for 10?" in refused(path, "price=Price for 10")


def test_a_count_in_the_heading_and_a_column_of_packs_are_asked_about_once(tmp_path: Path) -> None:
    path = a_list(tmp_path, "Preis 100er", "VPE", "500", "200")
    assert refused(path) == (
        "list.csv, column B: is a price below 'Preis 100er' for 100?; say --per 100 if it is, "
        '--per 1 if each is for one, or --map "per=VPE" if it is for so many as column C (VPE) says'
    )
    _, rows = list_of(path, terms=replace(TERMS, per=100))
    assert [(row.pack, row.price) for row in rows] == [(500, 406500), (200, 561600)]
    for maps in (("per=VPE",), ("pack=VPE",)):
        reader, rows = list_of(path, *maps)
        assert [(row.pack, row.price) for row in rows] == [(500, 81300), (200, 280800)]
        remembered, _ = by_sheet(remembered_by_sheet(reader.sheets))
        assert [row.pack for row in list_of(path, remembered=remembered)[1]] == [500, 200]


def test_a_column_of_units_says_what_a_count_in_the_heading_does_not(tmp_path: Path) -> None:
    path = a_list(tmp_path, "Price (100)", "Unit", "100", "EA")
    assert [row.pack for row in list_of(path)[1]] == [100, 1]


@pytest.mark.parametrize("heading", ["Price (100)", "Net/C", "Price box 50"])
def test_a_count_is_asked_about_beside_units_that_are_one_each(
    tmp_path: Path, heading: str
) -> None:
    path = a_list(tmp_path, heading, "UOM", "EA", "EA")
    assert "is a price below" in refused(path)
    assert [row.pack for row in list_of(path, "pack=none")[1]] == [1, 1]


def test_units_that_say_the_same_answer_for_the_heading(tmp_path: Path) -> None:
    _, rows = list_of(a_list(tmp_path, "Price (100)", "UOM", "100", "100"))
    assert [row.pack for row in rows] == [100, 100]
