"""Drafts of orders out of a job's estimate: what it prices and no earlier order brings already.

Lines of several bags that come to the same offer are one order line: their quantities add up, and
packs and price breaks are worked out afresh on the sum, so an order never costs more than the
estimate reckoned. What waits for the machinist's word is named apart, with no quantity and no
price: the supplier can say whether it is to be had, and nobody can pick it by mistake.

A line that an earlier order left open (short, refused, wrong, cancelled) is asked for again, and
not where it failed for this job.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace
from decimal import Decimal
from hashlib import sha256
from typing import TYPE_CHECKING

from kitting.buying.failures import NO_FAILURES, Failures
from kitting.buying.orders import ABROAD, HeldItem, LineFor, Order, OrderLine, with_ids
from kitting.buying.planning.conditions import stock_bound, stock_words
from kitting.job.counting import Made, left_of
from kitting.job.estimate import LineKind
from kitting.job.hand import Source
from kitting.job.pricing import UNSOUND_WHERE_CRITICAL, Market, rounded, unsound_for

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

    from kitting.catalog.model import Part, PartNumber
    from kitting.catalog.trade import Offer, Quality
    from kitting.job.counting import Lot
    from kitting.job.kit import KitLine
    from kitting.job.path import JobPath

_ONLY_USED = (
    "only used ones are offered, and its position is critical: ask the suppliers, or take one by "
    "--plan with --used-where-critical"
)


@dataclass(frozen=True, slots=True)
class Wanted:
    """So many pieces by one offer, and whose they are: what an estimate comes down to, and a plan.

    `on_return` is bought on sale or return. `packs` is said where more is bought than is needed.
    """

    offer: Offer
    quantity: int
    needed_by: tuple[LineFor, ...]
    on_return: bool = False
    packs: int = 0


@dataclass(frozen=True, slots=True)
class Coming:
    """Pieces that an earlier order brings for a job, in the positions that they are for."""

    part: PartNumber
    need: LineFor


@dataclass(frozen=True, slots=True)
class Before:
    """What earlier orders bring, and which supplier has failed with which part."""

    coming: tuple[Coming, ...] = ()
    failures: Failures = NO_FAILURES


@dataclass(frozen=True, slots=True)
class Drafts:
    """Orders to make, what could be put into none, and what else to mind: a sentence each."""

    orders: tuple[Order, ...]
    without: tuple[str, ...]
    told: tuple[str, ...] = ()


def orders_of(path: JobPath) -> tuple[Order, ...]:
    """Return one draft for each supplier and currency that anything is bought from, by name.

    A supplier from whom only held parts would come gets no order.
    """
    return drafts_of(path, Before()).orders


def drafts_of(path: JobPath, before: Before) -> Drafts:
    """Return the drafts that a job still needs beside its earlier orders.

    Lines without an offer, or with none but where they failed, are in no order: they are named.
    """
    market = Market(path.trade, path.day)
    left = StillOpen(path, before)
    apart = {line.key for line in path.kit.lines if line.hold}
    apart |= {line.key for line in path.kit.possible}
    apart |= {line.key for line in path.kit.lines if is_declined(path, line)}
    jobs = (path.bench.job.number,)
    barred = before.failures.barred(jobs)
    wanted: list[Wanted] = []
    without: list[str] = []
    for line in path.estimate.of(LineKind.PART, LineKind.SET):
        if line.part is None or line.kit_line in apart:
            continue
        is_set = line.kind is LineKind.SET
        needs = left.of_set(line.part) if is_set else left.of_line(line.kit_line)
        if not needs:
            continue
        quantity = 1 if is_set else sum(need.pieces for need in needs)
        positions = [key for need in needs for key in need.positions]
        unsound = UNSOUND_WHERE_CRITICAL if is_set else unsound_for(path.family, positions)
        offer = _offer(market, line.part, quantity, barred, unsound) if line.quote else None
        if offer is None:
            used_only = line.quote is None and market.offered(line.part)
            failed = before.failures.why({line.part: jobs}, jobs[0])
            why = _ONLY_USED if used_only else failed or "nobody offers it: ask the suppliers"
            without.append(f"{line.text} ({line.part}): {why}")
        else:
            wanted.append(Wanted(offer, quantity, needs))
    orders = orders_from((path,), wanted, held_of(path))
    failures = before.failures
    passed_over = failures.passed_over({each.offer.part: jobs for each in wanted})
    told = (*failures.told(bought_in(orders)), *passed_over, *_beyond_stock(orders, wanted))
    return Drafts(orders, tuple(without), told)


def _beyond_stock(orders: Iterable[Order], wanted: Iterable[Wanted]) -> Iterator[str]:
    """Where more is asked of a supplier than his list says he has."""
    offers = {(e.offer.supplier, e.offer.currency, *_line_key(e)): e.offer for e in wanted}
    for order in orders:
        for line in order.lines:
            key = (line.their_number, line.part, line.pack, line.quality, line.on_return)
            offer = offers[(order.supplier.key, order.currency, *key)]
            packs = stock_bound(offer, back_orders=True)
            if packs is not None and line.packs > packs:
                has = stock_words(offer, order.supplier.name, packs)
                yield (
                    f"{has} by his list, and {line.packs} are asked for; --plan asks nobody for "
                    "more than he has"
                )


def bought_in(orders: Iterable[Order]) -> frozenset[tuple[str, PartNumber]]:
    """Every part that orders ask for, with the key of who is asked."""
    return frozenset((order.supplier.key, line.part) for order in orders for line in order.lines)


def orders_from(
    paths: Sequence[JobPath],
    wanted: Iterable[Wanted],
    held: Mapping[tuple[str, str], Iterable[HeldItem]],
) -> tuple[Order, ...]:
    """Return one draft for each supplier and currency, over one job or several of one day."""
    bought: dict[tuple[str, str], list[Wanted]] = defaultdict(list)
    for each in wanted:
        bought[(each.offer.supplier, each.offer.currency)].append(each)
    terms = _Terms(paths)
    suppliers = paths[0].trade.supplier_by_key
    ordered = sorted(bought.items(), key=lambda item: (suppliers[item[0][0]].name, item[0]))
    return tuple(
        _draft(terms, running, key, group, tuple(held.get(key, ())))
        for running, (key, group) in enumerate(ordered, start=1)
    )


class _Terms:
    """What the jobs' trade and catalogue say of a line: parts, VAT, the rate of the day."""

    def __init__(self, paths: Sequence[JobPath]) -> None:
        self.trade = paths[0].trade
        self.day = paths[0].day
        self.market = Market(self.trade, self.day)
        self.shop = self.trade.shop
        self.jobs = ",".join(path.bench.job.number for path in paths)
        self._paths = paths

    def part(self, number: PartNumber) -> Part:
        """What the catalogue says of a part."""
        known = (path.family.part_by_number for path in self._paths)
        return next(parts[number] for parts in known if number in parts)

    def vat(self, category: str, currency: str) -> tuple[str, Decimal]:
        """A VAT category with its rate; what is bought abroad is not taxed there."""
        if currency != self.shop.currency:
            return ABROAD, Decimal(0)
        return category, self.shop.vat[category]


