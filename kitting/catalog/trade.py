"""What the trade asks: suppliers, offers, machinists, exchange rates; and the shop's own terms."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from types import MappingProxyType
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import date
    from decimal import Decimal

    from kitting.catalog.model import PartNumber
    from kitting.measure import Quantity


class Quality(StrEnum):
    """What an offered part is by origin, in the supplier's word; `UNSAID` where he gives none.

    `MAKERS_OWN` was made by or for the engine's maker, `OLD_STOCK` is such a part that has lain
    unused since, `PATTERN` is somebody else's copy of it.
    """

    MAKERS_OWN = "maker's own"
    OLD_STOCK = "new old stock"
    PATTERN = "pattern"
    USED = "used"
    UNSAID = ""

    @property
    def told(self) -> str:
        """How it reads where something must stand."""
        return self.value or "of no stated quality"


@dataclass(frozen=True, slots=True)
class Supplier:
    """Who sells parts, and on what terms; money in the supplier's currency."""

    key: str
    name: str
    address: str
    currency: str
    carriage: Decimal
    free_over: Decimal | None
    least_order: Decimal
    days: int
    note: str = ""


@dataclass(frozen=True, slots=True)
class PriceBreak:
    """From so many packs the pack price is this."""

    packs: int
    price: Decimal


@dataclass(frozen=True, slots=True)
class Offer:
    """What a supplier asks for one pack of a part, between two days inclusive."""

    supplier: str
    their_number: str
    part: PartNumber
    pack: int
    price: Decimal
    breaks: tuple[PriceBreak, ...]
    currency: str
    valid_from: date
    valid_until: date
    days: int
    stock: int | None = None
    quality: Quality = Quality.UNSAID

    def valid_on(self, day: date) -> bool:
        """Whether the price holds on that day."""
        return self.valid_from <= day <= self.valid_until

    def pack_price(self, packs: int) -> Decimal:
        """The price of one pack when so many are bought."""
        price = self.price
        for step in self.breaks:
            if packs >= step.packs:
                price = step.price
        return price


@dataclass(frozen=True, slots=True)
class Maker:
    """Who made a part; part numbers name him by the key."""

    key: str
    name: str


@dataclass(frozen=True, slots=True)
class Operation:
    """Work by a machinist: what to tell him, and what to beware of."""

    key: str
    name: str
    instruction: str
    caution: str = ""


@dataclass(frozen=True, slots=True)
class WorkPrice:
    """A machinist's price for one operation, each or for the lot."""

    machinist: str
    operation: str
    per: str
    price: Decimal
    currency: str
    valid_from: date
    valid_until: date
    days: int

    def valid_on(self, day: date) -> bool:
        """Whether the price holds on that day."""
        return self.valid_from <= day <= self.valid_until


@dataclass(frozen=True, slots=True)
class Rate:
    """So many of the shop's money for one of another currency, as of a day."""

    currency: str
    worth: Decimal
    on: date


@dataclass(frozen=True, slots=True)
class Shop:
    """The shop's own terms and settings.

    `lean` says what becomes of a reading too near its limit to call: `recheck`, `reuse` or `renew`.
    `vat` maps a category of EN 16931 to its rate in percent. `uncertainty` is the expanded
    uncertainty U (k = 2) by instrument.
    """

    name: str
    address: str
    currency: str
    labour_rate: Decimal
    labour_vat: str
    work_markup: Decimal
    parts_markup: Decimal
    vat: Mapping[str, Decimal]
    uncertainty: Mapping[str, Quantity]
    lean: str


@dataclass(frozen=True)
class Trade:
    """Everything priced, as of its loading."""

    shop: Shop
    suppliers: tuple[Supplier, ...]
    offers: tuple[Offer, ...]
    operations: tuple[Operation, ...]
    work_prices: tuple[WorkPrice, ...]
    rates: tuple[Rate, ...]
    makers: tuple[Maker, ...] = ()

    @cached_property
    def supplier_by_key(self) -> Mapping[str, Supplier]:
        """Suppliers by key."""
        return MappingProxyType({supplier.key: supplier for supplier in self.suppliers})

    @cached_property
    def operation_by_key(self) -> Mapping[str, Operation]:
        """Operations by key."""
        return MappingProxyType({operation.key: operation for operation in self.operations})

    @cached_property
    def offers_of(self) -> Mapping[PartNumber, tuple[Offer, ...]]:
        """The offers of each part that has any."""
        groups: dict[PartNumber, list[Offer]] = {}
        for offer in self.offers:
            groups.setdefault(offer.part, []).append(offer)
        return MappingProxyType({part: tuple(offers) for part, offers in groups.items()})
