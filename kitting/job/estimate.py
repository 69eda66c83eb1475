"""The estimate: the priced kit with machining, labour and carriage, likely and worst case.

Sums after EN 16931: each line to the minor unit; the total without VAT is the sum of the lines
(BR-CO-10, BR-CO-13); VAT is worked out once for each category on the sum of its lines (BR-CO-17);
the total is the one plus the other (BR-CO-15). Every rounding is half up to the minor unit.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum
from typing import TYPE_CHECKING

from kitting.job.labour import labour_hours
from kitting.job.pricing import (
    UNSOUND_WHERE_CRITICAL,
    Market,
    Quote,
    WorkQuote,
    rounded,
    unsound_for,
)

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping
    from datetime import date

    from kitting.catalog.family import Family
    from kitting.catalog.model import PartNumber
    from kitting.catalog.trade import Trade
    from kitting.job.because import Because
    from kitting.job.consequences import Demands
    from kitting.job.kit import Kit, KitLine, KitWork
    from kitting.job.verdicts import Verdicts

NOTHING = Decimal("0.00")


class LineKind(StrEnum):
    """What an estimate line charges for."""

    PART = "part"
    SET = "set"
    WORK = "outside work"
    LABOUR = "labour"
    CARRIAGE = "carriage"


@dataclass(frozen=True, slots=True)
class EstimateLine:
    """One priced line. `cost` is what the shop pays, `net` what the customer is asked, without VAT.

    `unit_net` × `quantity` is `net`. `worst_net` is the line in the worst case; a line that only
    the worst case needs has quantity nought. `kit_line` is the key of the kit line it prices.
    `flags` say what the reader must know (held, lapsed price, no price).
    """

    kind: LineKind
    stage: str
    text: str
    quantity: Decimal
    unit: str
    cost: Decimal
    unit_net: Decimal
    net: Decimal
    worst_net: Decimal
    vat: str
    kit_line: str = ""
    part: PartNumber | None = None
    quote: Quote | None = None
    work_quote: WorkQuote | None = None
    supplier: str = ""
    flags: tuple[str, ...] = ()
    because: tuple[Because, ...] = ()


@dataclass(frozen=True, slots=True)
class VatLine:
    """The VAT of one category: base, rate in percent, amount."""

    category: str
    rate: Decimal
    base: Decimal
    amount: Decimal


@dataclass(frozen=True, slots=True)
class Totals:
    """Without VAT, the VAT by category, and with it."""

    net: Decimal
    vat: tuple[VatLine, ...]
    gross: Decimal


@dataclass(frozen=True)
class Estimate:
    """What the job comes to on a day, likely and worst."""

    day: date
    currency: str
    lines: tuple[EstimateLine, ...]
    likely: Totals
    worst: Totals
    warnings: tuple[str, ...]

    def of(self, *kinds: LineKind) -> tuple[EstimateLine, ...]:
        """The lines of some kinds."""
        return tuple(line for line in self.lines if line.kind in kinds)


def make_estimate(
    family: Family, verdicts: Verdicts, demands: Demands, kit: Kit, trade: Trade, day: date
) -> Estimate:
    """Price the kit with the offers that are valid on `day`."""
    market = Market(trade, day)
    pricing = _Pricing(family, market)
    lines = (
        *(pricing.part(line) for line in kit.bought),
        *(pricing.possible(line) for line in kit.possible),
        *pricing.sets(kit),
        *(pricing.work(work) for work in kit.work),
        *pricing.labour(verdicts, demands),
    )
    lines = (*lines, *_carriage(lines, market))
    shop = trade.shop
    return Estimate(
        day=day,
        currency=shop.currency,
        lines=lines,
        likely=totals(((line.vat, line.net) for line in lines), shop.vat, shop.currency),
        worst=totals(((line.vat, line.worst_net) for line in lines), shop.vat, shop.currency),
        warnings=tuple(_warnings(lines, kit)),
    )


def totals(
    nets: Iterable[tuple[str, Decimal]], rates: Mapping[str, Decimal], currency: str
) -> Totals:
    """Add lines up after EN 16931: VAT once per category, on the sum of its lines."""
    bases: dict[str, Decimal] = defaultdict(lambda: NOTHING)
    for category, net in nets:
        bases[category] += net
    vat = tuple(
        VatLine(category, rates[category], base, rounded(base * rates[category] / 100, currency))
        for category, base in sorted(bases.items())
    )
    net = sum(bases.values(), NOTHING)
    return Totals(net, vat, net + sum((line.amount for line in vat), NOTHING))


def labour_text(assembly: str) -> str:
    """How an estimate's line names the shop's own hours on an assembly."""
    return f"Labour: {assembly}"


class _Pricing:
    """Turns kit lines, work and hours into estimate lines at the shop's terms."""

    def __init__(self, family: Family, market: Market) -> None:
        self._family = family
        self._market = market
        self._shop = market.trade.shop

    def part(self, line: KitLine) -> EstimateLine:
        """Price a kit line at its best offer; the worst case at the dearer of its two grades."""
        if line.part is None:
            raise ValueError(f"line {line.key} has no part number and cannot be priced")
        barred = unsound_for(self._family, line.positions)
        quote = self._market.quote(line.part, line.quantity, barred)
        others = quote is None and self._market.offered(line.part)
        worst_part = line.worst_part
        worst = self._market.quote(worst_part, line.quantity, barred) if worst_part else None
        asked = self._asked(quote, line.quantity)
        return EstimateLine(
            kind=LineKind.PART,
            stage=line.stage,
            text=line.text,
            quantity=asked.quantity,
            unit=asked.unit,
            cost=quote.home if quote else NOTHING,
            unit_net=asked.unit_net,
            net=asked.net,
            worst_net=max(asked.net, self._asked(worst, line.quantity).net),
            vat=self._family.part_by_number[line.part].vat,
            kit_line=line.key,
            part=line.part,
            quote=quote,
            flags=tuple(_flags(quote, line, others=others)),
            because=(*line.needed, *line.chosen),
        )

    def possible(self, line: KitLine) -> EstimateLine:
        """Price a line that only the worst case needs: none of it now, all of it then."""
        priced = self.part(line)
        return replace(
            priced,
            quantity=Decimal(0),
            cost=NOTHING,
            net=NOTHING,
            flags=(*priced.flags, "only if the recheck says so"),
            quote=None,
        )

    def sets(self, kit: Kit) -> Iterator[EstimateLine]:
        """Price the sets that were chosen."""
        for chosen in kit.sets:
            quote = self._market.quote(chosen.set, 1, UNSOUND_WHERE_CRITICAL)
            asked = self._asked(quote, 1)
            part = self._family.part_by_number[chosen.set]
            yield EstimateLine(
                kind=LineKind.SET,
                stage="sets",
                text=f"{part.name} (covers {len(chosen.covers)} lines)",
                quantity=asked.quantity,
                unit="set",
                cost=quote.home if quote else NOTHING,
                unit_net=asked.unit_net,
                net=asked.net,
                worst_net=asked.net,
                vat=part.vat,
                part=chosen.set,
                quote=quote,
                because=(chosen.because,),
            )

    def work(self, work: KitWork) -> EstimateLine:
        """Price an operation at the cheapest machinist."""
        operation = self._market.trade.operation_by_key[work.operation]
        quote = self._market.work(work.operation, work.times)
        times = quote.times if quote else work.times
        each = self._market.at_home(quote.price.price, quote.price.currency) if quote else NOTHING
        unit_net = self._marked_up(each, self._shop.work_markup)
        return EstimateLine(
            kind=LineKind.WORK,
            stage="machining",
            text=operation.name,
            quantity=Decimal(times),
            unit=quote.price.per if quote else "each",
            cost=quote.home if quote else NOTHING,
            unit_net=unit_net,
            net=unit_net * times,
            worst_net=unit_net * times,
            vat=self._shop.labour_vat,
            kit_line=work.operation,
            work_quote=quote,
            flags=tuple(_work_flags(quote)),
            because=work.because,
        )

    def labour(self, verdicts: Verdicts, demands: Demands) -> Iterator[EstimateLine]:
        """Price the shop's own hours, an assembly a line."""
        for stage, hours in labour_hours(self._family, verdicts, demands).items():
            net = rounded(hours * self._shop.labour_rate, self._shop.currency)
            yield EstimateLine(
                kind=LineKind.LABOUR,
                stage=stage,
                text=labour_text(stage),
                quantity=hours,
                unit="hour",
                cost=net,
                unit_net=self._shop.labour_rate,
                net=net,
                worst_net=net,
                vat=self._shop.labour_vat,
            )

    def _asked(self, quote: Quote | None, quantity: int) -> _Asked:
        """What the customer is asked: so many packs, each at cost and markup, rounded once."""
        if quote is None:
            return _Asked(Decimal(quantity), "each", NOTHING)
        pack = self._market.at_home(quote.pack_price, quote.offer.currency)
        unit = "each" if quote.offer.pack == 1 else f"pack of {quote.offer.pack}"
        return _Asked(Decimal(quote.packs), unit, self._marked_up(pack, self._shop.parts_markup))

    def _marked_up(self, cost: Decimal, percent: Decimal) -> Decimal:
        return rounded(cost * (100 + percent) / 100, self._shop.currency)


