"""What of a parcel is proven: by its figures, else by a named person's word."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from kitting.buying.replies import Word
from kitting.catalog.model import Verdict

if TYPE_CHECKING:
    from collections.abc import Iterable
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

    @property
    def is_open(self) -> bool:
        """Whether nothing is proven yet."""
        return self in {Proof.DOUBTFUL, Proof.UNMEASURED}


def proof_of(came: DeliveryLine, word: Settled | None) -> Proof:
    """What one delivery's pieces of a line are; `word` is the last that was given on them.

    What figures prove outranks any word.
    """
    if came.verdict is Verdict.WRONG_PART:
        return Proof.WRONG
    if came.verdict is Verdict.REUSE:
        return Proof.SOUND
    if word is not None:
        return Proof.SOUND if word.word is Word.ACCEPT else Proof.WRONG
    if came.verdict is Verdict.RECHECK:
        return Proof.DOUBTFUL
    return Proof.UNMEASURED if came.to_measure else Proof.SOUND


def word_on(settled: Iterable[Settled], delivery: int, line: str) -> Settled | None:
    """The last word on what a delivery brought of a line."""
    words = [each for each in settled if (each.delivery, each.line) == (delivery, line)]
    return words[-1] if words else None


def parcels_of(
    deliveries: Iterable[Delivery], settled: Iterable[Settled], line: str
) -> tuple[tuple[int, DeliveryLine, Proof], ...]:
    """Each delivery that names a line: its number, what it brought, and what that is."""
    words = tuple(settled)
    return tuple(
        (number, came, proof_of(came, word_on(words, number, line)))
        for number, delivery in enumerate(deliveries, start=1)
        for came in delivery.lines
        if came.line == line
    )
