"""What of a parcel is proven: by its figures, else by a named person's word.

Figures are of single pieces and speak of those alone; a word is on all that they leave open.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType
from typing import TYPE_CHECKING

from kitting.buying.replies import Word

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from datetime import date

    from kitting.buying.deliveries import Delivery, DeliveryLine


@dataclass(frozen=True, slots=True)
class Settled:
    """A named person's word on what came of a line and no figure proves; kept for good."""

    line: str
    delivery: int
    word: Word
    who: str
    day: date
    reason: str


class Proof(StrEnum):
    """What pieces that came whole are, held against their drawing."""

    SOUND = "sound"
    WRONG = "wrong part"
    DOUBTFUL = "to be measured again"
    UNMEASURED = "to be measured"


@dataclass(frozen=True, slots=True)
class Parcel:
    """What a delivery brought of a line, and how many of the whole pieces are what."""

    delivery: int
    came: DeliveryLine
    proofs: Mapping[Proof, int]

    @property
    def is_open(self) -> bool:
        """Whether any piece of it is not proven."""
        return bool(self.proofs[Proof.DOUBTFUL] or self.proofs[Proof.UNMEASURED])

    @property
    def says(self) -> str:
        """What its pieces are, each kind with its number where there are several."""
        found = {proof: count for proof, count in self.proofs.items() if count}
        if len(found) == 1:
            return str(next(iter(found)))
        return ", ".join(f"{count} {proof}" for proof, count in found.items())


def left_open(came: DeliveryLine) -> int:
    """How many pieces the figures leave open: they prove nothing of them."""
    return came.good - came.inside - came.outside if came.to_measure else came.near


def proofs_of(came: DeliveryLine, word: Settled | None) -> Mapping[Proof, int]:
    """How many of one delivery's whole pieces are what; `word` is the last that was given on them.

    What figures prove outranks any word.
    """
    proofs = dict.fromkeys(Proof, 0)
    proofs[Proof.WRONG] = came.outside
    proofs[Proof.SOUND] = came.good - came.outside - left_open(came)
    if word is not None:
        proofs[Proof.SOUND if word.word is Word.ACCEPT else Proof.WRONG] += left_open(came)
    else:
        proofs[Proof.DOUBTFUL] = came.near
        proofs[Proof.UNMEASURED] = left_open(came) - came.near
    return MappingProxyType(proofs)


def word_on(settled: Iterable[Settled], delivery: int, line: str) -> Settled | None:
    """The last word on what a delivery brought of a line."""
    words = [each for each in settled if (each.delivery, each.line) == (delivery, line)]
    return words[-1] if words else None


def parcels_of(
    deliveries: Iterable[Delivery], settled: Iterable[Settled], line: str
) -> tuple[Parcel, ...]:
    """Each delivery that names a line: its number, what it brought, and what that is."""
    words = tuple(settled)
    return tuple(
        Parcel(number, came, proofs_of(came, word_on(words, number, line)))
        for number, delivery in enumerate(deliveries, start=1)
        for came in delivery.lines
        if came.line == line
    )
