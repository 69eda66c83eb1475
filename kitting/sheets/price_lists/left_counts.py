"""Counts in a column that nobody took: the prices may be for so many.

A price for a hundred that is taken for the price of one is wrong a hundred times over. Where a
column of counts stands beside the price and nothing says what it counts, a person is asked.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Sequence
from typing import TYPE_CHECKING

from kitting.errors import Problem
from kitting.sheets.price_lists.cells import pack_of
from kitting.sheets.price_lists.content import names_its_size
from kitting.sheets.price_lists.counts import as_in_headings
from kitting.sheets.price_lists.fields import HEADINGS, HEADINGS_TOO, Column, Field, letter_of
from kitting.sheets.price_lists.kinds import Kind, said_by
from kitting.sheets.price_lists.likeness import ENOUGH, likeness_of
from kitting.sheets.price_lists.nones import as_told

if TYPE_CHECKING:
    from kitting.sheets.price_lists.marks import Cells

# What a count may be of that a price is for, and what says that it is of something else.
_COUNTED = re.compile(
    r"\b(?:qty|qté|quantity|quantité|menge|anzahl|anz|antal|aantal|cantidad|quantità|pack|packs|pk|box"
    r"|case|carton|per|je|pieces|pcs|stk|stück|uds|pz|units?|caja|doos|boîte|confezione|vpe"
    r"|cond|cdt|uvc?|pcb|pu|pkg|inner|outer|bag|multiple|lot|set|vk?e|inhalt|gebinde|stückzahl"
    r"|losgröße|abnahmemenge|verp|inhoud|imballo|multipli|par|envase|embalaje|contents?|off|count"
    r"|nbre)\b",
    re.IGNORECASE,
)
_OF_STOCK = re.compile(
    r"\b(?:min\w*|moq|mindest\w*|order|bestell\w*|stock|stk qty|avail\w*|free|lager\w*|bestand"
    r"|on hand|sold|used|per engine|weight)\b",
    re.IGNORECASE,
)
# What whole numbers below a heading of no words for counts may be of, that is no count.
_OF_PLACE = re.compile(
    r"\b(?:bin|shelf|rack|row|line|page|seite|drawer|location|year|jahr|group|gruppe|class|code"
    r"|grade|size|teeth|cyl|cylinders?|warranty|garantie|garanzia|lead|seq|sequence|no|nr|nos|points?|vat|mwst|tax|days?|tage|weeks?|version|rev"
    r"|sort|rank|level|id|fig|figure|item|pos|position|weight|kg|grams?|g|mm|cm|length|%)(?!\w)",
    re.IGNORECASE,
)
# How many are sold together; other figures below a heading that nobody knows are of other things.
_USUAL = frozenset({1, 2, 3, 4, 5, 6, 8, 10, 12, 16, 20, 24, 25, 36, 40, 48, 50, 60, 72, 80, 96})
_ROUND = 100
_NEARLY_ALL = 0.9
_FEWEST = 3


def counts_left(
    taken: Iterable[Column],
    left: Iterable[int],
    headings: Sequence[str],
    below: Sequence[Cells],
    habits: Collection[str] = (),
) -> tuple[int, ...]:
    """The columns of counts that may be for how many the prices are.

    `habits` are headings that held something last time: one of them that is left now is doubtful.
    None where the price is headed as one for each, or each row says for how many it is; where a
    column of packs was taken, another that is headed as one of counts may be meant as well.
    """
    by_field = {column.field: column for column in taken}
    price, pack = by_field.get(Field.PRICE), by_field.get(Field.PACK)
    if price is None or price.per or {Field.PER, Field.UNIT} & by_field.keys():
        return ()
    found = []
    for at in left:
        heading = headings[at] if at < len(headings) else ""
        if _OF_STOCK.search(heading) or names_its_size(heading):
            continue
        counted = _COUNTED.search(heading) or _named(heading)
        counts = _counts(at, below)
        unknown = not pack and not counted and _says_nothing(heading) and _usual(counts)
        unknown = unknown and bool(heading or not any(headings))
        if counts and (counted or (heading in habits and not pack) or unknown):
            found.append(at)
    return tuple(found)


def for_so_many(
    index: int, headings: Sequence[str], of: str = "", pack: Column | None = None
) -> Problem:
    """Ask whether prices are for so many as a column that is left says; `pack` was taken so far."""
    place = f"column {letter_of(index)}"
    heading = headings[index] if index < len(headings) else ""
    heading = heading or place
    if pack:
        return Problem(
            f"columns {', '.join(sorted((pack.letter, letter_of(index))))}",
            f"are the prices for so many as '{pack.heading}' says, or as '{heading}'?",
            f"say which: {as_told('pack', of, pack.heading or f'column {pack.letter}')}, "
            f"{as_told('pack', of, heading)}, or {as_told('pack', of, 'none')} if each is for one",
        )
    return Problem(
        place,
        f"are the prices for so many as '{heading}' says?",
        f"say so: {as_told('pack', of, heading)} if they are, "
        f"{as_told('quantity', of, heading)} if they hold from so many on, "
        f"{as_told('pack', of, 'none')} if each is for one",
    )


def _named(heading: str) -> bool:
    """Whether a heading is one of the words for packs, whose cells were not taken for counts."""
    plain = " ".join(re.findall(r"[^\W_]+", heading.casefold()))
    words = (*HEADINGS[Field.PACK], *HEADINGS_TOO[Field.PACK])
    return plain in HEADINGS[Field.PER] or any(f" {each} " in f" {plain} " for each in words)


def _says_nothing(heading: str) -> bool:
    """Whether a heading is none of our words, of a field or of something that is no price."""
    known = any(likeness_of(heading, field) >= ENOUGH for field in Field)
    elsewhere = known or _OF_PLACE.search(heading)
    return not elsewhere and said_by(heading).kind is Kind.UNSAID


def _counts(index: int, below: Sequence[Cells]) -> list[int]:
    """The counts of a column whose cells are nearly all whole numbers, and some above one."""
    texts = [cells[index] for cells in below if index < len(cells) and cells[index].strip()]
    counts = [pack_of(as_in_headings(text)) or 0 for text in texts]
    whole = [count for count in counts if count]
    return whole if max(counts, default=0) > 1 and len(whole) >= _NEARLY_ALL * len(texts) else []


def _usual(counts: Sequence[int]) -> bool:
    """Whether counts are of packs as they are sold: no page, weight or year."""
    usual = sum(1 for count in counts if count in _USUAL or count % _ROUND == 0)
    return len(counts) >= _FEWEST and usual >= _NEARLY_ALL * len(counts)
