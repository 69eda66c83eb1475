"""The shapes of what a price list changes: one part's price, pack or quality before and after."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from kitting.buying.price_lists.report import (
    PackChange,
    PriceChange,
    QualityChange,
    QuantityChange,
)


@dataclass(frozen=True, slots=True)
class ChangeShape:
    """One part's price before and after, each null where there was or is none.

    `breaks` are its prices for more packs, by the least number of packs.
    """

    part: str
    their_number: str
    pack: int
    before: str | None
    after: str | None
    currency: str
    percent: str | None
    place: str
    valid_from: date
    valid_until: date
    breaks: dict[str, str]


@dataclass(frozen=True, slots=True)
class QuantityShape:
    """The price of a pack from so many packs on, before and after.

    `what` is dearer, cheaper, new or gone; of a price that is new or gone, what so many packs
    cost without it stands on the other side.
    """

    part: str
    their_number: str
    pack: int
    packs: int
    what: str
    before: str
    after: str
    currency: str
    percent: str
    place: str


@dataclass(frozen=True, slots=True)
class PackShape:
    """One part's price in a pack of another size than before; `percent` is by the piece."""

    part: str
    their_number: str
    pack_before: int
    before: str
    currency_before: str
    pack: int
    after: str
    currency: str
    percent: str | None
    place: str


@dataclass(frozen=True, slots=True)
class QualityShape:
    """One part's quality before and after; null where none was or is stated."""

    part: str
    their_number: str
    before: str | None
    after: str | None
    place: str


def change_shapes(changes: Iterable[PriceChange]) -> list[ChangeShape]:
    """The shapes of parts' prices before and after."""
    return [
        ChangeShape(
            part=each.part,
            their_number=each.their_number,
            pack=each.pack,
            before=_text(each.before),
            after=_text(each.after),
            currency=each.currency,
            percent=_text(each.percent),
            place=each.place,
            valid_from=date.fromisoformat(each.since),
            valid_until=date.fromisoformat(each.until),
            breaks={str(packs): f"{price:f}" for packs, price in each.breaks},
        )
        for each in changes
    ]


def at_quantity(each: QuantityChange) -> QuantityShape:
    """The shape of the price of so many packs before and after."""
    return QuantityShape(
        part=each.part,
        their_number=each.their_number,
        pack=each.pack,
        packs=each.packs,
        what=each.what,
        before=f"{each.before:f}",
        after=f"{each.after:f}",
        currency=each.currency,
        percent=f"{each.percent:f}",
        place=each.place,
    )


def in_pack(each: PackChange) -> PackShape:
    """The shape of a part's price in another pack than before."""
    return PackShape(
        part=each.part,
        their_number=each.their_number,
        pack_before=each.pack_before,
        before=f"{each.before:f}",
        currency_before=each.currency_before,
        pack=each.pack,
        after=f"{each.after:f}",
        currency=each.currency,
        percent=_text(each.percent),
        place=each.place,
    )


def of_quality(each: QualityChange) -> QualityShape:
    """The shape of a part's quality before and after."""
    return QualityShape(
        each.part, each.their_number, each.before or None, each.after or None, each.place
    )


def _text(amount: Decimal | None) -> str | None:
    return None if amount is None else f"{amount:f}"
