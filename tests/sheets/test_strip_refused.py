"""What a strip sheet is refused for, cell by cell, each with what would be right."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from openpyxl import Workbook

from kitting.errors import BadInput
from kitting.sheets.strip.keys import Column
from kitting.sheets.strip.sheet_in import read_strip_sheet
from tests.sheets.bench import (
    JOB,
    WREN,
    blank_sheet,
    cell_of,
    filled_sheet,
    handled,
    read,
    refusal,
    row_of,
)

PIN = "read|crankpin-diameter|front|0|90"


def with_cell(
    folder: Path, sheet: str, key: str, column: Column, value: object
) -> tuple[Path, str]:
    """A sheet with one value as another program would store it, and where it stands."""
    places = []

    def put(book: Workbook) -> None:
        place = cell_of(book[sheet], key, column)
        book[sheet][place].value = value
        places.append(f'filled.xlsx, sheet "{sheet}", cell {place}')

    return handled(filled_sheet(folder), put), places[0]


@pytest.mark.parametrize(
    ("typed", "wrong", "right"),
    [
        ("ok", "'ok' is not a figure", "words go in the notes"),
        ("1.68.72", "'1.68.72' is not a figure", "only one decimal point"),
        ("1,4872", "'1,4872' is not a figure", "use a point for the decimals: 1.4872"),
        ("-", "'-' is not a figure", "leave the cell empty where nothing was measured"),
        ("1.49 psi", "'1.49 psi' is a pressure", "a length belongs here"),
        (14.93, "14.9300 in where about 1.49925 in belongs", "ten times off?"),
        (0.1493, "0.1493 in where about 1.49925 in belongs", "ten times off?"),
        (37.9, "37.9000 in where", "looks like millimetres in an inch cell"),
        (1493, "1493.0000 in where", "looks like thou in an inch cell"),
        (-1.493, "-1.4930 in where", "write the figure as read, above zero"),
        (True, "'TRUE' is no figure", "type what the instrument reads"),
        (date(2024, 1, 2), "the date 2024-01-02 stands where a figure belongs", "with its unit"),
        ("=1.4+0.09", "the cell holds the formula =1.4+0.09", "type the figure itself"),
        ("#DIV/0!", "the cell holds the error #DIV/0!", "type the figure itself"),
    ],
)
def test_what_is_no_reading_is_refused_at_its_cell(
    tmp_path: Path, typed: object, wrong: str, right: str
) -> None:
    path, place = with_cell(tmp_path, "Bottom end", PIN, Column.SECOND, typed)
    said = refusal(path)
    assert said.startswith(f"{place}: {wrong}")
    assert right in said


def test_inches_in_a_metric_cell_are_asked_about(tmp_path: Path) -> None:
    path = filled_sheet(tmp_path, ("idler", "idler-bore", "", "", "1.1815"))
    assert "looks like inches in a millimetre cell" in refusal(path)
    stated = filled_sheet(tmp_path, ("idler", "idler-bore", "", "", "1.1815 in"))
    assert read(stated).findings[0].readings[0].text == "1.1815 in"


def test_a_grade_that_the_list_has_not_offers_the_nearest(tmp_path: Path) -> None:
    said = refusal(filled_sheet(tmp_path, ("shells", "scoring", "nail catches")))
    assert "'nail catches' is no grade of scoring" in said
    assert "did you mean 'fingernail catches'?" in said
    assert "none, light, fingernail catches, deep" in said


def test_an_amount_without_a_grade_is_refused(tmp_path: Path) -> None:
    said = refusal(filled_sheet(tmp_path, ("shells", "scoring.amount", "2 thou")))
    assert "says how much, but not what was seen" in said


def test_an_amount_without_a_unit_is_refused_once(tmp_path: Path) -> None:
    path = filled_sheet(tmp_path, ("shells", "scoring", "deep"), ("shells", "scoring.amount", "2"))
    assert refusal(path).count("'2' has no unit") == 1


@pytest.mark.parametrize(
    "typed", ["?", "none", "-", "a number that nobody could ever stamp on 1 part"]
)
def test_a_part_number_that_is_none_is_refused(tmp_path: Path, typed: str) -> None:
    said = refusal(filled_sheet(tmp_path, ("shells", "fitted", typed)))
    assert "is no part number; write the number stamped on it, such as W100" in said


@pytest.mark.parametrize("stored", [date(2024, 12, 5), 0.5, True])
def test_a_part_number_that_the_spreadsheet_has_changed_is_refused(
    tmp_path: Path, stored: object
) -> None:
    path, place = with_cell(tmp_path, "Bottom end", "fitted|shells", Column.LIMITS, stored)
    said = refusal(path)
    assert said.startswith(place)
    assert "format the cell as text and type the number again" in said


def test_an_attribute_that_no_part_has_is_refused(tmp_path: Path) -> None:
    said = refusal(filled_sheet(tmp_path, ("barrel-nuts", "measured", "hight=0.31; 3/8 cycle")))
    assert "no part here is known by its 'hight'; did you mean height?" in said
    assert "'3/8 cycle' is no measured attribute" in said


def test_sound_and_damaged_at_once_is_refused(tmp_path: Path) -> None:
    path = filled_sheet(tmp_path, ("shells", "sound", "x"), ("shells", "scoring", "deep"))
    assert "ticked as sound, and yet scoring is 'deep'" in refusal(path)


def test_a_tick_that_is_none_is_refused(tmp_path: Path) -> None:
    assert "'not really' is no tick" in refusal(
        filled_sheet(tmp_path, ("shells", "sound", "not really"))
    )


def test_a_day_that_is_none_is_refused(tmp_path: Path) -> None:
    said = refusal(filled_sheet(tmp_path, ("cover", "when", "31 June 2024")))
    assert "sheet \"Cover\", cell C8: '31 June 2024' is no date" in said


def test_taken_apart_is_yes_or_no(tmp_path: Path) -> None:
    said = refusal(filled_sheet(tmp_path, ("bottom-end", "stripped", "half")))
    assert "'half' is neither yes nor no" in said


def test_all_problems_come_in_one_go(tmp_path: Path) -> None:
    path = filled_sheet(
        tmp_path,
        ("crank", "crankpin-diameter", "front", "0", "ok"),
        ("crank", "crankpin-diameter", "rear", "0", "1,4"),
        ("shells", "scoring", "bad"),
        ("oil-pump", "pump-float", "", "", "0.5"),
        ("cover", "engine", "ZZ 9"),
    )
    assert len(refusal(path).splitlines()) == 5


def test_a_figure_outside_every_box_is_refused(tmp_path: Path) -> None:
    def write_beside(book: Workbook) -> None:
        sheet = book["Bottom end"]
        sheet.cell(row_of(sheet, PIN), 7).value = 1.4929
        sheet.insert_rows(6)
        sheet["E6"].value = 1.4928

    said = refusal(handled(filled_sheet(tmp_path), write_beside))
    assert "'1.4929' stands in none of the sheet's boxes" in said
    assert "'1.4928' stands in none of the sheet's boxes" in said


def test_a_row_that_was_copied_and_filled_twice_is_refused(tmp_path: Path) -> None:
    def copy_row(book: Workbook) -> None:
        sheet = book["Bottom end"]
        row = row_of(sheet, PIN)
        for column in range(1, 9):
            sheet.cell(300, column).value = sheet.cell(row, column).value
        sheet.cell(300, 5).value = "1.4801"

    path = filled_sheet(tmp_path, ("crank", "crankpin-diameter", "front", "0", "1.4930"))
    said = refusal(handled(path, copy_row))
    assert 'sheet "Bottom end", row 300: this row stands in sheet "Bottom end", row' in said


def cut_column(book: Workbook) -> None:
    book["Bottom end"].delete_cols(6)


def cut_keys(book: Workbook) -> None:
    book["Bottom end"].delete_cols(1)


def cut_heading(book: Workbook) -> None:
    book["Bottom end"].delete_rows(1)


@pytest.mark.parametrize(
    ("cut", "said"),
    [
        (cut_column, "the column 'reading 2' is gone (it stood at F)"),
        (cut_keys, "its hidden column A is gone"),
        (cut_heading, "its hidden first row is gone"),
    ],
)
def test_a_cut_is_refused_and_named(
    tmp_path: Path, cut: Callable[[Workbook], None], said: str
) -> None:
    refused = refusal(handled(filled_sheet(tmp_path), cut))
    assert refused.startswith(f'filled.xlsx, sheet "Bottom end": {said}')


def test_a_sheet_of_another_family_is_refused_once(tmp_path: Path) -> None:
    path = blank_sheet(tmp_path, replace(WREN, key="heron-twin", name="Heron twin"), None)
    said = refusal(path)
    assert "it is of heron-twin; job J-104 is on Wren single" in said
    assert len(said.splitlines()) == 1


def test_a_sheet_of_an_older_edition_is_refused(tmp_path: Path) -> None:
    said = refusal(blank_sheet(tmp_path, replace(WREN, edition="2021-3"), None))
    assert "it is of edition 2021-3 of the catalogue; job J-104 is on edition 2024-1" in said
    assert "write a fresh sheet" in said


def test_a_sheet_of_another_variant_is_refused(tmp_path: Path) -> None:
    path = blank_sheet(tmp_path)
    other = replace(JOB, variant="mark-1")
    assert "it is of Wren Mark 2; job J-104 is on Wren Mark 1" in refusal(path, other)


def test_an_engine_number_outside_every_variant_is_refused(tmp_path: Path) -> None:
    said = refusal(filled_sheet(tmp_path, ("cover", "engine", "WS 5000")))
    assert "no Wren single has engine number 'WS 5000'" in said
    assert "Wren Mark 1 WS 100 to 499; Wren Mark 2 WS 500 to 999" in said


def test_another_engine_and_another_job_are_refused(tmp_path: Path) -> None:
    path = filled_sheet(tmp_path, ("cover", "engine", "ws-700"), ("cover", "job", "J-105"))
    said = refusal(path)
    assert "engine number 'ws-700' (Wren Mark 2) is not the job's" in said
    assert "the sheet is of job J-105, and this is job J-104" in said


def test_a_changed_key_is_refused(tmp_path: Path) -> None:
    def spoil(book: Workbook) -> None:
        sheet = book["Bottom end"]
        sheet.cell(row_of(sheet, PIN), 1).value = "read|main-journal|front|0|90"

    assert "the hidden key of this row is none of the sheet's" in refusal(
        handled(filled_sheet(tmp_path), spoil)
    )


def test_reading_never_changes_the_file(tmp_path: Path) -> None:
    path = filled_sheet(tmp_path, ("crank", "crankpin-diameter", "front", "0", "ok"))
    before = path.read_bytes()
    with pytest.raises(BadInput):
        read_strip_sheet(path, WREN, JOB)
    assert path.read_bytes() == before
