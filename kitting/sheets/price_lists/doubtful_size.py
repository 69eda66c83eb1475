"""A count in a price's heading that may say for how many that is: 'Price (100)', 'Net 10er'.

Years, days, percentages, taxes and the numbers of columns are no such counts.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from kitting.errors import Problem
from kitting.sheets.price_lists.cells import pack_of
from kitting.sheets.price_lists.counts import as_in_headings
from kitting.sheets.price_lists.no_counts import without_no_counts
from kitting.sheets.price_lists.nones import as_told
from kitting.sheets.price_lists.priced_for import PIECES
from kitting.sheets.price_lists.units import unit_by_letter, unit_of

if TYPE_CHECKING:
    from kitting.sheets.price_lists.fields import Column
    from kitting.sheets.price_lists.marks import Cells

_SIGN = (
    r"(?:\b(?:per|je|pro|par|por|al|za|for|für|fuer|pour|para|voor|för|ogni|cada|les?|au)\s+|[/@×])"
)
_PACK = (
    r"(?:packs?|packets?|pkts?|pk|box(?:es)?|bags?|cartons?|cases?|vpe|ve|packung|beutel|karton"
    r"|boîtes?|doos|cajas?|conf\w*|sets?|lots?|bundles?)"
)
# Beside one of these a figure is a count of something, whatever it is.
_COUNTED = (
    re.compile(rf"{_SIGN}\s*\(?(\d{{1,6}})(?!\d)", re.IGNORECASE),
    re.compile(
        rf"(?<![^\W_])(?:{_PACK}\W{{0,2}}(?:of|à|von|de|x)?|x)\s*\(?(\d{{1,6}})(?!\d)", re.I
    ),
    re.compile(
        rf"(?<!\d)(\d{{1,6}})\s*(?:er\b|x(?!\w)|[-/ ]?(?:{_PACK}|{PIECES})\b|['’]?s\b)", re.I
    ),
)
_ALONE = re.compile(r"(?<![^\W_])(?<![.,])(\d{1,6})(?![^\W_]|[.,]\d)")
_LETTER = re.compile(r"(?:(?<!\bA)/\s*|\b(?:[Pp]er|PER|[Jj]e|[Pp]ro) )([CM])(?![^\W_])")
_LETTERS = {"C": 100, "M": 1000, "%": 100, "‰": 1000}
_WORD = re.compile(
    r"(?<![^\W_])(dozen|doz|dutzend|pair|hundred|hundert|thousand|tausend)(?![^\W_])", re.IGNORECASE
)
_PERCENT = re.compile(r"[^\W\d_]\s*(?:/\s*)?([%‰])\W*$")
_SOLD = frozenset({10, 12, 20, 24, 25, 36, 40, 48, 50, 60, 72, 80, 96, 144})
"""Figures that stand alone and are a pack as it is sold; so are whole fifties."""

_ROUND, _MOST_ALONE = 50, 1000


def count_in_doubt(heading: str) -> int:
    """A count in a price's heading that may say for how many that is; 0 where there is none.

    >>> [count_in_doubt(each) for each in ("Price (100)", "Net/C", "Preis 10er", "Price box 50")]
    [100, 100, 10, 50]
    >>> [count_in_doubt(each) for each in ("Price 2026", "Price 1", "Price -20%", "excl. VAT 20%")]
    [0, 0, 0, 0]
    """
    return next((many for many in _counts(as_in_headings(heading)) if many > 1), 0)


def _counts(heading: str) -> Iterator[int]:
    plain = without_no_counts(heading)
    for pattern in _COUNTED:
        yield from (int(found[1]) for found in pattern.finditer(plain))
    for found in _ALONE.finditer(plain):
        many = int(found[1])
        if many in _SOLD or (many <= _MOST_ALONE and many % _ROUND == 0):
            yield many
    yield from (_LETTERS[found[1]] for found in _LETTER.finditer(heading))
    yield from (pack_of(found[1]) or 0 for found in _WORD.finditer(heading))
    yield from (_LETTERS[found[1]] for found in _PERCENT.finditer(heading))


def says_so_many(units: Column, rows: Iterable[Cells], many: int) -> bool:
    """Whether a column of units says of any row that its price is for more than one of it.

    Where all are one each the count in the price's heading may still be what it is for.
    """
    texts = (cells[units.index] for cells in rows if units.index < len(cells))
    found = [unit_by_letter(text) or unit_of(text) for text in texts if text.strip()]
    return any(unit is not None and unit.many in {0, many} for unit in found)


def for_as_many(price: Column, many: int, of: str, pack: Column | None) -> Problem:
    """Ask whether each price is for as many as its heading names; `pack` was taken for packs."""
    one = as_told("pack", of, "none")
    right = f"say --per {many} if it is, or {one} if each is for one"
    if pack:
        packs = as_told("per", of, pack.heading or f"column {pack.letter}")
        right = (
            f"say --per {many} if it is, --per 1 if each is for one, "
            f"or {packs} if it is for so many as {pack} says"
        )
    return Problem(
        f"column {price.letter}", f"is a price below '{price.heading}' for {many:,}?", right
    )
