"""Cells that a sheet merges over several rows: what stands there counts for every row it covers.

A file keeps the value in the first row alone. Whoever looks at the sheet sees one pack, one unit
or one price beside three numbers, and that is what is taken.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from typing import TYPE_CHECKING

from kitting.errors import BadInput, Problem
from kitting.sheets.price_lists.fields import letter_of

if TYPE_CHECKING:
    from kitting.sheets.price_lists.marks import Cells

_MOST = 100_000


class Merged:
    """The merged cells of one sheet, by the row in which they begin.

    `used` counts those whose value was taken for further rows; `first` says which the first was.
    """

    __slots__ = ("_begin", "_count", "_open", "first", "used")

    def __init__(self) -> None:
        self._begin: dict[int, list[tuple[int, int]]] = {}
        self._open: dict[int, tuple[int, int, str]] = {}
        self._count = 0
        self.used = 0
        self.first = ""

    def span(self, column: int, row: int, last: int) -> None:
        """Note a cell that goes down to the row `last`.

        Raises:
            BadInput: there are too many to keep.
        """
        if last > row:
            self._count += 1
            if self._count > _MOST:
                wrong = f"over {_MOST:,} cells are merged over several rows"
                raise BadInput(Problem("", wrong, "take the merging away and save it again"))
            self._begin.setdefault(row, []).append((column, last))

    def spread(
        self, rows: Iterable[tuple[int, Cells]], columns: Collection[int], number: int
    ) -> Iterator[tuple[int, Cells]]:
        """Yield rows with the values that are merged over them, in the columns that are read.

        A row that names no number stays as it is: it is no part of its own.
        """
        for row, cells in rows:
            filled = self._filled(row, cells, number) if self._open else cells
            for column, last in self._begin.pop(row, ()):
                if column in columns and column < len(cells) and cells[column]:
                    self._open[column] = (row, last, cells[column])
            yield row, filled

    def _filled(self, row: int, cells: Cells, number: int) -> Cells:
        self._open = {at: each for at, each in self._open.items() if each[1] >= row}
        if not self._open or not (
            number in self._open or (number < len(cells) and cells[number].strip())
        ):
            return cells
        cells = cells + [""] * (1 + max(self._open) - len(cells))
        for column, (begun, last, text) in self._open.items():
            cells[column] = text
            if begun > 0:
                self.used += 1
                self.first = self.first or f"{letter_of(column)}{begun} down to row {last}"
                self._open[column] = (0, last, text)
        return cells
