"""What stands above a price list: for how many its prices are, and from which day on."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from kitting.sheets.price_lists.by_sheet import by_sheet, remembered_by_sheet
from kitting.sheets.price_lists.fields import Field
from tests.sheets.price_lists import TERMS, csv_file, list_of, prices, refused

ROWS = [["Code", "Item", "Price"], ["K-1", "Stud", "1.25"], ["K-2", "Nut", "2.25"]]


@pytest.mark.parametrize(
    "title",
    ["Prices valid from 1/12/26", "Price list effective 01/12/2026", "Our prices from 15/11",
     "Prices effective 1/10/2026", "Trade prices 2026/27", "Preise gültig ab 01/12/2026",
     "Prix nets HT départ - valables au 01/12/2026", "Prices for 12/2026"],
)  # fmt: skip
def test_a_day_or_a_season_above_a_list_is_no_count_of_what_prices_are_for(
    tmp_path: Path, title: str
) -> None:
    reader, found = list_of(csv_file(tmp_path / "l.csv", [[title], [], *ROWS]))
    assert prices(found) == [("K-1", 12500), ("K-2", 22500)]
    assert reader.tally.lines == []


@pytest.mark.parametrize("title", ["All prices £/100", "Prices/100", "Prices per 100"])
def test_what_prices_are_for_above_a_list_is_still_heard(tmp_path: Path, title: str) -> None:
    assert "say --per 100" in refused(csv_file(tmp_path / "l.csv", [[title], [], *ROWS]))


def test_a_sentence_that_nobody_put_in_quotes_is_heard_whole(tmp_path: Path) -> None:
    rows = [["Code", "Conf.", "Price"], ["K-1", "10", "1.20"], ["K-2", "5", "2.20"]]
    title = ["I prezzi si intendono IVA esclusa", " per pezzo"]
    assert "say" in (said := refused(csv_file(tmp_path / "l.csv", [title, [], *rows])))
    assert "per pezzo" in said


@pytest.mark.parametrize(
    "title",
    ["gültig ab 01.12.2026", "Effective 1st December 2026", "Prix valables au 1/12/2026",
     "Prices valid from 2026-12-01"],
)  # fmt: skip
def test_the_day_from_which_a_list_says_that_it_holds_is_noted(tmp_path: Path, title: str) -> None:
    reader, _ = list_of(csv_file(tmp_path / "l.csv", [[title], [], *ROWS]))
    assert reader.tally.since is not None
    assert reader.tally.since[:2] == (title, date(2026, 12, 1))
    reader, _ = list_of(csv_file(tmp_path / "m.csv", [["Printed 1.12.2026"], [], *ROWS]))
    assert reader.tally.since is None


@pytest.mark.parametrize("now", ["Xyz", "Vpk.", ""])
def test_a_column_that_said_for_how_many_a_price_is_is_missed_on_the_next_edition(
    tmp_path: Path, now: str
) -> None:
    rows = [["Code", "Pack", "Price"], ["K-1", "10", "12.50"], ["K-2", "7", "22.50"]]
    reader, _ = list_of(csv_file(tmp_path / "l.csv", rows))
    remembered, _ = by_sheet(remembered_by_sheet(reader.sheets))
    path = csv_file(tmp_path / "m.csv", [["Code", now, "Price"], *rows[1:]])
    assert refused(path, remembered=remembered) == (
        "m.csv, column C: last time 'Pack' said for how many a price is, and it is not here; "
        'say which column does now, as --map "pack=…", or --per 1 for one'
    )
    told = f"pack={now or 'column B'}"
    assert [row.pack for row in list_of(path, told, remembered=remembered)[1]] == [10, 7]
    one = list_of(path, terms=replace(TERMS, per=1), remembered=remembered)[1]
    assert [row.pack for row in one] == [1, 1]
    known = csv_file(tmp_path / "n.csv", [["Code", "Box qty", "Price"], *rows[1:]])
    assert [row.pack for row in list_of(known, remembered=remembered)[1]] == [10, 7]


def test_a_price_that_was_headed_per_hundred_and_is_not_now_is_asked_about(tmp_path: Path) -> None:
    rows = [["Code", "Price"], ["K-1", "12.50"], ["K-2", "22.50"]]
    path = csv_file(tmp_path / "m.csv", rows)
    remembered = {Field.NUMBER: "Code", Field.PRICE: "Price per 100"}
    assert refused(path, remembered=remembered) == (
        "m.csv, column B: last time the price was headed 'Price per 100', now 'Price'; say "
        "--per 100, or --per 1 where each price is for one"
    )