def _draft(
    terms: _Terms,
    running: int,
    key: tuple[str, str],
    wanted: Iterable[Wanted],
    held: tuple[HeldItem, ...],
) -> Order:
    supplier, currency = key
    reference = _reference(terms, supplier, running)
    vat, percent = terms.vat(terms.shop.labour_vat, currency)
    return Order(
        number=reference,
        supplier=terms.trade.supplier_by_key[supplier],
        day=terms.day,
        currency=currency,
        home_currency=terms.shop.currency,
        worth=terms.market.worth(currency),
        carriage_vat=vat,
        carriage_vat_percent=percent,
        lines=with_ids(_lines(terms, wanted), reference),
        held=held,
    )


def _lines(terms: _Terms, wanted: Iterable[Wanted]) -> tuple[OrderLine, ...]:
    """One line an offer, by the supplier's own number, as his shelves are."""
    groups: dict[tuple[str, PartNumber, int, Quality, bool], list[Wanted]] = defaultdict(list)
    for each in wanted:
        groups[_line_key(each)].append(each)
    return tuple(_line(terms, group) for _, group in sorted(groups.items()))


def _line_key(each: Wanted) -> tuple[str, PartNumber, int, Quality, bool]:
    """What comes on one line of an order."""
    offer = each.offer
    return offer.their_number, offer.part, offer.pack, offer.quality, each.on_return


