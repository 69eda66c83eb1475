"""Drawing the rows of a strip sheet: styles, hidden keys, lists to choose from, page breaks."""

from __future__ import annotations

from dataclasses import replace
from types import MappingProxyType
from typing import TYPE_CHECKING

from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation

from kitting.sheets import style
from kitting.sheets.strip.keys import HEADING, LETTERS, Column
from kitting.sheets.strip.layout import GAP_HEIGHT, INSTRUMENTS, TICKS, Look

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from openpyxl.cell.cell import Cell
    from openpyxl.worksheet.worksheet import Worksheet

    from kitting.sheets.strip.keys import SheetKey
    from kitting.sheets.strip.layout import Block, Line, Shown

WIDTHS: Mapping[Column, float] = MappingProxyType(
    {
        Column.WHAT: 30,
        Column.LIMITS: 27,
        Column.UNIT: 8,
        Column.FIRST: 11,
        Column.SECOND: 11,
        Column.THIRD: 11,
        Column.TOOL: 16,
    }
)
HEADINGS: Mapping[Column, str] = MappingProxyType(
    {
        Column.WHAT: "What",
        Column.LIMITS: "Limits; grade seen; number on it",
        Column.UNIT: "Unit",
        Column.FIRST: "Reading",
        Column.SECOND: "Reading",
        Column.THIRD: "Reading",
        Column.TOOL: "Instrument",
    }
)
FIRST_ROW = 4
# A4 less margins and repeated headings, in points on the sheet. The columns together are printed at
# nine tenths; a little is kept in hand because programs differ in what a column's width means.
_PAGE = (297 - 10 - 15) / 25.4 * 72 / 0.9 - 52

_WIDE = replace(style.BOX_WIDE, wrap=False)
_STYLES: Mapping[Look, style.Style] = MappingProxyType(
    {
        Look.BAND: style.BAND,
        Look.BAND_FAINT: style.BAND_FAINT,
        Look.LABEL: replace(style.PLAIN, wrap=True),
        Look.STATION: replace(style.PLAIN, indent=2),
        Look.DIRECTION: replace(style.FAINT, align="center", upright="bottom"),
        Look.FAINT: replace(style.FAINT, indent=1),
        Look.LIMITS: replace(style.FAINT, wrap=True, indent=1),
        Look.FAINT_RIGHT: replace(style.FAINT, align="right", indent=1),
        Look.UNIT: replace(style.STRONG, align="right", indent=1),
        Look.CAUTION: style.CAUTION,
        Look.BOX: style.BOX,
        Look.WIDE: _WIDE,
        Look.DAY: style.BOX_DAY,
        Look.RUN_FIRST: replace(_WIDE, edges="ltb"),
        Look.RUN_INNER: replace(_WIDE, edges="tb"),
        Look.RUN_LAST: replace(_WIDE, edges="rtb"),
    }
)


class Lists:
    """The lists to choose from, on a sheet of their own, and the boxes that each sheet offers."""

    def __init__(self, lists: Mapping[str, tuple[str, ...]]) -> None:
        self._lists = {name: choices for name, choices in lists.items() if choices}
        self._offered: dict[tuple[str, str], DataValidation] = {}
        self._ranges: dict[str, str] = {}

    def write(self, sheet: Worksheet) -> None:
        """Write every list to `sheet`, a column each, and hide it."""
        for at, (name, choices) in enumerate(self._lists.items(), start=2):
            letter = get_column_letter(at)
            for row, text in enumerate((name, *choices), start=1):
                style.put_text(sheet[f"{letter}{row}"], text)
            self._ranges[name] = f"'{sheet.title}'!${letter}$2:${letter}${len(choices) + 1}"
        sheet.sheet_state = "hidden"

    def offer(self, sheet: Worksheet, cell: Cell, name: str) -> None:
        """Offer the list of that name at a cell."""
        if name not in self._ranges:
            return
        offered = self._offered.get((sheet.title, name))
        if offered is None:
            offered = DataValidation(
                type="list",
                formula1=self._ranges[name],
                allow_blank=True,
                showErrorMessage=name not in {INSTRUMENTS, TICKS},
                errorTitle="Not in the list",
                error="Choose one of the list; anything else goes into the notes.",
            )
            sheet.add_data_validation(offered)
            self._offered[(sheet.title, name)] = offered
        offered.add(cell)


def head_sheet(
    sheet: Worksheet,
    key: SheetKey,
    title: str,
    beside: str,
    headings: Mapping[Column, str] = HEADINGS,
) -> None:
    """Write the hidden keys, the title and the column headings; freeze and set up the page."""
    style.put_text(sheet["A1"], str(key))
    for column, letter in LETTERS.items():
        style.put_text(sheet[f"{letter}1"], column)
        style.put_text(sheet[f"{letter}3"], headings[column], style.HEADING)
    style.put_text(sheet["B2"], title, style.TITLE)
    style.put_text(sheet["H2"], beside, replace(style.FAINT, align="right"))
    for row in (2, 3):
        style.put_text(sheet[f"A{row}"], str(HEADING))
    sheet.row_dimensions[1].hidden = True
    sheet.row_dimensions[2].height = 26
    sheet.row_dimensions[3].height = 20
    style.set_widths(sheet, {"A": 0, **{LETTERS[each]: wide for each, wide in WIDTHS.items()}})
    sheet.freeze_panes = f"C{FIRST_ROW}"
    style.set_up_page(sheet, title_rows="2:3", footer=f"{title}: {beside}")


def draw_blocks(sheet: Worksheet, blocks: Iterable[Block], lists: Lists) -> None:
    """Draw the blocks under the headings, with a gap between; no block is cut by a page's end."""
    row, used = FIRST_ROW, 0.0
    breaks = []
    for block in blocks:
        height = sum(line.height for line in block) + GAP_HEIGHT
        if used and used + height > _PAGE:
            breaks.append(row - 1)
            used = 0.0
        for line in block:
            _draw_line(sheet, row, line, lists)
            row += 1
        sheet.row_dimensions[row].height = GAP_HEIGHT
        row += 1
        used += height
    style.break_pages(sheet, breaks)
    sheet.print_area = f"B1:H{row - 1}"


def _draw_line(sheet: Worksheet, row: int, line: Line, lists: Lists) -> None:
    sheet.row_dimensions[row].height = line.height
    style.put_text(sheet[f"A{row}"], str(line.key))
    for column, shown in line.cells.items():
        _draw_cell(sheet, sheet[f"{LETTERS[column]}{row}"], shown, lists)


def _draw_cell(sheet: Worksheet, cell: Cell, shown: Shown, lists: Lists) -> None:
    if shown.text:
        style.put_text(cell, shown.text, _STYLES[shown.look])
    else:
        _STYLES[shown.look].dress(cell)
    if shown.choices:
        lists.offer(sheet, cell, shown.choices)
