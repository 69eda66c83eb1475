"""How every workbook looks: fonts, fills, boxes, number formats, pages; and text that stays text.

Loads openpyxl, so import it inside the function that writes.
"""

from __future__ import annotations

import re
from copy import copy
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Literal, Protocol, cast
from weakref import WeakKeyDictionary

from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE
from openpyxl.styles import Alignment, Border, Font, PatternFill, Side
from openpyxl.worksheet.header_footer import HeaderFooterItem
from openpyxl.worksheet.pagebreak import Break
from openpyxl.worksheet.properties import PageSetupProperties

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from decimal import Decimal

    from openpyxl import Workbook
    from openpyxl.cell.cell import Cell
    from openpyxl.styles.cell_style import StyleArray
    from openpyxl.worksheet.worksheet import Worksheet

FONT = "Arial"
TEXT = "@"
MONEY = "#,##0.00"
WHOLE = "0"
DAY = "yyyy-mm-dd"

INK = "1F2933"
FAINT_INK = "5B6770"
RED = "B3261E"
HEADING_FILL = "34495E"
BAND_FILL = "DDE5EC"
BOX_FILL = "FFFBE6"
EDGE = "8A97A3"
ALL_ROUND = "lrtb"
# A cell holds no more, by the file format; what is longer would make the file unreadable.
_LONGEST = 32_767
_LONGEST_TITLE = 31
_MM_PER_INCH = 25.4
# The looks that a workbook has had already: openpyxl takes long to find one again.
_LOOKS: WeakKeyDictionary[object, dict[Style, StyleArray]] = WeakKeyDictionary()


def safe_text(text: str) -> str:
    """Return `text` as a cell can hold it: no control characters, no longer than a cell takes.

    Pair it with `put_text`, which marks the cell as text: a leading = + - @ then starts no formula.
    """
    cleaned = ILLEGAL_CHARACTERS_RE.sub("", text)
    return cleaned if len(cleaned) <= _LONGEST else cleaned[: _LONGEST - 1] + "…"


@dataclass(frozen=True, slots=True)
class Style:
    """The look of a cell; `dataclasses.replace` makes a variation of one.

    `edges` are the sides with a line: of l, r, t, b.
    """

    size: float = 10
    bold: bool = False
    italic: bool = False
    ink: str = INK
    fill: str = ""
    edges: str = ""
    align: Literal["left", "center", "right"] = "left"
    upright: Literal["top", "center", "bottom"] = "center"
    wrap: bool = False
    indent: int = 0
    number_format: str = "General"
    underline: bool = False

    def dress(self, cell: Cell) -> None:
        """Give the cell this look."""
        bare = cast("_Bare", cell)
        looks = _LOOKS.setdefault(cell.parent.parent, {})
        known = looks.get(self)
        if cell.has_style:
            self._dress_anew(cell)
        elif known is not None:
            bare._style = copy(known)
        else:
            self._dress_anew(cell)
            looks[self] = copy(bare._style)

    def _dress_anew(self, cell: Cell) -> None:
        font, alignment, fill, border = _parts(self)
        cell.font = font
        cell.alignment = alignment
        if self.fill:
            cell.fill = fill
        if self.edges:
            cell.border = border
        if self.number_format != "General":
            cell.number_format = self.number_format


class _Bare(Protocol):
    """A cell by the indexes of its look, which openpyxl's types leave out."""

    _style: StyleArray


@cache
def _parts(style: Style) -> tuple[Font, Alignment, PatternFill, Border]:
    line = Side(style="thin", color=EDGE)
    left, right, top, bottom = (line if side in style.edges else Side() for side in "lrtb")
    return (
        Font(
            name=FONT,
            size=style.size,
            bold=style.bold,
            italic=style.italic,
            color=style.ink,
            underline="single" if style.underline else None,
        ),
        Alignment(
            horizontal=style.align,
            vertical=style.upright,
            wrap_text=style.wrap,
            indent=style.indent,
        ),
        PatternFill("solid", fgColor=style.fill or "FFFFFF"),
        Border(left=left, right=right, top=top, bottom=bottom),
    )


