"""What a supplier answers to an order, held against what he was asked.

A dearer price, a short quantity, a later day or another number is a question that a named person
answers: accept or refuse. Blank cells answer nothing; a lower price or an earlier day is taken.
What was refused, or accepted as short, may be bought elsewhere by the time he has it after all:
that is a question too.

Another number may be counted otherwise, two halves for a pair: what is offered of it is held
against what was asked by what it makes, and may be more in number than was asked.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from kitting.errors import Problems
from kitting.job.estimate import NOTHING
from kitting.job.pricing import rounded

if TYPE_CHECKING:
    from datetime import date
    from decimal import Decimal

    from kitting.buying.orders import Order, OrderLine
    from kitting.catalog.model import PartNumber

_MOST_DAYS = 3 * 366
# Far above what any part costs, far below what the database holds.
_MOST_PRICE = 100_000_000
# The places that a price is kept with.
_PRICE_PLACES = 4
# How many packs of another number may do for one: far more than any part is counted apart.
MOST_FOR_ONE = 100


class Change(StrEnum):
    """In what a reply differs from what was asked, to the shop's cost."""

    DEARER = "dearer"
    SHORT = "short"
    LATER = "later"
    SUBSTITUTE = "substitute"
    SURPLUS = "surplus"
    AFTER_ALL = "after all"


class Word(StrEnum):
    """What a named person says to a reply's line."""

    ACCEPT = "accept"
    REFUSE = "refuse"