def _line(terms: _Terms, group: list[Wanted]) -> OrderLine:
    offer = group[0].offer
    part = terms.part(offer.part)
    quantity = sum(each.quantity for each in group)
    packs = max(-(-quantity // offer.pack), sum(each.packs for each in group))
    price = offer.pack_price(packs)
    vat, percent = terms.vat(part.vat, offer.currency)
    return OrderLine(
        id="",
        their_number=offer.their_number,
        part=offer.part,
        name=part.name,
        kind=part.kind,
        quantity=quantity,
        pack=offer.pack,
        packs=packs,
        pack_price=price,
        net=rounded(price * packs, offer.currency),
        vat=vat,
        vat_percent=percent,
        days=offer.days,
        price_until=offer.valid_until,
        lapsed=not offer.valid_on(terms.day),
        on_return=group[0].on_return,
        quality=offer.quality,
        needed_by=tuple(need for each in group for need in each.needed_by),
    )


def need_of(path: JobPath, line: KitLine, *, in_set: bool = False) -> LineFor:
    """A kit line as an order knows it."""
    tables = {path.family.position_by_key[key].sized_by for key in line.positions} - {""}
    choices = [path.sizes.by_table[table] for table in sorted(tables)]
    grades = [choice.parts_likely.key for choice in choices if choice.parts_likely]
    return LineFor(
        job=path.bench.job.number,
        kit_line=line.key,
        positions=line.positions,
        pieces=line.quantity,
        grade=grades[0] if grades else "",
        in_set=in_set,
        stands_for=line.part,
        whole=line.quantity,
    )


class StillOpen:
    """What earlier orders bring for a job, used up line by line; answers what is still open."""

    def __init__(self, path: JobPath, before: Before) -> None:
        self._path = path
        number = path.bench.job.number
        self._coming = [each for each in before.coming if each.need.job == number]
        self._left = [each.need.pieces for each in self._coming]

    def of_line(self, key: str) -> tuple[LineFor, ...]:
        """What is still open of a kit line: itself with fewer pieces, or nothing."""
        line = self._path.kit.by_key[key]
        missing = self.made(line).missing
        need = need_of(self._path, line)
        return (replace(need, pieces=missing),) if missing else ()

    def of_set(self, number: PartNumber) -> tuple[LineFor, ...]:
        """All that a set covers, unless everything in it comes already."""
        covered = [
            line
            for line in self._path.kit.lines
            if line.covered_by == number and not is_declined(self._path, line)
        ]
        if not sum(self.made(line).missing for line in covered):
            return ()
        return tuple(need_of(self._path, line, in_set=True) for line in covered)

    def lots(self, line: KitLine) -> tuple[Lot, ...]:
        """What of a line lies here, off the shelf or marked by hand, then what comes."""
        return (*self._aside(line), *(self._lot(at) for at in self._of(line)))

    def made(self, line: KitLine) -> Made:
        """What all that makes of a line, counted in its own pieces; it is used up by it."""
        lots = self.lots(line)
        left = left_of(line, lots)[len(self._aside(line)) :]
        for at, pieces in zip(self._of(line), left, strict=True):
            self._left[at] = pieces
        return Made(line, lots)

    @property
    def left(self) -> tuple[int, ...]:
        """How many pieces of each that comes no line that was asked about has used up."""
        return tuple(self._left)

    def _aside(self, line: KitLine) -> tuple[Lot, ...]:
        return self._path.hand.lots(line, Source.SHELF, Source.BY_HAND)

    def _of(self, line: KitLine) -> list[int]:
        return [at for at, each in enumerate(self._coming) if serves(each.need, each.part, line)]

    def _lot(self, at: int) -> Lot:
        coming = self._coming[at]
        return replace(coming.need.lot(coming.part), pieces=self._left[at])


def is_declined(path: JobPath, line: KitLine) -> bool:
    """Whether the customer will have none of a line."""
    return all((position, "") in path.bench.declined for position in line.positions)


def serves(need: LineFor, part: PartNumber, line: KitLine) -> bool:
    """Whether what was ordered for a need is of a kit line that still asks for what it asked then.

    What was ordered may be another number that serves as well, or as the resolver allows.
    """
    if not set(need.positions) & set(line.positions):
        return False
    return line.takes(need.stands_for or part) or line.takes(need.lot(part).part)


def _offer(
    market: Market,
    part: PartNumber,
    quantity: int,
    barred: Collection[tuple[str, PartNumber]],
    unsound: frozenset[Quality],
) -> Offer | None:
    """The best sound offer that is not barred; a lapsed one only where no valid one is left."""
    valid = [q.offer for q in market.quotes(part, quantity, unsound)]
    best = market.quote(part, quantity, unsound)
    known = valid or ([best.offer] if best else [])
    return next((o for o in known if (o.supplier, part) not in barred), None)


def held_of(path: JobPath) -> Mapping[tuple[str, str], list[HeldItem]]:
    """The held parts by supplier and currency, each where it would be bought today."""
    market = Market(path.trade, path.day)
    found: dict[tuple[str, str], list[HeldItem]] = defaultdict(list)
    for line in path.kit.bought:
        for part in filter(None, (line.part, line.worst_part) if line.hold else ()):
            quote = market.quote(part, line.quantity, unsound_for(path.family, line.positions))
            if quote is not None:
                name = path.family.part_by_number[part].name
                item = HeldItem(quote.offer.their_number, part, name)
                found[(quote.offer.supplier, quote.offer.currency)].append(item)
    return {key: sorted(set(items), key=lambda i: i.part) for key, items in found.items()}


def _reference(terms: _Terms, supplier: str, running: int) -> str:
    """The day, a running number, and four signs that differ from job to job and tell nothing."""
    told_apart = f"{terms.jobs}|{supplier}|{terms.day}"
    mark = sha256(told_apart.encode()).hexdigest()[:4].upper()
    return f"{terms.day:%y%m%d}-{running}-{mark}"
