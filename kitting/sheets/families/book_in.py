"""A family back from its workbook; what is wrong is told with its sheet and cell, all at once."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from datetime import date, time, timedelta
from decimal import Decimal
from typing import TYPE_CHECKING

from openpyxl.utils import get_column_letter

from kitting.catalog.cells import key as key_cell
from kitting.catalog.columns import FAMILY_FILES, MAY_BE_LEFT_OUT
from kitting.catalog.files import family_from_pages
from kitting.catalog.nearest import nearest
from kitting.catalog.pages import FamilyPages, Page, PageLine
from kitting.catalog.textfile import RawRow
from kitting.errors import BadInput, Problem, Problems
from kitting.sheets.cells import day_in, is_blank, number_in
from kitting.sheets.families.words import READ_ME, FamilySheet, SheetColumn, family_sheets
from kitting.sheets.files import open_workbook

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Mapping
    from pathlib import Path

    from openpyxl import Workbook
    from openpyxl.cell.cell import Cell, MergedCell
    from openpyxl.worksheet.worksheet import Worksheet

    from kitting.catalog.family import Family
    from kitting.catalog.rows import Sources

    AnyCell = Cell | MergedCell

_HEADING_WITHIN = 200
_PLACE = re.compile(r"sheet (?P<sheet>[^,:]+?) line (?P<row>\d+)(, column (?P<column>\w+))?")
_FILE = re.compile(r"\b(?P<table>\w+)\.csv\b")


@dataclass(frozen=True, slots=True)
class FamilyBook:
    """What a workbook holds: the family, its pages with their comments, and where all stands."""

    family: Family
    pages: FamilyPages
    sources: Sources
    letters: Mapping[tuple[str, str], str]

    def told(self, problems: Iterable[Problem]) -> tuple[Problem, ...]:
        """Problems with sheets and cells in place of files and lines."""
        return tuple(_told(problem, self.letters) for problem in problems)


def read_family_book(path: Path) -> FamilyBook:
    """Return what a family's workbook holds, well formed; `check_family` says if it is sound.

    Raises:
        BadInput: no workbook, or not a family's; every fault with its sheet and cell.
    """
    reading = _BookReading(open_workbook(path))
    pages = reading.pages()
    key, family_page = _key_of(pages["family"], reading.problems)
    pages["family"] = family_page
    rows = {
        file: [row for row in reading.rows[file] if row.cells.get("key") != "key"]
        if file == "family"
        else reading.rows[file]
        for file in FAMILY_FILES
    }
    try:
        family, sources = family_from_pages(key, rows, reading.problems)
    except BadInput as error:
        raise BadInput(_told(problem, reading.letters) for problem in error.problems) from None
    return FamilyBook(family, FamilyPages(key, pages), sources, reading.letters)


def _key_of(page: Page, problems: Problems) -> tuple[str, Page]:
    """The family's key, and the page without it: in the text files it is the folder's name."""
    stated = [line.cells[1] for line in page.lines if line.cells[:1] == ("key",)]
    others = tuple(line for line in page.lines if line.cells[:1] != ("key",))
    if len(stated) != 1:
        wrong = "the family's key is missing" if not stated else "the key stands there twice"
        problems.add("sheet Family", wrong, "one row: key, and the family's key beside it")
        return "", page
    with problems.at("sheet Family, the key"):
        key_cell(stated[0])
    return stated[0], Page(page.head, others)


@dataclass(slots=True)
class _BookReading:
    """A workbook being read: its problems, the rows of each table, where each column stands."""

    book: Workbook
    problems: Problems = field(default_factory=Problems)
    rows: dict[str, list[RawRow]] = field(default_factory=dict)
    letters: dict[tuple[str, str], str] = field(default_factory=dict)
    # The columns, by table and place, of which it was told that what is in them would be lost.
    lost: set[tuple[str, int]] = field(default_factory=set)

    def pages(self) -> dict[str, Page]:
        """Every sheet as a page; what cannot be taken is noted."""
        titles = {title.strip().casefold(): title for title in self.book.sheetnames}
        found: dict[str, Page] = {}
        for table, words in family_sheets().items():
            self.rows[table] = []
            title = titles.pop(words.title.casefold(), "")
            found[table] = self._page(self.book[title], words) if title else Page()
            if not title:
                near = nearest(words.title, titles.values())
                advice = f"is it '{near[0]}' now?" if near else ""
                self.problems.add(f"sheet {words.title}", "the sheet is missing", advice)
        titles.pop(READ_ME.casefold(), None)
        for title in titles.values():
            self.problems.add(
                f"sheet {title}",
                "it is none of a family's sheets, and what stands in it would be lost",
                "take it out of this workbook, or give it the name it had",
            )
        return found

    def _page(self, sheet: Worksheet, words: FamilySheet) -> Page:
        head: list[str] = []
        columns: dict[int, SheetColumn] = {}
        lines: list[PageLine] = []
        under_heading = False
        for number, cells in enumerate(sheet.iter_rows(), start=1):
            filled = {at: cell for at, cell in enumerate(cells, start=1) if not is_blank(cell)}
            said = [str(cell.value).strip() for cell in filled.values()]
            if not filled:
                continue
            if said[0].startswith("#"):
                text = " ".join(" ".join(each.split()) for each in said)
                if columns:
                    lines.append(PageLine(comment=text))
                else:
                    head.append(text)
            elif columns and under_heading and _is_note_row(filled, columns):
                under_heading = False
            elif columns:
                under_heading = False
                lines.append(self._line(words, number, filled, columns))
            elif _is_heading(said, words):
                columns = self._columns(words, filled)
                self.lost |= {(words.table, at) for at in filled.keys() - columns.keys()}
                under_heading = True
            elif number > _HEADING_WITHIN:
                break
        if not columns:
            wanted = ", ".join(column.heading for column in words.columns)
            self.problems.add(f"sheet {words.title}", "the heading row is missing", wanted)
        return Page(tuple(head), tuple(lines))

    def _columns(
        self, words: FamilySheet, heading: Mapping[int, AnyCell]
    ) -> dict[int, SheetColumn]:
        by_word = {column.heading.casefold(): column for column in words.columns}
        found: dict[int, SheetColumn] = {}
        unknown: dict[int, AnyCell] = {}
        taken: set[str] = set()
        for at, cell in heading.items():
            said = str(cell.value).strip()
            column = by_word.get(said.casefold())
            if column is None:
                unknown[at] = cell
            elif column.name in taken:
                place = f"sheet {words.title}, cell {cell.coordinate}"
                self.problems.add(place, f"the heading {said} is there twice", "keep one of them")
            else:
                taken.add(column.name)
                found[at] = column
                self.letters[words.title, column.name] = get_column_letter(at)
        self._tell_headings(words, unknown.values(), taken)
        return found

    def _tell_headings(
        self, words: FamilySheet, unknown: Collection[AnyCell], taken: Collection[str]
    ) -> None:
        """Tell each heading that is none, with that which it may be, and each that is missing."""
        left = [column.heading for column in words.columns if column.name not in taken]
        needless = MAY_BE_LEFT_OUT.get(words.table, ())
        wanted = [c.heading for c in words.columns if c.name not in (*taken, *needless)]
        for cell in unknown:
            said = str(cell.value).strip()
            near = nearest(said, left)
            if not near and len(unknown) == len(wanted) == 1:
                near = tuple(wanted)
            wanted = [heading for heading in wanted if heading not in near[:1]]
            self.problems.add(
                f"sheet {words.title}, cell {cell.coordinate}",
                f"'{said[:40]}' is no heading here",
                f"is it '{near[0]}', which is missing?" if near else "take the column out",
            )
        for heading in wanted:
            self.problems.add(
                f"sheet {words.title}",
                f"the column {heading} is missing",
                "add it; its cells may be empty",
            )

    def _line(
        self,
        words: FamilySheet,
        number: int,
        filled: Mapping[int, AnyCell],
        columns: Mapping[int, SheetColumn],
    ) -> PageLine:
        said = dict.fromkeys((column.name for column in columns.values()), "")
        for at, cell in filled.items():
            place = f"sheet {words.title}, cell {cell.coordinate}"
            column = columns.get(at)
            if column is None:
                self._tell_lost(words, at, place)
                continue
            # What cannot be taken is told here, and is not asked for as an empty cell again; nor
            # is a column that the heading lacks.
            del said[column.name]
            with self.problems.at(f"sheet {words.title} line {number}, column {column.name}"):
                said[column.name] = _said(cell, column)
        self.rows[words.table].append(RawRow(f"sheet {words.title}", number, said))
        return PageLine(tuple(said.get(column.name, "") for column in words.columns))

    def _tell_lost(self, words: FamilySheet, at: int, place: str) -> None:
        """Tell once of a column without a heading that something stands in it."""
        if (words.table, at) not in self.lost:
            self.lost.add((words.table, at))
            wrong = "it stands under no heading, and would be lost"
            advice = f"take out what is in column {get_column_letter(at)}"
            self.problems.add(place, wrong, advice)


def _is_heading(said: list[str], words: FamilySheet) -> bool:
    """Whether at least half of the headings stand in a row, and two of them."""
    wanted = {column.heading.casefold() for column in words.columns}
    found = wanted & {each.casefold() for each in said}
    return len(found) * 2 >= len(wanted) and len(found) > 1


def _is_note_row(filled: Mapping[int, AnyCell], columns: Mapping[int, SheetColumn]) -> bool:
    return any(
        at in columns and str(cell.value).strip() == columns[at].note for at, cell in filled.items()
    )


def _said(cell: AnyCell, column: SheetColumn) -> str:
    """What a cell says, as the text files would say it.

    Raises:
        BadInput: a formula or an error, a date where none belongs, or more than one line.
    """
    if cell.data_type in {"f", "e"}:
        shown = str(getattr(cell.value, "text", cell.value))[:40]
        what = "formula" if cell.data_type == "f" else "error"
        raise BadInput(Problem("", f"the cell holds the {what} {shown}", "type the words as text"))
    if column.is_day and isinstance(cell.value, date):
        day = day_in(cell)
        return day.isoformat() if day else ""
    if isinstance(cell.value, bool) and column.is_mark:
        return "yes" if cell.value else ""
    if isinstance(cell.value, bool | date | time | timedelta):
        raise BadInput(
            Problem(
                "",
                f"the spreadsheet has made {str(cell.value)[:20]} of what was typed",
                "format the cell as text and type it again",
            )
        )
    if isinstance(cell.value, str):
        return _one_line(cell.value)
    return number_in(cell) if column.is_number else _figure_text(cell.value)


def _figure_text(value: object) -> str:
    if isinstance(value, float):
        return format(Decimal(repr(value)), "f").removesuffix(".0")
    return str(value)


def _one_line(text: str) -> str:
    tidy = text.strip()
    if any(mark in tidy for mark in "\n\r"):
        raise BadInput(Problem("", "the cell has more than one line", "write it in one line"))
    return tidy


def _told(problem: Problem, letters: Mapping[tuple[str, str], str]) -> Problem:
    """A problem in the words of the workbook: sheets and cells for files and lines."""

    def cell(match: re.Match[str]) -> str:
        sheet, row, column = match["sheet"], match["row"], match["column"]
        letter = letters.get((sheet, column or ""))
        if letter is None:
            return f"sheet {sheet}, row {row}"
        return f"sheet {sheet}, cell {letter}{row} ({_heading(sheet, column)})"

    def sheet(match: re.Match[str]) -> str:
        words = family_sheets().get(match["table"])
        return f"the sheet {words.title}" if words else match[0]

    return Problem(*(_FILE.sub(sheet, _PLACE.sub(cell, text)) for text in _texts(problem)))


def _texts(problem: Problem) -> tuple[str, str, str]:
    return problem.place, problem.wrong, problem.right


def _heading(title: str, column: str) -> str:
    sheets = (each for each in family_sheets().values() if each.title == title)
    named = (c.heading for each in sheets for c in each.columns if c.name == column)
    return next(named, column)
