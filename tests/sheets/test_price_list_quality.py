"""A column that says what each part is by origin: found, read in the trade's words, remembered."""

from pathlib import Path

import pytest

from kitting.catalog.trade import Quality
from kitting.sheets.price_lists.cells import quality_of
from kitting.sheets.price_lists.fields import Field
from tests.sheets.price_lists import csv_file, fields, list_of, problems


def a_list(path: Path, heading: str, *said: str) -> Path:
    rows = [[f"K-10{at}", "4.50", word] for at, word in enumerate(said)]
    return csv_file(path / "list.csv", [["Code", "Price", heading], *rows])


@pytest.mark.parametrize(
    "heading",
    ["Quality", "Condition", "Origin of part", "Genuine or pattern", "New/used", "Zustand", "État"],
)
def test_the_column_is_found_by_what_people_head_it(tmp_path: Path, heading: str) -> None:
    path = a_list(tmp_path, heading, "Genuine", "N.O.S.", "Pattern part", "Second hand", "New", "")
    reader, rows = list_of(path)
    assert fields(reader)[Field.QUALITY] == heading
    assert [row.quality for row in rows] == [
        "maker's own", "new old stock", "pattern", "used", "", "",
    ]  # fmt: skip
    assert [row.why for row in rows] == [""] * 6


@pytest.mark.parametrize("quality", [each for each in Quality if each])
def test_our_own_words_are_understood_in_any_case(quality: Quality) -> None:
    assert quality_of(quality) is quality_of(f" {quality.upper()} ") is quality


def test_a_column_of_countries_is_no_quality(tmp_path: Path) -> None:
    reader, rows = list_of(a_list(tmp_path, "Origin", "Norway", "Spain", "Peru"))
    assert Field.QUALITY not in fields(reader)
    assert {row.quality for row in rows} == {""}


def test_a_word_that_nobody_knows_is_a_problem_at_its_cell(tmp_path: Path) -> None:
    path = a_list(tmp_path, "Quality", "pattern", "as good as new", "used")
    assert problems(path) == [
        "list.csv, row 3, column C (Quality): 'as good as new' is no quality; one of maker's own, "
        "new old stock, pattern, used, or leave it empty"
    ]


def test_the_column_may_be_given_and_is_taken_as_last_time(tmp_path: Path) -> None:
    path = a_list(tmp_path, "Sort", "copy", "copy")
    _, rows = list_of(path, "quality=Sort")
    assert {row.quality for row in rows} == {"pattern"}
    reader, rows = list_of(path, remembered={Field.QUALITY: "Sort"})
    assert {row.quality for row in rows} == {"pattern"}
    assert reader.columns is not None
    column = reader.columns.column(Field.QUALITY)
    assert column is not None
    assert column.how == "as last time"
