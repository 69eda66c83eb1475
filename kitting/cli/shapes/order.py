"""The shapes of orders: how each stands, what a reply asks, what came. Inside the shop only."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from kitting.buying.drawings import Check
from kitting.buying.going_back import Use
from kitting.buying.orders import LineFor
from kitting.buying.proven import Parcel, parcels_of
from kitting.buying.replies import Question
from kitting.buying.standing import LineStanding, OrderRecord
from kitting.cli.order_common import Beside, Effects
from kitting.cli.shapes.order_brief import OrderBriefShape, brief_shape
from kitting.cli.shapes.order_choices import ChoiceShape, choice_shape
from kitting.cli.shapes.order_said import ReplyShape, replies_shape


@dataclass(frozen=True, slots=True)
class OrdersShape:
    """All orders that were asked for."""

    orders: list[OrderBriefShape]


@dataclass(frozen=True, slots=True)
class NeedShape:
    """Whose a line is: `pieces` of what is bought, so many of which (`per`) make `makes` of the
    kit's number `stands_for`, together with all that `goes_in`."""

    job: str
    kit_line: str
    positions: list[str]
    pieces: int
    grade: str
    in_set: bool
    stands_for: str | None
    per: int
    makes: int
    goes_in: list[str]


@dataclass(frozen=True, slots=True)
class FitShape:
    """What a substitute is to the positions that it must go into."""

    serves: str
    part: str | None
    because: list[str]


@dataclass(frozen=True, slots=True)
class JobDateShape:
    """When the last part on order for a job comes: as asked, and if the reply is accepted."""

    job: str
    asked: date
    offered: date
    days_later: int
    says: str


@dataclass(frozen=True, slots=True)
class QuestionShape:
    """What a reply changes at a line, with its effect on cost, date and fit."""

    reply: int
    changes: list[str]
    dearer: str
    dearer_home: str
    missing: int
    surplus: int
    after_all: int
    days_later: int
    substitute: str | None
    remark: str
    says: list[str]
    fit: list[FitShape]
    dates: list[JobDateShape]
    choices: list[ChoiceShape]


@dataclass(frozen=True, slots=True)
class FigureShape:
    """One figure measured on arrival."""

    what: str
    station: str
    direction: str
    text: str
    value: str


@dataclass(frozen=True, slots=True)
class WordShape:
    """A named person's word on what no figure proves."""

    word: str
    who: str
    day: date
    reason: str


@dataclass(frozen=True, slots=True)
class CameShape:
    """What one delivery brought of a line.

    Of the good ones `inside`, `outside` and `near` their drawing's limit are by their figures;
    `proof` is what those and the last of `words` make of them, in pieces.
    """

    delivery: int
    day: date
    their_note: str
    who: str
    good: int
    damaged: int
    wrong: int
    to_follow: int
    inside: int
    outside: int
    near: int
    proof: dict[str, int]
    figures: list[FigureShape]
    words: list[WordShape]
    note: str


@dataclass(frozen=True, slots=True)
class OrderLineShape:
    """A line as asked, as agreed and as it stands, in pieces but for `packs`.

    What comes instead may be counted otherwise than `quantity` and `reopened`: see `said`. Of what
    is here, `good` is proven, `unmeasured` and `doubtful` are not. `late` was missed and
    may turn up all the same. `on_return_uses` says what of the goods on sale or return that may go
    back is needed. `told` is what a reply says to no effect: the goods are here.
    """

    line: str
    their_number: str
    part: str
    name: str
    quantity: int
    pack: int
    packs: int
    pack_price: str
    net: str
    vat: str
    due: date
    lapsed: bool
    on_return: bool
    quality: str | None
    agreed_number: str
    agreed_part: str
    agreed_packs: int
    agreed_price: str
    refused: bool
    good: int
    unmeasured: int
    doubtful: int
    damaged: int
    wrong: int
    coming: int
    reopened: int
    late: int
    may_go_back: dict[str, int]
    asked_for_no_more: int
    on_return_uses: dict[str, int]
    measure: list[str]
    needed_by: list[NeedShape]
    question: QuestionShape | None
    told: list[str]
    came: list[CameShape]


@dataclass(frozen=True, slots=True)
class StepShape:
    """Something that was done to an order."""

    what: str
    who: str
    day: date
    note: str


@dataclass(frozen=True, slots=True)
class OrderShape:
    """One order with everything that happened to it."""

    brief: OrderBriefShape
    goods: str
    carriage: str
    vat: str
    gross: str
    lines: list[OrderLineShape]
    held: list[str]
    steps: list[StepShape]
    replies: int
    said: list[ReplyShape]
    deliveries: int


