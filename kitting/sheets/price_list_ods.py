"""A price list as an OpenDocument sheet: its rows as text.

Its numbers stand in the file as decimal text and are taken so.
"""

from __future__ import annotations

import re
from itertools import groupby
from operator import itemgetter
from typing import TYPE_CHECKING, Any

from kitting.errors import BadInput
from kitting.sheets.ods import OFFICE, TABLE, cells_of, ods_rows, words_of
from kitting.sheets.price_list_book import MOST_ROWS, damaged
from kitting.sheets.price_list_marks import (
    MOST_COLUMNS,
    Figure,
    Mark,
    Marked,
    Table,
    number_text,
)

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from kitting.sheets.price_list_marks import Cells

_SCIENTIFIC = re.compile(r"[\d.,]+E[+-]\d+", re.IGNORECASE)

_Numbered = tuple[str, int, "Cells"]


def read_ods(path: Path) -> Iterator[Table]:
    """Yield the sheets of an OpenDocument workbook; each must be read before the next.

    Raises:
        BadInput: it is damaged.
    """
    for sheet, rows in groupby(_rows(path), key=itemgetter(0)):
        yield Table(sheet, ((row, cells) for _, row, cells in rows))


def _rows(path: Path) -> Iterator[_Numbered]:
    try:
        for sheet, row, again, element in ods_rows(path):
            cells = _texts(element)
            if any(cells):
                for at in range(row, min(row + again - 1, MOST_ROWS) + 1):
                    yield sheet, at, cells
    except ValueError as error:
        raise BadInput(damaged(path, error)) from None


def _texts(row: Any) -> Cells:
    texts: Cells = []
    for cell, times in cells_of(row):
        again = min(times, MOST_COLUMNS - len(texts))
        if again > 0:
            texts += [_text(cell)] * again
    while texts and not texts[-1]:
        texts.pop()
    return texts


def _text(cell: Any) -> str:
    shown = words_of(cell)
    if cell.get(f"{TABLE}formula"):
        return Marked(str(cell.get(f"{TABLE}formula")), Mark.FORMULA)
    kind = cell.get(f"{OFFICE}value-type", "string")
    if kind in {"float", "currency", "percentage"}:
        if _SCIENTIFIC.fullmatch(shown.strip()):
            return Marked(shown.strip(), Mark.ROUNDED)
        return Figure(number_text(float(cell.get(f"{OFFICE}value", "nan"))))
    if kind in {"date", "time"}:
        return Marked(str(cell.get(f"{OFFICE}{kind}-value", shown))[:10], Mark.DATE)
    if kind == "boolean":
        return Marked(shown, Mark.YES_NO)
    return shown
