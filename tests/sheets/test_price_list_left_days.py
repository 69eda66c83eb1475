"""A column headed as the days of prices whose texts are no days: asked about, and answered once."""

from pathlib import Path

import pytest

from kitting.sheets.price_lists.by_sheet import by_sheet, remembered_by_sheet
from kitting.sheets.price_lists.fields import Field
from tests.sheets.price_lists import csv_file, list_of, problems, refused


def of_days(path: Path, heading: str, *days: str) -> Path:
    rows = [[f"K-{at}", "Nut", f"1.{at}5", day] for at, day in enumerate(days)]
    return csv_file(path, [["Part no", "Description", "Trade", heading], *rows])


@pytest.mark.parametrize(
    ("heading", "field", "meaning", "days"),
    [
        ("Valid from", "valid_from", "first day of the price", ("Jan-27", "Feb-27", "Jan-27")),
        ("Valid until", "valid_until", "last day of the price", ("Dec-26", "Dec-26", "Jan-27")),
        ("Valido dal", "valid_from", "first day of the price", ("gen 2027", "", "gen 2027")),
        ("Gültig ab", "valid_from", "first day of the price", ("ab KW 2/2027", "sofort", "KW 3")),
        ("Valid from", "valid_from", "first day of the price", ("46023", "46023", "46054")),
        ("Gyldig fra", "valid_from", "first day of the price", ("uke 2/2027", "uke 3/2027")),
    ],
)
def test_days_that_cannot_be_read_are_asked_about(
    tmp_path: Path, heading: str, field: str, meaning: str, days: tuple[str, ...]
) -> None:
    path = of_days(tmp_path / "l.csv", heading, *days)
    first = next(day for day in days if any(mark.isdigit() for mark in day))
    assert refused(path) == (
        f"l.csv, column D: '{heading}' is headed as the {meaning}, yet '{first}' is no day; write "
        f"its days as 2027-01-01, or say --map {field}=none if they are none"
    )
    reader, rows = list_of(path, f"{field}=none")
    assert [row.why for row in rows] == [""] * len(days)
    remembered = by_sheet(remembered_by_sheet(reader.sheets))[0]
    assert remembered[Field(field)] == f"none: {heading}"
    again, _ = list_of(path, remembered=remembered)
    assert again.tally.problems == []
    assert len(problems(path, f"{field}={heading}")) == sum(map(bool, days))


@pytest.mark.parametrize(
    ("heading", "days"),
    [("Valid from", ("", "", "")), ("From", ("1948", "1952", "1950")), ("To", ("1954", "1960")),
     ("Effective", ("now", "now", "soon")), ("Prices", ("", ""))],
)  # fmt: skip
def test_what_promises_no_day_is_not_asked_about(
    tmp_path: Path, heading: str, days: tuple[str, ...]
) -> None:
    _, rows = list_of(of_days(tmp_path / "l.csv", heading, *days))
    assert len(rows) == len(days)


@pytest.mark.parametrize(
    ("heading", "day", "read"),
    [("Gyldig fra", "1. januar 2027", "2027-01-01"),
     ("Valido dal", "1° gennaio 2027", "2027-01-01"),
     ("Giltig från", "1 mars 2027", "2027-03-01"), ("Effective from", "1-Jan-27", "2027-01-01")],
)  # fmt: skip
def test_first_days_in_words_are_read(tmp_path: Path, heading: str, day: str, read: str) -> None:
    _, rows = list_of(of_days(tmp_path / "l.csv", heading, day, day))
    assert {row.valid_from for row in rows} == {read}
