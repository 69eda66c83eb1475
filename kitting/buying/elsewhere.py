"""What it costs to buy elsewhere what a supplier does not send: the cheapest other valid offer, of
the number that was ordered or of another that does as well; of several suppliers where none says
that he has enough.

Carriage is reckoned as it would come to: where a draft to that supplier waits, his goods are added
to it and only the difference in carriage counts, which may be a saving; else it is an order alone.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import timedelta
from itertools import permutations
from typing import TYPE_CHECKING

from kitting.buying.orders import carriage_on
from kitting.buying.planning.conditions import stock_bound, stock_words
from kitting.job.estimate import NOTHING

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator, Mapping
    from datetime import date
    from decimal import Decimal

    from kitting.buying.orders import OrderLine
    from kitting.buying.other_numbers import OtherNumber
    from kitting.buying.standing import OrderRecord
    from kitting.catalog.model import PartNumber
    from kitting.catalog.trade import Offer, Quality, Supplier
    from kitting.job.pricing import Market, Quote

# In as many parcels at most every way to split is tried; in more, those who have most come first.
_MOST_PARCELS = 3


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
) -> tuple[Elsewhere, ...]:
    """Return the cheapest way to buy so many pieces elsewhere, in as few parcels as what the
    suppliers say they have allows; nothing where nobody sells them, or enough of them.

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
    by: dict[tuple[Offer, int], Elsewhere] = {}
    found = []
    for at, number in enumerate(numbers):
        wanted = number.pieces(pieces)
        offers = _offers(market, number.part, not_from, barred)
        room = {offer: _room(offer, drafts, wanted) for offer in offers}
        for split in _splits(room, wanted):
            for each in split:
                if each not in by:
                    by[each] = replace(_by(market, _quote(market, *each), drafts), other=bool(at))
            found.append(tuple(by[each] for each in split))
    return min(found, key=_preferred, default=())


def too_few(
    market: Market,
    numbers: Iterable[OtherNumber],
    not_from: Collection[tuple[str, PartNumber]],
    barred: frozenset[Quality] = frozenset(),
) -> Iterator[str]:
    """Who sells some of it elsewhere, and how many he says he has."""
    for number in numbers:
        for offer in _offers(market, number.part, not_from, barred):
            packs = stock_bound(offer, back_orders=True)
            if packs is not None:
                yield stock_words(offer, market.trade.supplier_by_key[offer.supplier].name, packs)


def _preferred(ways: tuple[Elsewhere, ...]) -> tuple[object, ...]:
    return (
        any(way.short_by for way in ways),
        sum((way.cost for way in ways), NOTHING),
        max(way.comes for way in ways),
        any(way.other for way in ways),
        [(way.quote.offer.part, way.supplier.key) for way in ways],
    )


def _offers(
    market: Market,
    part: PartNumber,
    not_from: Collection[tuple[str, PartNumber]],
    barred: frozenset[Quality],
) -> tuple[Offer, ...]:
    """The valid offers of a part, without those that are not asked for."""
    quotes = market.quotes(part, 1, barred)
    return tuple(q.offer for q in quotes if (q.offer.supplier, part) not in not_from)


def _quote(market: Market, offer: Offer, count: int) -> Quote:
    return next(q for q in market.quotes(offer.part, count) if q.offer == offer)


def _room(offer: Offer, drafts: Mapping[tuple[str, str], OrderRecord], wanted: int) -> int:
    """How many of the pieces an offer can bring beside what the draft to its supplier asks for."""
    packs = stock_bound(offer, back_orders=True)
    if packs is None:
        return wanted
    draft = drafts.get((offer.supplier, offer.currency))
    mine = (offer.their_number, offer.part, offer.pack)
    lines = draft.order.lines if draft is not None else ()
    asked = sum(e.packs for e in lines if (e.their_number, e.part, e.pack) == mine)
    return min(wanted, max(0, packs - asked) * offer.pack)


def _splits(room: Mapping[Offer, int], wanted: int) -> Iterator[tuple[tuple[Offer, int], ...]]:
    """The ways to have so many pieces of as few suppliers as have them, each by one offer."""
    most: dict[str, Offer] = {}
    for offer in sorted(room, key=lambda each: -room[each]):
        most.setdefault(offer.supplier, offer)
    least, left = 0, wanted
    for offer in most.values():
        least += left > 0
        left -= min(left, room[offer])
    if left:
        return
    orders: Iterable[tuple[Offer, ...]] = [tuple(most.values())[:least]]
    if least <= _MOST_PARCELS:
        orders = permutations((offer for offer in room if room[offer]), least)
    for order in orders:
        split, left = [], wanted
        for offer in order:
            split.append((offer, min(left, room[offer])))
            left -= split[-1][1]
        apart = len({offer.supplier for offer in order}) == len(order)
        if apart and not left and all(count for _, count in split):
            yield tuple(split)


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
