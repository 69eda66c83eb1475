"""What is agreed on a line of an order: as asked, or as a reply that was accepted changed it.

The last word on a line counts, and what it leaves blank stays as it was agreed. What was refused is
agreed no more: a later word on it starts from what was asked.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from kitting.buying.replies import Change, Question, ReplyLine, Word, question_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from datetime import date
    from decimal import Decimal

    from kitting.buying.orders import Order, OrderLine
    from kitting.buying.replies import Answer, Reply
    from kitting.catalog.model import PartNumber


@dataclass(frozen=True, slots=True)
class Agreed:
    """What comes, at what price and when; `per` of its pieces make `makes` of those asked for.

    `said` is what the supplier last said, `question` what it asks and nobody has answered: until
    then what was agreed before holds.
    """

    part: PartNumber
    their_number: str
    packs: int
    pack_price: Decimal
    due: date
    said: ReplyLine | None = None
    question: Question | None = None
    refused: bool = False
    per: int = 1
    makes: int = 1


def agreed_on(
    order: Order, line: OrderLine, replies: Iterable[Reply], answers: Iterable[Answer]
) -> Agreed:
    """Return what holds of a line after all replies and answers."""
    asked = agreed = before = Agreed(
        line.part, line.their_number, line.packs, line.pack_price, order.due(line)
    )
    held: ReplyLine | None = None
    words = {each.reply: each.word for each in answers if each.line == line.id}
    for number, said in _news(line, replies):
        question = _question(order, number, said, held)
        word = words.get(number)
        if question is not None and word is None:
            agreed = replace(before, said=said, question=question)
        elif word is Word.REFUSE:
            held = None
            agreed = before = replace(before, packs=0, said=said, refused=True)
        else:
            held = said if held is None else _filled(said, held)
            agreed = before = _taken(asked, held, said)
    return agreed


def _taken(asked: Agreed, meant: ReplyLine, said: ReplyLine) -> Agreed:
    return Agreed(
        part=meant.part or asked.part,
        their_number=meant.substitute or asked.their_number,
        packs=asked.packs if meant.packs is None else meant.packs,
        pack_price=asked.pack_price if meant.pack_price is None else meant.pack_price,
        due=meant.day or asked.due,
        said=said,
        per=meant.per,
        makes=meant.makes,
    )


def _filled(said: ReplyLine, held: ReplyLine) -> ReplyLine:
    """What he says of a line, filled up with what was agreed; another number stands for itself."""
    if said.substitute:
        return said
    return replace(
        held,
        packs=held.packs if said.packs is None else said.packs,
        pack_price=held.pack_price if said.pack_price is None else said.pack_price,
        day=said.day or held.day,
    )


def _question(
    order: Order, number: int, said: ReplyLine, held: ReplyLine | None
) -> Question | None:
    """What a line asks; nothing again of what was agreed and he is silent about now."""
    if held is None or said.substitute:
        return question_of(order, number, said)
    question = question_of(order, number, _filled(said, held))
    if question is None:
        return None
    silent = {Change.SUBSTITUTE}
    silent |= {Change.SHORT, Change.SURPLUS} if said.packs is None else set()
    silent |= {Change.DEARER} if (said.packs, said.pack_price) == (None, None) else set()
    silent |= {Change.LATER} if said.day is None else set()
    asks = tuple(change for change in question.changes if change not in silent)
    return replace(question, changes=asks) if asks else None


def _news(line: OrderLine, replies: Iterable[Reply]) -> Iterator[tuple[int, ReplyLine]]:
    """What the supplier said of a line, each time that it is news, with that reply's number."""
    last: ReplyLine | None = None
    for number, reply in enumerate(replies, start=1):
        for said in reply.lines:
            if said.line == line.id and said != last:
                yield number, said
                last = said