def order_shape(
    record: OrderRecord,
    beside: Beside,
    effects: Mapping[str, Effects],
    checks: Mapping[str, Iterable[Check]],
    uses: Mapping[str, Mapping[Use, int]],
) -> OrderShape:
    """The shape of an order; `effects`, `checks` and `uses` by the line's id."""
    order, totals = record.order, record.order.with_vat
    return OrderShape(
        brief=brief_shape(record, beside),
        goods=str(order.goods),
        carriage=str(order.carriage),
        vat=str(totals.gross - totals.net),
        gross=str(totals.gross),
        lines=[
            _line(
                record,
                each,
                effects.get(each.line.id),
                checks.get(each.line.id, ()),
                uses.get(each.line.id, {}),
                beside.unwanted.get(each.line.id, 0),
            )
            for each in record.lines
        ],
        held=[str(item.part) for item in order.held],
        steps=[StepShape(s.state, s.who, s.day, s.note) for s in record.steps],
        replies=len(record.replies),
        said=replies_shape(record),
        deliveries=len(record.deliveries),
    )


def _line(
    record: OrderRecord,
    each: LineStanding,
    effect: Effects | None,
    checks: Iterable[Check],
    uses: Mapping[Use, int],
    unwanted: int,
) -> OrderLineShape:
    line = each.line
    return OrderLineShape(
        line=line.id,
        their_number=line.their_number,
        part=str(line.part),
        name=line.name,
        quantity=line.quantity,
        pack=line.pack,
        packs=line.packs,
        pack_price=str(line.pack_price),
        net=str(line.net),
        vat=line.vat,
        due=each.due,
        lapsed=line.lapsed,
        on_return=line.on_return,
        quality=line.quality.value or None,
        agreed_number=each.their_number,
        agreed_part=str(each.part),
        agreed_packs=each.packs,
        agreed_price=str(each.pack_price),
        refused=each.refused,
        good=each.good,
        unmeasured=each.unmeasured,
        doubtful=each.doubtful,
        damaged=each.damaged,
        wrong=each.wrong,
        coming=each.coming,
        reopened=each.reopened,
        late=each.late,
        asked_for_no_more=unwanted,
        may_go_back={str(why): count for why, count in each.may_go.items() if count},
        on_return_uses={str(use): count for use, count in uses.items()},
        measure=[f"{check.key}: {check.limits_text}" for check in checks],
        needed_by=[_need(need) for need in line.needed_by],
        question=_question(record, each.question, effect) if each.question else None,
        told=list(each.told.told_sentences(record.order.currency)) if each.told else [],
        came=[
            _came(record, parcel)
            for parcel in parcels_of(record.deliveries, record.settled, line.id)
        ],
    )


def _need(need: LineFor) -> NeedShape:
    return NeedShape(
        job=need.job,
        kit_line=need.kit_line,
        positions=list(need.positions),
        pieces=need.pieces,
        grade=need.grade,
        in_set=need.in_set,
        stands_for=str(need.stands_for) if need.stands_for else None,
        per=need.per,
        makes=need.makes,
        goes_in=list(need.goes_in),
    )


def _question(record: OrderRecord, question: Question, effect: Effects | None) -> QuestionShape:
    dearer: Decimal = question.dearer
    return QuestionShape(
        reply=question.reply,
        changes=[str(change) for change in question.changes],
        dearer=str(dearer),
        dearer_home=str(record.order.at_home(dearer)),
        missing=question.missing,
        surplus=question.surplus,
        after_all=question.after_all,
        days_later=question.later,
        substitute=question.said.substitute or None,
        remark=question.said.remark,
        says=list(question.sentences(record.order.currency)),
        fit=[
            FitShape(fit.serves, str(fit.part) if fit.part else None, list(fit.because))
            for fit in (effect.fits if effect else ())
        ],
        dates=[
            JobDateShape(late.job, late.asked, late.offered, late.days, late.sentence)
            for late in (effect.dates if effect else ())
        ],
        choices=[choice_shape(choice) for choice in (effect.choices if effect else ())],
    )


def _came(record: OrderRecord, parcel: Parcel) -> CameShape:
    came, delivery = parcel.came, record.deliveries[parcel.delivery - 1]
    return CameShape(
        delivery=parcel.delivery,
        day=delivery.day,
        their_note=delivery.their_note,
        who=delivery.who,
        good=came.good,
        damaged=came.damaged,
        wrong=came.wrong,
        to_follow=came.to_follow,
        inside=came.inside,
        outside=came.outside,
        near=came.near,
        proof={str(proof): count for proof, count in parcel.proofs.items() if count},
        figures=[
            FigureShape(r.feature, r.station, r.direction, r.text, str(r.value))
            for r in came.readings
        ],
        words=[
            WordShape(s.word, s.who, s.day, s.reason)
            for s in record.settled
            if (s.delivery, s.line) == (parcel.delivery, came.line)
        ],
        note=came.note,
    )
