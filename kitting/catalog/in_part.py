"""What answers a query in part, where nothing answers all of it: a question, never an answer."""

from __future__ import annotations

from dataclasses import dataclass
from functools import reduce
from itertools import combinations
from operator import add
from typing import TYPE_CHECKING

from kitting.catalog.nearest import nearest
from kitting.catalog.search_words import Asked, may_be_begun

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator

    from kitting.catalog.candidates import Candidates
    from kitting.catalog.model import Part, PartNumber

    # What was asked, each thing as it is said and as a query of its own.
    _Things = tuple[tuple[str, Asked], ...]

MOST_OFFERED = 6
# Of more things than this, not every choice of them is tried.
_EVERY_CHOICE_OF = 6
_CHOICES = 2
# The vocabulary is that of all families; the nearest words may be those of another.
_NEAR = 8


@dataclass(frozen=True, slots=True)
class Partly:
    """A part that agrees with the most of what was asked, and what it lacks."""

    part: Part
    lacks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class InPart:
    """The words mended, where that is answered; else the parts that agree with the most.

    `unknown` are the things asked that no part has, and for which none is near.
    """

    meant: str = ""
    unknown: tuple[str, ...] = ()
    partly: tuple[Partly, ...] = ()


def in_part(asked: Asked, candidates: Candidates) -> InPart:
    """Return what may be meant by a query that no part answers whole.

    A word that no part has is taken for the nearest that some part has; a figure never is: another
    figure is another size.
    """
    known: list[tuple[str, Asked]] = []
    nearest_to: dict[str, str] = {}
    vocabulary: Collection[str] = ()
    for said, thing in asked.things():
        if candidates.answers(thing):
            known.append((said, thing))
            continue
        mendable = thing.words and may_be_begun(said)
        if mendable and not vocabulary:
            vocabulary = candidates.vocabulary()
        near = nearest(said, vocabulary, _NEAR) if mendable else ()
        nearest_to[said] = next((word for word in near if candidates.has_word(word)), "")
    unknown = tuple(nearest_to)
    if any(nearest_to.values()):
        mended = asked.said_as(nearest_to)
        if candidates.answers(mended):
            hopeless = tuple(said for said, near in nearest_to.items() if not near)
            return InPart(meant=mended.said, unknown=hopeless)
    partly: dict[PartNumber, Partly] = {}
    for chosen in _agreeing(tuple(known), len(known) - (not unknown), candidates):
        if len(partly) >= MOST_OFFERED:
            break
        rest = [said for said, _ in known if said not in dict(chosen)]
        parts, _ = candidates.answering(_all(chosen), MOST_OFFERED)
        for part in parts:
            partly.setdefault(part.number, Partly(part, (*rest, *unknown)))
    return InPart("", unknown, tuple(partly.values())[:MOST_OFFERED])


def _all(things: _Things) -> Asked:
    return reduce(add, (thing for _, thing in things), Asked(()))


def _agreeing(known: _Things, most: int, candidates: Candidates) -> Iterator[_Things]:
    """The largest choices of things that some part agrees with, two at the most.

    Of so many together none can agree where a choice of fewer among them does not.
    """
    if len(known) > _EVERY_CHOICE_OF:
        yield _one_by_one(known, candidates)
        return
    agreed: list[_Things] = [(each,) for each in known]
    while True:
        fewer = set(agreed)
        size = len(agreed[0]) + 1 if agreed else most + 1
        larger = [
            each
            for each in combinations(known, size)
            if size <= most
            and fewer.issuperset(combinations(each, size - 1))
            and candidates.answers(_all(each))
        ]
        if not larger:
            yield from agreed[:_CHOICES]
            return
        agreed = list(larger)


def _one_by_one(known: _Things, candidates: Candidates) -> _Things:
    """As many of the things as go together, those first that were said first."""
    kept: _Things = ()
    for each in known:
        if candidates.answers(_all((*kept, each))):
            kept = (*kept, each)
    return kept
