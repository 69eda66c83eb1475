"""Text of which somebody struck out only a part: made plain again, and what was struck kept."""

from __future__ import annotations

from typing import TYPE_CHECKING

from openpyxl.cell.cell import Cell
from openpyxl.cell.rich_text import CellRichText, TextBlock
from openpyxl.styles import Font

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from openpyxl.worksheet.worksheet import Worksheet


def partly_struck(sheet: Worksheet, rows: int) -> Mapping[str, str]:
    """Make the rich text of a sheet's first rows plain; return what is struck of it, by its cell.

    A cell whose words are struck one and all is struck as a whole from then on.
    """
    found = {}
    last = min(sheet.max_row, rows)  # to look further would make cells there, and a longer sheet
    for cell in (cell for row in sheet.iter_rows(max_row=last) for cell in row):
        if not isinstance(cell, Cell) or not isinstance(cell.value, CellRichText):
            continue
        parts = [(text, struck) for text, struck in _parts(cell, cell.value) if text.strip()]
        struck = " ".join(text.strip() for text, is_struck in parts if is_struck)
        cell.value = str(cell.value)
        cell.data_type = "s"
        if struck and all(is_struck for _, is_struck in parts):
            cell.font = Font(strike=True)
        elif struck:
            found[cell.coordinate] = struck
    return found


def _parts(cell: Cell, text: CellRichText) -> Iterator[tuple[str, bool]]:
    """Each part and whether it is struck; one without a look of its own has the cell's."""
    for part in text:
        if isinstance(part, TextBlock):
            yield part.text, bool(part.font.strike)
        else:
            yield part, bool(cell.font.strike)
