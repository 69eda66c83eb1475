"""Units in a column that nobody took: the prices may be for what they say.

'C' beside a price is for a hundred, 'PK50' for fifty, whatever the column is headed. Where they are
not all for one, a person is asked.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from kitting.errors import Problem
from kitting.sheets.price_lists.content import names_its_size
from kitting.sheets.price_lists.counts import as_in_headings
from kitting.sheets.price_lists.fields import Column, Field, letter_of
from kitting.sheets.price_lists.likeness import ENOUGH, likeness_of
from kitting.sheets.price_lists.marks import tidy
from kitting.sheets.price_lists.nones import as_told, name_of
from kitting.sheets.price_lists.unit_letters import letter_in
from kitting.sheets.price_lists.units import Kind, of_a_unit, unit_of

if TYPE_CHECKING:
    from kitting.sheets.price_lists.marks import Cells
    from kitting.sheets.price_lists.units import Unit

_OF_UNITS = re.compile(
    r"\b(?:u\W?o?\W?[mis]|units?|measure|basis|sold|sells?|selling|sales?|issue|pric(?:e|ed|ing)|per"
    r"|\w*einheit|me|eh|j\W?m|mj|unité|unidad|unit[àa]|eenheid|enhe[td]|jednostka)\b",
    re.IGNORECASE,
)
# Letters below one of these are of something else.
_OF_SORTS = re.compile(
    r"\b(?:class\w*|klasse|abc|grade|group|gruppe|groupe|size|rev\w*|version|bin|shelf|row|drawer"
    r"|location|disc\w*|rabatt\w*|vat|mwst|tax|finish|colou?r|material|thread|status|models?|body"
    r"|stock|avail\w*|weight|min\w*|moq|contents?)\b",
    re.IGNORECASE,
)
_OF_OTHERS = (
    Field.MAKER, Field.CURRENCY, Field.VALID_FROM, Field.VALID_UNTIL, Field.DAYS, Field.STOCK,
    Field.QUALITY, Field.SUPERSEDED_BY, Field.TEXT,
)  # fmt: skip
_NEARLY_ALL, _HALF = 0.9, 0.5
_FEWEST = 3
_MOST_SHOWN = 4


def units_left(
    taken: Iterable[Column], left: Iterable[int], headings: Sequence[str], below: Sequence[Cells]
) -> tuple[int, ...]:
    """The columns of units, not all of them one, that may be what the prices are for.

    None where the price is headed as one for so many, or each row says for how many it is.
    """
    by_field = {column.field: column for column in taken}
    price = by_field.get(Field.PRICE)
    if price is None or {Field.PER, Field.UNIT} & by_field.keys():
        return ()
    if price.per and not of_a_unit(price.heading):
        return ()
    return tuple(at for at in left if _holds_units(at, name_of(at, headings), below))


def for_what_they_say(
    index: int, headings: Sequence[str], below: Sequence[Cells], of: str
) -> Problem:
    """Ask whether prices are for what a column of units says."""
    heading = name_of(index, headings)
    texts = _texts(index, below)
    letters = {letter_in(text) for text in texts}
    said = {"C": "C a hundred", "M": "M a thousand"}
    alone = [words for letter, words in said.items() if letter in letters]
    units, per = as_told(Field.UNIT, of, heading), as_told(Field.PER, of, heading)
    right = f"say {units} if they are"
    if len(alone) == 1:
        right = f"say {per} if they are, {alone[0]}"
    if len(alone) == 1 and "M" in letters:
        right += f", {units} if M is a metre"
    shown = ", ".join(list(dict.fromkeys(texts))[:_MOST_SHOWN])
    return Problem(
        f"column {letter_of(index)}",
        f"are the prices for what '{heading}' says ({shown})?",
        f"{right}, or {as_told(Field.UNIT, of, 'none')} if each is for one",
    )


def _holds_units(index: int, heading: str, below: Sequence[Cells]) -> bool:
    if names_its_size(heading) or _OF_SORTS.search(heading):
        return False
    if any(likeness_of(heading, field) >= ENOUGH for field in _OF_OTHERS):
        return False
    texts = _texts(index, below)
    named = _OF_UNITS.search(heading) is not None
    if not named and len(texts) < max(_FEWEST, _HALF * len(below)):
        return False
    units = [(text, unit) for text in texts if (unit := _unit(text))]
    if len(units) < _NEARLY_ALL * len(texts) or not any(map(str.isalpha, "".join(texts))):
        return False
    sorts = {letter_in(text) or text for text in texts}
    if sorts <= {"C", "M"} and not named:
        return False  # no word for each beside them: a code as likely
    return any(_is_more(text, unit, named=named) for text, unit in units)


def _is_more(text: str, unit: Unit, *, named: bool) -> bool:
    """Whether a unit is more than one of what is listed; a box of unknown size may be a packing."""
    more = unit.many > 1 or letter_in(text) in {"C", "M"}
    return more or (named and unit.kind is Kind.PACK)


def _unit(text: str) -> Unit | None:
    return unit_of(as_in_headings("E" if letter_in(text) else text))


def _texts(index: int, below: Sequence[Cells]) -> list[str]:
    return [tidy(cells[index]) for cells in below if index < len(cells) and cells[index].strip()]
