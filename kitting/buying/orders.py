"""One order a supplier, from the offers that the estimate was priced with.

Nothing of the customer, of the shop's prices or of another supplier stands in an order: it holds
the supplier's own terms and our part numbers, and its reference is the day, a running number and a
check that tells one job's orders from another's without naming the job.

Lines of several bags that come to the same offer are one order line: their quantities add up, and
packs and price breaks are worked out afresh on the sum, so an order never costs more than the
estimate reckoned. What waits for the machinist's word is named apart, with no quantity and no
price: the supplier can say whether it is to be had, and nobody can pick it by mistake.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from decimal import Decimal
from hashlib import sha256
from typing import TYPE_CHECKING

from kitting.job.estimate import NOTHING, LineKind
from kitting.job.pricing import Market, rounded

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from datetime import date

    from kitting.catalog.family import Family
    from kitting.catalog.model import PartNumber
    from kitting.catalog.trade import Offer, Supplier
    from kitting.job.path import JobPath
    from kitting.job.pricing import Quote


@dataclass(frozen=True, slots=True)
class OrderLine:
    """So many packs of one offer. `quantity` is the pieces needed, `net` in the offer's currency.

    `lapsed` says that the price is past its validity and must be confirmed.
    """

    offer: Offer
    name: str
    quantity: int
    packs: int
    pack_price: Decimal
    net: Decimal
    lapsed: bool

    @property
    def remark(self) -> str:
        """What the supplier is asked about this line."""
        if self.lapsed:
            return f"Your price held until {self.offer.valid_until:%d %b %Y}: please confirm"
        return ""


@dataclass(frozen=True, slots=True)
class HeldItem:
    """A part that may be ordered later, at this size or another; nothing is promised."""

    their_number: str
    part: PartNumber
    name: str


@dataclass(frozen=True, slots=True)
class Order:
    """What one supplier is asked for. Money in the supplier's currency, without VAT.

    `draft` says that the job is not ready to order and the sheet must not be sent as an order.
    """

    reference: str
    supplier: Supplier
    day: date
    currency: str
    lines: tuple[OrderLine, ...]
    held: tuple[HeldItem, ...]
    draft: bool

    @property
    def goods(self) -> Decimal:
        """The sum of the lines."""
        return sum((line.net for line in self.lines), NOTHING)

    @property
    def carriage(self) -> Decimal:
        """The supplier's carriage, nothing from his free-over value on."""
        free_over = self.supplier.free_over
        if free_over is not None and self.goods >= free_over:
            return NOTHING
        return rounded(self.supplier.carriage, self.currency)

    @property
    def total(self) -> Decimal:
        """Goods and carriage, without VAT: that is the supplier's to add."""
        return self.goods + self.carriage

    @property
    def short_by(self) -> Decimal:
        """How far the goods fall short of the supplier's least order; nothing when they do not."""
        return max(NOTHING, self.supplier.least_order - self.goods)


def orders_of(path: JobPath) -> tuple[Order, ...]:
    """Return one order for each supplier and currency that anything is bought from, by name.

    Lines without an offer are in no order: the estimate's warnings tell of them. A supplier from
    whom only held parts would come gets no order.
    """
    held_keys = {line.key for line in path.kit.lines if line.hold}
    bought: dict[tuple[str, str], list[Quote]] = defaultdict(list)
    for line in path.estimate.of(LineKind.PART, LineKind.SET):
        if line.quote is not None and line.kit_line not in held_keys:
            offer = line.quote.offer
            bought[(offer.supplier, offer.currency)].append(line.quote)
    held = _held(path)
    suppliers = path.trade.supplier_by_key
    ordered = sorted(bought.items(), key=lambda item: (suppliers[item[0][0]].name, item[0]))
    return tuple(
        Order(
            reference=_reference(path, key, running),
            supplier=suppliers[key],
            day=path.day,
            currency=currency,
            lines=_lines(quotes, path.family),
            held=tuple(held.get((key, currency), ())),
            draft=not path.kit.readiness.ready,
        )
        for running, ((key, currency), quotes) in enumerate(ordered, start=1)
    )


def _lines(quotes: Iterable[Quote], family: Family) -> tuple[OrderLine, ...]:
    """One line an offer, by the supplier's own number, as his shelves are."""
    groups: dict[tuple[str, PartNumber], list[Quote]] = defaultdict(list)
    for quote in quotes:
        groups[(quote.offer.their_number, quote.offer.part)].append(quote)
    return tuple(_line(group, family) for _, group in sorted(groups.items()))


def _line(quotes: list[Quote], family: Family) -> OrderLine:
    offer = quotes[0].offer
    quantity = sum(quote.quantity for quote in quotes)
    packs = -(-quantity // offer.pack)
    price = offer.pack_price(packs)
    return OrderLine(
        offer=offer,
        name=family.part_by_number[offer.part].name,
        quantity=quantity,
        packs=packs,
        pack_price=price,
        net=rounded(price * packs, offer.currency),
        lapsed=any(quote.lapsed for quote in quotes),
    )


def _held(path: JobPath) -> Mapping[tuple[str, str], list[HeldItem]]:
    """The held parts by supplier and currency, each where it would be bought today."""
    market = Market(path.trade, path.day)
    found: dict[tuple[str, str], list[HeldItem]] = defaultdict(list)
    for line in path.kit.bought:
        for part in filter(None, (line.part, line.worst_part) if line.hold else ()):
            quote = market.quote(part, line.quantity)
            if quote is not None:
                name = path.family.part_by_number[part].name
                item = HeldItem(quote.offer.their_number, part, name)
                found[(quote.offer.supplier, quote.offer.currency)].append(item)
    return {key: sorted(set(items), key=lambda i: i.part) for key, items in found.items()}


def _reference(path: JobPath, supplier: str, running: int) -> str:
    """The day, a running number, and four signs that differ from job to job and tell nothing."""
    told_apart = f"{path.bench.job.number}|{supplier}|{path.day}"
    mark = sha256(told_apart.encode()).hexdigest()[:4].upper()
    return f"{path.day:%y%m%d}-{running}-{mark}"
