"""The shapes of what accepting and what refusing a reply's line comes to."""

from dataclasses import dataclass
from datetime import date

from kitting.buying.choices import Choice
from kitting.buying.elsewhere import Elsewhere


@dataclass(frozen=True, slots=True)
class ElsewhereShape:
    """What another supplier is to send of what is missing; money in the shop's.

    `pieces` are of `part`, which may be another number than was ordered. `joins` is the waiting
    draft that it is added to. `short_by` of the least order is in the supplier's currency.
    """

    supplier: str
    part: str
    their_number: str
    pieces: int
    packs: int
    goods: str
    carriage: str
    comes: date
    joins: str | None
    short_by: str


@dataclass(frozen=True, slots=True)
class StageWaitShape:
    """A stage of a job that waits: as asked, and until when then; null when nobody can say."""

    job: str
    stage: str
    asked: date
    until: date | None
    days_longer: int
    waits_for: str


@dataclass(frozen=True, slots=True)
class ChoiceShape:
    """What one word comes to; this order's goods and carriage are in its currency.

    `more` is the whole cost above what was asked, or, of what would come after all, above what is
    agreed by now, in the shop's money; null when nobody can say.
    """

    word: str
    missing: int
    elsewhere: list[ElsewhereShape]
    goods: str
    carriage_before: str
    carriage: str
    more: str | None
    stages: list[StageWaitShape]
    says: list[str]


def choice_shape(choice: Choice) -> ChoiceShape:
    """The shape of one of the two words on a question."""
    return ChoiceShape(
        word=choice.word,
        missing=choice.missing,
        elsewhere=[_elsewhere(way) for way in choice.elsewhere],
        goods=str(choice.goods),
        carriage_before=str(choice.carriage_before),
        carriage=str(choice.carriage),
        more=None if choice.more is None else str(choice.more),
        stages=[
            StageWaitShape(w.job, w.stage, w.asked, w.until, w.days, w.waits_for)
            for w in choice.stages
        ],
        says=list(choice.sentences),
    )


def _elsewhere(way: Elsewhere) -> ElsewhereShape:
    return ElsewhereShape(
        supplier=way.supplier.name,
        part=str(way.quote.offer.part),
        their_number=way.quote.offer.their_number,
        pieces=way.pieces,
        packs=way.quote.packs,
        goods=str(way.quote.home),
        carriage=str(way.carriage),
        comes=way.comes,
        joins=way.joins or None,
        short_by=str(way.short_by),
    )
