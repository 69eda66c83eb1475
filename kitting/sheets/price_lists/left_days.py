"""A column headed as the days of prices that nobody took, since its texts are no days.

A price of next year would hold today, or one that ends soon for a year: a person is asked.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from kitting.errors import Problem
from kitting.sheets.price_lists.fields import HEADINGS, MEANINGS, Column, Field, letter_of
from kitting.sheets.price_lists.likeness import likeness_of
from kitting.sheets.price_lists.marks import tidy
from kitting.sheets.price_lists.nones import as_told, name_of

if TYPE_CHECKING:
    from kitting.sheets.price_lists.marks import Cells

_OF_DAYS = (Field.VALID_FROM, Field.VALID_UNTIL)
_SURE = 90
_SHORTEST = 6  # 'From' and 'To' may be the years of an engine
_MOST = 0.5
_EXAMPLE = "2027-01-01"
_SHOWN = 20
_FIGURE = re.compile(r"\W*\d[\d.,' ]*\W*")


def days_left(
    taken: Iterable[Column], left: Iterable[int], headings: Sequence[str], below: Sequence[Cells]
) -> dict[int, Field]:
    """The columns plainly headed as first or last days of which most cells are no days."""
    had = {column.field for column in taken}
    found = {}
    for at in left:
        heading = headings[at] if at < len(headings) else ""
        field = next((f for f in _OF_DAYS if f not in had and _names(heading, f)), None)
        texts = _texts(at, below)
        # 'Old price from 10' heads prices, 'Valid from' does not, whatever stands below it.
        sure = " ".join(re.findall(r"[^\W_]+", heading.casefold())) in HEADINGS[field or Field.TEXT]
        telling = [
            text
            for text in texts
            if re.search(r"\d", text) and (sure or not _FIGURE.fullmatch(text))
        ]
        if field and len(telling) > _MOST * len(texts):
            found[at] = field
    return found


def _names(heading: str, field: Field) -> bool:
    return len(heading) >= _SHORTEST and likeness_of(heading, field) >= _SURE


def no_days(
    index: int, field: Field, headings: Sequence[str], below: Sequence[Cells], of: str
) -> Problem:
    """Ask for days where a heading promises them, or for the word that they are none."""
    text = next(each for each in _texts(index, below) if re.search(r"\d", each))
    return Problem(
        f"column {letter_of(index)}",
        f"'{name_of(index, headings)}' is headed as the {MEANINGS[field]}, yet "
        f"'{text[:_SHOWN]}' is no day",
        f"write its days as {_EXAMPLE}, or say {as_told(field, of, 'none')} if they are none",
    )


def _texts(index: int, below: Sequence[Cells]) -> list[str]:
    return [tidy(cells[index]) for cells in below if index < len(cells) and cells[index].strip()]
