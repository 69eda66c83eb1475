"""Units that no column was taken for, and M among units: asked about, and answered once."""

from pathlib import Path

import pytest

from kitting.sheets.price_lists.by_sheet import by_sheet, remembered_by_sheet
from kitting.sheets.price_lists.fields import Field
from tests.sheets.price_lists import csv_file, fields, list_of, problems, refused

UNFAMILIAR = "Basis|PU|Base unit|Unit type|EH|J.m.|MJ|Per unit|Zork|Price code|Priced|Terms"
FAMILIAR = "U/I|UOS|Sell UOM|Sell unit|Pricing unit"
LETTERS = ("C", "E", "M", "E")


def a_list(path: Path, heading: str, *units: str, price: str = "Price") -> Path:
    rows = [[f"K-{at}", "8.00", unit] for at, unit in enumerate(units)]
    return csv_file(path / "list.csv", [["Code", price, heading], *rows])


@pytest.mark.parametrize("heading", UNFAMILIAR.split("|"))
def test_units_are_asked_about_under_any_heading(tmp_path: Path, heading: str) -> None:
    path = a_list(tmp_path, heading, *LETTERS)
    assert refused(path) == (
        f"list.csv, column C: are the prices for what '{heading}' says (C, E, M)?; say --map "
        f'"unit={heading}" if they are, or --map unit=none if each is for one'
    )
    for told, packs in ((f"unit={heading}", [100, 1, 1000, 1]), ("unit=none", [1, 1, 1, 1])):
        reader, rows = list_of(path, told)
        assert [row.pack for row in rows] == packs
        remembered, _ = by_sheet(remembered_by_sheet(reader.sheets))
        assert [row.pack for row in list_of(path, remembered=remembered)[1]] == packs
    other = a_list(tmp_path, "Sort", *LETTERS)
    assert "what 'Sort' says" in refused(other, remembered=remembered)


@pytest.mark.parametrize("heading", FAMILIAR.split("|"))
def test_a_column_of_units_is_taken_by_its_usual_headings(tmp_path: Path, heading: str) -> None:
    reader, rows = list_of(a_list(tmp_path, heading, *LETTERS))
    assert fields(reader)[Field.UNIT] == heading
    assert [row.pack for row in rows] == [100, 1, 1000, 1]


@pytest.mark.parametrize(
    ("units", "shown"),
    [
        (("EA", "PK50", "pair", "box of 4", "dozen"), "(EA, PK50, pair, box of 4)"),
        (("EA", "PK", "EA"), "(EA, PK)"),
    ],
)
def test_packs_among_units_are_asked_about(
    tmp_path: Path, units: tuple[str, ...], shown: str
) -> None:
    path = a_list(tmp_path, "UoM (price)", *units)
    told = refused(path)
    assert f"what 'UoM (price)' says {shown}?" in told or "for so many as 'UoM (price)'" in told


@pytest.mark.parametrize("letter", ["C", "M"])
def test_c_or_m_alone_is_a_hundred_or_a_thousand_where_a_person_says_so(
    tmp_path: Path, letter: str
) -> None:
    path = a_list(tmp_path, "Basis", letter, "E", "PK50", "set", letter)
    told = refused(path)
    assert (
        '--map "per=Basis" if they are, ' + {"C": "C a hundred", "M": "M a thousand"}[letter]
        in told
    )
    assert ('--map "unit=Basis" if M is a metre' in told) == (letter == "M")
    many = {"C": 100, "M": 1000}[letter]
    reader, rows = list_of(path, "per=Basis")
    assert [row.pack for row in rows] == [many, 1, 50, 1, many]
    remembered, _ = by_sheet(remembered_by_sheet(reader.sheets))
    assert [row.pack for row in list_of(path, remembered=remembered)[1]] == [many, 1, 50, 1, many]


