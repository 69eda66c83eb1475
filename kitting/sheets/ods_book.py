"""A filled sheet that came back as an OpenDocument workbook, as the workbook that it was made from.

Cells become what the reader of workbooks makes of them: text, numbers, days, formulas as written.
A sheet of ours has a few hundred rows; what claims far more is refused before it is built.
"""

from __future__ import annotations

import re
import zipfile
from dataclasses import dataclass, replace
from datetime import datetime, time
from typing import TYPE_CHECKING, Any
from unicodedata import category

from openpyxl.cell.rich_text import CellRichText, TextBlock
from openpyxl.cell.text import InlineFont
from openpyxl.comments import Comment
from openpyxl.styles import Font

from kitting.errors import BadInput, Problem
from kitting.sheets.ods import (
    OFFICE,
    TABLE,
    cells_of,
    note_of,
    ods_rows,
    repeated,
    struck_styles,
    words_and_struck,
    words_of,
)

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from openpyxl import Workbook

_OPEN_DOCUMENT = "application/vnd.oasis.opendocument."
_CONTENT = "content.xml"
_MANIFEST = "META-INF/manifest.xml"
_MOST_MEGABYTES = 60
_MOST_ROWS = 20_000
_MOST_COLUMNS = 200
_MOST_CELLS = 400_000
_MOST_LETTERS = 32_767
_SCIENTIFIC = re.compile(r"[-\d.,]+E[+-]?\d+", re.IGNORECASE)
# Up to two digits behind a point or comma are decimals in any language; three may be thousands.
_DECIMALS = re.compile(r"\d[.,](\d{1,2})\D*$")
_NO_POINT = re.compile(r"\D*\d+[^\d.,]*")
_FIGURES = re.compile(r"(\D*)(\d(?:[\d.,'\u2019\s]*\d)?)(.*)")
_FRACTION = re.compile(r"-?(?:\d+ )?\d+/\d+")
# In a formula: a text that stands for itself, a cell or a range in its brackets, a semicolon.
_ARGUMENTS = re.compile(r'"[^"]*"|\[([^\[\]]*)\]|;')
_POINT = re.compile(r"(?:^|(?<=:))\.")
_NUMBERS = {"float", "currency", "percentage"}
# What one program allows in a sheet's name and the other does not.
_NOT_IN_A_TITLE = re.compile(r"[\\/*?:\[\]]")
_MOST_OF_A_TITLE = 31


def is_ods(packed: zipfile.ZipFile) -> bool:
    """Whether a packed file says of itself that it is an OpenDocument file."""
    return "mimetype" in packed.namelist() and _kind(packed).startswith(_OPEN_DOCUMENT)


def wrong_with_ods(packed: zipfile.ZipFile) -> tuple[str, str] | None:
    """Why such a file cannot be read as a workbook, and what would be right; None when it can."""
    parts = {part.filename: part.file_size for part in packed.infolist()}
    manifest = packed.read(_MANIFEST) if _MANIFEST in parts else b""
    if "encrypted-package" in parts or b"encryption-data" in manifest:
        return "the workbook is protected by a password", "save a copy without the password"
    if not _kind(packed).startswith(f"{_OPEN_DOCUMENT}spreadsheet") or _CONTENT not in parts:
        return "this is an OpenDocument file but no sheet", "give the sheet that was filled in"
    if parts[_CONTENT] > _MOST_MEGABYTES * 1_000_000:
        return (
            f"the workbook unpacks to {parts[_CONTENT] // 1_000_000} MB, far more than a filled "
            "sheet",
            "give the right file, or clear what does not belong there",
        )
    return None


def _kind(packed: zipfile.ZipFile) -> str:
    return packed.read("mimetype")[:100].decode("ascii", "replace").strip()


def open_ods(path: Path, *, rich: bool = False) -> Workbook:
    """Return an OpenDocument workbook that was looked into before.

    With `rich`, text of which only a part is struck through comes part by part.

    Raises:
        BadInput: it has far more in it than a filled sheet.
        ValueError: it is damaged.
    """
    import openpyxl

    book = openpyxl.Workbook()
    book.remove(book.worksheets[0])
    last, built = None, 0
    struck = struck_styles(path)
    merged: list[tuple[Any, tuple[int, int, int, int]]] = []
    for title, row, again, element in ods_rows(path):
        if last is None or title != last:
            book.create_sheet(_NOT_IN_A_TITLE.sub(" ", title)[:_MOST_OF_A_TITLE])
            last = title
        found = tuple(_cells(element, struck, rich))
        times = again if found else 0
        built += times * len(found)
        if built > _MOST_CELLS or (found and row + times - 1 > _MOST_ROWS):
            raise _too_much(path, title)
        for at in range(row, row + times):
            for column, cell in found:
                cell.put(book.worksheets[-1].cell(at, column))
                if cell.over != (1, 1):
                    built += cell.over[0] * cell.over[1]
                    last_row, last_column = at + cell.over[0] - 1, column + cell.over[1] - 1
                    if built > _MOST_CELLS:
                        raise _too_much(path, title)
                    corners = (at, column, last_row, last_column)
                    merged.append((book.worksheets[-1], corners))
    if not book.worksheets:
        raise ValueError("no sheet")
    for sheet, (top, left, bottom, right) in merged:
        sheet.merge_cells(start_row=top, start_column=left, end_row=bottom, end_column=right)
    return book


def _too_much(path: Path, title: str) -> BadInput:
    return BadInput(
        Problem(
            f'{path.name}, sheet "{title}"',
            "far more is written in it than in a filled sheet",
            "give the right file, or clear what does not belong there",
        )
    )


