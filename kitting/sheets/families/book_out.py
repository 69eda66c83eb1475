"""A family as a workbook, for somebody who never saw the text files.

A sheet a table, with headings in words, a note under each, and drop-downs where a cell holds a key
or a word; every cell is text, so that 1/2-20 stays what it is. The comments of the text files stand
in their places, in rows that begin with a hash.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation

from kitting.catalog.pages import PageLine
from kitting.errors import Problems
from kitting.sheets.families.words import READ_ME, FamilySheet, SheetColumn, family_sheets
from kitting.sheets.files import save_workbook
from kitting.sheets.page import lines_in, row_height
from kitting.sheets.style import (
    ALL_ROUND,
    FAINT,
    HEADING,
    STRONG,
    TEXT,
    TITLE,
    Style,
    new_workbook,
    put_text,
    safe_text,
    set_up_page,
    set_widths,
)

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    from openpyxl import Workbook
    from openpyxl.worksheet.worksheet import Worksheet

    from kitting.catalog.pages import FamilyPages, Page

# So many rows below the last one still offer their drop-downs.
_SPARE = 500
_NARROWEST, _WIDEST = 9, 46
_CELL = Style(size=9.5, edges=ALL_ROUND, wrap=True, upright="top", number_format=TEXT)
_NOTE = Style(size=8, italic=True, ink="5B6770", wrap=True, upright="top", number_format=TEXT)
_COMMENT = Style(size=9.5, italic=True, number_format=TEXT)
# What the file format would read as the code of a sign.
_CODED = re.compile(r"_x[0-9A-Fa-f]{4}_")
_HOW = (
    "Each sheet is a table, each row one thing. The notes under the headings say what belongs in a "
    "column; leave headings and sheets' names as they are. Columns may stand in another order.",
    "Write as you would on paper: 1/2 x 20 cycle, 2.7480 in, 0.5 thou. Every cell is text; a cell "
    "that the spreadsheet turns into a date or a formula is refused when the workbook is read.",
    "Drop-downs offer the keys and words that exist. A cell that holds several has them joined by "
    "a bar: mark-1 | mark-2. A mark is yes or an empty cell.",
    "A row that begins with # is a comment: it is kept where it stands and means nothing to the "
    "program. Empty rows are passed over.",
    "Keys join the sheets. Change a key on its own sheet and wherever it is named.",
    "When you are done: kitting catalog import FILE --check-only names every fault with its sheet "
    "and cell; without --check-only the family is loaded; with --to FOLDER it is written back as "
    "text files.",
)


def write_family_book(family: FamilyPages, path: Path, *, overwrite: bool = False) -> None:
    """Write the workbook of a family.

    Raises:
        BadInput: the file is there already or cannot be written; a text cannot stand in a cell.
    """
    _refuse_what_no_cell_holds(family)
    book = new_workbook()
    first = {file: 3 + len(page.head) + 1 for file, page in family.pages.items()}
    _write_read_me(book, family)
    for file, sheet in family_sheets().items():
        _write_sheet(book, sheet, _page_of(family, file), first, family)
    save_workbook(book, path, replace=overwrite)


def _page_of(family: FamilyPages, file: str) -> Page:
    """A page; that of the family itself opens with its key, which else is the folder's name."""
    page = family.pages[file]
    if file != "family":
        return page
    return replace(page, lines=(PageLine(("key", family.key)), *page.lines))


def _refuse_what_no_cell_holds(family: FamilyPages) -> None:
    problems = Problems()
    for file, page in family.pages.items():
        texts = [*page.head, *(line.comment for line in page.lines)]
        texts += [cell for line in page.lines for cell in line.cells]
        for text in texts:
            if safe_text(text) != text or _CODED.search(text):
                problems.add(
                    f"{file}.csv",
                    f"'{text[:40]}' cannot stand in a cell of a workbook",
                    "take the sign out that no keyboard has, or shorten the text",
                )
    problems.raise_if_any()