@pytest.mark.parametrize(
    ("heading", "units", "price"),
    [
        ("Basis", ("EA", "each", "set", "kg"), "Price"),
        ("Basis", ("C", "E", "M", "E"), "Price each"),
        ("Basis", ("C", "E", "M", "E"), "Price per 100"),
        ("Class", ("C", "E", "M", "E"), "Price"),
        ("Size", ("M", "L", "M", "L"), "Price"),
        ("Disc. group", ("C", "E", "M", "E"), "Price"),
        ("Zork", ("C", "C", "M", "C"), "Price"),
        ("Zork", ("", "", "", "", "pair"), "Price"),
        ("Packaging", ("box", "bag", "box"), "Price"),
        ("Zork", ("A", "B", "C", "E"), "Price"),
    ],
)
def test_what_is_no_unit_of_the_price_or_one_of_each_is_not_asked_about(
    tmp_path: Path, heading: str, units: tuple[str, ...], price: str
) -> None:
    list_of(a_list(tmp_path, heading, *units, price=price))


def test_m_beside_e_is_asked_about_and_the_answer_remembered(tmp_path: Path) -> None:
    path = a_list(tmp_path, "UOM", "M", "M", "E")
    assert refused(path) == (
        "list.csv, column C: is M in 'UOM' a thousand, or a metre?; "
        'say --map "per=UOM" if it is a thousand, --map "unit=UOM" if a metre'
    )
    for told, packs in (("per=UOM", [1000, 1000, 1]), ("unit=UOM", [1, 1, 1])):
        reader, rows = list_of(path, told)
        assert [row.pack for row in rows] == packs
        remembered, _ = by_sheet(remembered_by_sheet(reader.sheets))
        assert [row.pack for row in list_of(path, remembered=remembered)[1]] == packs
    before = {Field.NUMBER: "Code", Field.UNIT: "UOM", Field.PRICE: "Price"}
    assert "a thousand, or a metre?" in refused(path, remembered=before)


@pytest.mark.parametrize(
    ("words", "asked"),
    [
        ("Nut 1/4", True),
        ("Hose clip", True),
        ("Coolant hose 19 mm", False),
        ("Kühlschlauch", False),
    ],
)  # fmt: skip
@pytest.mark.parametrize("each", ["E", "EA"])
def test_what_is_sold_by_length_tells_that_m_is_a_metre(
    tmp_path: Path, words: str, each: str, *, asked: bool
) -> None:
    rows = [["Code", "Description", "Price", "UOM"], ["K-1", words, "4.00", "M"],
            ["K-2", "Stud", "2.20", each]]  # fmt: skip
    path = csv_file(tmp_path / "list.csv", rows)
    if asked:
        assert "a thousand, or a metre?" in refused(path)
    else:
        assert [row.pack for row in list_of(path)[1]] == [1, 1]


def test_an_m_far_down_the_list_is_asked_about_in_its_row(tmp_path: Path) -> None:
    studs = [[f"K-{at}", "Stud", "2.20", "E"] for at in range(200)]
    late = [["L-1", "Hose 19 mm", "4.00", "M"], ["L-2", "Nut 1/4", "81.30", "M"]]
    rows = [["Code", "Description", "Price", "UOM"], *studs, *late]
    path = csv_file(tmp_path / "list.csv", rows)
    (told,) = problems(path)
    assert told.startswith(
        "list.csv, row 203, column D (UOM): is M in 'UOM' a thousand, or a metre?"
    )
    assert problems(path, "unit=UOM") == []
    assert [row.pack for row in list_of(path, "per=UOM")[1]][-2:] == [1000, 1000]


def test_c_without_m_is_told_with_the_way_to_say_that_it_is_a_hundred(tmp_path: Path) -> None:
    path = a_list(tmp_path, "UOM", "C", "EA", "PK50")
    (told,) = problems(path)
    assert told.endswith("""or nothing; where C is a hundred, say --map "per=UOM\"""")
    assert [row.pack for row in list_of(path, "per=UOM")[1]] == [100, 1, 50]
