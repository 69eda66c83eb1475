"""Looking into a workbook as its reader would, and as a snoop would."""

import zipfile
from pathlib import Path

import openpyxl
from openpyxl.worksheet.worksheet import Worksheet


def the_sheet(file: Path, name: str = "") -> Worksheet:
    """A sheet of the file, the first when no name is given."""
    book = openpyxl.load_workbook(file)
    sheet = book[name] if name else book.worksheets[0]
    assert isinstance(sheet, Worksheet)
    return sheet


def rows_of(sheet: Worksheet) -> list[list[str]]:
    """The rows as text, without their empty cells; rows that are all empty left out."""
    rows = (
        [str(cell.value) for cell in row if cell.value is not None] for row in sheet.iter_rows()
    )
    return [row for row in rows if row]


def text_of(file: Path) -> str:
    """All that stands in the cells of every sheet, a row a line."""
    book = openpyxl.load_workbook(file)
    return "\n".join("  ".join(row) for name in book.sheetnames for row in rows_of(book[name]))


def everything_in(file: Path) -> str:
    """Every byte of every part of the file, properties and hidden corners too, as text."""
    with zipfile.ZipFile(file) as packed:
        parts = [(name, packed.read(name).decode("utf-8", "replace")) for name in packed.namelist()]
    return "\n".join(f"{name}\n{content}" for name, content in parts)
