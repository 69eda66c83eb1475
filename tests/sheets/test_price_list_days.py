"""Days of figures alone: a day that leaves no choice tells the order, and a doubt is told."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from kitting.sheets.price_lists.dates import Order, days_in
from tests.sheets.price_lists import TERMS, csv_file, list_of, refused, workbook

HEAD = ["Code", "Effective", "Net"]


def of_days(path: Path, *days: str) -> Path:
    return csv_file(path, [HEAD, *([f"K-{at}", day, "1.25"] for at, day in enumerate(days))])


@pytest.mark.parametrize(
    ("days", "read"),
    [
        (("04/01/2026", "12/15/2026", "1/4/2027"), ("2026-04-01", "2026-12-15", "2027-01-04")),
        (("12/15/2026", "12/31/26"), ("2026-12-15", "2026-12-31")),
        (("04-01-2026", "12-15-2026"), ("2026-04-01", "2026-12-15")),
        (("04/01/2026", "15/12/2026", "1/4/2027"), ("2026-01-04", "2026-12-15", "2027-04-01")),
        (("2026-04-01", "1 Sep 2026", "01.04.2027"), ("2026-04-01", "2026-09-01", "2027-04-01")),
        (
            ("Dec 15, 2026", "1 déc. 2026", "September 3rd 2026"),
            ("2026-12-15", "2026-12-01", "2026-09-03"),
        ),
        (("15 de diciembre de 2026", "3. März 26"), ("2026-12-15", "2026-03-03")),
        (("1/1/2026", "2/2/2026"), ("2026-01-01", "2026-02-02")),
    ],
)
def test_a_day_that_can_be_read_one_way_tells_how_the_others_are_read(
    tmp_path: Path, days: tuple[str, ...], read: tuple[str, ...]
) -> None:
    reader, rows = list_of(of_days(tmp_path / "a.csv", *days))
    assert tuple(row.valid_from for row in rows) == read
    assert not any("--days" in note for note in reader.notes)
    assert reader.tally.problems == []


def test_that_the_month_stands_first_is_told_by_the_cell_that_shows_it(tmp_path: Path) -> None:
    reader, _ = list_of(of_days(tmp_path / "a.csv", "04/01/2026", "12/15/2026"))
    assert reader.notes == [
        "a.csv, row 3, column B (Effective): '12/15/2026' has its month first; all days are read so"
    ]


def test_days_that_nothing_decides_have_the_day_first_and_that_is_told_once(
    tmp_path: Path,
) -> None:
    path = of_days(tmp_path / "a.csv", "04/01/2026", "05/01/2026", "12/01/2026")
    reader, rows = list_of(path)
    assert [row.valid_from for row in rows] == ["2026-01-04", "2026-01-05", "2026-01-12"]
    assert reader.notes == [
        "a.csv, row 2, column B (Effective): '04/01/2026' is read as 2026-01-04, its day first as "
        "in all of this list; where the month stands first, say --days month-first"
    ]
    for order, first in ((Order.MONTH_FIRST, "2026-04-01"), (Order.DAY_FIRST, "2026-01-04")):
        reader, rows = list_of(path, terms=replace(TERMS, days=order))
        assert (rows[0].valid_from, reader.notes) == (first, [])


def test_days_of_both_orders_are_refused_with_their_rows(tmp_path: Path) -> None:
    path = of_days(tmp_path / "a.csv", "04/01/2026", "12/15/2026", "15/12/2026")
    right = "make them agree, or say --days day-first or --days month-first"
    assert refused(path).splitlines() == [
        f"a.csv, row 3, column B (Effective): '12/15/2026' can only have its month first; {right}",
        f"a.csv, row 4, column B (Effective): '15/12/2026' can only have its day first; {right}",
    ]
    reader, rows = list_of(path, terms=replace(TERMS, days=Order.MONTH_FIRST))
    assert [row.valid_from for row in rows][:2] == ["2026-04-01", "2026-12-15"]
    assert [str(each) for each in reader.tally.problems] == [
        "a.csv, row 4, column B (Effective): '15/12/2026' is no day; write it as 2026-09-01 or "
        "1 Sep 2026"
    ]


def test_a_day_far_down_that_shows_the_order_too_late_is_refused_with_the_first(
    tmp_path: Path,
) -> None:
    path = of_days(tmp_path / "a.csv", *["04/01/2026"] * 1100, "12/15/2026")
    said = refused(path).splitlines()
    assert "row 1102, column B (Effective): '12/15/2026' can only have its month first" in said[0]
    assert "row 2, column B (Effective): '04/01/2026' was taken with its day first" in said[1]
    early = of_days(tmp_path / "b.csv", *["2026-01-04"] * 1100, "12/15/2026", "04/01/2026")
    assert [row.valid_from for row in list_of(early)[1]][-2:] == ["2026-12-15", "2026-04-01"]


def test_first_and_last_days_and_all_sheets_are_of_one_order(tmp_path: Path) -> None:
    head: list[object] = ["Code", "Valid from", "Valid to", "Net"]
    path = workbook(
        tmp_path / "a.xlsx",
        One=[head, ["K-1", "09/01/2026", "12/31/2026", 1.25], ["K-2", "", "", 1.5]],
        Two=[head, ["K-3", "10/01/2026", "11/02/2026", 1.25], ["K-4", "", "", 1.5]],
    )
    _, rows = list_of(path)
    assert [(row.valid_from, row.valid_until) for row in rows[::2]] == [
        ("2026-09-01", "2026-12-31"), ("2026-10-01", "2026-11-02")
    ]  # fmt: skip


@pytest.mark.parametrize(
    "line",
    ["Prices valid until 31/12/2026", "Preisliste gültig bis 31.12.2026", "Valid to 2026-12-31",
     "Tarif valable jusqu’au 31/12/2026", "Listino valido fino al 31/12/2026",
     "Prijzen geldig tot 31-12-2026", "Precios válidos hasta 31/12/2026", "Prices until 31/12/26",
     "Prices held until 31st December 2026", "Preise bis 31.12.2026", "List expires 31/12/2026",
     "Prices valid till 12/31/2026", "Prices good through December 31, 2026",
     "Precios válidos hasta 31 de diciembre de 2026", "Prices valid until 31-Dec-2026",
     "Prices valid till 31DEC26", "Preços válidos até 31 de dezembro de 2026",
     "Prislista giltig t.o.m. 31 dec 2026", "Tarif valable du 1er janvier au 31 décembre 2026",
     "Listino valido dal 1° gennaio al 31 dicembre 2026",
     "Precios válidos del 1 de enero al 31 de diciembre de 2026",
     "Preise gültig vom 1. Januar bis 31. Dezember 2026"],
)  # fmt: skip
def test_a_last_day_above_a_list_is_no_first_day(tmp_path: Path, line: str) -> None:
    first, last = days_in(line)
    assert first is None
    assert last is not None
    assert last.day == date(2026, 12, 31)
    rows = [[line], [], ["Code", "Item", "Net"], ["K-1", "Stud", "1.25"], ["K-2", "Nut", "2.25"]]
    reader, _ = list_of(csv_file(tmp_path / "l.csv", rows))
    assert (reader.tally.since, reader.tally.until) == (None, last)


@pytest.mark.parametrize(
    "line",
    ["Prices valid from 1/9/2026 to 31/12/2026", "Preise gültig vom 01.09.2026 bis 31.12.2026",
     "Tarif valable du 01/09/2026 au 31/12/2026", "Valid 2026-09-01 - 2026-12-31",
     "Prezzi validi dal 1/9/2026 al 31/12/2026", "Effective 1/9/2026 until 31/12/2026",
     "Effective September 1st, 2026 through Dec. 31, 2026", "Valid from 1-Sep-26 to 31-Dec-26",
     "In vigore dal 1° settembre 2026 al 31/12/2026"],
)  # fmt: skip
def test_a_line_with_a_first_and_a_last_day_says_both(line: str) -> None:
    first, last = days_in(line)
    assert (first and first.day, last and last.day) == (date(2026, 9, 1), date(2026, 12, 31))


@pytest.mark.parametrize(
    "line",
    ["Prices valid until further notice from 1/9/2026", "Effective to all from 1/9/2026",
     "Effective 1-Sep-2026", "Gäller från 1 september 2026", "Prijzen per 1 september 2026",
     "Gyldig fra 1. september 2026", "Preise per 01.09.2026"],
)  # fmt: skip
def test_the_word_nearest_to_a_day_says_which_it_is(line: str) -> None:
    first, last = days_in(line)
    assert (first and first.day, last) == (date(2026, 9, 1), None)


@pytest.mark.parametrize(
    "line", ["Printed 1/12/2026", "Order by 31/12/2026", "Shop shut until 4/1/2027"]
)
def test_a_day_of_other_things_is_no_day_of_the_prices(line: str) -> None:
    assert days_in(line) == (None, None)
