"""Finding a part: by number in any spelling, a supplier's number, words, or attributes.

What is the same number is an answer; what is nearly so is a question, and is never taken.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from typing import TYPE_CHECKING

from kitting.catalog.attributes import tidy
from kitting.catalog.in_part import in_part
from kitting.catalog.model import normal_number
from kitting.catalog.near_numbers import edits_allowed, near_numbers
from kitting.catalog.plainer import dashed_in, plainer
from kitting.catalog.search_words import begins_number, take_apart

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from kitting.catalog.candidates import Candidates
    from kitting.catalog.in_part import Partly
    from kitting.catalog.model import Part, PartNumber
    from kitting.catalog.search_words import Asked

MOST = 20
_OFFERED = 3


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
class Elsewhere:
    """A part with the number, which not the family asked about has but others."""

    part: Part
    because: str
    families: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class NearMiss:
    """A part that may have been meant: a question, with the difference shown."""

    part: Part
    number: str
    difference: str


@dataclass(frozen=True, slots=True)
class Found:
    """The answers, best first; where there is none, or a number is only begun, what may be meant.

    `near` are numbers nearly as typed, `meant` the words with their spelling mended, where these
    are answered. Else `unknown` are the things asked that no part has at all, and `partly` the
    parts that agree with the most of what was asked. `looked_at` is above zero where so many parts
    answer that only as many of them were put in order. `elsewhere` are parts of other families that
    have the number, where one family was asked about and has none.
    """

    query: str
    matches: tuple[Match, ...] = ()
    near: tuple[NearMiss, ...] = ()
    meant: str = ""
    looked_at: int = 0
    unknown: tuple[str, ...] = ()
    partly: tuple[Partly, ...] = ()
    elsewhere: tuple[Elsewhere, ...] = ()


def near_words(found: Found) -> tuple[str, ...]:
    """The few numbers nearest to what was typed, each with its difference, to offer in an error."""
    near = dict.fromkeys(f"{each.part.number} ({each.difference})" for each in found.near)
    return tuple(near)[:_OFFERED]


class Finder:
    """Asks what holds the parts (`Candidates`), and says what the answers mean.

    `beyond` is what holds the parts of all families, where `candidates` are those of one.
    """

    def __init__(self, candidates: Candidates, beyond: Candidates | None = None) -> None:
        self._candidates = candidates
        self._beyond = beyond

    def find(self, query: str, most: int = MOST) -> Found:
        """Return the parts that `query` names or describes.

        `hob:C65-1042`, `c65 1042` and a supplier's number are numbers. `timing bush 20`,
        `seal 30x47x7`, `bush bore 1.248..1.250` and `height=0.250 in` are words and figures, all of
        which must agree.
        """
        typed = " ".join("".join(filter(_is_text, query)).split())
        if not typed:
            return Found(typed)
        matches = _by_number(typed, self._candidates)
        if matches:
            return Found(typed, matches[:most])
        return replace(self._otherwise(typed, most), elsewhere=self._elsewhere(typed)[:most])

    def _otherwise(self, typed: str, most: int) -> Found:
        """What is found by no number."""
        asked = take_apart(typed, self._candidates.attributes)
        parts, looked_at = self._candidates.answering(asked, most)
        said, plain = typed, plainer(typed)
        if not parts and plain != tidy(typed):
            said, asked = plain, take_apart(plain, self._candidates.attributes)
            parts, looked_at = self._candidates.answering(asked, most)
            if dashed_in(typed) and {*asked.words} <= {part.number.maker for part in parts}:
                parts = ()  # a maker's key and a number that he has not
        if parts:
            matches = tuple(Match(part, How.WORDS, _agreeing(said, asked, part)) for part in parts)
            near = (*self._named(dashed_in(typed), parts), *self._beside(asked, parts, said, most))
            return Found(typed, matches, near, looked_at=looked_at)
        near = tuple(self._near(typed, most))
        if near:
            return Found(typed, (), near)
        may_be = in_part(asked, self._candidates)
        return Found(typed, meant=may_be.meant, unknown=may_be.unknown, partly=may_be.partly)

    def _elsewhere(self, typed: str) -> tuple[Elsewhere, ...]:
        """The parts of other families that have the number."""
        beyond = self._beyond
        if beyond is None:
            return ()
        return tuple(
            Elsewhere(each.part, each.because, tuple(beyond.families([each.part.number])))
            for each in _by_number(typed, beyond)
        )

    def _named(self, number: str, parts: Sequence[Part]) -> Iterator[NearMiss]:
        """The parts whose number is what was taken for sizes."""
        normal = normal_number(number)
        same = self._candidates.numbered([normal]).get(normal, ()) if normal else ()
        for part in same:
            if part not in parts:
                yield NearMiss(part, part.number.number, "this is its number")

    def _beside(
        self, asked: Asked, parts: Sequence[Part], typed: str, most: int
    ) -> tuple[NearMiss, ...]:
        """What else a single number may mean that only begins the numbers of the parts found."""
        if len(asked.words) != 1 or not begins_number(asked.words[0]):
            return ()
        return tuple(each for each in self._near(typed, most) if each.part not in parts)

    def _near(self, typed: str, most: int) -> Iterator[NearMiss]:
        if not any(mark.isdigit() for mark in typed):
            return
        normal = normal_number(typed.partition(":")[2] or typed)
        told: set[PartNumber] = set()
        close: tuple[tuple[str, str], ...] = ()
        for edits in range(1, edits_allowed(normal) + 1):
            close = close or near_numbers(normal, self._candidates.near(normal, edits), most)
        numbers = [number for number, _ in close]
        ours, theirs = self._candidates.numbered(numbers), self._candidates.theirs(numbers)
        for number, says in close:
            misses = [NearMiss(part, part.number.number, says) for part in ours.get(number, ())]
            misses += (
                NearMiss(each.part, f"{each.number} ({each.supplier})", says)
                for each in theirs.get(number, ())
            )
            for miss in misses:
                if miss.part.number not in told:
                    told.add(miss.part.number)
                    yield miss


def _is_text(mark: str) -> bool:
    return mark.isprintable() or mark.isspace()


def maker_apart(typed: str) -> str:
    """A number with the maker's key set before it by a blank, as it is written with a colon.

    >>> maker_apart("COR C61 1067"), maker_apart("C61-1067")
    ('COR:C61 1067', '')
    """
    maker, blank, number = typed.strip().partition(" ")
    return f"{maker}:{number}" if blank and ":" not in typed else ""


def _by_number(typed: str, candidates: Candidates) -> tuple[Match, ...]:
    """The parts that have the number, in any spelling, or for which it is a supplier's."""
    found = tuple(_once(_each_by_number(typed, candidates)))
    apart = maker_apart(typed)
    if not found and apart:
        found = tuple(_once(_each_by_number(apart, candidates)))
    return found


