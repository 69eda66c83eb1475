"""A price list as an OpenDocument sheet (ISO/IEC 26300): row by row, in little memory.

Its numbers stand in the file as decimal text and are taken so. Rows and cells that are said to
repeat are counted, not built: a few bytes can claim a thousand million of them.
"""

from __future__ import annotations

import re
import zipfile
from itertools import groupby
from operator import itemgetter
from typing import TYPE_CHECKING, Any

from kitting.errors import BadInput
from kitting.sheets.price_list_book import damaged
from kitting.sheets.price_list_marks import (
    MOST_COLUMNS,
    MOST_ROWS,
    Figure,
    Hidden,
    Mark,
    Marked,
    Table,
    number_text,
)

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from kitting.sheets.price_list_marks import Cells

_TABLE = "{urn:oasis:names:tc:opendocument:xmlns:table:1.0}"
_OFFICE = "{urn:oasis:names:tc:opendocument:xmlns:office:1.0}"
_STYLE = "{urn:oasis:names:tc:opendocument:xmlns:style:1.0}"
_TEXT = "{urn:oasis:names:tc:opendocument:xmlns:text:1.0}"
_CELLS = {f"{_TABLE}table-cell", f"{_TABLE}covered-table-cell"}
_SCIENTIFIC = re.compile(r"[\d.,]+E[+-]\d+", re.IGNORECASE)

_UNSEEN = {"collapse", "filter"}


class _Sheet:
    """A sheet being read: its name, whether it is shown, and what it hides."""

    def __init__(self, name: str, shown: bool) -> None:
        self.name = name
        self.shown = shown
        self.hidden = Hidden()
        self.columns = 0

    def column(self, again: int, unseen: bool) -> None:
        """Take in some columns alike."""
        first = self.columns
        self.columns += again
        if unseen:
            self.hidden.columns.update(range(first, min(self.columns, MOST_COLUMNS)))


_Numbered = tuple[_Sheet, int, "Cells"]


def read_ods(path: Path) -> Iterator[Table]:
    """Yield the sheets of an OpenDocument workbook; each must be read before the next.

    Raises:
        BadInput: it is damaged.
    """
    for sheet, rows in groupby(_rows(path), key=itemgetter(0)):
        if sheet.shown:
            found = ((row, cells) for _, row, cells in rows if row)
            yield Table(sheet.name, found, sheet.hidden)
        else:
            yield Table(sheet.name, iter(()), shown=False)


def _rows(path: Path) -> Iterator[_Numbered]:
    from lxml import etree

    try:
        with zipfile.ZipFile(path) as packed, packed.open("content.xml") as stream:
            yield from _parsed(
                etree.iterparse(
                    stream, events=("start", "end"), resolve_entities=False, no_network=True
                )
            )
    except (etree.XMLSyntaxError, zipfile.BadZipFile, KeyError, ValueError) as error:
        raise BadInput(damaged(path, error)) from None


def _parsed(events: Any) -> Iterator[_Numbered]:
    sheet, row = _Sheet("", shown=True), 0
    unseen: set[str] = set()  # styles of sheets that are hidden
    for event, element in events:
        if event == "start":
            if element.tag == f"{_TABLE}table":
                shown = element.get(f"{_TABLE}style-name", "") not in unseen
                sheet, row = _Sheet(element.get(f"{_TABLE}name", ""), shown), 0
                if not shown:
                    yield sheet, 0, []  # so that it is told
        elif element.tag == f"{_STYLE}style":
            unseen |= _hides_sheet(element)
        elif element.tag == f"{_TABLE}table-column":
            sheet.column(_count(element, "number-columns-repeated"), _is_unseen(element))
        elif element.tag == f"{_TABLE}table-row":
            again = _count(element, "number-rows-repeated")
            cells = _texts(element)
            if _is_unseen(element):
                sheet.hidden.pass_over(row + 1, cells, again)
            elif any(cells) and sheet.shown:
                for at in range(row + 1, min(row + again, MOST_ROWS) + 1):
                    yield sheet, at, cells
            row += again
            _forget(element)


def _is_unseen(element: Any) -> bool:
    return element.get(f"{_TABLE}visibility", "visible") in _UNSEEN


def _hides_sheet(style: Any) -> set[str]:
    """The name of a style that hides the sheets which have it."""
    hides = any(
        each.get(f"{_TABLE}display") == "false" for each in style.iter(f"{_STYLE}table-properties")
    )
    return {style.get(f"{_STYLE}name", "")} if hides else set()


def _forget(element: Any) -> None:
    """Let go of a row that was read, and of what stood before it."""
    element.clear()
    while element.getprevious() is not None:
        del element.getparent()[0]


def _count(element: Any, name: str) -> int:
    return max(1, int(element.get(f"{_TABLE}{name}", "1")))


def _texts(row: Any) -> Cells:
    texts: Cells = []
    for cell in row:
        if cell.tag in _CELLS and len(texts) < MOST_COLUMNS:
            again = min(_count(cell, "number-columns-repeated"), MOST_COLUMNS - len(texts))
            texts += [_text(cell)] * again
    while texts and not texts[-1]:
        texts.pop()
    return texts


def _text(cell: Any) -> str:
    shown = "\n".join(_words(each) for each in cell if each.tag == f"{_TEXT}p")
    if cell.get(f"{_TABLE}formula"):
        return Marked(str(cell.get(f"{_TABLE}formula")), Mark.FORMULA)
    kind = cell.get(f"{_OFFICE}value-type", "string")
    if kind in {"float", "currency", "percentage"}:
        if _SCIENTIFIC.fullmatch(shown.strip()):
            return Marked(shown.strip(), Mark.ROUNDED)
        return Figure(number_text(float(cell.get(f"{_OFFICE}value", "nan"))))
    if kind in {"date", "time"}:
        return Marked(str(cell.get(f"{_OFFICE}{kind}-value", shown))[:10], Mark.DATE)
    if kind == "boolean":
        return Marked(shown, Mark.YES_NO)
    return shown


def _words(paragraph: Any) -> str:
    for gap in paragraph.iter(f"{_TEXT}s", f"{_TEXT}tab", f"{_TEXT}line-break"):
        gap.tail = f" {gap.tail or ''}"
    return "".join(paragraph.itertext())
