"""A job on the Wren single and its strip sheet, written, filled and read through the real doors."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path

import openpyxl
import pytest
from openpyxl import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from kitting.catalog.family import Family
from kitting.errors import BadInput
from kitting.job.findings import Job
from kitting.job.strip import StripReport
from kitting.measure import UNITS
from kitting.sheets.strip.fill import Entry, fill_strip_sheet
from kitting.sheets.strip.keys import Column
from kitting.sheets.strip.sheet_in import read_strip_sheet
from kitting.sheets.strip.sheet_out import write_strip_sheet
from tests.builders import a_feature, a_position
from tests.wren import tiny_family


def wren() -> Family:
    """The Wren single with a metric feature, and one measured in more directions than columns."""
    family = tiny_family()
    return replace(
        family,
        positions=(
            *family.positions,
            replace(a_position("idler", "lubrication", "gear"), note="look at it in daylight"),
        ),
        features=(
            *family.features,
            a_feature("idler-bore", "idler", "bore", ("30.000", "30.025"), unit="mm"),
            a_feature(
                "idler-width",
                "idler",
                "width",
                ("12.0", "12.1"),
                unit="mm",
                directions=("0", "60", "120", "180"),
            ),
        ),
    )


WREN = wren()
JOB = Job("J-104", "wren-single", "2024-1", "mark-2", "WS 612", "Miss Pettifer", date(2024, 4, 29))
SIGNED = (("cover", "who", "Ann Marsh"), ("cover", "when", "2024-05-01"))
INCH = UNITS["in"]


def entry(words: tuple[str, ...]) -> Entry:
    """An entry from (position, what, text) or (position, what, station, direction, text)."""
    if len(words) == 3:
        return Entry(words[0], words[1], "", "", words[2])
    return Entry(*words)


def blank_sheet(folder: Path, family: Family = WREN, job: Job | None = JOB) -> Path:
    """A fresh sheet for the job."""
    path = folder / "blank.xlsx"
    write_strip_sheet(family, "mark-2", path, job, overwrite=True)
    return path


def filled_sheet(folder: Path, *words: tuple[str, ...]) -> Path:
    """A signed sheet with these entries."""
    blank = blank_sheet(folder)
    out = folder / "filled.xlsx"
    fill_strip_sheet(blank, [entry(each) for each in (*SIGNED, *words)], out)
    return out


def handled(path: Path, do: Callable[[Workbook], object]) -> Path:
    """The workbook after somebody has done something to it."""
    book = openpyxl.load_workbook(path)
    do(book)
    book.save(path)
    return path


def row_of(sheet: Worksheet, key: str) -> int:
    """The row with that hidden key."""
    return next(row for row in range(1, sheet.max_row + 1) if str(sheet.cell(row, 1).value) == key)


def cell_of(sheet: Worksheet, key: str, column: Column) -> str:
    """The coordinate of a box."""
    at = next(cell.column_letter for cell in sheet[1] if cell.value == column)
    return f"{at}{row_of(sheet, key)}"


def read(path: Path, job: Job = JOB) -> StripReport:
    """What the sheet says of the job."""
    return read_strip_sheet(path, WREN, job)


def refusal(path: Path, job: Job = JOB) -> str:
    """The sentences with which the sheet is refused."""
    with pytest.raises(BadInput) as caught:
        read(path, job)
    return str(caught.value)
