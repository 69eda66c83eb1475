"""Finding a part: by number in any spelling, a supplier's number, words, or attributes.

What is the same number is an answer; what is nearly so is a question, and is never taken.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from typing import TYPE_CHECKING

from kitting.catalog.model import normal_number
from kitting.catalog.near_numbers import near_numbers
from kitting.catalog.search_words import Described, mended, take_apart

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from kitting.catalog.family import Family
    from kitting.catalog.model import Part, PartNumber
    from kitting.catalog.trade import Trade

MOST = 20


class How(StrEnum):
    """By what a part was found."""

    NUMBER = "the number"
    RESPELLED = "the number in another spelling"
    SUPPLIER = "a supplier's number"
    WORDS = "words and figures"


@dataclass(frozen=True, slots=True)
class Match:
    """A part that answers the query, and by what."""

    part: Part
    how: How
    because: str


@dataclass(frozen=True, slots=True)
class NearMiss:
    """A part that may have been meant: a question, with the difference shown."""

    part: Part
    number: str
    difference: str


@dataclass(frozen=True, slots=True)
class Found:
    """The answers, best first; where there is none, what may have been meant.

    `near` are numbers nearly as typed, `meant` the words with their spelling mended.
    """

    query: str
    matches: tuple[Match, ...] = ()
    near: tuple[NearMiss, ...] = ()
    meant: str = ""


def find_parts(
    query: str, families: Sequence[Family], trade: Trade | None = None, most: int = MOST
) -> Found:
    """Return the parts that `query` names or describes.

    `hob:C65-1042`, `c65 1042` and a supplier's number are numbers. `timing bush 20`,
    `seal 30x47x7`, `bush bore 1.248..1.250` and `height=0.250 in` are words and figures, all of
    which must agree. Whoever asks often keeps one `Finder`.
    """
    return Finder(families, trade).find(query, most)


class Finder:
    """The parts of some families, made ready to be asked for more than once."""

    def __init__(self, families: Sequence[Family], trade: Trade | None = None) -> None:
        self._families = families
        self._trade = trade

    def find(self, query: str, most: int = MOST) -> Found:
        """See `find_parts`."""
        typed = " ".join(query.split())
        if not typed:
            return Found(typed)
        matches = tuple(self._by_number(typed)) or tuple(self._by_words(typed))
        if matches:
            return Found(typed, matches[:most])
        near = tuple(self._near(typed, most))
        words = take_apart(typed, self._names).words
        return Found(typed, (), near, "" if near else mended(words, self._vocabulary))

    @cached_property
    def _parts(self) -> Mapping[PartNumber, Part]:
        every: dict[PartNumber, Part] = {}
        for family in self._families:
            every |= family.part_by_number
        return every

    @cached_property
    def _by_normal(self) -> Mapping[str, tuple[Part, ...]]:
        groups: dict[str, tuple[Part, ...]] = {}
        for part in self._parts.values():
            groups[part.number.normal] = (*groups.get(part.number.normal, ()), part)
        return groups

    @cached_property
    def _by_theirs(self) -> Mapping[str, tuple[tuple[Part, str, str], ...]]:
        """Suppliers' numbers in their plain form: the part, the number and whose it is."""
        groups: dict[str, dict[tuple[PartNumber, str], tuple[Part, str, str]]] = {}
        for offer in self._trade.offers if self._trade else ():
            part = self._parts.get(offer.part)
            if part is not None:
                mine = groups.setdefault(normal_number(offer.their_number), {})
                mine[part.number, offer.supplier] = (part, offer.their_number, offer.supplier)
        return {normal: tuple(mine.values()) for normal, mine in groups.items()}

    @cached_property
    def _described(self) -> tuple[Described, ...]:
        places: dict[PartNumber, dict[str, None]] = {}
        for family in self._families:
            for fit in family.fits:
                position = family.position_by_key.get(fit.position)
                if position is not None:
                    places.setdefault(fit.part, {})[position.name] = None
        return tuple(
            Described(part, tuple(places.get(number, ()))) for number, part in self._parts.items()
        )

    @cached_property
    def _names(self) -> frozenset[str]:
        return frozenset(name for part in self._parts.values() for name in part.attributes)

    @cached_property
    def _vocabulary(self) -> frozenset[str]:
        return frozenset(word for each in self._described for word in each.words)

    def _by_number(self, typed: str) -> Iterator[Match]:
        maker, colon, number = typed.partition(":")
        number = (number if colon else typed).strip()
        normal = normal_number(number)
        if not normal:
            return
        same = self._by_normal.get(normal, ())
        mine = [part for part in same if not colon or part.number.maker == maker.strip().lower()]
        for part in sorted(mine, key=lambda each: (each.number.number != number, each.number)):
            exact = part.number.number == number
            how = How.NUMBER if exact else How.RESPELLED
            yield Match(
                part,
                how,
                f"{part.number.number} is the number"
                if exact
                else f"{number} is {part.number.number} in another spelling",
            )
        for part, theirs, supplier in self._by_theirs.get(normal, ()) if not colon else ():
            yield Match(
                part, How.SUPPLIER, f"{theirs} is {self._name_of(supplier)}'s number for it"
            )

    def _name_of(self, supplier: str) -> str:
        known = self._trade.supplier_by_key.get(supplier) if self._trade else None
        return known.name if known else supplier

    def _by_words(self, typed: str) -> Iterator[Match]:
        asked = take_apart(typed, self._names)
        scored = [(each.answers(asked), each.part) for each in self._described]
        for _, part in sorted(
            ((score, part) for score, part in scored if score),
            key=lambda each: (-each[0], len(each[1].name), each[1].number),
        ):
            yield Match(part, How.WORDS, f"all of '{typed}' agrees")

    def _near(self, typed: str, most: int) -> Iterator[NearMiss]:
        if not any(mark.isdigit() for mark in typed):
            return
        normal = normal_number(typed.partition(":")[2] or typed)
        for number, says in near_numbers(normal, {*self._by_normal, *self._by_theirs}, most):
            for part in self._by_normal.get(number, ()):
                yield NearMiss(part, part.number.number, says)
            for part, theirs, supplier in self._by_theirs.get(number, ()):
                yield NearMiss(part, f"{theirs} ({self._name_of(supplier)})", says)
