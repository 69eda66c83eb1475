"""Which part a row of a supplier's list speaks of: nothing fuzzy, nothing guessed.

A number is looked for as a person decided it, then as the supplier's list that holds has it, then
as his earlier lists had it, then as a maker's own number where only one maker has it. What remains
is for a person to look at: so is a number that might be a maker's own where the row says another
for the maker's that is unknown, or none in a list that has them beside its own.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from kitting.buying.price_lists.rows import PriceRow, plain_number

Key = tuple[str, str]
"""A part: maker's key and number."""

NOBODY = "nobody knows this number"


class Held(NamedTuple):
    """An offer of the list that holds; prices in ten-thousandths, its days ISO 8601.

    `breaks` are the prices for more packs.
    """

    line: int
    maker: str
    number: str
    pack: int
    price: int
    currency: str
    until: str
    quality: str = ""
    since: str = ""
    breaks: tuple[tuple[int, int], ...] = ()

    @property
    def part(self) -> Key:
        """The part that it offers."""
        return self.maker, self.number


@dataclass(slots=True)
class Known:
    """What is known of some numbers, each as compared.

    `decided` is a person's word: the part, or None where it is none of ours. `held` and `past` are
    the supplier's own numbers, `parts` the makers'. `held_of` are held offers by part.
    """

    decided: Mapping[str, Key | None] = field(default_factory=dict)
    held: Mapping[str, Sequence[Held]] = field(default_factory=dict)
    past: Mapping[str, Sequence[Key]] = field(default_factory=dict)
    parts: dict[str, list[Key]] = field(default_factory=dict)
    held_of: Mapping[Key, Sequence[Held]] = field(default_factory=dict)


class Match(NamedTuple):
    """The part of a row; without one why not, or that a person said it is none of ours."""

    part: Key | None
    why: str = ""
    not_ours: bool = False


def numbers_in(rows: Sequence[PriceRow]) -> set[str]:
    """Return every number that rows speak of, as compared."""
    found = {row.normal for row in rows}
    for row in rows:
        if row.part or row.superseded_by or row.supersedes or ":" in row.number:
            for text in (row.part, row.superseded_by, row.supersedes, row.number):
                found.add(plain_number(text))
                if ":" in text:
                    found.add(plain_number(text.partition(":")[2]))
    found |= {plain_number(row.part.partition(" ")[2]) for row in rows if " " in row.part}
    return found - {""}


def plain_match(row: PriceRow, known: Known) -> Key | None:
    """Return the part of a row that says it plainly, as `match` would and some times as quickly.

    None of any other row. Most rows have a number of one maker, or of one held offer.
    """
    if known.decided:
        return None
    if not row.part:
        held = known.held.get(row.normal, ())
        return held[0].part if len(held) == 1 else None
    parts = known.parts.get(plain_number(row.part), ())
    return parts[0] if len(parts) == 1 and not row.maker and ":" not in row.part else None


def match(row: PriceRow, known: Known) -> Match:
    """Return the part that a row speaks of."""
    if row.part and row.normal not in known.decided:
        named = _named(row.part, row.maker, known)
        if named.why == NOBODY and " " in row.part:  # 'HOB W320'
            named = _named(row.part.replace(" ", ":", 1), row.maker, known)
        if named.part or named.why != NOBODY:
            return named
        if _says_another(row) and _is_new(row, known):
            return _perhaps(row, _named(row.number, row.maker, known))
    if row.unsaid and _is_new(row, known):
        return _perhaps(row, _named(row.number, row.maker, known))
    return match_number(row.number, row.normal, row.maker, known)


def _is_new(row: PriceRow, known: Known) -> bool:
    """Whether neither a person nor the supplier's own lists have said what a number is."""
    said = (known.decided, known.held, known.past)
    return not any(row.normal in each for each in said)


def _says_another(row: PriceRow) -> bool:
    """Whether a row's number for the maker's, which nobody knows, is another than its own."""
    part = plain_number(row.part)
    return part != row.normal and any(mark in "123456789" for mark in part)


def _perhaps(row: PriceRow, bare: Match) -> Match:
    """A supplier's number that is some maker's own too, beside an unknown one or none."""
    if bare.part is None:
        return bare
    maker, number = bare.part
    why = f"nobody knows its maker's number '{row.part[:30]}'" if row.part else ""
    return Match(None, f"{why or 'its maker gives it no number here'}; may be {maker}:{number}")


def match_number(number: str, normal: str, maker: str, known: Known) -> Match:
    """Return the part of a number as the supplier writes it, its maker named or ''."""
    if normal in known.decided:
        part = known.decided[normal]
        return Match(part, not_ours=part is None)
    held = known.held.get(normal)
    if held:
        first = held[0].part
        if len(held) == 1 or all(each.part == first for each in held):
            return Match(first)
        return _among(sorted({each.part for each in held}), maker)
    past = known.past.get(normal)
    if past:
        return _among(past, maker)
    return _named(number, maker, known)


def _named(text: str, maker: str, known: Known) -> Match:
    return _among(_parts_of(text, maker, known), maker)


def _parts_of(text: str, maker: str, known: Known) -> Sequence[Key]:
    if ":" in text:
        before, _, number = text.partition(":")
        wanted = before.strip().casefold()
        named = known.parts.get(plain_number(number), ())
        found = [key for key in named if key[0].casefold() == wanted]
        if found:
            return found
    parts = known.parts.get(plain_number(text), ())
    return [key for key in parts if key[0] == maker] if maker else parts


def _among(parts: Sequence[Key], maker: str) -> Match:
    if maker and len(parts) > 1:
        parts = [part for part in parts if part[0] == maker] or parts
    if len(parts) == 1:
        return Match(parts[0])
    if not parts:
        return Match(None, NOBODY)
    shown = " or ".join(f"{maker}:{number}" for maker, number in parts[:4])
    return Match(None, f"may be {shown}{' or others' if len(parts) > 4 else ''}")


def unmatched(rows: Sequence[PriceRow], known: Known) -> set[str]:
    """Return the numbers that are still to be looked for: those of rows not settled so far."""
    found = {plain_number(row.superseded_by.partition(":")[2]) for row in rows if row.superseded_by}
    left = []
    for row in rows:
        settled = row.part in known.parts or row.normal in known.held
        if row.part and not settled:
            settled = plain_number(row.part) in known.parts
        if not settled:
            left.append(row)
        if row.superseded_by or row.supersedes:
            found |= {plain_number(row.superseded_by), plain_number(row.supersedes)}
    found |= numbers_in(left)
    return {
        number for number in found if number not in known.decided and number not in known.held
    } - {""}