@dataclass(frozen=True, slots=True)
class ReplyLine:
    """What the supplier wrote at one line; None and '' are cells left blank.

    `part` is the maker's number that `substitute` was found to be, where it is known; `per` of its
    pieces make `makes` of those asked for.
    """

    line: str
    packs: int | None = None
    pack_price: Decimal | None = None
    day: date | None = None
    substitute: str = ""
    remark: str = ""
    part: PartNumber | None = None
    per: int = 1
    makes: int = 1

    def made(self, pieces: int) -> int:
        """How many whole pieces of what was asked for so many of his pieces make."""
        return pieces * self.makes // self.per

    def pieces_for(self, asked: int) -> int:
        """How many of his pieces make so many of those asked for."""
        return -(-asked * self.per // self.makes)

    def as_asked(self, line: OrderLine) -> bool:
        """Whether it says of a line what was asked for, in packs and price and by its number."""
        figures = (self.packs, self.pack_price) == (line.packs, line.pack_price)
        return figures and not self.substitute

    @property
    def says_something(self) -> bool:
        """Whether anything was written."""
        figures = (self.packs, self.pack_price, self.day)
        return any(figure is not None for figure in figures) or bool(self.substitute or self.remark)


@dataclass(frozen=True, slots=True)
class Reply:
    """One reply to one revision of an order; `who` and `reference` are the supplier's own.

    `beside` are sentences of what he wrote that belongs to none of its lines.
    """

    order: str
    revision: int
    lines: tuple[ReplyLine, ...]
    day: date
    who: str = ""
    reference: str = ""
    beside: tuple[str, ...] = ()

    def same_as(self, other: Reply) -> bool:
        """Whether it says the same of its lines, whenever it was loaded."""
        mine = (self.order, self.revision, self.lines, self.who, self.reference)
        return mine == (other.order, other.revision, other.lines, other.who, other.reference)


@dataclass(frozen=True, slots=True)
class Answer:
    """A named person's word on a line of a reply; `reply` counts the order's replies from 1.

    `delivered` of the order's deliveries were booked when it was given.
    """

    line: str
    reply: int
    word: Word
    who: str
    day: date
    reason: str = ""
    delivered: int = 0


@dataclass(frozen=True, slots=True)
class Question:
    """What a reply's line changes and what that costs; money in the order's currency.

    `dearer` is what the packs that he sends cost more, `missing` the pieces asked for that do not
    come, `surplus` the pieces of his that are more than was asked, `later` the days after the day
    that was due, `after_all` the pieces asked for that come though they were given up before.
    """

    line: OrderLine
    reply: int
    said: ReplyLine
    changes: tuple[Change, ...]
    dearer: Decimal
    missing: int
    later: int
    surplus: int = 0
    after_all: int = 0

    @property
    def _otherwise(self) -> bool:
        """Whether what he offers is counted in another measure than what was asked."""
        return (self.said.per, self.said.makes) != (1, 1)

    def sentences(self, currency: str) -> tuple[str, ...]:
        """Each change in words, without its effect on fit."""
        said, line = self.said, self.line
        words = []
        if Change.SUBSTITUTE in self.changes:
            words.append(f"{said.substitute} in the place of {line.their_number} ({line.part})")
            words += [self._measure()] if self._otherwise else []
        if Change.AFTER_ALL in self.changes:
            open_again = f"{counted(self.after_all, 'piece')} {self._of_asked()}that had been open"
            words.append(f"{self._sent()}: {open_again} again would come after all")
        if Change.SHORT in self.changes:
            missing = f"{counted(self.missing, 'piece')} {self._of_asked()}would be open again"
            words.append(
                f"{self._sent()}: {missing if self.missing else 'enough for what is needed'}"
            )
        if Change.SURPLUS in self.changes:
            words.append(f"{self._sent()}: {counted(self.surplus, 'piece')} more than do for it")
        if Change.DEARER in self.changes:
            words.append(f"{self._price()}: {currency} {self.dearer} more")
        if Change.LATER in self.changes:
            words.append(f"on {said.day:%d %b %Y}: {counted(self.later, 'day')} later than due")
        return tuple(words)

    @property
    def _packs(self) -> int:
        return self.line.packs if self.said.packs is None else self.said.packs

    def _sent(self) -> str:
        return f"{self._packs} of {counted(self.line.packs, 'pack')}"

    def _of_asked(self) -> str:
        return f"of {self.line.part} " if self._otherwise else ""

    def _measure(self) -> str:
        """What his pieces make of those asked for."""
        said, line = self.said, self.line
        sent = self._packs * line.pack
        return (
            f"{said.per} of it for {said.makes} of {line.part}: the "
            f"{counted(sent, 'piece')} that he offers make {said.made(sent)}, and {line.quantity} "
            "were asked for"
        )

    def _price(self) -> str:
        said, line = self.said, self.line
        price = line.pack_price if said.pack_price is None else said.pack_price
        if self._packs <= line.packs and not self._otherwise:
            return f"{price} a pack instead of {line.pack_price}"
        unsaid = ", as he gives no other price" if said.pack_price is None else ""
        return f"{self._packs} × {price} instead of {line.packs} × {line.pack_price}{unsaid}"

    def told_sentences(self, currency: str) -> tuple[str, ...]:
        """The same where the goods are here already: what he says, and nothing of what it opens."""
        said, words = self.said, []
        if Change.SUBSTITUTE in self.changes:
            words.append(f"{said.substitute} in the place of {self.line.their_number}")
        if {Change.SHORT, Change.SURPLUS, Change.AFTER_ALL} & set(self.changes):
            words.append(self._sent())
        if Change.DEARER in self.changes:
            words.append(f"{currency} {self._price()}")
        if Change.LATER in self.changes and said.day is not None:
            words.append(f"on {said.day:%d %b %Y}")
        return tuple(words)


def counted(count: int, what: str) -> str:
    """So many of something, in words: 1 piece, 2 pieces."""
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


def question_of(order: Order, number: int, said: ReplyLine, given_up: int = 0) -> Question | None:
    """What must be asked about one line of a reply, or None; `given_up` of the pieces asked for
    were to come no more by what was agreed before."""
    line = order.line(said.line)
    if line is None:
        return None
    packs = line.packs if said.packs is None else said.packs
    price = line.pack_price if said.pack_price is None else said.pack_price
    later = (said.day - order.due(line)).days if said.day else 0
    sent = packs * line.pack
    surplus = max(0, sent - said.pieces_for(line.pieces))
    # What as much of it as was asked for would have cost, `per` times over: no division before it.
    as_asked = line.pack_price * min(packs * said.makes, line.packs * said.per)
    dearer = price * packs * said.per - as_asked
    missing = max(0, line.quantity - said.made(sent))
    after_all = max(0, given_up - missing)
    changes = [Change.AFTER_ALL] if after_all else []
    if said.substitute:
        changes.append(Change.SUBSTITUTE)
    if sent * said.makes < line.pieces * said.per:
        changes.append(Change.SHORT)
    if surplus:
        changes.append(Change.SURPLUS)
    if dearer > 0:
        changes.append(Change.DEARER)
    if later > 0 and packs:
        changes.append(Change.LATER)
    if not changes:
        return None
    more = rounded(dearer / said.per, order.currency)
    return Question(
        line=line,
        reply=number,
        said=said,
        changes=tuple(changes),
        dearer=max(NOTHING, more),
        missing=missing,
        later=max(0, later),
        surplus=surplus,
        after_all=after_all,
    )


def check_reply(order: Order, reply: Reply) -> None:
    """Refuse a reply that cannot be one to this order.

    Raises:
        BadInput: with everything that is wrong, each at its line.
    """
    problems = Problems()
    place = f"reply to {reply.order}"
    if reply.order != order.number:
        problems.add(place, f"this is order {order.number}", "load it to the order it answers")
    if reply.revision != order.revision:
        problems.add(
            place,
            f"it answers revision {reply.revision}, and the order is at {order.revision}",
            "send the supplier the sheet of this revision",
        )
    problems.raise_if_any()
    for said in reply.lines:
        _check_line(order, said, problems)
    problems.raise_if_any()


def _check_line(order: Order, said: ReplyLine, problems: Problems) -> None:
    line = order.line(said.line)
    place = f"line {said.line}"
    if line is None:
        problems.add(place, f"order {order.number} has no such line", "leave the keys as they were")
        return
    for wrong in (
        wrong_packs(line, said.packs, said.substitute),
        wrong_price(said.pack_price),
        wrong_day(order, said.day),
    ):
        if wrong is not None:
            problems.add(place, *wrong)


def wrong_packs(line: OrderLine, packs: int | None, substitute: str = "") -> tuple[str, str] | None:
    """What is wrong with so many packs as an answer, and what would be right; None when well.

    Of another number than was asked for more may be sent, as it may be counted otherwise.
    """
    if packs is None or 0 <= packs <= _most_packs(line, substitute):
        return None
    return (
        f"{packs} packs are confirmed where {line.packs} were asked for",
        f"{right_packs(line, substitute)}; more needs an order of its own",
    )


def right_packs(line: OrderLine, substitute: str = "") -> str:
    """How many packs may be confirmed, in words."""
    return f"a whole number from 0 to {_most_packs(line, substitute)}"


def _most_packs(line: OrderLine, substitute: str) -> int:
    return line.packs * MOST_FOR_ONE if substitute else line.packs


def wrong_price(price: Decimal | None) -> tuple[str, str] | None:
    """What is wrong with a price of a pack, and what would be right; None when well."""
    if price is None:
        return None
    if not price.is_finite() or price < 0:
        return f"'{price}' is no price", "the price of one pack, such as 12.50"
    if price > _MOST_PRICE:
        shown = f"{price:,}" if price.adjusted() < 15 else f"of {price.adjusted() + 1} digits"
        return f"the price {shown} is too large", f"a pack costs at most {_MOST_PRICE:,}"
    if -int(price.normalize().as_tuple().exponent) > _PRICE_PLACES:
        return f"the price {price} is too fine", f"give at most {_PRICE_PLACES} decimals"
    return None


def wrong_day(order: Order, day: date | None) -> tuple[str, str] | None:
    """What is wrong with a day as an answer, and what would be right; None when well."""
    if day is None or 0 <= (day - order.day).days <= _MOST_DAYS:
        return None
    return (
        f"{day:%d %b %Y} cannot be the day for an order of {order.day:%d %b %Y}",
        "give the day on which it will come",
    )
