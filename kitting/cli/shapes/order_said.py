"""The shapes of what supplier and shop said of an order."""

from dataclasses import dataclass
from datetime import date

from kitting.buying.replies import Answer, Reply, ReplyLine
from kitting.buying.standing import OrderRecord
from kitting.cli.order_said import answer_to


@dataclass(frozen=True, slots=True)
class AnswerShape:
    """A named person's word on a line of a reply."""

    word: str
    who: str
    day: date
    reason: str


@dataclass(frozen=True, slots=True)
class ReplyLineShape:
    """What a reply says of one line; null and empty are boxes left blank.

    `per` pieces of the part offered make `makes` of those asked for.
    """

    line: str
    packs: int | None
    pack_price: str | None
    day: date | None
    substitute: str
    part: str | None
    per: int
    makes: int
    remark: str
    answer: AnswerShape | None


@dataclass(frozen=True, slots=True)
class ReplyShape:
    """One reply: when it was read, who answered and by which reference of theirs.

    `beside` is what they wrote that belongs to none of its lines.
    """

    reply: int
    day: date
    who: str
    reference: str
    beside: list[str]
    lines: list[ReplyLineShape]


def replies_shape(record: OrderRecord) -> list[ReplyShape]:
    """The shape of every reply to an order, the first first."""
    return [_reply(record, at, reply) for at, reply in enumerate(record.replies, start=1)]


def _reply(record: OrderRecord, number: int, reply: Reply) -> ReplyShape:
    lines = [_line(said, answer_to(record, said.line, number)) for said in reply.lines]
    return ReplyShape(number, reply.day, reply.who, reply.reference, [*reply.beside], lines)


def _line(said: ReplyLine, answer: Answer | None) -> ReplyLineShape:
    return ReplyLineShape(
        line=said.line,
        packs=said.packs,
        pack_price=None if said.pack_price is None else str(said.pack_price),
        day=said.day,
        substitute=said.substitute,
        part=str(said.part) if said.part else None,
        per=said.per,
        makes=said.makes,
        remark=said.remark,
        answer=None if answer is None else _answer(answer),
    )


def _answer(answer: Answer) -> AnswerShape:
    return AnswerShape(answer.word, answer.who, answer.day, answer.reason)
