"""What is agreed on a line of an order: as asked, or as a reply that was accepted changed it.

The last word on a line counts, and what it leaves blank stays as it was agreed. What was refused is
agreed no more: a later word on it starts from what was asked. What was given up, refused or
accepted as short, never comes again without somebody's word. Where another number was agreed, what
he says without naming one is of that number; "as asked" is of what was asked. What he said before
and nobody has answered still stands where a later word leaves it blank.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from kitting.buying.replies import Change, Question, ReplyLine, Word, question_of
from kitting.catalog.model import normal_number

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
    waits: ReplyLine | None = None
    words = {each.reply: each.word for each in answers if each.line == line.id}
    for number, told in _news(line, replies):
        said = _added(line, told, waits)
        waits = None
        if before.packs == 0 and _offers_nothing(said):
            agreed = replace(before, said=said)
            continue
        given_up = max(0, line.quantity - before.packs * line.pack * before.makes // before.per)
        question = _question(order, number, said, held, given_up)
        word = words.get(number)
        if question is not None and word is None:
            agreed, waits = replace(before, said=said, question=question), said
        elif word is Word.REFUSE and question is not None and question.after_all:
            agreed = replace(before, said=said)  # what was agreed beside it stays
        elif word is Word.REFUSE:
            held = None
            agreed = before = replace(before, packs=0, said=said, refused=True)
        else:
            held = _meant(line, said, held)
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


def _added(line: OrderLine, told: ReplyLine, waits: ReplyLine | None) -> ReplyLine:
    """What he says now, with what he said before and nobody has answered where he leaves it."""
    return told if waits is None or not _of_the_same(line, told, waits) else _filled(told, waits)


def _offers_nothing(said: ReplyLine) -> bool:
    """Whether he speaks of a line, and of no goods: a remark, or a day alone."""
    return (said.packs, said.pack_price, said.substitute) == (None, None, "")


def _meant(line: OrderLine, said: ReplyLine, held: ReplyLine | None) -> ReplyLine:
    """What he says of a line, filled up with what was agreed; another number stands for itself."""
    return said if held is None or not _of_the_same(line, said, held) else _filled(said, held)


def _filled(said: ReplyLine, before: ReplyLine) -> ReplyLine:
    """What he says, and where he leaves it blank what stood before."""
    return replace(
        before,
        packs=before.packs if said.packs is None else said.packs,
        pack_price=before.pack_price if said.pack_price is None else said.pack_price,
        day=said.day or before.day,
        remark=said.remark,
    )


def _of_the_same(line: OrderLine, said: ReplyLine, held: ReplyLine) -> bool:
    """Whether he speaks of the number that is agreed."""
    if said.substitute:
        named = normal_number(said.substitute) == normal_number(held.substitute)
        return named or (said.part is not None and said.part == held.part)
    as_asked = (said.packs, said.pack_price) == (line.packs, line.pack_price)
    return not (held.substitute and as_asked)


def _question(
    order: Order, number: int, said: ReplyLine, held: ReplyLine | None, given_up: int
) -> Question | None:
    """What a line asks; nothing again of what was agreed and he leaves as it was."""
    line = order.line(said.line)
    if line is None or held is None or not _of_the_same(line, said, held):
        return question_of(order, number, said, given_up)
    question = question_of(order, number, _meant(line, said, held), given_up)
    if question is None:
        return None
    packs_as_agreed = said.packs in {None, held.packs}
    silent = {Change.SUBSTITUTE}
    silent |= {Change.SHORT, Change.SURPLUS} if packs_as_agreed else set()
    if packs_as_agreed and said.pack_price in {None, held.pack_price}:
        silent.add(Change.DEARER)
    silent |= {Change.LATER} if said.day in {None, held.day} else set()
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
