"""What a person put into a cell, as the text that was meant; what no person can have meant is told.

Numbers come out of a workbook as binary floats. Their shortest decimal text is what was typed.
"""

from __future__ import annotations

import re
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from typing import TYPE_CHECKING

from kitting.errors import BadInput, Problem
from kitting.months import day_in_words, day_made

if TYPE_CHECKING:
    from openpyxl.cell.cell import Cell, MergedCell

    # Cells that somebody has joined to their neighbour are blank.
    AnyCell = Cell | MergedCell

_SCIENTIFIC = re.compile(r"E[+-]")
_BREAKS = re.compile(r"[\s\u00a0\u2007\u202f]+")


def is_blank(cell: AnyCell | None) -> bool:
    """Whether nothing, or only blanks, stands in the cell."""
    return cell is None or cell.value is None or not _BREAKS.sub("", str(cell.value))


def figure_in(cell: AnyCell) -> str:
    """Return the figure in a cell as text, '' when blank.

    Raises:
        BadInput: a formula, an error, a date or a yes/no where a figure belongs.
    """
    value = cell.value
    if is_blank(cell):
        return ""
    _refuse_reckoned(cell, "type the figure itself")
    if isinstance(value, bool):
        raise BadInput(
            Problem("", f"'{str(value).upper()}' is no figure", "type what the instrument reads")
        )
    if isinstance(value, date | time | timedelta):
        raise BadInput(
            Problem(
                "",
                f"the date {_date_text(value)} stands where a figure belongs: the spreadsheet "
                "has made it of what was typed",
                'type the figure again with its unit, such as 1/2 in or 0.500"',
            )
        )
    return _text_of(value)


def words_in(cell: AnyCell) -> str:
    """Return what a person wrote, '' when blank; a leading = + - @ is kept as the text it is.

    Raises:
        BadInput: an error value of the spreadsheet.
    """
    if is_blank(cell):
        return ""
    if cell.data_type == "e":
        raise BadInput(
            Problem("", f"the cell holds the error {cell.value}", "type the words again")
        )
    if isinstance(cell.value, date | time | timedelta):
        return _date_text(cell.value)
    return _text_of(getattr(cell.value, "text", cell.value))


def number_in(cell: AnyCell) -> str:
    """Return a part number as text, '' when blank.

    Raises:
        BadInput: the spreadsheet has made something else of it, and the number is lost.
    """
    if is_blank(cell):
        return ""
    _refuse_reckoned(cell, "type the number as text")
    value = cell.value
    lost = isinstance(value, bool | date | time | timedelta)
    if isinstance(value, float) and (
        not value.is_integer() or _SCIENTIFIC.search(cell.number_format)
    ):
        lost = True
    if lost:
        shown = _date_text(value) if isinstance(value, date | time | timedelta) else str(value)
        raise BadInput(
            Problem(
                "",
                f"{shown} stands where a part number belongs: the spreadsheet has turned what was "
                "typed into something else",
                "format the cell as text and type the number again",
            )
        )
    return _text_of(value)


def day_in(cell: AnyCell) -> date | None:
    """Return the day in a cell: a date, or text: 2024-05-01, 1/5/2024 (day first), 1 May 2024.

    Raises:
        BadInput: anything else.
    """
    if is_blank(cell):
        return None
    _refuse_reckoned(cell, "type the date itself")
    if isinstance(cell.value, datetime):
        return cell.value.date()
    if isinstance(cell.value, date):
        return cell.value
    typed = _text_of(cell.value)
    found = _day_of(typed)
    if found is None:
        raise BadInput(Problem("", f"'{typed}' is no date", "write it as 2024-05-01 or 1 May 2024"))
    return found


def _refuse_reckoned(cell: AnyCell, right: str) -> None:
    if cell.data_type == "e":
        raise BadInput(Problem("", f"the cell holds the error {cell.value}", right))
    if cell.data_type == "f":
        formula = str(getattr(cell.value, "text", cell.value))[:40]
        raise BadInput(Problem("", f"the cell holds the formula {formula}", right))


def _text_of(value: object) -> str:
    if isinstance(value, float):
        return format(Decimal(repr(value)), "f").removesuffix(".0")
    return _BREAKS.sub(" ", str(value)).strip()


def _date_text(value: date | time | timedelta) -> str:
    return value.isoformat()[:10] if isinstance(value, date) else str(value)


def _day_of(typed: str) -> date | None:
    for pattern in (
        r"(?P<y>\d{4})-(?P<m>\d{1,2})-(?P<d>\d{1,2})",
        r"(?P<d>\d{1,2})[./-](?P<m>\d{1,2})[./-](?P<y>\d{4})",
        r"(?P<d>\d{1,2})(?P<by>[./])(?P<m>\d{1,2})(?P=by)(?P<y>\d{2})",
    ):
        match = re.fullmatch(pattern, typed)
        if match:
            return day_made(match["y"], int(match["m"]), match["d"])
    return day_in_words(typed)
