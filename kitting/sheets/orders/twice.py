"""A line that stands more than once in a workbook: in two rows of a sheet, or on two sheets of it.

A row speaks where something stands in its boxes, or over a figure that was printed in it. Two rows
that speak of one line may each be a part of what he sends, so neither is left out unsaid.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from kitting.sheets.cells import is_blank
from kitting.sheets.orders.ours import text_in

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping

    from kitting.errors import Problems
    from kitting.sheets.cells import AnyCell
    from kitting.sheets.orders.rows import LineRow

    Speaking = Callable[[LineRow], Mapping[str, AnyCell]]

_KEEP_A_ROW = "keep one row of it, with all that holds of the line; the rest goes into the remark"
_KEEP_A_SHEET = "leave it on one of the sheets, or write the same on both"


def in_boxes(row: LineRow) -> Mapping[str, AnyCell]:
    """The boxes of a row that something stands in, by their columns."""
    return {column: cell for column, cell in row.boxes.items() if not is_blank(cell)}


@dataclass(slots=True)
class Singled:
    """One row a line, as far as was read; `told` are sentences on rows of which one is silent.

    `speaking` gives what a row says, by column. With `copies`, a line may stand on two sheets with
    the same words; else it may speak once only, wherever it stands.
    """

    speaking: Speaking
    problems: Problems
    copies: bool = False

    def of(self, rows: Iterable[LineRow]) -> tuple[tuple[LineRow, ...], tuple[str, ...]]:
        """Return the row that counts for each line, and what is told; note what is refused."""
        kept: dict[tuple[str, str], LineRow] = {}
        told = []
        for row in rows:
            key = (row.line, row.extra)
            before = kept.setdefault(key, row)
            if before is row:
                continue
            first, second = bool(self.speaking(before)), bool(self.speaking(row))
            if first and second:
                self._both(before, row)
            elif first or second:
                kept[key] = row if second else before
                if before.sheet == row.sheet:
                    told.append(_one_is_silent(before, row, kept[key]))
        return tuple(kept.values()), tuple(told)

    def _both(self, before: LineRow, row: LineRow) -> None:
        """Refuse two rows that both speak, unless they are copies that say the same."""
        if before.sheet == row.sheet:
            place = f'sheet "{row.sheet}", rows {before.number} and {row.number}'
            self.problems.add(place, f"line {row.line} stands twice, filled in", _KEEP_A_ROW)
            return
        one, other = _words(self.speaking(before)), _words(self.speaking(row))
        apart = [column for column in {**other, **one} if one.get(column) != other.get(column)]
        if self.copies and not apart:
            return
        here = _cell(row, other, apart or list(other))
        there = _cell(before, one, apart or list(one))
        self.problems.add(
            here.place,
            f"line {row.line} has {here.says} here, and {there.says} in {there.place}",
            _KEEP_A_SHEET if self.copies else "keep one of them",
        )


def _one_is_silent(before: LineRow, row: LineRow, kept: LineRow) -> str:
    return (
        f'sheet "{row.sheet}", rows {before.number} and {row.number}: line {row.line} stands '
        f"twice, and something is filled in in row {kept.number} alone; that row counts"
    )


def _words(speaking: Mapping[str, AnyCell]) -> dict[str, tuple[str, bool]]:
    """What a row says, as far as two can be compared: words struck through are not the same."""
    return {
        column: (text_in(cell).casefold(), bool(cell.font.strike))
        for column, cell in speaking.items()
    }


@dataclass(frozen=True, slots=True)
class _Cell:
    """Where a row says something of what sets it apart, and what."""

    place: str
    says: str


def _cell(row: LineRow, said: Mapping[str, object], apart: Iterable[str]) -> _Cell:
    """The first cell in which a row differs: one that says something, if there is any."""
    columns = [column for column in apart if column in row.cells]
    column = next((each for each in columns if each in said), columns[0] if columns else None)
    if column is None:
        return _Cell(f'sheet "{row.sheet}", row {row.number}', "something")
    cell = row.cells[column]
    struck = " struck through" if cell.font.strike else ""
    says = "nothing" if is_blank(cell) else f"'{text_in(cell)}'{struck}"
    return _Cell(row.place(column), says)
