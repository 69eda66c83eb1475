"""A page written from the top down: title, facts, bands, tables, cautions; set up for A4.

The sheets that leave the shop are all made of these few pieces, so that each sheet's own file says
only what stands in it.
"""

from __future__ import annotations

import math
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from enum import Enum
from functools import lru_cache
from io import BytesIO
from typing import TYPE_CHECKING

from openpyxl.utils import get_column_letter

from kitting.sheets.outgoing import Formula, OutgoingWorkbook
from kitting.sheets.style import (
    ALL_ROUND,
    BAND,
    CAUTION,
    DAY,
    FAINT,
    HEADING,
    PLAIN,
    STRONG,
    TEXT,
    TITLE,
    WHOLE,
    Style,
    break_pages,
    put_formula,
    put_number,
    put_text,
    set_up_page,
    set_widths,
)

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from openpyxl.cell.cell import Cell

Content = str | int | Decimal | date | Formula | None
Row = tuple[Content, ...]

# What A4 leaves inside the margins, in points; some is kept back, for programs differ.
_SHORT, _LONG, _SAFE = 525.0, 755.0, 0.93
# A column is counted in digits of 10 points, and keeps a little clear at its sides.
_POINTS_PER_DIGIT, _PADDING = 5.25, 5.0
_ROW_HEIGHT = 13.0
_POINTS_PER_PIXEL = 0.75
# No row may be higher, by the file format.
_HIGHEST = 409.0
# Points of height a line of text needs, for each point of its size.
_LEADING = 1.32
_TICK = "☐"
# How broad signs are, in units of the font's size, where they differ from the usual letter.
_SPACE = 0.28
_BREADTHS = {
    **dict.fromkeys("ijl.,:;'|!·", 0.26),
    **dict.fromkeys('frt()[]-/" ', 0.34),
    **dict.fromkeys("mwMW@%←–", 0.88),
}


class Kind(Enum):
    """What a column holds, and so how its cells look."""

    WORDS = "words"
    NUMBER = "part number or code: always text"
    COUNT = "whole number"
    AMOUNT = "money or hours, by the column's own format"
    DAY = "day"
    TICK = "box to tick"
    MARK = "short word, centred"


