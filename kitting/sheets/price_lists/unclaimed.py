"""Numbers of the catalogue in a column that nobody took, beside a column that was taken for them.

A supplier's own number may be some maker's too, and then means another part than the maker's number
beside it. Where a list does not plainly say which column is which, a person is asked.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

from kitting.catalog.model import normal_number
from kitting.errors import Problem
from kitting.sheets.price_lists.cells import pack_of
from kitting.sheets.price_lists.content import like_numbers, looks_like_money, names_its_size
from kitting.sheets.price_lists.counts import as_in_headings
from kitting.sheets.price_lists.fields import HEADINGS, HEADINGS_TOO, Column, Field, letter_of
from kitting.sheets.price_lists.kinds import per_of
from kitting.sheets.price_lists.marks import tidy

if TYPE_CHECKING:
    from kitting.sheets.price_lists.content import Known
    from kitting.sheets.price_lists.fields import Mapping as Columns
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
    r"\b(?:min\w*|moq|mindest\w*|order|bestell\w*|stock|available|free|lager\w*|bestand|on hand"
    r"|sold|used|per engine|weight)\b",
    re.IGNORECASE,
)
SIZES_TOLD = frozenset({Field.PER, Field.UNIT, Field.PACK})
"""The fields that say for how many a price is."""

_NEARLY_ALL = 0.9
_HALF = 0.5
_FEWEST = 2


class Unclaimed(NamedTuple):
    """The columns left that hold the catalogue's numbers, and what is to be asked of them."""

    columns: frozenset[int] = frozenset()
    asked: tuple[Problem, ...] = ()


def unclaimed(
    taken: Iterable[Column],
    left: Iterable[int],
    headings: Sequence[str],
    below: Sequence[Cells],
    known: Known,
    of: str = "",
) -> Unclaimed:
    """Look among the columns that are left for numbers of the catalogue.

    `of` follows a field in what is told of this sheet alone, as '@More'; '' of the first.
    """
    by_field = {column.field: column for column in taken}
    number, part = by_field.get(Field.NUMBER), by_field.get(Field.PART)
    chosen = part or number
    if chosen is None:
        return Unclaimed()
    sample = _Sample(below, chosen.index, known)
    if number and part and "guess" in part.how and sample.share(part.index) == 0:
        if sample.share(number.index) > _HALF:
            return Unclaimed(frozenset(), (_unknown(part, number, of),))
        return Unclaimed()
    if part and sample.share(part.index) >= _NEARLY_ALL:
        return Unclaimed()
    found = [at for at in left if sample.is_all_catalogue(at)]
    if chosen.how.startswith("given"):
        return Unclaimed(frozenset(found))
    return Unclaimed(frozenset(found), tuple(_whose(at, headings, chosen, of) for at in found))


def counts_left(
    taken: Iterable[Column],
    left: Iterable[int],
    headings: Sequence[str],
    below: Sequence[Cells],
    habits: Collection[str] = (),
) -> tuple[int, ...]:
    """The columns of counts that may be for how many the prices are.

    `habits` are headings that held something last time: one of them that is left now is doubtful.
    None where the price is headed as one for each, or something else says for how many it is.
    """
    by_field = {column.field: column for column in taken}
    price = by_field.get(Field.PRICE)
    if price is None or per_of(price.heading) or SIZES_TOLD & by_field.keys():
        return ()
    return tuple(
        at
        for at in left
        if at < len(headings)
        and (_COUNTED.search(headings[at]) or _named(headings[at]) or headings[at] in habits)
        and not _OF_STOCK.search(headings[at])
        and not names_its_size(headings[at])
        and _counts(at, below)
    )


def for_so_many(index: int, headings: Sequence[str], of: str = "") -> Problem:
    """Ask whether prices are for so many as a column that is left says."""
    return Problem(
        f"column {letter_of(index)}",
        f"are the prices for so many as '{headings[index]}' says?",
        f'say so: --map "pack{of}={headings[index]}" if they are, '
        f'--map "quantity{of}={headings[index]}" if they hold from so many on, '
        f"{_none('pack', of)} if each is for one",
    )