def _write_read_me(book: Workbook, family: FamilyPages) -> None:
    book.remove(book.worksheets[0])
    sheet = book.create_sheet(READ_ME)
    set_widths(sheet, {"A": 22, "B": 90})
    lines = family.pages["family"].lines
    named = {line.cells[0]: line.cells[1] for line in lines if line.cells}
    put_text(sheet["A1"], f"{named.get('name', family.key)}", TITLE)
    put_text(sheet["A2"], f"Catalogue of {family.key}, edition {named.get('edition', '')}", FAINT)
    row = 4
    wrapped = Style(wrap=True, upright="top")
    for number, text in enumerate(_HOW, start=1):
        put_text(sheet.cell(row, 1), f"{number}", Style(align="right", upright="top"))
        put_text(sheet.cell(row, 2), text, wrapped)
        row += 1
    row += 1
    put_text(sheet.cell(row, 1), "Sheet", HEADING)
    put_text(sheet.cell(row, 2), "What it holds", HEADING)
    for each in family_sheets().values():
        row += 1
        put_text(sheet.cell(row, 1), each.title, Style(bold=True, upright="top"))
        put_text(sheet.cell(row, 2), each.about, wrapped)
    _set_heights(sheet)
    set_up_page(sheet, footer=f"{family.key}: catalogue")


def _write_sheet(
    book: Workbook, words: FamilySheet, page: Page, first: Mapping[str, int], family: FamilyPages
) -> None:
    sheet = book.create_sheet(words.title)
    put_text(sheet.cell(1, 1), words.about, STRONG)
    for at, comment in enumerate(page.head, start=2):
        put_text(sheet.cell(at, 1), comment, _COMMENT)
    start = first[words.table]
    for at, column in enumerate(words.columns, start=1):
        put_text(sheet.cell(start - 2, at), column.heading, HEADING)
        put_text(sheet.cell(start - 1, at), column.note, _NOTE)
    row = start
    for line in page.lines:
        if line.comment:
            put_text(sheet.cell(row, 1), line.comment, _COMMENT)
        else:
            for at, text in enumerate(line.cells, start=1):
                put_text(sheet.cell(row, at), text, _CELL)
        row += 1
    _set_columns(sheet, words, page)
    _set_heights(sheet, start - 1)
    for at, column in enumerate(words.columns, start=1):
        _offer(sheet, column, get_column_letter(at), (start, row + _SPARE), (first, family))
    sheet.freeze_panes = sheet.cell(start, 2)
    set_up_page(
        sheet,
        landscape=True,
        title_rows=f"{start - 2}:{start - 2}",
        footer=f"{family.key}: {words.title}",
    )


def _set_columns(sheet: Worksheet, words: FamilySheet, page: Page) -> None:
    """As wide as what stands in them; and text, so that what is typed below stays as typed."""
    for at, column in enumerate(words.columns):
        texts = (line.cells[at] for line in page.lines if line.cells)
        longest = max((len(text) for text in texts), default=0)
        wanted = max(longest, len(column.heading) + 2, min(len(column.note) // 3, 18))
        letter = get_column_letter(at + 1)
        sheet.column_dimensions[letter].width = min(max(wanted + 1, _NARROWEST), _WIDEST)
        sheet.column_dimensions[letter].number_format = TEXT


def _set_heights(sheet: Worksheet, first: int = 1) -> None:
    """Make rows as high as what is wrapped in them; not every program does so by itself."""
    for number, cells in enumerate(sheet.iter_rows(min_row=first), start=first):
        highest = 1.0
        for at, cell in enumerate(cells, start=1):
            if cell.value and cell.alignment.wrap_text:
                width = sheet.column_dimensions[get_column_letter(at)].width
                highest = max(highest, row_height(lines_in(str(cell.value), width, 10), 10))
        if highest > 1:
            sheet.row_dimensions[number].height = highest


def _offer(
    sheet: Worksheet,
    column: SheetColumn,
    letter: str,
    rows: tuple[int, int],
    others: tuple[Mapping[str, int], FamilyPages],
) -> None:
    """Give a column its drop-down: words, or the keys that stand on another sheet."""
    source = _source(column, *others)
    if not source:
        return
    offered = DataValidation(type="list", formula1=source, allow_blank=True)
    offered.errorStyle = "warning"
    offered.showErrorMessage = not column.several
    offered.errorTitle = column.heading
    offered.error = "That is not in the list. Keep it only if you add it where it belongs."
    offered.add(f"{letter}{rows[0]}:{letter}{rows[1]}")
    sheet.add_data_validation(offered)


def _source(column: SheetColumn, first: Mapping[str, int], family: FamilyPages) -> str:
    if column.words:
        return f'"{",".join(column.words)}"'
    if column.refers is None:
        return ""
    table, name = column.refers
    words = family_sheets()[table]
    letter = get_column_letter([each.name for each in words.columns].index(name) + 1)
    last = first[table] + len(family.pages[table].lines) + _SPARE
    return f"'{words.title}'!${letter}${first[table]}:${letter}${last}"
