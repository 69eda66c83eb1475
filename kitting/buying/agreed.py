"""What is agreed on a line of an order: as asked, or as a reply that was accepted changed it.

The last word on a line counts, and what it leaves blank stays as it was agreed. What was refused is
agreed no more: a later word on it starts from what was asked. What was given up, refused or
accepted as short, never comes again without somebody's word. Where another number was agreed, what
he says without naming one is of that number. What he said before and nobody has answered still
stands where a later word leaves it blank.

"As asked" is the line as it was printed: the number, the packs, the price and, where no day is
said with it, the day that was asked for. A later day that was agreed, or waits for a word, holds
no more then, as a dearer price does not. Both figures as they were asked for are "as asked" too:
whoever confirms what he sees printed says nothing else.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from kitting.buying.here import Promise
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
    then what was agreed before holds. `promises` are what was to come by each word in turn, that
    of the order first, in pieces.
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
    promises: tuple[Promise, ...] = ()


def agreed_on(
    order: Order, line: OrderLine, replies: Iterable[Reply], answers: Iterable[Answer]
) -> Agreed:
    """Return what holds of a line after all replies and answers."""
    asked = agreed = before = Agreed(
        line.part, line.their_number, line.packs, line.pack_price, order.due(line)
    )
    held: ReplyLine | None = None
    waits: ReplyLine | None = None
    mine = {each.reply: each for each in answers if each.line == line.id}
    promises = [Promise(line.pieces)]
    for number, told in _news(line, replies):
        said = _added(line, told, waits)
        waits = None
        if before.packs == 0 and _offers_nothing(said):
            agreed = replace(before, said=said)
            continue
        given_up = max(0, line.quantity - before.packs * line.pack * before.makes // before.per)
        question = _question(order, number, said, held, given_up)
        answer = mine.get(number)
        word = answer.word if answer is not None else None
        if question is not None and word is None:
            agreed, waits = replace(before, said=said, question=question), said
        elif word is Word.REFUSE and question is not None and question.after_all:
            agreed = replace(before, said=said)  # what was agreed beside it stays
        elif word is Word.REFUSE:
            held = None
            agreed = before = replace(before, packs=0, said=said, refused=True)
            promises.append(_promise(line, before, before, answer, promises[-1]))
        else:
            held = _meant(line, said, held)
            agreed = _taken(asked, held, said)
            promises.append(_promise(line, before, agreed, answer, promises[-1]))
            before = agreed
    return replace(agreed, promises=tuple(promises))


def _promise(
    line: OrderLine, before: Agreed, now: Agreed, answer: Answer | None, last: Promise
) -> Promise:
    """What is to come now; what needed nobody's word counts from when the last one was given."""
    delivered = last.delivered if answer is None else answer.delivered
    anew = (before.part, before.per, before.makes) != (now.part, now.per, now.makes)
    return Promise(now.packs * line.pack, delivered, anew)


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
    return told if waits is None or not _leaves(line, told, waits) else _filled(told, waits)


def _offers_nothing(said: ReplyLine) -> bool:
    """Whether he speaks of a line, and of no goods: a remark, or a day alone."""
    return (said.packs, said.pack_price, said.substitute) == (None, None, "")


def _meant(line: OrderLine, said: ReplyLine, held: ReplyLine | None) -> ReplyLine:
    """What he says of a line, filled up with what was agreed; another number stands for itself."""
    return said if held is None or not _leaves(line, said, held) else _filled(said, held)


def _filled(said: ReplyLine, before: ReplyLine) -> ReplyLine:
    """What he says, and where he leaves it blank what stood before."""
    return replace(
        before,
        packs=before.packs if said.packs is None else said.packs,
        pack_price=before.pack_price if said.pack_price is None else said.pack_price,
        day=said.day or before.day,
        remark=said.remark,
    )


def _leaves(line: OrderLine, said: ReplyLine, before: ReplyLine) -> bool:
    """Whether what he leaves blank stands as it was before; 'as asked' leaves nothing."""
    return not said.as_asked(line) and _of_the_same(line, said, before)


def _of_the_same(line: OrderLine, said: ReplyLine, held: ReplyLine) -> bool:
    """Whether he speaks of the number that is agreed."""
    if said.substitute:
        named = normal_number(said.substitute) == normal_number(held.substitute)
        return named or (said.part is not None and said.part == held.part)
    return not (held.substitute and said.as_asked(line))


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
    packs_as_agreed = said.packs in {None, line.packs if held.packs is None else held.packs}
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
