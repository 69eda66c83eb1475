"""What it costs to buy elsewhere what a supplier does not send: the cheapest other valid offer, of
the number that was ordered or of another that does as well.

Carriage is reckoned as it would come to: where a draft to that supplier waits, his goods are added
to it and only the difference in carriage counts, which may be a saving; else it is an order alone.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import timedelta
from typing import TYPE_CHECKING

from kitting.buying.orders import carriage_on
from kitting.job.estimate import NOTHING

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator, Mapping
    from datetime import date
    from decimal import Decimal

    from kitting.buying.orders import OrderLine
    from kitting.buying.other_numbers import OtherNumber
    from kitting.buying.standing import OrderRecord
    from kitting.catalog.model import PartNumber
    from kitting.catalog.trade import Quality, Supplier
    from kitting.job.pricing import Market, Quote


@dataclass(frozen=True, slots=True)
class Elsewhere:
    """So many pieces of a part by another offer; money in the shop's own.

    `other` says that it is not the number that was ordered. `joins` is the waiting draft that the
    goods are added to, '' where there is none. `short_by` is how far they stay below his least
    order, in his currency.
    """

    supplier: Supplier
    pieces: int
    quote: Quote
    carriage: Decimal
    comes: date
    joins: str
    short_by: Decimal
    other: bool = False

    @property
    def cost(self) -> Decimal:
        """Goods and carriage."""
        return self.quote.home + self.carriage

    def sentence(self, currency: str) -> str:
        """In one line."""
        pieces = "1 piece" if self.pieces == 1 else f"{self.pieces} pieces"
        pieces += f" of {self.quote.offer.part}" if self.other else ""
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
    numbers: Iterable[OtherNumber],
    pieces: int,
    not_from: Collection[tuple[str, PartNumber]],
    records: Iterable[OrderRecord],
    barred: frozenset[Quality] = frozenset(),
) -> Elsewhere | None:
    """Return the cheapest way to buy so many pieces elsewhere; None where nobody else sells them.

    An offer that falls short of its supplier's least order is taken only where no other is left;
    of ways that cost the same the sooner, then the number that was ordered.

    Args:
        market: the trade on the day when they would be ordered.
        numbers: what may be bought, that which was ordered first.
        pieces: how many of what was ordered; 1 or more.
        not_from: the suppliers with the part that they are not asked for.
        records: the shop's orders, whose drafts may be added to.
        barred: the qualities that are not bought.
    """
    drafts = _drafts(records)
    named = tuple(numbers)
    found = (
        (_by(market, quote, drafts), at)
        for at, number in enumerate(named)
        for quote in market.quotes(number.part, number.pieces(pieces), barred)
        if (quote.offer.supplier, number.part) not in not_from
    )
    best = min(
        found,
        key=lambda way: (
            way[0].short_by > 0,
            way[0].cost,
            way[0].comes,
            way[1],
            way[0].supplier.key,
        ),
        default=None,
    )
    if best is None:
        return None
    way, at = best
    return replace(way, other=bool(at))


def failed_with(
    line: OrderLine, numbers: Iterable[OtherNumber], records: Iterable[OrderRecord]
) -> Iterator[tuple[str, PartNumber]]:
    """The suppliers that fell short already with a number, for a job that a line is for."""
    jobs = {need.job for need in line.needed_by}
    parts = {number.part for number in numbers}
    for record in records:
        for each in () if record.cancelled else record.lines:
            mine = jobs & {need.job for need in each.line.needed_by}
            if each.fell_short and mine:
                yield from ((record.order.supplier.key, part) for part in parts & each.failed)


def _drafts(records: Iterable[OrderRecord]) -> Mapping[tuple[str, str], OrderRecord]:
    return {
        (record.order.supplier.key, record.order.currency): record
        for record in records
        if record.order.draft and not record.cancelled
    }


def _by(
    market: Market,
    quote: Quote,
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
        pieces=quote.quantity,
        quote=quote,
        carriage=market.at_home(carriage, offer.currency),
        comes=market.day + timedelta(days=offer.days),
        joins=draft.order.number if draft is not None else "",
        short_by=max(NOTHING, supplier.least_order - before - quote.net),
    )
