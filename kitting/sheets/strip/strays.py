"""What stands outside the boxes of a filled strip sheet: told, and never dropped in silence."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from kitting.sheets.cells import is_blank, words_in
from kitting.sheets.strip.keys import RUN_ON, Column, RowKind
from kitting.sheets.strip.rows import place_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from kitting.catalog.model import Assembly
    from kitting.errors import Problems
    from kitting.sheets.cells import AnyCell
    from kitting.sheets.strip.layout import Block, Line
    from kitting.sheets.strip.rows import KeyedRow, KeyedSheets


@dataclass(frozen=True, slots=True)
class Noted:
    """Where problems and warnings go; `kept` says what becomes of stray words."""

    problems: Problems
    warnings: list[str]
    kept: str = "kept with the notes"

    def stray(self, place: str, cell: AnyCell) -> str:
        """Refuse a figure that stands in no box; warn of words, and return them."""
        if isinstance(cell.value, int | float) or cell.data_type in {"f", "e", "d"}:
            self.problems.add(
                place,
                f"'{str(cell.value)[:40]}' stands in none of the sheet's boxes",
                "write it into its own box, or as words into the notes",
            )
            return ""
        words = words_in(cell)
        self.warnings.append(
            f"{place}: '{words[:60]}' stands in none of the sheet's boxes; {self.kept}"
        )
        return f"{place}: {words}"


def stray_in_rows(
    assembly: Assembly,
    blocks: Iterable[Block],
    sheets: KeyedSheets,
    rows: Mapping[str, KeyedRow],
    noted: Noted,
    passed_over: frozenset[Column] = frozenset(),
) -> Iterator[str]:
    """Yield the words that stand where only print belongs; warn of rows that are gone.

    Columns `passed_over` are looked at by the caller.
    """
    if assembly.key not in sheets.assemblies:
        noted.warnings.append(f"the sheet of {assembly.name} is not in the workbook")
        return
    gone = 0
    for line in (line for block in blocks for line in block):
        if line.key.kind is RowKind.PRINTED:
            continue
        row = rows.get(str(line.key))
        if row is None:
            gone += 1
            continue
        for cell in (*_overwritten(row, line, passed_over), *row.beyond):
            yield noted.stray(place_of(row.sheet, cell), cell)
    if gone:
        noted.warnings.append(f"{assembly.name}: {gone} rows of the sheet are gone")


def stray_in_print(printed: Iterable[KeyedRow], shown: set[str], noted: Noted) -> Iterator[str]:
    """Yield the words that were written into rows of print; `shown` are the sheet's own."""
    for row in printed:
        for cell in (*row.cells.values(), *row.beyond):
            if not is_blank(cell) and _plain(str(cell.value)) not in shown:
                yield noted.stray(place_of(row.sheet, cell), cell)


def stray_beside(row: KeyedRow, hint: str, noted: Noted) -> Iterator[str]:
    """Yield the words that were written beside a box of the cover, where its hint stands."""
    for cell in row.beyond:
        if _plain(str(cell.value)) != _plain(hint):
            yield noted.stray(place_of(row.sheet, cell), cell)


def texts_of(blocks: Iterable[Block]) -> set[str]:
    """Every text that the blocks print."""
    return {
        _plain(shown.text) for block in blocks for line in block for shown in line.cells.values()
    }


def check_keys(known: set[str], rows: Mapping[str, KeyedRow], noted: Noted) -> None:
    """Refuse rows whose hidden key no sheet of this engine has."""
    for key, row in rows.items():
        if key not in known:
            noted.problems.add(
                f'sheet "{row.sheet}", row {row.row}',
                "the hidden key of this row is none of the sheet's",
                "take the row from a fresh sheet",
            )


def _overwritten(row: KeyedRow, line: Line, passed_over: frozenset[Column]) -> Iterator[AnyCell]:
    """The cells outside the boxes of a row that hold something else than the sheet's own print."""
    boxes = set(row.key.boxes.values()) | passed_over
    if line.key.kind in RUN_ON:
        boxes |= set(list(Column)[1:])
    for column, cell in row.cells.items():
        if column in boxes or is_blank(cell):
            continue
        shown = line.cells.get(column)
        if shown is None or _plain(str(cell.value)) != _plain(shown.text):
            yield cell


def _plain(text: str) -> str:
    return " ".join(text.split())
