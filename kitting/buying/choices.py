"""What accepting and what refusing a reply's line comes to: money, carriage, and who then waits.

The same sum for both, so that they can be held against each other: the goods here as they would
then be, this order's carriage on them, and what the kits then miss bought elsewhere; against what
was asked. What comes after all is held against what is agreed by now, which refusing it leaves as
it is.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from kitting.buying.elsewhere import cheapest_elsewhere, failed_with, too_few
from kitting.buying.orders import carriage_on
from kitting.buying.other_numbers import OtherNumber, barred_for
from kitting.buying.replies import Answer, Word, counted
from kitting.buying.stage_waits import stages_waiting
from kitting.buying.turned_up import Missed
from kitting.job.estimate import NOTHING
from kitting.job.pricing import rounded

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping, Sequence
    from datetime import date
    from decimal import Decimal

    from kitting.buying.elsewhere import Elsewhere
    from kitting.buying.orders import Order
    from kitting.buying.replies import Question
    from kitting.buying.stage_waits import StageWait
    from kitting.buying.standing import LineStanding, OrderRecord
    from kitting.catalog.family import Family
    from kitting.catalog.model import PartNumber
    from kitting.job.pricing import Market


@dataclass(frozen=True, slots=True)
class Choice:
    """What one word on a question comes to.

    `goods`, `carriage` and `carriage_before` are this order's, in its currency. `missing` pieces
    are bought `elsewhere`, or nobody else sells them, or who does has `too_few`: a sentence each.
    `more` is what it all costs above what it is `held` against, asked or agreed by now, in the
    shop's money; None where nobody can say. `says` is what the word means for pieces that come
    after all.
    """

    word: Word
    order: Order
    missing: int
    elsewhere: tuple[Elsewhere, ...]
    goods: Decimal
    carriage_before: Decimal
    carriage: Decimal
    more: Decimal | None
    stages: tuple[StageWait, ...]
    says: tuple[str, ...] = ()
    too_few: tuple[str, ...] = ()
    held: str = "asked"

    @property
    def short_by(self) -> Decimal:
        """How far what is left here falls short of the supplier's least order."""
        return max(NOTHING, self.order.supplier.least_order - self.goods) if self.goods else NOTHING

    @property
    def sentences(self) -> tuple[str, ...]:
        """What follows, a sentence each, the sum of it last."""
        order, words = self.order, [*self.says]
        words += [way.sentence(order.home_currency) for way in self.elsewhere]
        if self.missing and self.too_few:
            words.append(
                f"nobody else is known to have enough of it: {', '.join(self.too_few)}; 'kitting "
                "order plan' looks at sets, several numbers and work too"
            )
        elif self.missing and not self.elsewhere:
            words.append(
                "nobody else sells it, or one number that does as well, at a price that is valid "
                "today; 'kitting order plan' looks at sets, several numbers and work too"
            )
        if self.carriage != self.carriage_before:
            words.append(self._of_carriage())
        if self.short_by:
            words.append(
                f"the goods here are then {order.currency} {self.short_by} below the least order"
            )
        words += [wait.sentence for wait in self.stages]
        if self.missing and not self.stages:
            words.append("no stage waits longer for it")
        if self.more is not None:
            kind = "less" if self.more < 0 else "more"
            amount = f"{order.home_currency} {abs(self.more)} {kind}" if self.more else "no more"
            words.append(f"in all {amount} than as {self.held}")
        return tuple(words)

    def _of_carriage(self) -> str:
        order = self.order
        free = order.supplier.free_over
        why = ""
        if free is not None and self.carriage_before == 0 and self.goods < free:
            why = f": the goods come to {self.goods}, and it is free from {free}"
        elif free is not None and self.goods >= free:
            why = f": it is free from {free}"
        elif not self.goods:
            why = ": nothing is left of the order"
        return (
            f"carriage here {order.currency} {self.carriage} instead of {self.carriage_before}{why}"
        )


def choices_of(
    question: Question,
    record: OrderRecord,
    market: Market,
    families: Mapping[str, Family],
    records: Sequence[OrderRecord],
    numbers: Sequence[OtherNumber] = (),
    missed: Callable[[OrderRecord], Missed] | None = None,
) -> tuple[Choice, Choice]:
    """Return what accepting and what refusing comes to, in this order.

    Args:
        question: what a reply asks about one line.
        record: the order that it is of.
        market: the trade on the day when the rest would be bought.
        families: the edition of each job's family, by job number.
        records: every order that anything of the order's jobs is in, this one too.
        numbers: what may be bought in the line's place, what was ordered first; by default that
            alone.
        missed: what the kits miss of the line beside the order as it is given; by default all that
            the line leaves open.
    """
    may = tuple(numbers) or (OtherNumber(question.line.part),)
    still = missed or (lambda then: Missed(then.by_line[question.line.id].reopened))
    accept, refuse = (
        _choice(word, question, record, market, families, records, may, still)
        for word in (Word.ACCEPT, Word.REFUSE)
    )
    return accept, refuse


