"""How an order stands: worked out from its record, and nothing of it kept beside the record.

What was frozen is never changed. Replies, answers, deliveries and returns are added; here they come
to what is agreed, what came, what is still to come, and what must be bought again.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from decimal import Decimal
from fractions import Fraction
from functools import cached_property
from math import ceil
from types import MappingProxyType
from typing import TYPE_CHECKING

from kitting.buying.agreed import agreed_on
from kitting.buying.deliveries import Delivery, Return, Why, gone_back, gone_by_place
from kitting.buying.drafting import Before, Coming
from kitting.buying.failures import Failure, Failures, failures_of
from kitting.buying.here import arrived
from kitting.buying.orders import LineFor, Order, OrderLine, OrderState, carriage_on
from kitting.buying.proven import Settled, parcels_of
from kitting.buying.replies import Answer, Question, Reply, ReplyLine
from kitting.buying.sharing import OfLine, Place, Share, given_of, gone_of
from kitting.catalog.model import PartNumber
from kitting.job.estimate import NOTHING
from kitting.job.pricing import rounded

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator, Mapping
    from datetime import date

    from kitting.buying.here import Here


@dataclass(frozen=True, slots=True)
class Step:
    """Something that a named person did to an order: approved, sent, cancelled it."""

    state: OrderState
    who: str
    day: date
    note: str = ""


@dataclass(frozen=True, slots=True)
class LineStanding:
    """How one line stands, in pieces of what is agreed; `reopened` and `gone_unused` as asked.

    `part`, `packs`, `pack_price` and `due` are what is agreed, `per` of its pieces making `makes`
    of those asked for. `good` are here and sound, `unmeasured` are here and must be measured,
    `doubtful` measured again; `damaged` and `wrong` are here and must go back. `coming` is still
    expected, `reopened` must be bought again, and `late` may turn up all the same. `may_go` is
    what may go back, by reason. `gone_unused` went back on sale or return, or as no kit asked for
    it any more: the line is not open for that. `told` is what a reply says to no effect: the goods
    are here. `gone_of` are the pieces that went back unused, by job and position; `first` is what
    each need has before another has more, where that is not what it asked for (see `sought`).
    `asks` is how many the kit asks for today of what a need stands for, where that was looked up;
    `built_in` are the pieces in an engine that is built and closed.
    """

    line: OrderLine
    part: PartNumber
    their_number: str
    packs: int
    pack_price: Decimal
    due: date
    good: int
    doubtful: int
    damaged: int
    wrong: int
    coming: int
    reopened: int
    may_go: Mapping[Why, int]
    said: ReplyLine | None = None
    question: Question | None = None
    refused: bool = False
    gone_unused: int = 0
    unmeasured: int = 0
    late: int = 0
    told: Question | None = None
    per: int = 1
    makes: int = 1
    given_up: frozenset[tuple[str, str]] = frozenset()
    gone_of: Mapping[Place, int] = field(default_factory=dict)
    first: tuple[Fraction, ...] = ()
    asks: Mapping[OfLine, Fraction] = field(default_factory=dict)
    built_in: Mapping[OfLine, int] = field(default_factory=dict)

    @property
    def needed(self) -> int:
        """Pieces of what is agreed that make what was asked for."""
        return -(-self.line.quantity * self.per // self.makes)

    @property
    def needed_by(self) -> tuple[LineFor, ...]:
        """Whose they are, counted in what is agreed."""
        line = self.line
        if (self.per, self.makes) == (1, 1):
            return line.needed_by
        return tuple(
            need.instead(line.part, self.part, self.per, self.makes) for need in line.needed_by
        )

    def shared(self, pieces: int, *, as_asked: bool = False) -> Iterator[Share]:
        """Share so many pieces of what is agreed out to the needs; see `sharing`.

        What went back of a job's pieces it has no more, unless they are shared `as_asked`.
        """
        there = Fraction(pieces * self.makes, self.per)
        back, first = self.gone, self.first
        if not first:
            first = tuple(n.pieces - g for n, g in zip(self.line.needed_by, back, strict=True))
        if as_asked:
            first = tuple(f + g for f, g in zip(first, back, strict=True))
        given = given_of(self.line, there, self.gave_up, first, self.in_engines)
        for need, agreed, part in zip(self.line.needed_by, self.needed_by, given, strict=True):
            yield Share(need, agreed, part, ceil(part * self.per / self.makes))

    @property
    def gone(self) -> tuple[Fraction, ...]:
        """What went back of each need's, counted as it was asked for."""
        scale = Fraction(self.makes, self.per)
        return gone_of(self.line, {place: n * scale for place, n in self.gone_of.items()})

    @property
    def in_engines(self) -> tuple[Fraction, ...]:
        """What of each need's is in an engine that was built, counted as it was asked for."""
        scale = Fraction(self.makes, self.per)
        pieces = (self.built_in.get((n.job, n.positions), 0) for n in self.line.needed_by)
        asked = zip(self.line.needed_by, pieces, strict=True)
        return tuple(min(Fraction(need.pieces), count * scale) for need, count in asked)

    def gave_up(self, need: LineFor) -> bool:
        """Whether the job of a need wants it no more: declined, no longer in the kit, the engine
        is not built, or is built without."""
        mine = (need.job, need.positions)
        if mine in self.built_in or self.asks.get(mine) == 0 or (need.job, "") in self.given_up:
            return True
        return all((need.job, key) in self.given_up for key in need.positions)

    @property
    def as_agreed(self) -> OrderLine:
        """The line as if what is agreed had been asked for, where that is another number."""
        line = self.line
        if self.part == line.part:
            return line
        return replace(
            line,
            part=self.part,
            packs=self.packs,
            quantity=self.needed,
            needed_by=self.needed_by,
        )

    def made(self, pieces: int) -> int:
        """How many whole pieces of what was asked for so many of what is agreed make."""
        return pieces * self.makes // self.per

    @property
    def unproven(self) -> int:
        """Pieces that are here and that no figure or word has proven."""
        return self.unmeasured + self.doubtful

    @property
    def secured(self) -> int:
        """Pieces of what was needed that are here or still to come."""
        return min(self.needed, self.good + self.unproven + self.coming)

    @property
    def fell_short(self) -> bool:
        """Whether the supplier failed with it."""
        return self.reopened > 0

    @property
    def left_open(self) -> bool:
        """Whether pieces that were asked for are not to come: they failed, or went back."""
        return self.reopened > 0 or self.gone_unused > 0

    @property
    def not_here(self) -> tuple[LineFor, ...]:
        """The needs that have not all their pieces here, and whose jobs still want them."""
        shares = self.shared(self.good + self.unproven)
        waiting = (e.need for e in shares if e.given < e.need.pieces)
        return tuple(need for need in waiting if not self.gave_up(need))

    @property
    def short(self) -> int:
        """Pieces of what is agreed that never came, and are not expected any more."""
        unused = -(-self.gone_unused * self.per // self.makes)
        return max(0, self.needed - self.secured - self.damaged - self.wrong - unused)

    @property
    def failed(self) -> frozenset[PartNumber]:
        """The numbers that he failed with: what he named in its place, and so what was ordered."""
        return frozenset({self.line.part, self.part})


@dataclass(frozen=True)
class OrderRecord:
    """An order's last revision with everything that happened to it since, each in its order.

    `given_up` are the positions of its jobs that are wanted no more, by job; '' is the whole job.
    `sought` is by line what each of its needs has first, where other orders or the shelf have
    brought to its places too. `asks` and `built_in` are by line, as in `LineStanding`.
    """

    order: Order
    steps: tuple[Step, ...] = ()
    replies: tuple[Reply, ...] = ()
    answers: tuple[Answer, ...] = ()
    deliveries: tuple[Delivery, ...] = ()
    returns: tuple[Return, ...] = ()
    settled: tuple[Settled, ...] = ()
    given_up: frozenset[tuple[str, str]] = frozenset()
    sought: Mapping[str, tuple[Fraction, ...]] = field(default_factory=dict)
    asks: Mapping[str, Mapping[OfLine, Fraction]] = field(default_factory=dict)
    built_in: Mapping[str, Mapping[OfLine, int]] = field(default_factory=dict)

    @cached_property
    def lines(self) -> tuple[LineStanding, ...]:
        """How each line stands."""
        return tuple(_standing(self, line) for line in self.order.lines)

    @cached_property
    def by_line(self) -> Mapping[str, LineStanding]:
        """The same by the line's id."""
        return MappingProxyType({each.line.id: each for each in self.lines})

    @property
    def cancelled(self) -> bool:
        """Whether it was cancelled."""
        return any(step.state is OrderState.CANCELLED for step in self.steps)

    @property
    def state(self) -> OrderState:
        """How far it is."""
        if self.cancelled:
            return OrderState.CANCELLED
        if self.order.draft:
            return OrderState.DRAFT
        if self.deliveries:
            waiting = any(each.coming for each in self.lines)
            return OrderState.PART_DELIVERED if waiting else OrderState.DELIVERED
        if self.replies:
            return OrderState.ANSWERED
        sent = any(step.state is OrderState.SENT for step in self.steps)
        return OrderState.SENT if sent else OrderState.APPROVED

    @property
    def questions(self) -> tuple[Question, ...]:
        """What a reply asks and nobody has answered."""
        return tuple(each.question for each in self.lines if each.question)

    @property
    def unanswered(self) -> tuple[OrderLine, ...]:
        """The lines that no reply says anything of, of an order that has one; none that is here."""
        if not self.replies or self.cancelled:
            return ()
        spoken = {said.line for reply in self.replies for said in reply.lines}
        return tuple(
            each.line
            for each in self.lines
            if each.line.id not in spoken
            and each.coming
            and not any((each.good, each.unproven, each.damaged, each.wrong))
        )

    @property
    def agreed(self) -> Decimal:
        """What it comes to as agreed by now, with carriage, without VAT.

        Of an order that was cancelled only what had come.
        """
        return self._agreed_goods + self.agreed_carriage

    @property
    def agreed_carriage(self) -> Decimal:
        """The carriage of that."""
        if not any(self._agreed_packs(each) for each in self.lines):
            return NOTHING
        return carriage_on(self.order.supplier, self._agreed_goods, self.order.currency)

    @property
    def _agreed_goods(self) -> Decimal:
        currency = self.order.currency
        nets = (rounded(e.pack_price * self._agreed_packs(e), currency) for e in self.lines)
        return sum(nets, NOTHING)

    def _agreed_packs(self, each: LineStanding) -> int:
        return -(-(each.good + each.unproven) // each.line.pack) if self.cancelled else each.packs


def before_of(records: Iterable[OrderRecord], leave_out: Collection[str] = ()) -> Before:
    """What the orders bring so far and where they failed, for the drafts that come after them.

    `leave_out` are the numbers of drafts that are being made anew.
    """
    coming: list[Coming] = []
    failures: list[Failure] = []
    for record in records:
        if record.order.number in leave_out:
            continue
        for each in record.lines:
            coming.extend(brought_by(each))
            if each.fell_short and (not record.cancelled or _he_failed(record, each)):
                failures.extend(failures_of(record.order, each))
    return Before(tuple(coming), Failures(tuple(failures)))


def _he_failed(record: OrderRecord, each: LineStanding) -> bool:
    """Whether a line failed before the shop cancelled the order, and not by that."""
    back = gone_back(record.returns, each.line.id)
    return any((each.damaged, each.wrong, each.refused, back[Why.DAMAGED], back[Why.WRONG]))


def brought_by(each: LineStanding) -> Iterator[Coming]:
    """What a line brings to each kit line that it is for, the first first."""
    for share in each.shared(each.secured):
        pieces = share.need.pieces if share.need.in_set and share.given else share.pieces
        if pieces:
            yield Coming(each.part, replace(share.agreed, pieces=pieces))


def _standing(record: OrderRecord, line: OrderLine) -> LineStanding:
    agreed = agreed_on(record.order, line, record.replies, record.answers)
    parcels = parcels_of(record.deliveries, record.settled, line.id)
    here = arrived(agreed.promises, parcels, cancelled=record.cancelled)
    # Whatever a later reply says of it, what is here was sent.
    sent = -(-here.whole // line.pack)
    asks, told = _asked_and_told(agreed.question, here, here.whole * agreed.makes // agreed.per)
    back = gone_back(record.returns, line.id)
    needed = -(-line.quantity * agreed.per // agreed.makes)
    # What went back beyond the surplus of the packs was asked for by no kit any more.
    unwanted = min(back[Why.SURPLUS], max(0, needed - (here.whole - back[Why.SURPLUS])))
    here.take(back[Why.SURPLUS] + back[Why.SALE_OR_RETURN])
    comes = here.whole + here.coming
    open_pieces = max(0, line.quantity - comes * agreed.makes // agreed.per)
    unused = back[Why.SALE_OR_RETURN] + unwanted
    unused = min(open_pieces, -(-unused * agreed.makes // agreed.per))
    may_go = {
        Why.SURPLUS: max(0, here.whole - needed),
        Why.SALE_OR_RETURN: here.whole if line.on_return else 0,
        Why.DAMAGED: max(0, here.damaged - back[Why.DAMAGED]),
        # A figure may be typed anew when its piece is gone.
        Why.WRONG: max(0, here.wrong - back[Why.WRONG]),
    }
    return LineStanding(
        line=line,
        part=agreed.part,
        their_number=agreed.their_number,
        packs=max(agreed.packs, sent),
        pack_price=agreed.pack_price,
        due=agreed.due,
        good=here.good,
        doubtful=here.doubtful,
        damaged=may_go[Why.DAMAGED],
        wrong=may_go[Why.WRONG],
        coming=here.coming,
        reopened=open_pieces - unused,
        may_go=MappingProxyType(may_go),
        said=agreed.said,
        question=asks,
        refused=agreed.refused,
        gone_unused=unused,
        unmeasured=here.unmeasured,
        late=here.late,
        told=told,
        per=agreed.per,
        makes=agreed.makes,
        given_up=record.given_up,
        gone_of=gone_by_place(record.returns, line.id),
        first=record.sought.get(line.id, ()),
        asks=record.asks.get(line.id, {}),
        built_in=record.built_in.get(line.id, {}),
    )


def _asked_and_told(
    question: Question | None, here: Here, made: int
) -> tuple[Question | None, Question | None]:
    """What a reply asks, and what it only tells: of a line that is closed it asks only after what
    was given up before."""
    if question is None:
        return None, None
    most = max(0, question.line.quantity - made)
    missing = min(question.missing, most)
    # What he sends to what lies here already comes after all no more than it opens again.
    question = replace(question, missing=missing, after_all=min(question.after_all, most - missing))
    return (None, question) if here.closed and not question.after_all else (question, None)
