"""From a decision to a plan: who gets which pieces, and who bears what of each cost.

The rules, each exact to the minor unit (largest remainder, then the earlier line):

- Lines are served in order of job and key: from opened sets first, then from what is bought, then
  from the shelf, so that nothing leaves the shelf that comes anyway.
- What is of poor quality goes to lines that are not critical, before anything else does, so that
  what critical lines need is left for them.
- A purchase is borne by the lines it serves, by pieces; so its surplus is borne by them too.
- A set is borne by the lines that its contents serve, by what those pieces cost singly at the
  cheapest valid offer; by pieces, where one of them is not sold singly.
- Carriage, what makes an order up to the least, and a purchase that serves no line (bought to reach
  the supplier's terms) are borne by the parcel's lines, by the value of what each gets in it.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from kitting.buying.planning.demand import from_minor, minor_units
from kitting.buying.planning.tables import Pool
from kitting.buying.planning.values import (
    LinePlan,
    Parcel,
    Plan,
    Purchase,
    Share,
    ShelfTaken,
    Source,
    Surplus,
)
from kitting.catalog.trade import Quality
from kitting.job.pricing import rounded

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from decimal import Decimal

    from kitting.buying.planning.demand import PlanSet
    from kitting.buying.planning.model import Decision
    from kitting.buying.planning.options import Option
    from kitting.buying.planning.tables import Article, Tables
    from kitting.buying.planning.values import Aim, Proof
    from kitting.catalog.model import PartNumber


def split(amount: int, weights: Sequence[int]) -> list[int]:
    """Split a whole number by weights so that the parts add up to it, by the largest remainder.

    With no weight at all the parts are as equal as can be. Ties go to the earlier.
    """
    if not any(weights):
        weights = [1] * len(weights)
    total = sum(weights)
    parts = [amount * weight // total for weight in weights]
    remainders = [amount * weight % total for weight in weights]
    left = amount - sum(parts)
    for at in sorted(range(len(weights)), key=lambda at: (-remainders[at], at))[:left]:
        parts[at] += 1
    return parts


@dataclass(slots=True)
class _Lot:
    """Pieces of one pool from one source, and who took how many of them."""

    source: Source
    number: PartNumber
    pieces: int
    cost: int
    supplier: str = ""
    quality: Quality = Quality.UNSAID
    poor: bool = False
    taken: dict[int, int] = field(default_factory=dict)

    @property
    def left(self) -> int:
        return self.pieces - sum(self.taken.values())

    def take(self, who: int, wanted: int) -> int:
        """Give as many as there are, up to what is wanted."""
        given = min(self.left, wanted)
        if given:
            self.taken[who] = self.taken.get(who, 0) + given
        return given


@dataclass(frozen=True, slots=True)
class _Opened:
    """So many of a set opened, from one supplier, and what they cost."""

    supplier: str
    sets: int
    cost: int
    quality: Quality


def _opened(opening: PlanSet, contents: list[tuple[Pool, _Lot]]) -> int:
    """How many sets what was taken out of them makes; the rest is left unopened."""
    needed = 0
    for (_, count), (_, lot) in zip(opening.contents, contents, strict=True):
        needed = max(needed, -(-sum(lot.taken.values()) // count))
    for (_, count), (_, lot) in zip(opening.contents, contents, strict=True):
        lot.pieces = count * needed
    return needed


# In place of a line's number: the opening of a set.
_OPENING = -1


class Sharing:
    """Hands the pieces of one decision out, and the costs after them."""

    def __init__(self, tables: Tables, decision: Decision) -> None:
        self._tables = tables
        self._problem = tables.problem
        self._choices = {choice.line: choice for choice in decision.choices}
        self._bought = decision.bought
        self._lots: dict[Pool, list[_Lot]] = defaultdict(list)
        self._of_article: list[tuple[Article, Option, _Lot]] = []
        self._from_sets: list[tuple[PlanSet, list[tuple[Pool, _Lot]]]] = []
        self._stock_lots(decision)
        self._serve()

    def plan(self, aim: Aim, proof: Proof) -> Plan:
        """The plan that the decision comes to."""
        shares = self._shares()
        parcels = self._parcels()
        carriage = self._carriage(shares, parcels)
        problem = self._problem
        return Plan(
            aim=aim,
            day=problem.day,
            currency=problem.currency,
            lines=tuple(
                LinePlan(
                    line,
                    self._choices[index].way,
                    tuple(shares[index]),
                    self._money(carriage[index]),
                )
                for index, line in enumerate(self._tables.lines)
            ),
            parcels=parcels,
            shelf=tuple(self._shelf_taken()),
            surplus=tuple(self._surplus()),
            waiting=problem.waiting,
            proof=proof,
        )

    def _money(self, units: int) -> Decimal:
        return from_minor(units, self._problem.currency)

    def _stock_lots(self, decision: Decision) -> None:
        for opening, opened in decision.opened:
            contents = []
            for part, count in opening.contents:
                pool = Pool(part, held=False)
                lot = _Lot(Source.SET, opening.number, count * opened, 0)
                contents.append((pool, lot))
                self._lots[pool].append(lot)
            self._from_sets.append((opening, contents))
        for article, option in decision.bought:
            offer = article.offer
            pieces = article.pieces(option)
            lot = _Lot(
                Source.OFFER,
                offer.part,
                pieces,
                option.home,
                offer.supplier,
                offer.quality,
                article.poor,
            )
            self._of_article.append((article, option, lot))
            self._lots[article.pool].append(lot)
        left = {stock.part: stock.quantity for stock in self._problem.shelf}
        for pool, (_, each) in self._tables.shelf.items():
            self._lots[pool].append(_Lot(Source.SHELF, pool.part, left[pool.part], each))

    def _serve(self) -> None:
        """Hand the pieces out: to the lines in order, then to the opening of sets."""
        lines = self._tables.lines
        for index in sorted(self._choices, key=lambda i: (lines[i].job, lines[i].key)):
            for pool, wanted in self._choices[index].takes:
                self._give(pool, index, wanted)
        for opening, contents in self._from_sets:
            self._give(Pool(opening.number, held=False), _OPENING, _opened(opening, contents))

    def _give(self, pool: Pool, who: int, wanted: int) -> None:
        lots = sorted(self._lots[pool], key=lambda lot: not lot.poor)
        critical = who != _OPENING and self._tables.lines[who].critical
        for lot in (each for each in lots if not (critical and each.poor)):
            given = lot.take(who, wanted)
            wanted -= given
            if lot.source is Source.SHELF and given:
                self._note_shelf(pool, given)
        if wanted:
            raise RuntimeError(f"the plan is {wanted} short of {pool.part}")

    def _note_shelf(self, pool: Pool, given: int) -> None:
        """What one pool takes off the shelf is not there for the other."""
        other = Pool(pool.part, not pool.held)
        for lot in self._lots.get(other, ()):
            if lot.source is Source.SHELF:
                lot.pieces -= given

    def _shares(self) -> dict[int, list[Share]]:
        shares: dict[int, list[Share]] = defaultdict(list)
        opened: dict[PartNumber, list[_Opened]] = defaultdict(list)
        for pool, lots in self._lots.items():
            for lot in lots:
                if lot.source is Source.SET or not lot.taken:
                    continue
                pieces = sum(lot.taken.values())
                cost = lot.cost * pieces if lot.source is Source.SHELF else lot.cost
                parts = split(cost, list(lot.taken.values()))
                for (who, count), part in zip(lot.taken.items(), parts, strict=True):
                    if who == _OPENING:
                        opened[pool.part].append(_Opened(lot.supplier, count, part, lot.quality))
                    else:
                        shares[who].append(self._share(lot, pool.part, count, part))
        for opening, contents in self._from_sets:
            for who, share in self._set_shares(contents, opened[opening.number]):
                shares[who].append(replace(share, number=opening.number))
        return shares

    def _share(self, lot: _Lot, part: PartNumber, pieces: int, cost: int) -> Share:
        money = self._money(cost)
        return Share(lot.source, lot.supplier, part, lot.number, pieces, money, lot.quality)

    def _set_shares(
        self, contents: list[tuple[Pool, _Lot]], opened: list[_Opened]
    ) -> Iterator[tuple[int, Share]]:
        """What the sets opened come to for each line that they serve, by where they came from."""
        served = [(who, pool, n) for pool, lot in contents for who, n in lot.taken.items()]
        singly = [self._singly(pool) for _, pool, _ in served]
        known = all(each is not None for each in singly)
        weights = [
            (each or 1 if known else 1) * n for each, (_, _, n) in zip(singly, served, strict=True)
        ]
        costs = [split(each.cost, weights) for each in opened]
        for at, (who, pool, count) in enumerate(served):
            pieces = split(count, [each.sets for each in opened])
            for each, cost, some in zip(opened, costs, pieces, strict=True):
                lot = _Lot(Source.SET, pool.part, some, cost[at], each.supplier, each.quality)
                yield who, self._share(lot, pool.part, some, cost[at])

    def _singly(self, pool: Pool) -> int | None:
        """What one piece costs at the cheapest offer, in thousandths of a minor unit."""
        prices = [
            article.options[0].home * 1000 // article.pieces(article.options[0])
            for article in self._tables.articles
            if article.pool == pool
        ]
        return min(prices, default=None)

    def _parcels(self) -> tuple[Parcel, ...]:
        found = []
        for terms in self._tables.terms:
            mine = [each for each in self._of_article if each[2].supplier == terms.supplier.key]
            if not any(lot.taken for _, _, lot in mine):
                continue
            counted = sum(option.counted for _, option, _ in mine)
            free = terms.free_over is not None and counted >= terms.free_over
            if counted < terms.barred:
                raise RuntimeError(f"the plan is under the least order of {terms.supplier.name}")
            short = max(0, terms.made_up - sum(option.home for _, option, _ in mine))
            found.append(
                Parcel(
                    supplier=terms.supplier,
                    purchases=tuple(self._purchase(*each) for each in mine),
                    carriage=self._money(0 if free else terms.carriage),
                    made_up=self._money(short),
                )
            )
        return tuple(sorted(found, key=lambda parcel: parcel.supplier.key))

    def _purchase(self, article: Article, option: Option, lot: _Lot) -> Purchase:
        offer = article.offer
        price = offer.pack_price(option.packs)
        return Purchase(
            offer=offer,
            packs=option.packs,
            pack_price=price,
            net=rounded(price * option.packs, offer.currency),
            home=self._money(option.home),
            used=sum(lot.taken.values()),
            on_return=article.pool.held,
        )

    def _carriage(
        self, shares: dict[int, list[Share]], parcels: tuple[Parcel, ...]
    ) -> dict[int, int]:
        """Each line's share of what its parcels cost beside the goods that lines use."""
        currency = self._problem.currency
        borne: dict[int, int] = defaultdict(int)
        for parcel in parcels:
            idle = [purchase.home for purchase in parcel.purchases if not purchase.used]
            common = minor_units(sum(idle, parcel.carriage + parcel.made_up), currency)
            value: dict[int, int] = defaultdict(int)
            for index in sorted(shares):
                for share in shares[index]:
                    if share.supplier == parcel.supplier.key:
                        value[index] += minor_units(share.cost, currency)
            for index, part in zip(value, split(common, list(value.values())), strict=True):
                borne[index] += part
        return borne

    def _shelf_taken(self) -> list[ShelfTaken]:
        taken: dict[PartNumber, ShelfTaken] = {}
        for pool, lots in self._lots.items():
            for lot in lots:
                pieces = sum(lot.taken.values())
                if lot.source is Source.SHELF and pieces:
                    before = taken.get(pool.part, ShelfTaken(pool.part, 0, self._money(0)))
                    cost = before.cost + self._money(lot.cost * pieces)
                    taken[pool.part] = replace(before, pieces=before.pieces + pieces, cost=cost)
        return [taken[part] for part in sorted(taken)]

    def _surplus(self) -> list[Surplus]:
        found = [
            Surplus(pool.part, lot.left, lot.number, lot.supplier)
            for pool, lots in self._lots.items()
            for lot in lots
            if lot.source is not Source.SHELF and lot.left
        ]
        return sorted(found, key=lambda each: (each.part, each.out_of, each.supplier))
