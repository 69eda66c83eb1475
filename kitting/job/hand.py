"""What of a job is in the shop already: parts in hand, work back from the machinist, hours worked.

A line is named by a position of it and by its part, never by its number: lines are numbered afresh
whenever the kit changes. Where the kit has come to ask for another part (a deeper regrind), pieces
of the old one answer no line any more; they are shown as left over and never counted.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum
from typing import TYPE_CHECKING

from kitting.job.counting import Lot, Made, StandsFor, left_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from datetime import date

    from kitting.catalog.model import PartNumber
    from kitting.job.kit import Kit, KitLine


class Source(StrEnum):
    """Where pieces in hand came from."""

    SHELF = "shelf"
    DELIVERY = "delivery"
    BY_HAND = "by hand"


@dataclass(frozen=True, slots=True)
class InHand:
    """Pieces of one part for one position of a job; below none, pieces that went again.

    `cost` is what all of them cost the shop, in its money, where it is known. `place` says where
    they lay, or by which delivery they came. `stands` says what they stand for where they were
    bought for another number.
    """

    position: str
    part: PartNumber | None
    quantity: int
    source: Source
    who: str
    when: date
    cost: Decimal | None = None
    place: str = ""
    stands: StandsFor | None = None

    @property
    def stands_for(self) -> PartNumber | None:
        """The number of the kit that they are for."""
        return self.stands.part if self.stands else self.part

    def answers(self, line: KitLine) -> bool:
        """Whether these are pieces of that line: its position, and a part that serves there."""
        if self.position not in line.positions:
            return False
        return line.takes(self.part) or line.takes(self.stands_for)


@dataclass(frozen=True, slots=True)
class WorkBack:
    """That an operation's work is back, or (`back` false) is not after all."""

    operation: str
    back: bool
    who: str
    when: date
    cost: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Worked:
    """The shop's own hours on an assembly of a job, by its key; below none, written too many."""

    assembly: str
    hours: Decimal
    who: str
    when: date
    note: str = ""


@dataclass(frozen=True, slots=True)
class Hand:
    """Everything of a job that is in hand; `works` are the last word on each operation.

    `unproven` lie here too, and are not in hand before they are measured and found to be good.
    `coming` are on order, each `when` it is due and `place` saying by which order.
    """

    pieces: tuple[InHand, ...] = ()
    works: tuple[WorkBack, ...] = ()
    worked: tuple[Worked, ...] = ()
    unproven: tuple[InHand, ...] = ()
    coming: tuple[InHand, ...] = ()

    def of(self, line: KitLine, source: Source | None = None) -> tuple[InHand, ...]:
        """The pieces that are of a line, from one source or from any."""
        mine = (each for each in self.pieces if each.answers(line))
        return tuple(each for each in mine if source in {None, each.source})

    def count(self, line: KitLine, source: Source | None = None) -> int:
        """How many of a line's own pieces are in hand, from one source or from any."""
        return Made(line, self.lots(line, *([source] if source else []))).whole

    def missing(self, line: KitLine) -> int:
        """How many pieces of a line are still to come."""
        return self.made(line).missing

    def made(self, line: KitLine) -> Made:
        """What the pieces of a line make of it, in its own measure."""
        return Made(line, self.lots(line))

    def lots(self, line: KitLine, *sources: Source) -> tuple[Lot, ...]:
        """The pieces of a line as they are counted, from some sources or from any."""
        here = (each for each in self.of(line) if not sources or each.source in sources)
        return tuple(_lots(here))

    def to_prove(self, line: KitLine) -> tuple[InHand, ...]:
        """The pieces of a line that lie here to be measured, where the line still misses some."""
        if not self.missing(line):
            return ()
        return tuple(each for each in self.unproven if each.answers(line))

    def to_come(self, line: KitLine) -> int:
        """How many pieces of a line are not here at all."""
        return Made(line, (*self.lots(line), *_lots(self.to_prove(line)))).missing

    def on_order(self, line: KitLine) -> tuple[InHand, ...]:
        """The pieces of a line that are on order, where the line still misses some."""
        if not self.to_come(line):
            return ()
        return tuple(each for each in self.coming if each.answers(line))

    def to_order(self, line: KitLine) -> int:
        """How many pieces of a line are neither here nor on order."""
        lying = (*self.to_prove(line), *self.on_order(line))
        return Made(line, (*self.lots(line), *_lots(lying))).missing

    def left_over(self, kit: Kit) -> tuple[InHand, ...]:
        """Pieces that answer no line of the kit as it is now, or more of it than it asks for."""
        lying = (*self.pieces, *self.unproven)
        over = [each for each in lying if not any(each.answers(line) for line in kit.lines)]
        for line in kit.lines:
            mine = [each for each in lying if each.answers(line) and each.part is not None]
            left = left_of(line, tuple(_lots(mine)))
            over += [replace(each, quantity=count) for each, count in zip(mine, left, strict=True)]
        totals: dict[object, InHand] = {}
        for each in over:
            key = (each.position, each.part, each.source)
            before = totals[key].quantity if key in totals else 0
            totals[key] = replace(each, quantity=before + each.quantity, cost=None)
        return tuple(each for each in totals.values() if each.quantity > 0)

    def too_many(self, line: KitLine, *more: Lot) -> tuple[InHand, ...]:
        """What is on order for a line beyond what it asks for, with so many `more` in hand."""
        coming = tuple(each for each in self.coming if each.answers(line))
        lying = (each for each in self.unproven if each.answers(line))
        lots = (*self.lots(line), *_lots(lying), *more, *_lots(coming))
        left = left_of(line, lots)[len(lots) - len(coming) :]
        return tuple(
            replace(each, quantity=count)
            for each, count in zip(coming, left, strict=True)
            if count > 0
        )

    def hours(self, assembly: str) -> Decimal | None:
        """The hours worked on an assembly; None where nobody has written any."""
        mine = [each.hours for each in self.worked if each.assembly == assembly]
        return sum(mine, Decimal(0)) if mine else None

    def is_back(self, operation: str) -> bool:
        """Whether the last word on an operation is that its work is back."""
        return any(work.operation == operation and work.back for work in self.works)


def _lots(pieces: Iterable[InHand]) -> Iterator[Lot]:
    """Pieces as they are counted."""
    for each in pieces:
        if each.part is not None:
            yield Lot(each.part, each.quantity, each.stands)


NOTHING_YET = Hand()
"""A job of which nothing has come."""