_LOOKS = {
    Kind.WORDS: Style(size=9.5, edges=ALL_ROUND, wrap=True),
    Kind.NUMBER: Style(size=9.5, edges=ALL_ROUND, wrap=True, number_format=TEXT),
    Kind.COUNT: Style(size=9.5, edges=ALL_ROUND, align="center", number_format=WHOLE),
    Kind.AMOUNT: Style(size=9.5, edges=ALL_ROUND, align="right"),
    Kind.DAY: Style(size=9.5, edges=ALL_ROUND, align="center", number_format=DAY),
    Kind.TICK: Style(size=14, edges=ALL_ROUND, align="center"),
    Kind.MARK: Style(size=9.5, edges=ALL_ROUND, align="center", wrap=True),
}


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a page: its heading, width in characters, what it holds, its number format."""

    heading: str
    width: float
    kind: Kind = Kind.WORDS
    number_format: str = ""

    @property
    def look(self) -> Style:
        """How a cell of the column looks."""
        look = _LOOKS[self.kind]
        return replace(look, number_format=self.number_format) if self.number_format else look


class Page:
    """One sheet of an outgoing workbook, written row by row from the top."""

    def __init__(
        self,
        book: OutgoingWorkbook,
        name: str,
        columns: Sequence[Column],
        *,
        landscape: bool = False,
    ) -> None:
        self.book = book
        self.columns = tuple(columns)
        self.sheet = book.create_sheet(name)
        self.row = 0
        self._landscape = landscape
        self._heading_row = 0
        self._breaks: list[int] = []
        set_widths(
            self.sheet, {self.letter(at): column.width for at, column in enumerate(self.columns)}
        )

    def letter(self, column: int) -> str:
        """The letter of a column counted from 0."""
        return str(get_column_letter(column + 1))

    def cell(self, column: int, row: int = 0) -> Cell:
        """A cell of the row being written, or of another."""
        found: Cell = self.sheet.cell(row or self.row, column + 1)
        return found

    def title(self, text: str, under: str = "") -> None:
        """The sheet's name in large type, with a line under it."""
        self.line(text, TITLE)
        if under:
            self.line(under, FAINT)

    def line(self, text: str, style: Style = PLAIN) -> None:
        """A text across all columns, as high as it needs."""
        self._next()
        self._across(0, len(self.columns), text, replace(style, wrap=True))
        self._height(lines_in(text, self._width(0, len(self.columns)), style.size), style.size)

    def lines(self, texts: Iterable[str], style: Style = PLAIN) -> None:
        """Several texts, each on a line of its own with a dash before it."""
        for text in texts:
            self.line(f"– {text}", style)

    def facts(self, pairs: Iterable[tuple[str, str]], label_columns: int = 1) -> None:
        """A name and what it is, a line each."""
        for name, what in pairs:
            self._next()
            self._across(0, label_columns, name, FAINT)
            rest = len(self.columns) - label_columns
            self._across(label_columns, rest, what, replace(PLAIN, wrap=True))
            width = self._width(label_columns, rest)
            self._height(lines_in(what, width, PLAIN.size), PLAIN.size)

    def picture(self, png: bytes) -> None:
        """A picture as wide as the page, in a row of its own."""
        from openpyxl.drawing.image import Image

        self._next()
        image = Image(BytesIO(png))
        width = self._width(0, len(self.columns)) * _POINTS_PER_DIGIT - _PADDING
        height = min(width * image.height / image.width, _HIGHEST - _PADDING)
        image.width = round(width / _POINTS_PER_PIXEL)
        image.height = round(height / _POINTS_PER_PIXEL)
        self.sheet.add_image(image, self.cell(0).coordinate)
        self.sheet.row_dimensions[self.row].height = round(height + _PADDING, 1)

    def gap(self) -> None:
        """An empty line, half as high."""
        self._next()
        self.sheet.row_dimensions[self.row].height = 7

    def band(self, text: str, style: Style = BAND) -> None:
        """A heading across the page that opens a part of it."""
        self._next()
        self._across(0, len(self.columns), text, style)
        self._height(1, style.size + 2)

    def headings(self, *, repeat: bool = True, frozen: bool = False) -> None:
        """The columns' headings; repeated on each printed page, and held while scrolling."""
        self._next()
        highest = 1
        for at, column in enumerate(self.columns):
            put_text(self.cell(at), column.heading, _heading(column))
            highest = max(highest, lines_in(column.heading, column.width, HEADING.size + 1))
        self._height(highest, HEADING.size)
        if repeat:
            self._heading_row = self.row
        if frozen:
            self.sheet.freeze_panes = self.cell(0, self.row + 1)

    def put(self, contents: Sequence[Content], *, strong: bool = False, fill: str = "") -> int:
        """One row of the table; returns its number."""
        if len(contents) != len(self.columns):
            raise ValueError(f"{len(contents)} cells for {len(self.columns)} columns")
        return self.put_some(contents, strong=strong, fill=fill)

    def put_some(self, contents: Sequence[Content], *, strong: bool = False, fill: str = "") -> int:
        """A row that need not fill every column; what it leaves stays bare."""
        self._next()
        highest = 1.0
        for at, (column, content) in enumerate(zip(self.columns, contents, strict=False)):
            look = replace(column.look, bold=strong, fill=fill)
            self._fill(self.cell(at), content, look)
            if isinstance(content, str) and column.kind is not Kind.TICK:
                highest = max(highest, lines_in(content, column.width, look.size))
            if column.kind is Kind.TICK:
                highest = max(highest, 1.4)
        self._height(highest, 9.5)
        return self.row

    def loose(self, contents: Sequence[Content], style: Style = PLAIN) -> int:
        """A row in the table's columns but without its boxes: totals and the like."""
        self._next()
        for at, (column, content) in enumerate(zip(self.columns, contents, strict=True)):
            if content is not None:
                look = replace(
                    style, align=column.look.align, number_format=column.look.number_format
                )
                self._fill(self.cell(at), content, look)
        self._height(1, style.size + 1)
        return self.row

    def table(self, rows: Iterable[Sequence[Content]], *, filtered: bool = False) -> None:
        """Headings and rows; with `filtered` a reader can narrow them down."""
        self.headings(frozen=filtered)
        first = self.row
        for contents in rows:
            self.put(contents)
        if filtered and self.row > first:
            last = self.letter(len(self.columns) - 1)
            self.sheet.auto_filter.ref = f"A{first}:{last}{self.row}"

    @contextmanager
    def together(self) -> Iterator[None]:
        """Keep what is written inside on one printed page, where a page can hold it."""
        begin = self.row
        yield
        since = self._breaks[-1] if self._breaks else 0
        room = self._page_height()
        block = self._points(begin + 1, self.row)
        if begin > since and block < room and self._points(since + 1, self.row) > room:
            self._breaks.append(begin)

    def cautions(self, texts: Iterable[str]) -> None:
        """The usual cautions, at the foot."""
        self.gap()
        for text in texts:
            self.line(text, replace(CAUTION, size=8.5))

    def break_here(self) -> None:
        """Begin a new printed page after the row just written."""
        self._breaks.append(self.row)

    def finish(self, footer: str) -> None:
        """Set the page up for printing; the last thing done to it."""
        repeated = f"{self._heading_row}:{self._heading_row}" if self._heading_row else ""
        set_up_page(
            self.sheet, landscape=self._landscape, title_rows=repeated, footer=footer, margins_mm=12
        )
        break_pages(self.sheet, self._breaks)
        self.sheet.print_area = f"A1:{self.letter(len(self.columns) - 1)}{self.row}"

    def _points(self, first: int, last: int) -> float:
        """The height of some rows, in points."""
        heights = (self.sheet.row_dimensions[row].height for row in range(first, last + 1))
        return sum(height or _ROW_HEIGHT for height in heights)

    def _page_height(self) -> float:
        """About how many points of rows a printed page takes, at the scale that fits the width."""
        across, down = (_LONG, _SHORT) if self._landscape else (_SHORT, _LONG)
        width = sum(column.width for column in self.columns) * _POINTS_PER_DIGIT
        return down / min(1.0, across / width) * _SAFE

    def _next(self) -> None:
        self.row += 1

    def _fill(self, cell: Cell, content: Content, look: Style) -> None:
        match content:
            case None:
                look.dress(cell)
            case str():
                put_text(cell, content, look)
            case Formula():
                put_formula(cell, content.text, look)
                self.book.results[(self.sheet.title, cell.coordinate)] = content.result
            case date():
                cell.value = content
                look.dress(cell)
            case _:
                put_number(cell, content, look)

    def _across(self, column: int, count: int, text: str, style: Style) -> None:
        put_text(self.cell(column), text, style)
        for other in range(column + 1, column + count):
            style.dress(self.cell(other))
        if count > 1:
            self.sheet.merge_cells(
                start_row=self.row,
                end_row=self.row,
                start_column=column + 1,
                end_column=column + count,
            )

    def _width(self, column: int, count: int) -> float:
        return sum(each.width for each in self.columns[column : column + count])

    def _height(self, lines: float, size: float) -> None:
        dimension = self.sheet.row_dimensions[self.row]
        dimension.height = max(dimension.height or 0, row_height(lines, size))