@dataclass(frozen=True, slots=True)
class _Content:
    """What one cell holds, and as what a workbook keeps it.

    `over` are the rows and columns that it was merged over, `note` what is pinned to it.
    """

    value: str | float | bool | datetime | time | CellRichText | None
    kind: str
    number_format: str = ""
    struck: bool = False
    note: str = ""
    over: tuple[int, int] = (1, 1)

    def put(self, cell: Any) -> None:
        if self.value is not None:
            cell.value = self.value
            # Text that begins with = is text, unless the file says that it is a formula.
            cell.data_type = self.kind
        if self.number_format:
            cell.number_format = self.number_format
        if self.struck:
            cell.font = Font(strike=True)
        if self.note:
            cell.comment = Comment(self.note, "")


def _cells(row: Any, struck: frozenset[str], rich: bool) -> Iterator[tuple[int, _Content]]:
    """The filled cells of a row by column; what lies beyond any sheet's columns is left out."""
    column = 1
    for cell, again in cells_of(row):
        content = _dressed(cell, struck, rich) if column <= _MOST_COLUMNS else None
        if content is not None:
            for at in range(column, min(column + again, _MOST_COLUMNS + 1)):
                yield at, content
        column += again


def _dressed(cell: Any, struck: frozenset[str], rich: bool) -> _Content | None:
    """What a cell holds with its note, its look and what it was merged over."""
    content, note = _content(cell), note_of(cell)[:_MOST_LETTERS]
    if content is None:
        return _Content(None, "n", note=note) if note else None
    over = (repeated(cell, "number-rows-spanned"), repeated(cell, "number-columns-spanned"))
    looks_struck = cell.get(f"{TABLE}style-name", "") in struck
    parts = words_and_struck(cell, struck) if rich and content.kind == "s" else []
    if any(is_struck for _, is_struck in parts):
        content = replace(content, value=_rich_text(parts))
    return replace(content, struck=looks_struck, note=note, over=over)


def _rich_text(parts: list[tuple[str, bool]]) -> CellRichText:
    """Text of which some parts are struck through."""
    line = InlineFont(strike=True)
    pieces = (TextBlock(line, text) if is_struck else text for text, is_struck in parts)
    return CellRichText(*pieces)


def _content(cell: Any) -> _Content | None:
    shown = words_of(cell)
    formula = cell.get(f"{TABLE}formula")
    if formula:
        return _Content(_formula(str(formula)), "f")
    kind = cell.get(f"{OFFICE}value-type", "string")
    if kind in _NUMBERS:
        scientific = _SCIENTIFIC.fullmatch(shown.strip()) is not None
        number = float(cell.get(f"{OFFICE}value", "nan"))
        return _Content(number, "n", "0.00E+00" if scientific else _format(cell, shown))
    if kind in {"date", "time"}:
        moment = (_day if kind == "date" else _time)(cell.get(f"{OFFICE}{kind}-value", ""))
        return _Content(shown, "s") if moment is None else _Content(moment, "d")
    if kind == "boolean":
        return _Content(cell.get(f"{OFFICE}boolean-value") == "true", "b")
    if kind == "string" and cell.get(f"{OFFICE}string-value"):
        shown = cell.get(f"{OFFICE}string-value")
    return _Content(shown[:_MOST_LETTERS], "s") if shown else None


def _formula(said: str) -> str:
    """A formula as other workbooks write it: E27 for [.E27], and a comma between arguments."""
    text = _ARGUMENTS.sub(
        lambda found: "," if found[0] == ";" else _POINT.sub("", found[1] or found[0]),
        said.partition("=")[2],
    )
    return f"={text[:_MOST_LETTERS]}"


def _format(cell: Any, shown: str) -> str:
    """The format of a number by what its cell shows: its decimals, words, and a currency by code.

    What stands before and behind the first figures is quoted, a percentage mark is not: as a
    workbook's own format has them.
    """
    plain = " ".join(shown.split())
    found = _FIGURES.fullmatch(plain)
    if found is None:
        return _quoted(plain)
    if _FRACTION.fullmatch(plain):
        return "# ?/?"
    places = _DECIMALS.search(shown)
    digits = f"0.{'0' * len(places[1])}" if places else "0" if _NO_POINT.fullmatch(shown) else ""
    before, after = found[1].lstrip("-+\u2212"), found[3]
    code = cell.get(f"{OFFICE}currency", "")
    if code:
        before, after = (_without_sign(each, code) for each in (before, after))
        return f"[${code}] {_quoted(before)}{digits or 'General'}{_quoted(after)}"
    if not (before.strip() or after.strip()):
        return digits
    return f"{_quoted(before)}{digits or 'General'}{_quoted(after)}"


def _without_sign(words: str, code: str) -> str:
    """Words without the currency that they show by its code or a sign."""
    return "".join(each for each in words.replace(code, "") if category(each) != "Sc").strip()


def _quoted(words: str) -> str:
    """Words as a number's format has them, '' for none; a percentage mark counts as one."""
    parts = words.replace('"', "").split("%")
    return "%".join(f'"{each}"' if each else "" for each in parts)


def _day(text: str) -> datetime | None:
    try:
        return datetime.fromisoformat(text).replace(tzinfo=None)
    except ValueError:
        return None


def _time(text: str) -> time | None:
    """A time of day out of PT13H30M00S; a span beyond a day is no time that anybody typed."""
    match = re.fullmatch(r"PT(\d+)H(\d+)M(\d+)(?:[.,]\d+)?S", text)
    if match is None:
        return None
    hours, minutes, seconds = map(int, match.groups())
    return time(hours % 24, minutes % 60, seconds % 60)