def _named(heading: str) -> bool:
    """Whether a heading is one of the words for packs, whose cells were not taken for counts."""
    plain = " ".join(re.findall(r"[^\W_]+", heading.casefold()))
    words = (*HEADINGS[Field.PACK], *HEADINGS_TOO[Field.PACK])
    return plain in HEADINGS[Field.PER] or any(f" {each} " in f" {plain} " for each in words)


def _counts(index: int, below: Sequence[Cells]) -> bool:
    """Whether nearly all cells of a column are whole numbers, and some are above one."""
    texts = [cells[index] for cells in below if index < len(cells) and cells[index].strip()]
    counts = [pack_of(as_in_headings(text)) or 0 for text in texts]
    whole = sum(1 for count in counts if count)
    return max(counts, default=0) > 1 and whole >= _NEARLY_ALL * len(texts)


def with_unheaded(
    columns: Columns, headings: Sequence[str], below: Sequence[Cells], hidden: Collection[int]
) -> Columns:
    """The columns with those among the left that have no heading and yet hold something."""
    out = {column.index for column in columns.shown}.union(hidden)
    out |= {at for at, text in enumerate(headings) if text}
    holding = {at for cells in below for at, text in enumerate(cells) if text and tidy(text)} - out
    more = tuple(f"column {letter_of(at)} (no heading)" for at in sorted(holding))
    return replace(columns, left=columns.left + more)


class _Sample:
    """The first rows that name a number in the column that was chosen for it."""

    def __init__(self, below: Sequence[Cells], chosen: int, known: Known) -> None:
        self._rows = [cells for cells in below if chosen < len(cells) and cells[chosen].strip()]
        self._chosen = chosen
        self._known = known

    def share(self, index: int) -> float:
        """How many of a column's numbers are known: 0 to 1."""
        normals = {_plain(text) for text in self._texts(index)} - {""}
        return len(set(self._known(normals))) / max(1, len(normals))

    def is_all_catalogue(self, index: int) -> bool:
        """Whether nearly all rows have a known number there, each its own and not the chosen."""
        texts = self._texts(index)
        if len(texts) < max(_FEWEST, _NEARLY_ALL * len(self._rows)):
            return False
        if not like_numbers(texts) or any(map(looks_like_money, texts)):
            return False
        return self.share(index) >= _NEARLY_ALL and not self._same(index)

    def _texts(self, index: int) -> list[str]:
        cells = (cells[index] for cells in self._rows if index < len(cells))
        return [text for text in cells if text.strip()]

    def _same(self, index: int) -> bool:
        rows = [cells for cells in self._rows if index < len(cells)]
        same = sum(1 for cells in rows if _plain(cells[index]) == _plain(cells[self._chosen]))
        return same > _HALF * len(rows)


def _plain(text: str) -> str:
    return normal_number(text.rpartition(":")[2])


def _say(heading: str, of: str) -> str:
    return (
        f'say whose they are: --map "part{of}={heading}" if they are the makers\', '
        f"{_none('part', of)} if they say nothing"
    )


def _none(field: str, of: str) -> str:
    return f'--map "{field}{of}=none"' if of else f"--map {field}=none"


def _whose(index: int, headings: Sequence[str], chosen: Column, of: str) -> Problem:
    heading = headings[index] if index < len(headings) else ""
    return Problem(
        f"column {letter_of(index)}",
        f"nearly all its cells are numbers of the catalogue, and {chosen} is taken for the number",
        _say(heading or f"column {letter_of(index)}", of),
    )


def _unknown(part: Column, number: Column, of: str) -> Problem:
    return Problem(
        f"column {part.letter}",
        f"'{part.heading}' seems to head makers' numbers, yet the catalogue knows none of them "
        f"and those of {number}",
        _say(part.heading, of),
    )