def tick_box() -> str:
    """An empty box for a pencil."""
    return _TICK


def strong_line(page: Page, text: str, *, good: bool) -> None:
    """A line that must not be missed, dark when all is well and red when it is not."""
    page.line(text, replace(STRONG, size=11) if good else replace(CAUTION, size=11))


def _heading(column: Column) -> Style:
    return replace(HEADING, edges=ALL_ROUND, align=column.look.align)


def row_height(lines: float, size: float) -> float:
    """The height in points of a row of so many lines of a size, as high as a row may be."""
    return min(round(lines * size * _LEADING + 3, 1), _HIGHEST)


def lines_in(text: str, width: float, size: float) -> int:
    """How many lines a text takes in a cell so wide; a little more is better than too few."""
    room = max(1.0, (width * _POINTS_PER_DIGIT - _PADDING) / size)
    total = 0
    for part in text.split("\n"):
        taken, lines = 0.0, 1
        for word in part.split(" "):
            long = _breadth(word)
            if taken and taken + long > room:
                lines, taken = lines + 1, 0.0
            lines += math.ceil(long / room) - 1 if long > room else 0
            taken += long + _SPACE
        total += lines
    return total


@lru_cache(maxsize=4096)
def _breadth(word: str) -> float:
    """About how broad a word is in the sheets' font, in units of its size."""
    return sum(_BREADTHS.get(sign, 0.69 if sign.isupper() else 0.56) for sign in word)
