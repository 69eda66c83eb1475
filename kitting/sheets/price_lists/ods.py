"""A price list as an OpenDocument sheet: its rows as text.

Its numbers stand in the file as decimal text and are taken so.
"""

from __future__ import annotations

import re
from itertools import groupby
from operator import itemgetter
from typing import TYPE_CHECKING, Any

from kitting.errors import BadInput
from kitting.sheets.ods import (
    OFFICE,
    TABLE,
    cells_of,
    forget,
    is_foreign,
    ods_events,
    repeated,
    words_of,
)
from kitting.sheets.price_lists.book import damaged
from kitting.sheets.price_lists.formats import as_shown, shown_by
from kitting.sheets.price_lists.marks import (
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

    from kitting.sheets.price_lists.marks import Cells
    from kitting.sheets.price_lists.merged import Merged

_STYLE = "{urn:oasis:names:tc:opendocument:xmlns:style:1.0}"
_LANGUAGE = re.compile(r"^[a-z]+:(?==)")
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
            yield Table(sheet.name, found, sheet.hidden, among=True)  # those to come are not known
        else:
            yield Table(sheet.name, iter(()), shown=False)


def _rows(path: Path) -> Iterator[_Numbered]:
    try:
        yield from _parsed(ods_events(path))
    except ValueError as error:
        raise BadInput(damaged(path, error)) from None


def _parsed(events: Iterator[tuple[str, Any]]) -> Iterator[_Numbered]:
    sheet, row, foreign = _Sheet("", shown=True), 0, 0
    unseen: set[str] = set()  # styles of sheets that are hidden
    for event, element in events:
        if element.tag == f"{TABLE}table":
            if is_foreign(element):
                foreign += 1 if event == "start" else -1
            elif event == "start":
                shown = element.get(f"{TABLE}style-name", "") not in unseen
                sheet, row = _Sheet(element.get(f"{TABLE}name", ""), shown), 0
                if not shown:
                    yield sheet, 0, []  # so that it is told
        elif event == "start" or foreign:
            continue
        elif element.tag == f"{_STYLE}style":
            unseen |= _hides_sheet(element)
        elif element.tag == f"{TABLE}table-column":
            sheet.column(repeated(element, "number-columns-repeated"), _is_unseen(element))
        elif element.tag == f"{TABLE}table-row":
            again = repeated(element, "number-rows-repeated")
            cells = _texts(element, sheet.hidden.merged, row + 1)
            if _is_unseen(element):
                sheet.hidden.pass_over(row + 1, cells, again)
            elif any(cells) and sheet.shown:
                for at in range(row + 1, min(row + again, MOST_ROWS) + 1):
                    yield sheet, at, cells
            row += again
            forget(element)


def _is_unseen(element: Any) -> bool:
    return element.get(f"{TABLE}visibility", "visible") in _UNSEEN


def _hides_sheet(style: Any) -> set[str]:
    """The name of a style that hides the sheets which have it."""
    hides = any(
        each.get(f"{TABLE}display") == "false" for each in style.iter(f"{_STYLE}table-properties")
    )
    return {style.get(f"{_STYLE}name", "")} if hides else set()


def _texts(row: Any, merged: Merged, at: int) -> Cells:
    texts: Cells = []
    for cell, times in cells_of(row):
        again = min(times, MOST_COLUMNS - len(texts))
        if again > 0:
            spanned = repeated(cell, "number-rows-spanned")
            if spanned > 1:
                merged.span(len(texts), at, at + spanned - 1)
            texts += [_text(cell)] * again
    while texts and not texts[-1]:
        texts.pop()
    return texts


def _text(cell: Any) -> str:
    shown = words_of(cell)
    if cell.get(f"{TABLE}formula"):
        return _formula(str(cell.get(f"{TABLE}formula")))
    kind = cell.get(f"{OFFICE}value-type", "string")
    if kind in {"float", "currency", "percentage"}:
        if _SCIENTIFIC.fullmatch(shown.strip()):
            return Marked(shown.strip(), Mark.ROUNDED)
        figure = Figure(number_text(float(cell.get(f"{OFFICE}value", "nan"))))
        currency = cell.get(f"{OFFICE}currency", "")
        return as_shown(figure, shown_by(shown, figure, currency, percentage=kind == "percentage"))
    if kind in {"date", "time"}:
        return Marked(str(cell.get(f"{OFFICE}{kind}-value", shown))[:10], Mark.DATE)
    if kind == "boolean":
        return Marked(shown, Mark.YES_NO)
    return shown


def _formula(said: str) -> Marked:
    """A formula without the name of its language; one that is but an error or a yes is that."""
    plain = _LANGUAGE.sub("", said)
    value = plain.removeprefix("=").removesuffix("()")
    if value.startswith("#"):
        return Marked(value, Mark.ERROR)
    return Marked(value, Mark.YES_NO) if value in {"TRUE", "FALSE"} else Marked(plain, Mark.FORMULA)
