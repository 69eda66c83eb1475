"""Cells of a price list as text; what a spreadsheet made of one is marked, not lost.

Every reader gives rows as lists of text. A workbook's own number comes as `Figure`, its decimals
after a point whatever the list's habit; a cell that was neither (a formula, a date, an error) comes
as `Marked`, with what it was. Both are text too.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import date, time, timedelta
from decimal import Decimal
from enum import StrEnum
from functools import lru_cache
from typing import Self

from kitting.sheets.price_lists.merged import Merged

Cells = list[str]
NumberedRows = Iterator[tuple[int, Cells]]

MOST_COLUMNS = 200
"""Columns of a sheet that are looked at; a price list has a dozen."""

_EXACT_DIGITS = 15  # a spreadsheet keeps and shows no more significant digits than these


class Mark(StrEnum):
    """What a cell was that is no plain text or number."""

    FORMULA = "formula"
    DATE = "date"
    ERROR = "error"
    YES_NO = "yes/no"
    ROUNDED = "rounded"
    SHOWN = "shown otherwise"


# [$€-407] names a currency and a language, [$-407] a language alone.
_CURRENCY = re.compile(r"\[\$\s*([£€$¥]|[A-Z]{3})\s*(?:-[^\]]*)?\]|([£€])")


class Marked(str):
    """The text of a cell, and what it was."""

    mark: Mark
    __slots__ = ("mark",)

    def __new__(cls, text: str, mark: Mark) -> Self:
        """Make one."""
        made = super().__new__(cls, text)
        made.mark = mark
        return made


class Otherwise(Marked):
    """The decimal text of a number that its cell shows otherwise, and how it does."""

    shown: str
    __slots__ = ("shown",)

    @classmethod
    def of(cls, text: str, shown: str) -> Self:
        """Make one."""
        made = cls(text, Mark.SHOWN)
        made.shown = shown
        return made


class Figure(str):
    """The decimal text of a cell that held a number."""

    __slots__ = ()


class Spoilt(list[str]):
    """The cells of a row that could not be read as written: what is wrong, what would be right."""

    def __init__(self, cells: Iterable[str], wrong: str, right: str) -> None:
        super().__init__(cells)
        self.wrong = wrong
        self.right = right


MOST_ROWS = 1_048_576
"""Rows of a sheet; there is no row beyond."""


@dataclass(slots=True)
class Hidden:
    """What a sheet hides: columns from 0, and rows, a byte each once there are any.

    `passed` counts the rows that hold something and were not read for it, from `first` on.
    `merged` are the cells that cover others below them.
    """

    columns: set[int] = field(default_factory=set)
    rows: bytearray = field(default_factory=bytearray)
    passed: int = 0
    first: int = 0
    merged: Merged = field(default_factory=Merged)

    def hide_row(self, row: int) -> None:
        """Note a row as hidden."""
        if not self.rows:
            self.rows = bytearray(MOST_ROWS + 1)
        if 0 < row <= MOST_ROWS:
            self.rows[row] = 1

    def pass_over(self, row: int, cells: Cells, again: int = 1) -> None:
        """Count a hidden row, or several, that are not read."""
        if any(cells):
            self.first = self.first or row
            self.passed += again


@dataclass(frozen=True, slots=True)
class Table:
    """One sheet's rows, read as they are asked for; a text file is one sheet without a name.

    A sheet that is not `shown` has no rows to read. `among` says that there may be others in the
    file, so that what is told of a column must name the sheet.
    """

    sheet: str
    rows: NumberedRows
    hidden: Hidden = field(default_factory=Hidden)
    shown: bool = True
    among: bool = False


def number_text(value: float) -> str:
    """Return the shortest decimal text of a spreadsheet's number, at its 15 digits.

    >>> number_text(12.949999999999999), number_text(1042.0), number_text(14.244999999999999)
    ('12.95', '1042', '14.245')
    """
    shortest = Decimal(repr(value))
    if len(shortest.as_tuple().digits) > _EXACT_DIGITS:
        shortest = Decimal(f"{value:.{_EXACT_DIGITS}g}")
    text = format(shortest, "f")
    return text.rstrip("0").rstrip(".") if "." in text else text


@lru_cache(maxsize=1024)
def sign_in(number_format: str) -> str:
    """The currency that a number's format shows with it, '' for none.

    A bare $ is not believed: it also stands for the money of whoever looks at the sheet.

    >>> sign_in("[$$-409]#,##0.00"), sign_in('"€"#,##0.00'), sign_in("$#,##0"), sign_in("0.00")
    ('$', '€', '', '')
    """
    named = _CURRENCY.search(number_format)
    return (named[1] or named[2]).strip() if named else ""


def cell_text(
    value: object, *, formula: bool = False, error: bool = False, scientific: bool
) -> str:
    """Return a workbook cell's value as text, marked where it is no plain text or number."""
    if value is None:
        return ""
    mark = Mark.FORMULA if formula else Mark.ERROR if error else _mark_of(value)
    if mark is Mark.DATE:
        return Marked(date_text(value), mark)
    if mark is Mark.YES_NO:
        return Marked(str(value).upper(), mark)
    if mark is not None:
        return Marked(str(getattr(value, "text", value)), mark)
    if isinstance(value, int | float):
        text = number_text(value) if isinstance(value, float) else str(value)
        lost = scientific or len(text.lstrip("-0.").replace(".", "")) > _EXACT_DIGITS
        return Marked(text, Mark.ROUNDED) if lost else Figure(text)
    return str(value)


def _mark_of(value: object) -> Mark | None:
    if isinstance(value, bool):
        return Mark.YES_NO
    return Mark.DATE if isinstance(value, date | time | timedelta) else None


def date_text(value: object) -> str:
    """A date as ISO 8601; a time of day or a span as it reads."""
    return value.isoformat()[:10] if isinstance(value, date) else str(value)


_BLANKS = re.compile(r"[\s\u00a0\u2007\u202f\u200b\ufeff\x00-\x1f\x7f]+")


def tidy(text: str) -> str:
    """Return a text with every run of blanks and control marks as one space, none at the ends."""
    return _BLANKS.sub(" ", text).strip()