def _choice(
    word: Word,
    question: Question,
    record: OrderRecord,
    market: Market,
    families: Mapping[str, Family],
    records: Sequence[OrderRecord],
    numbers: Sequence[OtherNumber],
    missed: Callable[[OrderRecord], Missed],
) -> Choice:
    order, line = record.order, question.line
    answered = _answered(record, question, word)
    now, then = record.by_line[line.id], answered.by_line[line.id]
    still = missed(answered)
    missing = min(then.reopened, still.pieces)
    others = [e for e in record.lines if e.line.id != line.id]
    rest = sum((rounded(e.pack_price * e.packs, order.currency) for e in others), NOTHING)
    was = (line.pack_price, line.packs)
    if question.after_all:
        was = (now.pack_price, now.packs)
    before = rest + rounded(was[0] * was[1], order.currency)
    goods = rest + rounded(then.pack_price * then.packs, order.currency)
    stays = any(e.packs for e in others)
    carriage_before, carriage = (
        carriage_on(order.supplier, net, order.currency) if stays or count else NOTHING
        for net, count in ((before, was[1]), (goods, then.packs))
    )
    elsewhere: tuple[Elsewhere, ...] = ()
    few: tuple[str, ...] = ()
    if missing:
        not_from = {(order.supplier.key, part) for part in _spoken_of(question, now)}
        not_from |= set(failed_with(line, numbers, records))
        barred = barred_for(line, families)
        elsewhere = cheapest_elsewhere(market, numbers, missing, not_from, records, barred)
        few = () if elsewhere else tuple(too_few(market, numbers, not_from, barred))
    more = None
    if elsewhere or not missing:
        more = order.at_home(goods + carriage - before - carriage_before)
        more += sum((way.cost for way in elsewhere), NOTHING)
    return Choice(
        word=word,
        order=order,
        missing=missing,
        elsewhere=elsewhere,
        too_few=few,
        goods=goods,
        carriage_before=carriage_before,
        carriage=carriage,
        more=more,
        stages=stages_waiting(
            now, then.not_here, _comes(then, missing, elsewhere, now.due), families, records
        ),
        says=tuple(_says(word, question, now, then, still, missed(record))),
        held="agreed by now" if question.after_all else "asked",
    )


def _answered(record: OrderRecord, question: Question, word: Word) -> OrderRecord:
    """The order as it stands once the word is given: what is here of a line was sent, and stays."""
    said = Answer(
        question.line.id,
        question.reply,
        word,
        who="",
        day=record.order.day,
        delivered=len(record.deliveries),
    )
    return replace(record, answers=(*record.answers, said))


def _says(
    word: Word,
    question: Question,
    now: LineStanding,
    then: LineStanding,
    still: Missed,
    before: Missed,
) -> Iterator[str]:
    """What the word means for what comes after all, and for what is open and nobody misses."""
    if question.after_all and word is Word.ACCEPT:
        idle = question.after_all - min(now.reopened, before.pieces)
        if idle > 0:
            yield f"it cannot be accepted: nobody misses {counted(idle, 'piece')} of it any more"
    elif question.after_all:
        stays = f"what was agreed stays: {now.packs} of {counted(now.line.packs, 'pack')}"
        yield stays if now.packs else "nothing of it comes, as before"
    if then.reopened > still.pieces:
        found = counted(then.reopened - still.pieces, "piece")
        open_then = "what was open" if question.after_all else "what is then open"
        orders = " and ".join(still.bought_in)
        yield (
            f"order {orders} brings {found} of {open_then}"
            if orders
            else f"no kit misses {found} of {open_then}"
        )


def _spoken_of(question: Question, standing: LineStanding) -> Iterator[PartNumber]:
    """The numbers that the reply speaks of, or what was agreed did: not bought of him anew."""
    yield from standing.failed
    if question.said.part is not None:
        yield question.said.part


def _comes(
    then: LineStanding, missing: int, elsewhere: Sequence[Elsewhere], due: date
) -> date | None:
    """When all the pieces are there, from here and from elsewhere; None when nobody can say."""
    if missing and not elsewhere:
        return None
    here = [then.due] if then.coming else []
    there = [way.comes for way in elsewhere]
    return max([*here, *there], default=due)
