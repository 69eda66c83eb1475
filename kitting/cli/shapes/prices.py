"""The shapes of price lists: what loading one changes, the lists kept, what awaits a person."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime

from kitting.buying.price_lists.report import Stray
from kitting.catalog.answers import AnswerChange, Bought
from kitting.catalog.trade import Offer
from kitting.cli.price_loading import Look
from kitting.cli.shapes.catalog import ProblemShape, problem_shapes
from kitting.cli.shapes.price_changes import (
    ChangeShape,
    PackShape,
    QualityShape,
    QuantityShape,
    at_quantity,
    change_shapes,
    in_pack,
    of_quality,
)
from kitting.sheets.price_lists.fields import Mapping as Columns
from kitting.store.offers import PastOffer
from kitting.store.price_lists import KeptList
from kitting.store.price_review import KeptStray, Proposal


@dataclass(frozen=True, slots=True)
class ColumnShape:
    """A column taken for a field; `how` says whether it was given, remembered or guessed."""

    field: str
    column: str
    heading: str
    how: str


@dataclass(frozen=True, slots=True)
class SheetShape:
    """The columns of further sheets of a workbook, where they are not those of the first."""

    sheets: list[str]
    columns: list[ColumnShape]
    not_taken: list[str]


@dataclass(frozen=True, slots=True)
class StrayShape:
    """A row that offers nothing as it stands; `supplier` and `origin` once it is kept."""

    place: str
    number: str
    says: str
    why: str
    supplier: str | None = None
    origin: str | None = None


@dataclass(frozen=True, slots=True)
class SupersededShape:
    """A link that a list proposes; `new` is null while nobody knows the number."""

    old: str
    new_said: str
    new: str | None
    place: str


@dataclass(frozen=True, slots=True)
class LoadShape:
    """What a list changes. Everything is in `counts`; the lists of changes are the first few.

    Prices are compared for the day `compared_for`: `later` ones begin after it, those that are
    `over` ended before it. `for_more` are prices for more packs, `remarks` ask for a look.
    `columns` and `not_taken` are of the first sheet and those like it; `other_sheets` differ.
    `not_yet` are numbers without a price until a later day, `other_pack` new offers of parts that
    the list before had in another pack.
    """

    file: str
    supplier: str
    stored: bool
    same_as_before: bool
    instead_of: str | None
    valid_from: date
    valid_until: date
    compared_for: date
    columns: list[ColumnShape]
    not_taken: list[str]
    other_sheets: list[SheetShape]
    rows: int
    counts: dict[str, int]
    dearer: list[ChangeShape]
    cheaper: list[ChangeShape]
    for_more: list[QuantityShape]
    later: list[ChangeShape]
    not_yet: list[str]
    over: list[ChangeShape]
    new: list[ChangeShape]
    gone: list[ChangeShape]
    other_pack: list[PackShape]
    other_money: list[ChangeShape]
    other_quality: list[QualityShape]
    superseded: list[SupersededShape]
    strays: list[StrayShape]
    reasons: dict[str, int]
    twice: list[str]
    remarks: list[str]
    problems: list[ProblemShape]
    notes: list[str]


@dataclass(frozen=True, slots=True)
class ListShape:
    """One loading of a supplier's list; `ended` is null while it holds."""

    supplier: str
    origin: str
    loaded: datetime
    ended: datetime | None
    offers: int
    strays: int


@dataclass(frozen=True, slots=True)
class OfferShape:
    """An offer, with when its list came in and ended."""

    supplier: str
    their_number: str
    part: str
    pack: int
    price: str
    breaks: dict[str, str]
    currency: str
    valid_from: date
    valid_until: date
    days: int
    stock: int | None
    quality: str | None
    loaded: datetime | None
    ended: datetime | None


@dataclass(frozen=True, slots=True)
class PricesShape:
    """Price lists; with a part asked for, its offers."""

    lists: list[ListShape]
    offers: list[OfferShape]


@dataclass(frozen=True, slots=True)
class ProposalShape:
    """A proposed link and what became of it; `beside` are numbers that supersede it already."""

    id: int
    supplier: str
    origin: str
    place: str
    old: str
    new_said: str
    new: str | None
    state: str
    who: str
    why: str
    beside: list[str]


@dataclass(frozen=True, slots=True)
class AnswerChangeShape:
    """What was and is bought for one of a number in some families; empty where nothing is."""

    part: str
    families: list[str]
    before: dict[str, int]
    after: dict[str, int]