@dataclass(frozen=True, slots=True)
class _Asked:
    """A quantity, its unit and the price of one, as the customer is asked for them."""

    quantity: Decimal
    unit: str
    unit_net: Decimal

    @property
    def net(self) -> Decimal:
        return self.quantity * self.unit_net


def _flags(quote: Quote | None, line: KitLine, *, others: bool) -> Iterator[str]:
    """What the reader must know of a line; `others` says that none but unsound ones are offered."""
    if others:
        yield "no price but for a used one, where the position is critical: ask the suppliers"
    elif quote is None:
        yield "no price: ask the suppliers"
    elif quote.lapsed:
        yield f"price lapsed on {quote.offer.valid_until}: confirm"
    if line.hold:
        yield f"hold until {line.hold_until}: may become {line.worst_grade}"


def _work_flags(quote: WorkQuote | None) -> Iterator[str]:
    if quote is None:
        yield "no price: ask the machinist"
    elif quote.lapsed:
        yield f"price lapsed on {quote.price.valid_until}: confirm"


def _carriage(lines: Iterable[EstimateLine], market: Market) -> Iterator[EstimateLine]:
    """Each supplier's carriage, once, on what is bought there; free over his threshold."""
    bought: dict[str, Decimal] = defaultdict(lambda: NOTHING)
    for line in lines:
        if line.quote is not None:
            bought[line.quote.offer.supplier] += line.quote.net
    for key, net in sorted(bought.items()):
        supplier = market.trade.supplier_by_key[key]
        if supplier.free_over is not None and net >= supplier.free_over:
            continue
        cost = market.at_home(supplier.carriage, supplier.currency)
        if cost:
            yield EstimateLine(
                kind=LineKind.CARRIAGE,
                stage="carriage",
                text="Carriage",
                quantity=Decimal(1),
                unit="parcel",
                cost=cost,
                unit_net=cost,
                net=cost,
                worst_net=cost,
                vat=market.trade.shop.labour_vat,
                supplier=key,
            )


def _warnings(lines: Iterable[EstimateLine], kit: Kit) -> Iterator[str]:
    priced = tuple(lines)
    unpriced = sum(1 for line in priced if any(flag.startswith("no price") for flag in line.flags))
    lapsed = sum(1 for line in priced if any("lapsed" in flag for flag in line.flags))
    if unpriced:
        yield f"{_lines(unpriced)} without a price, counted as nothing in the totals"
    if lapsed:
        yield f"{_lines(lapsed)} at a price past its validity: confirm before ordering"
    without = sum(1 for line in kit.lines if line.part is None)
    if without:
        yield f"{_lines(without)} without a part number, not in the totals"
    if not kit.readiness.ready:
        yield kit.readiness.sentence


def _lines(count: int) -> str:
    return "1 line" if count == 1 else f"{count} lines"
