"""What it costs to buy elsewhere what a supplier does not send: the cheapest other valid offer.

Carriage is reckoned as it would come to: where a draft to that supplier waits, his goods are added
to it and only the difference in carriage counts, which may be a saving; else it is an order alone.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from typing import TYPE_CHECKING

from kitting.buying.orders import carriage_on
from kitting.job.estimate import NOTHING

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator, Mapping
    from datetime import date
    from decimal import Decimal

    from kitting.buying.orders import OrderLine
    from kitting.buying.standing import OrderRecord
    from kitting.catalog.model import PartNumber
    from kitting.catalog.trade import Supplier
    from kitting.job.pricing import Market, Quote


@dataclass(frozen=True, slots=True)
class Elsewhere:
    """So many pieces of a part by another supplier's offer; money in the shop's own.

    `joins` is the waiting draft that the goods are added to, '' where there is none. `short_by` is
    how far they stay below his least order, in his currency.
    """

    supplier: Supplier
    pieces: int
    quote: Quote
    carriage: Decimal
    comes: date
    joins: str
    short_by: Decimal

    @property
    def cost(self) -> Decimal:
        """Goods and carriage."""
        return self.quote.home + self.carriage

    def sentence(self, currency: str) -> str:
        """In one line."""
        pieces = "1 piece" if self.pieces == 1 else f"{self.pieces} pieces"
        carriage = f"carriage {self.carriage}"
        if self.joins:
            carriage += f" on draft {self.joins}"
        short = ""
        if self.short_by:
            short = f", {self.quote.offer.currency} {self.short_by} below his least order"
        return (
            f"{pieces} from {self.supplier.name}: {currency} {self.quote.home}, {carriage}, by "
            f"{self.comes:%d %b %Y}{short}"
        )


def cheapest_elsewhere(
    market: Market,
    part: PartNumber,
    pieces: int,
    not_from: Collection[str],
    records: Iterable[OrderRecord],
) -> Elsewhere | None:
    """Return the cheapest way to buy so many pieces elsewhere; None where nobody else sells them.

    An offer that falls short of its supplier's least order is taken only where no other is left.

    Args:
        market: the trade on the day when they would be ordered.
        part: what is bought, by this number alone.
        pieces: how many; 1 or more.
        not_from: the suppliers that it is not bought from.
        records: the shop's orders, whose drafts may be added to.
    """
    drafts = _drafts(records)
    found = (
        _by(market, quote, pieces, drafts)
        for quote in market.quotes(part, pieces)
        if quote.offer.supplier not in not_from
    )
    return min(
        found,
        key=lambda way: (way.short_by > 0, way.cost, way.comes, way.supplier.key),
        default=None,
    )


def failed_with(line: OrderLine, records: Iterable[OrderRecord]) -> Iterator[str]:
    """The suppliers that fell short with a line's part already, for a job that the line is for."""
    jobs = {need.job for need in line.needed_by}
    for record in records:
        if not record.cancelled and any(
            each.line.part == line.part
            and each.fell_short
            and jobs & {need.job for need in each.line.needed_by}
            for each in record.lines
        ):
            yield record.order.supplier.key


def _drafts(records: Iterable[OrderRecord]) -> Mapping[tuple[str, str], OrderRecord]:
    return {
        (record.order.supplier.key, record.order.currency): record
        for record in records
        if record.order.draft and not record.cancelled
    }


def _by(
    market: Market,
    quote: Quote,
    pieces: int,
    drafts: Mapping[tuple[str, str], OrderRecord],
) -> Elsewhere:
    offer = quote.offer
    supplier = market.trade.supplier_by_key[offer.supplier]
    draft = drafts.get((offer.supplier, offer.currency))
    before = draft.order.goods if draft is not None else NOTHING
    carriage = carriage_on(supplier, before + quote.net, offer.currency)
    if draft is not None:
        carriage -= carriage_on(supplier, before, offer.currency)
    return Elsewhere(
        supplier=supplier,
        pieces=pieces,
        quote=quote,
        carriage=market.at_home(carriage, offer.currency),
        comes=market.day + timedelta(days=offer.days),
        joins=draft.order.number if draft is not None else "",
        short_by=max(NOTHING, supplier.least_order - before - quote.net),
    )