@dataclass(frozen=True, slots=True)
class ReviewShape:
    """What awaits a person: the first rows and links, and how many there are of each.

    `decided` are the links that were accepted or refused just now, `changed` the answers of the
    catalogue that the accepted ones change.
    """

    rows: list[StrayShape]
    rows_in_all: int
    links: list[ProposalShape]
    links_in_all: int
    decided: list[ProposalShape]
    changed: list[AnswerChangeShape]


def load_shape(look: Look, stored: bool) -> LoadShape:
    """The shape of what a list changes."""
    report = look.report
    return LoadShape(
        file=look.name,
        supplier=look.supplier.key,
        stored=stored,
        same_as_before=look.same,
        instead_of=look.before.origin if look.before else None,
        valid_from=look.terms.valid_from,
        valid_until=look.terms.valid_until,
        compared_for=look.day,
        columns=_columns(look.columns),
        not_taken=list(look.columns.left),
        other_sheets=[
            SheetShape(list(sheets), _columns(columns), list(columns.left))
            for sheets, columns in look.sheets[1:]
        ],
        rows=look.tally.rows,
        counts={kind: count for kind, count in sorted(report.counts.items()) if count},
        dearer=change_shapes(report.dearer),
        cheaper=change_shapes(report.cheaper),
        for_more=[at_quantity(each) for each in report.for_more],
        later=change_shapes(report.later),
        not_yet=list(report.not_yet),
        over=change_shapes(report.over),
        new=change_shapes(report.new),
        gone=change_shapes(report.gone),
        other_pack=[in_pack(each) for each in report.other_pack],
        other_money=change_shapes(report.other_money),
        other_quality=[of_quality(each) for each in report.other_quality],
        superseded=[
            SupersededShape(
                ":".join(each.old),
                each.new_said,
                ":".join(each.new) if each.new else None,
                each.place,
            )
            for each in report.superseded
        ],
        strays=[_stray(each) for each in report.strays],
        reasons=dict(report.reasons),
        twice=list(report.twice),
        remarks=list(report.remarks),
        problems=problem_shapes(look.tally.problems),
        notes=list(look.notes),
    )


def _columns(columns: Columns) -> list[ColumnShape]:
    return [ColumnShape(c.field, c.letter, c.heading, c.how) for c in columns.shown]


def list_shapes(lists: Iterable[KeptList]) -> list[ListShape]:
    """The shapes of lists."""
    return [
        ListShape(k.supplier, k.origin, k.loaded_at, k.ended_at, k.offers, k.strays) for k in lists
    ]


def past_shapes(offers: Iterable[PastOffer]) -> list[OfferShape]:
    """The shapes of offers with their history."""
    return [_offer(past.offer, past.loaded_at, past.ended_at) for past in offers]


def review_shape(
    strays: tuple[tuple[KeptStray, ...], int],
    links: tuple[tuple[Proposal, ...], int],
    decided: Iterable[Proposal] = (),
    changes: Iterable[AnswerChange] = (),
) -> ReviewShape:
    """The shape of what awaits a person."""
    rows = [StrayShape(k.place, k.number, k.says, k.why, k.supplier, k.origin) for k in strays[0]]
    return ReviewShape(
        rows,
        strays[1],
        [_proposal(each) for each in links[0]],
        links[1],
        [_proposal(each) for each in decided],
        [
            AnswerChangeShape(
                str(each.part), list(each.families), _bought(each.before), _bought(each.after)
            )
            for each in changes
        ],
    )


def _bought(bought: Bought) -> dict[str, int]:
    return {str(part): count for part, count in bought}


def _proposal(each: Proposal) -> ProposalShape:
    return ProposalShape(
        id=each.id,
        supplier=each.supplier,
        origin=each.origin,
        place=each.place,
        old=str(each.old),
        new_said=each.new_said,
        new=str(each.new) if each.new else None,
        state=each.state,
        who=each.who,
        why=each.why,
        beside=[str(part) for part in each.beside],
    )


def _stray(each: Stray) -> StrayShape:
    return StrayShape(each.place, each.number, each.says, each.why)


def _offer(offer: Offer, loaded: datetime, ended: datetime | None) -> OfferShape:
    return OfferShape(
        supplier=offer.supplier,
        their_number=offer.their_number,
        part=str(offer.part),
        pack=offer.pack,
        price=f"{offer.price:f}",
        breaks={str(step.packs): f"{step.price:f}" for step in offer.breaks},
        currency=offer.currency,
        valid_from=offer.valid_from,
        valid_until=offer.valid_until,
        days=offer.days,
        stock=offer.stock,
        quality=offer.quality.value or None,
        loaded=loaded,
        ended=ended,
    )
