"""Filling a blank strip sheet from a list, as a person would type into it: for the demo and tests.

The list is comma-separated text with the columns `position, what, station, direction, text`. What
each row means:

- `position` a position's key, `what` one of its features, with station and direction as its plan
  has them: a reading. `what` with `.instrument` behind it: the instrument.
- `what` an observation: its grade; with `.amount` behind it: how much.
- `what` one of `fitted`, `measured`, `sound`, `note`, `who`, `when`.
- `position` an assembly's key: `stripped`, `who`, `when`.
- `position` the word `cover`: `job`, `engine`, `who`, `when`, `notes`.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from typing import TYPE_CHECKING

from openpyxl.cell.cell import Cell

from kitting.catalog.nearest import nearest
from kitting.errors import BadInput, Problem, Problems
from kitting.sheets.files import open_workbook, save_workbook
from kitting.sheets.strip.keys import Role, RowKey, RowKind, SheetKey

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from pathlib import Path

    from openpyxl import Workbook
    from openpyxl.worksheet.worksheet import Worksheet

_COLUMNS = ("position", "what", "station", "direction", "text")
COVER = "cover"


@dataclass(frozen=True, slots=True)
class Entry:
    """One thing to type: where it belongs, and the text."""

    position: str
    what: str
    station: str
    direction: str
    text: str

    @property
    def target(self) -> tuple[str, str, str, str]:
        """Where it belongs."""
        return self.position, self.what, self.station, self.direction

    def __str__(self) -> str:
        return " ".join(filter(None, self.target))


def fill_strip_sheet(blank: Path, entries: Iterable[Entry], out: Path) -> None:
    """Write `entries` into the boxes of the sheet `blank` and save it as `out`.

    Raises:
        BadInput: an entry that has no box on the sheet, or a file that cannot be read or written.
    """
    book = open_workbook(blank)
    boxes = dict(_boxes(book))
    problems = Problems()
    for entry in entries:
        cell = boxes.get(entry.target)
        if cell is None:
            near = nearest(str(entry), (" ".join(filter(None, box)) for box in boxes), 3)
            advice = f"did you mean {', '.join(near)}?" if near else ""
            problems.add(blank.name, f"the sheet has no box for '{entry}'", advice)
        else:
            cell.value = entry.text
            cell.data_type = "s"
    problems.raise_if_any()
    save_workbook(book, out, replace=True)


def read_entries(path: Path) -> tuple[Entry, ...]:
    """Return the entries of a comma-separated file; lines that begin with # are for the reader.

    Raises:
        BadInput: no such file, or lines that are no entry.
    """
    try:
        lines = path.read_text(encoding="utf-8").splitlines()
    except (OSError, UnicodeDecodeError) as error:
        raise BadInput(Problem(path.name, "cannot be read as text", str(error))) from None
    numbered = [
        (at, line)
        for at, line in enumerate(lines, start=1)
        if line.strip() and not line.startswith("#")
    ]
    rows = list(csv.reader(line for _, line in numbered))
    if not rows or tuple(rows[0]) != _COLUMNS:
        raise BadInput(Problem(path.name, "no heading row", f"begin with {','.join(_COLUMNS)}"))
    problems = Problems()
    entries = []
    for (at, _), row in zip(numbered[1:], rows[1:], strict=True):
        if len(row) == len(_COLUMNS):
            entries.append(Entry(*(cell.strip() for cell in row)))
        else:
            problems.add(
                f"{path.name}, line {at}",
                f"{len(row)} cells where {len(_COLUMNS)} belong",
                "put quotes round a text that has a comma in it",
            )
    problems.raise_if_any()
    return tuple(entries)


def _boxes(book: Workbook) -> Iterator[tuple[tuple[str, str, str, str], Cell]]:
    """Every box of the workbook by what an entry calls it."""
    position = ""
    for sheet in book.worksheets:
        key = SheetKey.read(sheet["A1"].value)
        if key is None or key.role not in {Role.COVER, Role.ASSEMBLY}:
            continue
        columns = {str(cell.value): at for at, cell in enumerate(sheet[1], start=1)}
        for row in range(2, sheet.max_row + 1):
            found = RowKey.read(sheet.cell(row, 1).value)
            if found is not None:
                position = found.name if found.kind is RowKind.POSITION else position
                yield from _boxes_of(sheet, row, found, position, columns)


def _boxes_of(
    sheet: Worksheet, row: int, key: RowKey, position: str, columns: dict[str, int]
) -> Iterator[tuple[tuple[str, str, str, str], Cell]]:
    for name, column in key.boxes.items():
        cell = sheet.cell(row, columns[column])
        if isinstance(cell, Cell):
            yield _target(key, name, position), cell


def _target(key: RowKey, box: str, position: str) -> tuple[str, str, str, str]:
    match key.kind:
        case RowKind.FIELD:
            return COVER, key.name, "", ""
        case RowKind.READ | RowKind.PLAN if box == "instrument":
            return position, f"{key.name}.instrument", "", ""
        case RowKind.READ:
            return position, key.name, key.parts[0], box
        case RowKind.SEEN:
            suffix = "" if box == "grade" else f".{box}"
            return position, f"{key.parts[0]}{suffix}", "", ""
        case _:
            return key.name, box, "", ""
