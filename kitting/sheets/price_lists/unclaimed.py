"""Numbers of the catalogue in a column that nobody took, beside a column that was taken for them.

A supplier's own number may be some maker's too, and then means another part than the maker's number
beside it. Where a list does not plainly say which column is which, a person is asked.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

from kitting.catalog.model import normal_number
from kitting.errors import Problem
from kitting.sheets.price_lists.content import like_numbers, looks_like_money
from kitting.sheets.price_lists.fields import Column, Field, letter_of
from kitting.sheets.price_lists.marks import tidy
from kitting.sheets.price_lists.nones import as_told, name_of

if TYPE_CHECKING:
    from kitting.sheets.price_lists.content import Known
    from kitting.sheets.price_lists.fields import Mapping as Columns
    from kitting.sheets.price_lists.marks import Cells

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


def has_own_numbers(taken: Iterable[Column], below: Sequence[Cells], known: Known) -> bool:
    """Whether a list has the makers' numbers beside numbers that are the supplier's own.

    Where most numbers of the supplier are the makers' too, he has none of his own.
    """
    by_field = {column.field: column for column in taken}
    number, part = by_field.get(Field.NUMBER), by_field.get(Field.PART)
    if number is None or part is None:
        return False
    sample = _Sample(below, number.index, known)
    return sample.share(number.index) <= _HALF


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
        f"say whose they are: {as_told('part', of, heading)} if they are the makers', "
        f"{as_told('part', of, 'none')} if they say nothing"
    )


def _whose(index: int, headings: Sequence[str], chosen: Column, of: str) -> Problem:
    return Problem(
        f"column {letter_of(index)}",
        f"nearly all its cells are numbers of the catalogue, and {chosen} is taken for the number",
        _say(name_of(index, headings), of),
    )


def _unknown(part: Column, number: Column, of: str) -> Problem:
    return Problem(
        f"column {part.letter}",
        f"'{part.heading}' seems to head makers' numbers, yet the catalogue knows none of them "
        f"and those of {number}",
        _say(part.heading, of),
    )