TITLE = Style(size=16, bold=True)
HEADING = Style(size=9, bold=True, ink="FFFFFF", fill=HEADING_FILL, wrap=True)
BAND = Style(size=11, bold=True, fill=BAND_FILL)
BAND_FAINT = Style(size=9, ink=FAINT_INK, fill=BAND_FILL)
PLAIN = Style()
STRONG = Style(bold=True)
FAINT = Style(size=8.5, ink=FAINT_INK)
CAUTION = Style(size=9.5, bold=True, ink=RED)
BOX = Style(size=11, fill=BOX_FILL, edges=ALL_ROUND, number_format=TEXT)
BOX_WIDE = Style(size=10, fill=BOX_FILL, edges=ALL_ROUND, number_format=TEXT)
BOX_DAY = Style(size=10, fill=BOX_FILL, edges=ALL_ROUND, number_format=DAY)
MONEY_CELL = Style(align="right", number_format=MONEY)
COUNT_CELL = Style(align="right", number_format=WHOLE)
LINK = Style(ink="1A56A0", underline=True)


def put_text(cell: Cell, text: str, style: Style = PLAIN) -> None:
    """Write text that no spreadsheet will take for a formula, whatever it begins with."""
    cell.value = safe_text(text)
    cell.data_type = "s"
    style.dress(cell)
    if text[:1] in {"=", "+", "-", "@"}:
        cell.quotePrefix = True


def put_number(cell: Cell, number: Decimal | int, style: Style = COUNT_CELL) -> None:
    """Write a number that the sheet may reckon with; the file keeps its decimal digits."""
    cell.value = number
    style.dress(cell)


def put_formula(cell: Cell, formula: str, style: Style = MONEY_CELL) -> None:
    """Write one of our own formulas; never one with a person's text inside it."""
    if not formula.startswith("="):
        raise ValueError(f"{formula!r} is no formula")
    cell.value = formula
    style.dress(cell)


def set_widths(sheet: Worksheet, widths: Mapping[str, float]) -> None:
    """Set column widths in characters; a width of 0 hides the column."""
    for letter, width in widths.items():
        if width:
            sheet.column_dimensions[letter].width = width
        else:
            sheet.column_dimensions[letter].hidden = True


def set_up_page(
    sheet: Worksheet,
    *,
    landscape: bool = False,
    title_rows: str = "",
    footer: str = "",
    margins_mm: float = 10,
) -> None:
    """Set the sheet up for A4: one page wide, headings repeated, page numbers in the footer.

    Row breaks set by hand are kept: the height is not fitted.
    """
    sheet.page_setup.paperSize = sheet.PAPERSIZE_A4
    sheet.page_setup.orientation = "landscape" if landscape else "portrait"
    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, 0
    inches = margins_mm / _MM_PER_INCH
    sheet.page_margins.left = sheet.page_margins.right = sheet.page_margins.top = inches
    sheet.page_margins.bottom = inches * 1.5
    sheet.page_margins.header = sheet.page_margins.footer = inches / 2
    sheet.print_options.horizontalCentered = True
    if title_rows:
        sheet.print_title_rows = title_rows
    # An ampersand is a command in a footer; doubled, it is an ampersand.
    foot = HeaderFooterItem()
    foot.left.text, foot.left.size = safe_text(footer).replace("&", "&&"), 8
    foot.right.text, foot.right.size = "page &P of &N", 8
    sheet.HeaderFooter.oddFooter = foot
    sheet.sheet_view.showGridLines = False


def break_pages(sheet: Worksheet, after_rows: Iterable[int]) -> None:
    """Begin a new printed page after each of these rows."""
    for row in after_rows:
        sheet.row_breaks.append(Break(id=row))


def sheet_title(name: str, book: Workbook) -> str:
    """Return a title that a sheet may have: no sign that the format forbids, short, not taken."""
    plain = " ".join(re.sub(r"[\[\]:*?/\\]", " ", name).split()).strip("'")[:_LONGEST_TITLE]
    plain = plain or "Sheet"
    taken = {title.casefold() for title in book.sheetnames}
    title, at = plain, 2
    while title.casefold() in taken:
        title = f"{plain[: _LONGEST_TITLE - 4]} {at}"
        at += 1
    return title


def new_workbook() -> Workbook:
    """Return an empty workbook in our font.

    A column's width counts letters of the workbook's plain font; so it must be the one in use.
    """
    from openpyxl import Workbook
    from openpyxl.utils.indexed_list import IndexedList

    book = Workbook()
    plain = Font(name=FONT, size=10, family=2)
    # openpyxl has no other door to the first font, by which every program reckons widths.
    vars(book)["_fonts"] = IndexedList([plain])
    vars(book)["_named_styles"]["Normal"].font = plain
    book.properties.creator = "kitting"
    return book