def _each_by_number(typed: str, candidates: Candidates) -> Iterator[Match]:
    maker, colon, number = typed.partition(":")
    number = (number if colon else typed).strip()
    normal = normal_number(number)
    if not normal:
        return
    same = candidates.numbered([normal]).get(normal, ())
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
    if colon:
        return
    for theirs in candidates.theirs([normal]).get(normal, ()):
        says = f"{theirs.number} is {theirs.supplier}'s number for it"
        yield Match(theirs.part, How.SUPPLIER, says)


def _agreeing(typed: str, asked: Asked, part: Part) -> str:
    """Why a part answers words and figures; a number that is only begun is not that number."""
    begun = begins_number(asked.words[0]) if len(asked.words) == 1 else ""
    if begun and part.number.normal.startswith(begun):
        more = part.number.normal[len(begun) :]
        return f"its number begins with '{typed}', and goes on with {more}"
    return f"all of '{typed}' agrees"


def _once(matches: Iterable[Match]) -> Iterator[Match]:
    """Each part once, by what tells most of it; a supplier who sells it by the number is told."""
    found: dict[PartNumber, list[Match]] = {}
    for match in matches:
        found.setdefault(match.part.number, []).append(match)
    for same in found.values():
        says = dict.fromkeys(each.because for each in same)
        yield replace(same[0], because=", and ".join(says))
