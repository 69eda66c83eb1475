"""A strip sheet written, filled in and read back, and what may happen to it in between."""

import re
from datetime import date
from decimal import Decimal
from pathlib import Path

import openpyxl
import pytest
from openpyxl import Workbook

from kitting.job.findings import Fitted, Seen
from kitting.measure import UNITS, Quantity
from kitting.sheets.strip.keys import Column, RowKey, SheetKey
from tests.builders import q
from tests.libreoffice import convert
from tests.sheets.bench import blank_sheet, cell_of, filled_sheet, handled, read, row_of

BENCH = (
    ("crank", "crankpin-diameter", "front", "0", "1.4930"),
    ("crank", "crankpin-diameter", "front", "90", '1.4927"'),
    ("crank", "crankpin-diameter", "rear", "0", "37.919 mm"),
    ("crank", "crankpin-diameter", "rear", "90", "1493.1 thou"),
    ("crank", "note", "-0.001 by the oil hole, and bruised"),
    ("shells", "scoring", "Deep"),
    ("shells", "scoring.amount", "2 thou"),
    ("shells", "fitted", "w 110"),
    ("barrel-nuts", "measured", "height=0.31; thread=3/8 x 26 cycle"),
    ("sump-filter", "sound", "✓"),
    ("sump-filter", "who", "Bob Tull"),
    ("sump-filter", "when", "3 May 2024"),
    ("oil-pump", "pump-float", "", "", "4 thou"),
    ("oil-pump", "pump-float.instrument", "dial gauge"),
    ("idler", "idler-width", "", "180", "12.05"),
    ("bottom-end", "stripped", "yes"),
    ("lubrication", "stripped", "no"),
    ("cover", "notes", "seized when it came in"),
)


def test_what_was_typed_comes_back_as_findings(tmp_path: Path) -> None:
    report = read(filled_sheet(tmp_path, *BENCH))
    found = {finding.position: finding for finding in report.findings}
    crank = found["crank"]
    assert [reading.value for reading in crank.readings] == [
        q("1.4930 in"), q("1.4927 in"), q("37.919 mm"), q("1.4931 in"),
    ]  # fmt: skip
    assert [reading.text for reading in crank.readings][1] == '1.4927"'
    assert {reading.instrument for reading in crank.readings} == {"micrometer"}
    assert crank.note == "-0.001 by the oil hole, and bruised"
    assert (crank.who, crank.when) == ("Ann Marsh", date(2024, 5, 1))
    assert re.fullmatch(r'filled.xlsx, sheet "Bottom end", rows \d+ to \d+', crank.place)
    assert found["shells"].seen == (Seen("scoring", "deep", q("0.002 in")),)
    assert found["shells"].fitted == Fitted("W110")
    assert found["barrel-nuts"].fitted == Fitted(
        attributes={"height": "0.31 in", "thread": "3/8 x 26 cycle"}
    )
    assert found["sump-filter"].sound
    assert (found["sump-filter"].who, found["sump-filter"].when) == ("Bob Tull", date(2024, 5, 3))
    assert found["oil-pump"].readings[0].instrument == "dial gauge"
    assert found["idler"].readings[0].direction == "180"
    assert report.stripped == ("top-end", "bottom-end")
    assert report.notes == "seized when it came in"
    assert [w for w in report.warnings if "taken as apart" not in w] == []


def test_a_blank_sheet_says_nothing(tmp_path: Path) -> None:
    report = read(blank_sheet(tmp_path))
    assert (report.findings, report.stripped, report.warnings) == ((), (), ())


def test_a_number_that_the_program_stored_as_binary_is_the_decimal_that_was_typed(
    tmp_path: Path,
) -> None:
    key = "read|crankpin-diameter|front|0|90"

    def type_numbers(book: Workbook) -> None:
        sheet = book["Bottom end"]
        sheet[cell_of(sheet, key, Column.FIRST)].value = 1.4930
        sheet[cell_of(sheet, key, Column.SECOND)].value = 1.1 + 0.39

    report = read(handled(filled_sheet(tmp_path), type_numbers))
    assert [reading.value.value for reading in report.findings[0].readings] == [
        Decimal("1.493"),
        Decimal("1.49"),
    ]


def test_renamed_sheets_and_inserted_and_moved_rows_change_nothing(tmp_path: Path) -> None:
    path = filled_sheet(tmp_path, *BENCH)
    before = read(path)

    def rearrange(book: Workbook) -> None:
        book["Bottom end"].title = "crank, done by Ann"
        book["Lubrication"].insert_rows(6, 3)
        book["Top end"].move_range("A4:H9", rows=400)
        book.move_sheet("Top end", 2)

    after = read(handled(path, rearrange))
    assert [(f.position, f.readings, f.seen, f.fitted, f.note) for f in after.findings] == [
        (f.position, f.readings, f.seen, f.fitted, f.note) for f in before.findings
    ]
    assert after.stripped == before.stripped


