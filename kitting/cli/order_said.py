"""What supplier and shop said of an order, as text: replies with remarks, and who answered what."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.buying.replies import Word, counted
from kitting.cli.screen import paragraph

if TYPE_CHECKING:
    from collections.abc import Iterator

    from kitting.buying.orders import OrderLine
    from kitting.buying.replies import Answer, Reply, ReplyLine
    from kitting.buying.standing import OrderRecord

PAST = {Word.ACCEPT: "accepted", Word.REFUSE: "refused"}
IF = {Word.ACCEPT: "if accepted", Word.REFUSE: "if refused"}


def said_of(record: OrderRecord) -> Iterator[str]:
    """Each reply with what it says beyond 'as asked', and the answers that it was given."""
    for number, reply in enumerate(record.replies, start=1):
        yield paragraph(f"- {_head(number, reply)}", 2, 2)
        for sentence in reply.beside:
            yield paragraph(f"- he also wrote: {sentence}", 4, 2)
        for said in reply.lines:
            line = record.order.line(said.line)
            words = _words(line, said) if line is not None else []
            answer = answer_to(record, said.line, number)
            if line is not None and (words or answer):
                given = [] if answer is None else [answered(answer)]
                told = [*_as_asked(line, said, answer), *words, *given]
                yield paragraph(f"- {line.id} {line.name}: {'; '.join(told)}", 4, 2)


def answer_to(record: OrderRecord, line: str, reply: int) -> Answer | None:
    """The word that a named person gave on a line of a reply."""
    found = (each for each in record.answers if (each.line, each.reply) == (line, reply))
    return next(found, None)


def answered(answer: Answer) -> str:
    """Who answered what, when and why."""
    why = f": {answer.reason}" if answer.reason else ""
    return f"{PAST[answer.word]} by {answer.who}, {answer.day:%d %b %Y}{why}"


def _head(number: int, reply: Reply) -> str:
    facts = [f"reply {number}, read {reply.day:%d %b %Y}"]
    facts += [f"answered by {reply.who}"] if reply.who else []
    facts += [f"their reference {reply.reference}"] if reply.reference else []
    return f"{', '.join(facts)}: {counted(len(reply.lines), 'line')}"


def _as_asked(line: OrderLine, said: ReplyLine, answer: Answer | None) -> list[str]:
    """That all of it comes, where more is told of a line: it may have been given up before."""
    if said.as_asked(line):
        return ["as asked"]
    whole = said.packs == line.packs and answer is not None
    return [f"{said.packs} of {counted(line.packs, 'pack')}"] if whole else []


def _words(line: OrderLine, said: ReplyLine) -> list[str]:
    """What differs from what was asked, and what he remarks."""
    words = []
    if said.substitute:
        known = f" ({said.part})" if said.part else ""
        words.append(f"{said.substitute}{known} in the place of {line.their_number}")
        if (said.per, said.makes) != (1, 1):
            words.append(f"{said.per} of it for {said.makes}")
    if said.packs not in {None, line.packs}:
        words.append(f"{said.packs} of {counted(line.packs, 'pack')}")
    if said.pack_price not in {None, line.pack_price}:
        words.append(f"{said.pack_price} a pack instead of {line.pack_price}")
    if said.day is not None:
        words.append(f"on {said.day:%d %b %Y}")
    if said.remark:
        words.append(f"he remarks: {said.remark}")
    return words
