"""How like a heading is to the words by which suppliers head a field's column."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TYPE_CHECKING

from kitting.sheets.price_lists.fields import HEADINGS, HEADINGS_TOO, Field
from kitting.sheets.price_lists.makers import heads_makers_numbers
from kitting.sheets.price_lists.marks import tidy

if TYPE_CHECKING:
    from collections.abc import Sequence

ENOUGH = 60
"""Points, of 100, from which on a column is taken for a field."""

_LIKE = 84  # of 100: how like a heading must be to one of ours, spelling mistakes allowed
_TOO = 93  # a heading that is another field's before this one's
# 'per' or 'unit' within a heading says for how many that price is, not that it names it.
_WHOLE = {Field.PER, Field.UNIT}
# A column of the numbers whose place a row's takes is not one of those that take its place.
_OTHER_WAY = re.compile(
    r"\b(?:supersedes|replaces|in place of|remplace|sostituisce|vervangt|ersetzt(?! durch))\b"
)


@lru_cache(maxsize=10_000)
def is_heading(text: str) -> bool:
    """Whether a text is like any of the words by which columns are headed."""
    return any(likeness_of(text, field) >= ENOUGH for field in Field)


@lru_cache(maxsize=10_000)
def likeness_of(heading: str, field: Field) -> float:
    """How like a heading is to the words of a field, 0 to 100; a slip of spelling is forgiven."""
    from rapidfuzz import fuzz

    plain = " ".join(re.findall(r"[^\W_]+", heading.casefold()))
    if not plain or len(plain) > 60:
        return 0
    if field is Field.SUPERSEDED_BY and _OTHER_WAY.search(plain):
        return 0
    if field is Field.PART and heads_makers_numbers(heading):
        return 100
    too = _TOO * (plain in HEADINGS_TOO.get(field, ()))
    if field in _WHOLE or too:
        return 100 if plain in HEADINGS[field] else too
    best = 0.0
    for rank, words in enumerate(HEADINGS[field]):
        if f" {words} " in f" {plain} ":
            # the more of the heading the words make up, the surer
            best = max(best, 80 + 20 * len(words) / len(plain) - rank * 0.3)
        elif len(words) > 4:
            alike = fuzz.ratio(plain, words)
            best = max(best, alike - 8 - rank * 0.3 if alike >= _LIKE else 0)
    return best


def are_the_headings(cells: Sequence[str], headings: Sequence[str]) -> bool:
    """Whether a row says the headings again; `headings` are tidy and without capitals."""
    pairs = zip(cells, headings, strict=False)
    return sum(1 for text, each in pairs if each and tidy(text).casefold() == each) >= 2
