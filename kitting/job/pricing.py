"""The best valid offer for a quantity of a part, in the shop's money.

Packs are rounded up, price breaks applied, other currencies turned at the stated rate. A price past
its validity is only ever a last resort, and says so.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import TYPE_CHECKING

from kitting.catalog.trade import Quality
from kitting.errors import BadInput, Problem

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import date

    from kitting.catalog.family import Family
    from kitting.catalog.model import PartNumber
    from kitting.catalog.trade import Offer, Trade, WorkPrice

# ISO 4217 minor units of the currencies that do not have two.
_MINOR_UNITS = {"JPY": 0, "KRW": 0, "KWD": 3, "BHD": 3, "TND": 3}

# What is not bought for a critical position unless somebody asks for it.
UNSOUND_WHERE_CRITICAL = frozenset({Quality.USED})
_ANY: frozenset[Quality] = frozenset()


def unsound_for(family: Family, positions: Iterable[str]) -> frozenset[Quality]:
    """The qualities that are not bought for some positions: none, unless one of them is critical.

    A position is critical where a job cannot be closed without one of its figures.
    """
    features = (each for key in positions for each in family.features_of.get(key, ()))
    return UNSOUND_WHERE_CRITICAL if any(each.critical for each in features) else _ANY


def minor_unit(currency: str) -> Decimal:
    """The least amount that is paid in a currency: 0.01 of most."""
    return Decimal(1).scaleb(-_MINOR_UNITS.get(currency, 2))


def rounded(amount: Decimal, currency: str) -> Decimal:
    """Round to the currency's minor unit, half up, as EN 16931 rounds an amount."""
    return amount.quantize(minor_unit(currency), ROUND_HALF_UP)


@dataclass(frozen=True, slots=True)
class Quote:
    """What a quantity of a part costs by one offer.

    `net` is in the offer's currency, `home` in the shop's. `surplus` is what whole packs bring
    beyond the need. `lapsed` says that the price is past its validity.
    """

    offer: Offer
    quantity: int
    packs: int
    pack_price: Decimal
    net: Decimal
    home: Decimal
    lapsed: bool

    @property
    def surplus(self) -> int:
        """Pieces beyond the need."""
        return self.packs * self.offer.pack - self.quantity


@dataclass(frozen=True, slots=True)
class WorkQuote:
    """What an operation costs at one machinist's, so many times."""

    price: WorkPrice
    times: int
    net: Decimal
    home: Decimal
    lapsed: bool


@dataclass(frozen=True)
class Market:
    """The trade on one day: answers what is to be had and for how much."""

    trade: Trade
    day: date

    def offered(self, part: PartNumber) -> bool:
        """Whether anyone sells the part today, or did at a price now past."""
        return any(offer.valid_from <= self.day for offer in self._offers(part))

    def quote(
        self, part: PartNumber, quantity: int, barred: frozenset[Quality] = _ANY
    ) -> Quote | None:
        """The cheapest valid offer; without one, the latest lapsed offer; None when there is none.

        Offers of a barred quality count for none. Equal prices go to the sooner supplier, then by
        key, so that the answer is always the same.
        """
        fit = [offer for offer in self._offers(part) if offer.quality not in barred]
        begun = [offer for offer in fit if offer.valid_from <= self.day]
        valid = [offer for offer in begun if offer.valid_on(self.day)]
        if valid:
            quotes = (self._quote(offer, quantity, lapsed=False) for offer in valid)
            return min(quotes, key=lambda q: (q.home, q.offer.days, q.offer.supplier))
        if begun:
            latest = max(begun, key=lambda offer: (offer.valid_until, offer.supplier))
            return self._quote(latest, quantity, lapsed=True)
        return None

    def quotes(
        self, part: PartNumber, quantity: int, barred: frozenset[Quality] = _ANY
    ) -> tuple[Quote, ...]:
        """Every valid offer but those of a barred quality, cheapest first."""
        fit = (offer for offer in self._offers(part) if offer.quality not in barred)
        valid = (offer for offer in fit if offer.valid_on(self.day))
        quotes = [self._quote(offer, quantity, lapsed=False) for offer in valid]
        return tuple(sorted(quotes, key=lambda q: (q.home, q.offer.days, q.offer.supplier)))

    def work(self, operation: str, times: int) -> WorkQuote | None:
        """The cheapest valid price of an operation, or the latest lapsed one, or None."""
        asked = [p for p in self.trade.work_prices if p.operation == operation]
        begun = [p for p in asked if p.valid_from <= self.day]
        valid = [p for p in begun if p.valid_on(self.day)]
        if valid:
            quotes = [self._work_quote(price, times, lapsed=False) for price in valid]
            return min(quotes, key=lambda q: (q.home, q.price.days, q.price.machinist))
        if begun:
            latest = max(begun, key=lambda price: (price.valid_until, price.machinist))
            return self._work_quote(latest, times, lapsed=True)
        return None

    def at_home(self, amount: Decimal, currency: str) -> Decimal:
        """Turn an amount into the shop's money, rounded half up to its minor unit.

        Raises:
            BadInput: no rate is known for the currency.
        """
        return rounded(amount * self.worth(currency), self.trade.shop.currency)

    def worth(self, currency: str) -> Decimal:
        """What one of a currency is in the shop's money, by the latest rate that has begun.

        Raises:
            BadInput: no rate is known for the currency.
        """
        if currency == self.trade.shop.currency:
            return Decimal(1)
        known = [rate for rate in self.trade.rates if rate.currency == currency]
        past = [rate for rate in known if rate.on <= self.day] or known
        if not past:
            raise BadInput(
                Problem(
                    "rates.csv", f"no rate for {currency}", f"add a row: {currency}, worth, day"
                )
            )
        return max(past, key=lambda rate: rate.on).worth

    def _offers(self, part: PartNumber) -> tuple[Offer, ...]:
        return self.trade.offers_of.get(part, ())

    def _quote(self, offer: Offer, quantity: int, *, lapsed: bool) -> Quote:
        packs = -(-quantity // offer.pack)
        price = offer.pack_price(packs)
        net = rounded(price * packs, offer.currency)
        return Quote(offer, quantity, packs, price, net, self.at_home(net, offer.currency), lapsed)

    def _work_quote(self, price: WorkPrice, times: int, *, lapsed: bool) -> WorkQuote:
        times = times if price.per == "each" else 1
        net = rounded(price.price * times, price.currency)
        return WorkQuote(price, times, net, self.at_home(net, price.currency), lapsed)