def test_an_inserted_column_changes_nothing(tmp_path: Path) -> None:
    path = filled_sheet(tmp_path, *BENCH)
    before = read(path)
    after = read(handled(path, lambda book: book["Bottom end"].insert_cols(5)))
    assert [f.readings for f in after.findings] == [f.readings for f in before.findings]


def test_another_spreadsheet_program_may_save_it(tmp_path: Path) -> None:
    path = filled_sheet(tmp_path, *BENCH)
    saved = convert(path, "xlsx", tmp_path / "saved")
    assert read(saved).findings == read(path).findings
    assert read(saved).warnings == read(path).warnings


def test_text_that_looks_like_a_formula_stays_text(tmp_path: Path) -> None:
    notes = ("=2+2 as he said", "+ a shim", "-see over", "@the bench")
    places = ("crank", "rod", "shells", "barrel")
    path = filled_sheet(
        tmp_path, *((where, "note", note) for where, note in zip(places, notes, strict=True))
    )
    found = {finding.position: finding.note for finding in read(path).findings}
    assert found == dict(zip(places, notes, strict=True))


def test_a_long_note_may_run_on_into_the_cells_beside_it(tmp_path: Path) -> None:
    def run_on(book: Workbook) -> None:
        sheet = book["Bottom end"]
        row = row_of(sheet, "note|rod")
        sheet.cell(row, 3).value = "bent"
        sheet.cell(row, 5).value = "and blue"

    assert read(handled(filled_sheet(tmp_path), run_on)).findings[0].note == "bent and blue"


def test_words_in_a_row_that_somebody_put_in_are_kept_and_warned_of(tmp_path: Path) -> None:
    def put_in(book: Workbook) -> None:
        book["Bottom end"].insert_rows(8)
        book["Bottom end"]["C8"].value = "ask the owner"

    report = read(handled(filled_sheet(tmp_path), put_in))
    assert report.notes == 'sheet "Bottom end", cell C8: ask the owner'
    assert "stands in none of the sheet's boxes" in report.warnings[0]


def test_words_beside_a_box_are_kept_and_warned_of(tmp_path: Path) -> None:
    def write_beside(book: Workbook) -> None:
        sheet = book["Lubrication"]
        sheet.cell(row_of(sheet, "seen|sump-filter|flecks"), 11).value = "magnetic"
        book["Cover"]["D5"].value = "second job this year"

    report = read(handled(filled_sheet(tmp_path), write_beside))
    assert "magnetic" in report.notes
    assert "second job this year" in report.notes
    assert len(report.warnings) == 2


def test_a_missing_sheet_and_missing_rows_are_warned_of(tmp_path: Path) -> None:
    def cut(book: Workbook) -> None:
        del book["Top end"]
        book["Lubrication"].delete_rows(row_of(book["Lubrication"], "note|oil-pump"))

    report = read(handled(filled_sheet(tmp_path), cut))
    assert report.warnings == (
        "the sheet of Top end is not in the workbook",
        "Lubrication: 1 rows of the sheet are gone",
    )


def test_a_number_that_the_catalogue_has_not_is_kept_and_near_ones_are_offered(
    tmp_path: Path,
) -> None:
    report = read(filled_sheet(tmp_path, ("shells", "fitted", "W118")))
    assert report.findings[0].fitted == Fitted("W118")
    assert "has no part number 'W118'; near it: " in report.warnings[0]
    assert "W110" in report.warnings[0]


def test_a_sheet_without_name_or_day_is_warned_of(tmp_path: Path) -> None:
    path = filled_sheet(
        tmp_path, ("rod", "sound", "x"), ("cover", "who", ""), ("cover", "when", "")
    )
    warnings = "\n".join(read(path).warnings)
    assert "no name stands with 1 findings" in warnings
    assert "no day stands with 1 findings" in warnings


def test_a_confirmed_figure_is_taken_however_odd(tmp_path: Path) -> None:
    path = filled_sheet(tmp_path, ("barrel-nuts", "nut-height", "", "", "0.62 !"))
    assert read(path).findings[0].readings[0].value == Quantity.of("0.62", UNITS["in"])


@pytest.mark.parametrize("sheet", ["Cover", "Top end", "Lubrication", "Bottom end"])
def test_every_row_and_sheet_has_its_hidden_key(tmp_path: Path, sheet: str) -> None:
    found = openpyxl.load_workbook(blank_sheet(tmp_path))[sheet]
    assert SheetKey.read(found["A1"].value) is not None
    assert found.row_dimensions[1].hidden
    assert found.column_dimensions["A"].hidden
    for row in range(2, found.max_row + 1):
        shown = [found.cell(row, at).value for at in range(2, 9)]
        assert RowKey.read(found.cell(row, 1).value) is not None or not any(shown)
