"""What a new price list changes, in figures and by example, and the rows that it makes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import ROUND_HALF_UP, Decimal
from typing import NamedTuple

from kitting.buying.price_lists.matching import Held, Key
from kitting.buying.price_lists.rows import PriceRow, money_of

_CHANGES = (
    "new", "gone", "unpriced", "dearer", "a little dearer", "cheaper", "other for more", "later",
    "later gone", "other money", "other quality",
)  # fmt: skip


class PriceChange(NamedTuple):
    """One part's price, before and after; None where there was or is none.

    `since` and `until` are its first and last day, `breaks` the prices for more packs.
    """

    part: str
    their_number: str
    pack: int
    before: Decimal | None
    after: Decimal | None
    currency: str
    percent: Decimal | None
    place: str
    since: str = ""
    until: str = ""
    breaks: tuple[tuple[int, Decimal], ...] = ()


class QuantityChange(NamedTuple):
    """The price of a pack when so many packs are bought, before and after.

    `what` is dearer, cheaper, new or gone; of a price that is new or gone, `before` and `after`
    are what a pack of so many cost or costs without it.
    """

    part: str
    their_number: str
    pack: int
    packs: int
    what: str
    before: Decimal
    after: Decimal
    currency: str
    percent: Decimal
    place: str


class PackChange(NamedTuple):
    """One part's price in a pack of another size than before; `percent` is by the piece."""

    part: str
    their_number: str
    pack_before: int
    before: Decimal
    currency_before: str
    pack: int
    after: Decimal
    currency: str
    percent: Decimal | None
    place: str


class QualityChange(NamedTuple):
    """One part's quality, before and after; empty where none was or is stated."""

    part: str
    their_number: str
    before: str
    after: str
    place: str


class Stray(NamedTuple):
    """A row that offers nothing as it stands, and why; kept for a person to look at."""

    place: str
    number: str
    normal: str
    says: str
    why: str


class Supersession(NamedTuple):
    """That the list says one number is superseded by another; `new` is None when unknown."""

    place: str
    old: Key
    new_said: str
    new_normal: str
    new: Key | None


OfferRow = tuple[str, str, str, str, int, int, str, str, str, int | None, int | None, str, object]
"""Their number, as compared, maker, number, pack, price, currency, from, until, days, stock,
quality and the prices for more packs: as the store takes it."""


@dataclass(slots=True)
class ChangeReport:
    """The changes in figures (`counts`) and by example.

    `later` are prices that begin on a later day, `over` those that have ended already, `remarks`
    sentences that ask a person to look. `not_yet` are numbers without a price today, each with the
    day on which one begins; `other_pack` those of the new offers whose part was in another pack.
    """

    counts: Counter[str] = field(default_factory=Counter)
    reasons: Counter[str] = field(default_factory=Counter)
    new: list[PriceChange] = field(default_factory=list)
    gone: list[PriceChange] = field(default_factory=list)
    dearer: list[PriceChange] = field(default_factory=list)
    cheaper: list[PriceChange] = field(default_factory=list)
    for_more: list[QuantityChange] = field(default_factory=list)
    later: list[PriceChange] = field(default_factory=list)
    over: list[PriceChange] = field(default_factory=list)
    other_money: list[PriceChange] = field(default_factory=list)
    not_yet: list[str] = field(default_factory=list)
    other_pack: list[PackChange] = field(default_factory=list)
    other_quality: list[QualityChange] = field(default_factory=list)
    strays: list[Stray] = field(default_factory=list)
    superseded: list[Supersession] = field(default_factory=list)
    twice: list[str] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)

    @property
    def changes(self) -> bool:
        """Whether anything differs from the list that holds."""
        return any(self.counts[kind] for kind in _CHANGES)


def offer_of(row: PriceRow, part: Key) -> OfferRow:
    """A row as the store takes it."""
    return (
        row.number, row.normal, part[0], part[1], row.pack, row.price, row.currency,
        row.valid_from, row.valid_until, row.days, row.stock, row.quality, row.breaks,
    )  # fmt: skip


def change_of(row: PriceRow, part: Key, before: Held | None) -> PriceChange:
    """A row's price beside the one before it."""
    percent = None
    if before is not None and before.currency == row.currency:
        percent = percent_of(before.price, row.price)
    return PriceChange(
        f"{part[0]}:{part[1]}",
        row.number,
        row.pack,
        money_of(before.price) if before else None,
        money_of(row.price),
        row.currency,
        percent,
        row.place,
        row.valid_from,
        row.valid_until,
        in_money(row.breaks),
    )


def pack_change_of(row: PriceRow, part: Key, before: Held) -> PackChange:
    """A row's price beside the one of another pack, compared by the piece where money agrees."""
    percent = None
    if before.currency == row.currency:
        percent = percent_of(before.price * row.pack, row.price * before.pack)
    return PackChange(
        f"{part[0]}:{part[1]}", row.number, before.pack, money_of(before.price), before.currency,
        row.pack, money_of(row.price), row.currency, percent, row.place,
    )  # fmt: skip


def gone_of(held: Held, their_number: str) -> PriceChange:
    """An offer of the list before that is no more."""
    return PriceChange(
        f"{held.maker}:{held.number}", their_number, held.pack, money_of(held.price), None,
        held.currency, None, "", held.since, held.until, in_money(held.breaks),
    )  # fmt: skip


def percent_of(before: int, after: int) -> Decimal:
    """By how many per cent a price rises, to a tenth.

    >>> percent_of(10000, 12345), percent_of(3, 2)
    (Decimal('23.5'), Decimal('-33.3'))
    """
    exact = Decimal(after - before) * 100 / before
    return exact.quantize(Decimal("0.1"), ROUND_HALF_UP)


def in_money(breaks: Sequence[tuple[int, int]]) -> tuple[tuple[int, Decimal], ...]:
    """Prices for more packs as amounts of money."""
    return tuple((packs, money_of(price)) for packs, price in breaks)
