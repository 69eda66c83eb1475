"""How many of a kit line's own pieces so many pieces of another part make: the one place that says.

A line that asks for 4 collets by the pair takes 8 halves instead; 6 bolts may come as 1 box of 6; a
bush may have to come with its peg. Everything that is in hand, comes or is to be bought is counted
here in the line's own measure. A piece that makes nothing whole yet (one half of a pair) counts as
nothing, and is reckoned with when the rest is bought. Nothing is counted for more than it makes.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil, floor, gcd
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from kitting.catalog.model import PartNumber
    from kitting.job.kit import KitLine

_NONE = Fraction(0)


@dataclass(frozen=True, slots=True)
class StandsFor:
    """What pieces stand for: `per` of them make `makes` of the kit's number `part`.

    `goes_in` names every part that goes in together, these pieces' own first; empty where it is
    the one part alone.
    """

    part: PartNumber
    per: int = 1
    makes: int = 1
    goes_in: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Lot:
    """Pieces of one part for a position; without `stands` of a number that the kit line takes."""

    part: PartNumber
    pieces: int
    stands: StandsFor | None = None

    @property
    def _group(self) -> frozenset[str]:
        """Every part that must be there for any of them to count."""
        names = self.stands.goes_in if self.stands else ()
        return frozenset(names if len(names) > 1 else (str(self.part),))

    @property
    def _own(self) -> str:
        """What its pieces are within their group."""
        names = self.stands.goes_in if self.stands else ()
        return names[0] if len(names) > 1 else str(self.part)

    def each_makes(self, line: KitLine) -> Fraction:
        """How much of one of the line's own pieces one of these makes; none where it does not."""
        alone = len(self._group) == 1
        if alone and line.takes(self.part):
            return Fraction(line.quantity, line.whole_of(self.part))
        if self.stands is None or not line.takes(self.stands.part):
            return _NONE
        own = Fraction(line.quantity, line.whole_of(self.stands.part))
        return own * self.stands.makes / self.stands.per


class Made:
    """What some lots make of one kit line."""

    def __init__(self, line: KitLine, lots: Iterable[Lot]) -> None:
        self.line = line
        self._lots = tuple(lot for lot in lots if lot.each_makes(line))
        self._have: dict[frozenset[str], dict[str, Fraction]] = defaultdict(dict)
        for lot in self._lots:
            have = self._have[lot._group]
            have[lot._own] = have.get(lot._own, _NONE) + lot.pieces * lot.each_makes(line)

    @property
    def whole(self) -> int:
        """How many whole pieces of the line they make."""
        return sum(self._whole(group) for group in self._have)

    @property
    def missing(self) -> int:
        """How many pieces the line still wants."""
        return max(0, self.line.quantity - self.whole)

    @property
    def loose(self) -> tuple[tuple[PartNumber, int], ...]:
        """Pieces that make nothing whole yet, by their number."""
        found: dict[PartNumber, int] = {}
        for lot in self._lots:
            over = self._have[lot._group][lot._own] - self._whole(lot._group)
            pieces = floor(over / lot.each_makes(self.line))
            if pieces > 0:
                found.setdefault(lot.part, pieces)
        return tuple(found.items())

    def wanted(self, lot: Lot) -> int:
        """How many pieces of a lot's part, besides those counted, bring the line to what it needs.

        The others of its group are taken to come as well.
        """
        missing, each = self.missing, lot.each_makes(self.line)
        if not missing or not each:
            return 0
        have = self._have.get(lot._group, {}).get(lot._own, _NONE)
        return max(0, ceil((self._whole(lot._group) + missing - have) / each))

    def spare(self, lot: Lot) -> int:
        """How many pieces of one of the lots the line could do without and still be whole."""
        others = self.whole - self._whole(lot._group)
        kept = max(0, self.line.quantity - others)
        over = self._have.get(lot._group, {}).get(lot._own, _NONE) - kept
        each = lot.each_makes(self.line)
        return min(lot.pieces, floor(over / each)) if each and over > 0 else 0

    def _whole(self, group: frozenset[str]) -> int:
        have = self._have.get(group, {})
        return max(0, floor(min(have.get(name, _NONE) for name in group)))


def left_of(line: KitLine, lots: Sequence[Lot]) -> tuple[int, ...]:
    """How many pieces of each lot a line leaves to others: none that it could use, the first first.

    While it wants more, it keeps every piece that it takes.
    """
    if Made(line, lots).missing:
        return tuple(0 if lot.each_makes(line) else lot.pieces for lot in lots)
    left = [0] * len(lots)
    kept = list(lots)
    for at in range(len(kept) - 1, -1, -1):
        if kept[at].each_makes(line):
            left[at] = Made(line, kept).spare(kept[at])
        else:
            left[at] = kept[at].pieces
        kept[at] = replace(kept[at], pieces=kept[at].pieces - left[at])
    return tuple(left)


def lots_of_way(
    stands_for: PartNumber | None, parts: Sequence[tuple[PartNumber, int]], makes: int
) -> tuple[Lot, ...]:
    """The parts of one way to supply so many of a kit line's pieces, none of them there yet."""
    if stands_for is None:
        return ()
    names = [str(part) for part, _ in parts]
    lots = []
    for (part, count), name in zip(parts, names, strict=True):
        least = gcd(count, makes)
        goes_in = (name, *(other for other in names if other != name))
        lots.append(Lot(part, 0, StandsFor(stands_for, count // least, makes // least, goes_in)))
    return tuple(lots)
