"""Made-up markets for the buying plan: random, alike for the same seed, as big as asked."""

from dataclasses import dataclass, replace
from datetime import date, timedelta
from decimal import Decimal
from random import Random

from kitting.buying.planning.demand import (
    LineWay,
    PlanLine,
    PlanProblem,
    PlanSet,
    Policy,
    ShelfStock,
)
from kitting.catalog.model import PartNumber
from kitting.catalog.trade import Offer, PriceBreak, Supplier

DAY = date(2024, 5, 1)
MAKERS = ("ash", "birch", "cedar")
RATES = {"EUR": Decimal("0.8613"), "JPY": Decimal("0.00521"), "USD": Decimal("0.7577")}


def part_of(number: int | str, maker: str = "ash") -> PartNumber:
    """A made-up part number."""
    return PartNumber(maker, f"P{number}")


def an_offer(
    supplier: str,
    part: PartNumber,
    price: str,
    *,
    pack: int = 1,
    breaks: tuple[tuple[int, str], ...] = (),
    currency: str = "GBP",
    days: int = 3,
    stock: int | None = None,
    until: date = date(2024, 12, 31),
) -> Offer:
    """What a supplier asks for a part."""
    return Offer(
        supplier=supplier,
        their_number=f"{supplier}/{part.number}",
        part=part,
        pack=pack,
        price=Decimal(price),
        breaks=tuple(PriceBreak(packs, Decimal(asked)) for packs, asked in breaks),
        currency=currency,
        valid_from=date(2024, 1, 1),
        valid_until=until,
        days=days,
        stock=stock,
    )


def a_supplier(
    key: str,
    carriage: str = "0",
    *,
    free_over: str = "",
    least: str = "0",
    currency: str = "GBP",
) -> Supplier:
    """A supplier and his terms."""
    return Supplier(
        key=key,
        name=key.capitalize(),
        address="",
        currency=currency,
        carriage=Decimal(carriage),
        free_over=Decimal(free_over) if free_over else None,
        least_order=Decimal(least),
        days=3,
    )


def a_line(
    key: str, *parts: tuple[PartNumber, int], job: str = "J1", match: str = "", held: bool = False
) -> PlanLine:
    """A line that takes these parts together."""
    quantity = parts[0][1] if parts else 1
    ways = (LineWay(parts),) if parts else ()
    return PlanLine(job, key, f"part {key}", quantity, ways, held=held, match=match)


@dataclass(frozen=True)
class Size:
    """How big a random market is, and how often things happen in it (in per cent)."""

    lines: int = 60
    jobs: int = 1
    parts: int = 60
    suppliers: int = 8
    sets: int = 20
    breaks: int = 3
    offered: int = 60
    other_ways: int = 25
    matched: int = 10
    packs: int = 15
    foreign: int = 25
    scarce: int = 10
    shelf: int = 5
    least_orders: int = 50
    most: int = 4
    dear: int = 40


def a_market(seed: int, size: Size, policy: Policy | None = None) -> PlanProblem:
    """A random market in which every part is offered by somebody."""
    return _Maker(Random(seed), size).problem(policy or Policy())


class _Maker:
    """Makes one market."""

    def __init__(self, random: Random, size: Size) -> None:
        self._random = random
        self._size = size
        self._parts = [part_of(n, random.choice(MAKERS)) for n in range(size.parts)]
        self._value = {
            part: Decimal(random.randint(20, 100 * size.dear)) / 100 for part in self._parts
        }

    def problem(self, policy: Policy) -> PlanProblem:
        suppliers = tuple(self._supplier(n) for n in range(self._size.suppliers))
        sets = tuple(self._set(n) for n in range(self._size.sets))
        lines = self._matched([self._line(n) for n in range(self._size.lines)])
        shelf = tuple(
            ShelfStock(part, self._random.randint(1, 3), self._value[part] / 2 // 1)
            for part in self._parts
            if self._happens(self._size.shelf)
        )
        return PlanProblem(
            day=DAY,
            currency="GBP",
            lines=tuple(lines),
            offers=tuple(self._offers(suppliers, sets)),
            suppliers=suppliers,
            rates=RATES,
            sets=sets,
            shelf=shelf,
            policy=policy,
        )

    def _happens(self, percent: int) -> bool:
        return self._random.randrange(100) < percent

    def _supplier(self, number: int) -> Supplier:
        random = self._random
        least = random.choice(("10", "15", "25")) if self._happens(self._size.least_orders) else "0"
        return a_supplier(
            f"s{number:02}",
            str(Decimal(random.randint(200, 1800)) / 100),
            free_over=random.choice(("", "75", "150", "200")),
            least=least,
            currency=random.choice(("EUR", "USD")) if self._happens(self._size.foreign) else "GBP",
        )

    def _set(self, number: int) -> PlanSet:
        count = min(self._random.randint(3, 8), len(self._parts))
        contents = [
            (each, self._random.randint(1, 2)) for each in self._random.sample(self._parts, count)
        ]
        part = part_of(f"set{number}", self._random.choice(MAKERS))
        together = sum((self._value[each] * pieces for each, pieces in contents), Decimal(0))
        self._value[part] = (together * self._random.randint(60, 105) / 100).quantize(
            Decimal("0.01")
        )
        return PlanSet(part, tuple(contents))

    def _line(self, number: int) -> PlanLine:
        random, size = self._random, self._size
        quantity = random.randint(1, size.most)
        ways = [LineWay(((random.choice(self._parts), quantity),))]
        while self._happens(size.other_ways):
            with_work = self._happens(40)
            ways.append(
                LineWay(
                    ((random.choice(self._parts), quantity),),
                    kind="with work" if with_work else "either way",
                    rank=len(ways),
                    work=Decimal(random.randint(0, 900)) / 100 if with_work else Decimal(0),
                    operations=("ease",) if with_work else (),
                )
            )
        return PlanLine(
            job=f"J{number % size.jobs:02}",
            key=f"{number:03}",
            name=f"part {number}",
            quantity=quantity,
            ways=tuple(ways),
        )

    def _matched(self, lines: list[PlanLine]) -> list[PlanLine]:
        """Make some pairs of lines of one job matched: each to be had of several makers."""
        by_maker = {m: [p for p in self._parts if p.maker == m] for m in MAKERS}
        makers = [maker for maker, parts in by_maker.items() if parts]
        jobs = self._size.jobs
        for at in range(0, len(lines) - jobs, 2 * jobs):
            if self._happens(self._size.matched):
                for number in (at, at + jobs):
                    ways = [((self._random.choice(by_maker[m]), 1),) for m in makers]
                    lines[number] = replace(
                        lines[number],
                        quantity=1,
                        ways=tuple(LineWay(parts) for parts in ways),
                        match=f"pair {at}",
                    )
        return lines

    def _offers(self, suppliers: tuple[Supplier, ...], sets: tuple[PlanSet, ...]) -> list[Offer]:
        offers = []
        for part in (*self._parts, *(each.number for each in sets)):
            selling = [each for each in suppliers if self._happens(self._size.offered)]
            for supplier in selling or [self._random.choice(suppliers)]:
                offers.append(self._offer(supplier, part, only=len(selling) < 2))
        return offers

    def _offer(self, supplier: Supplier, part: PartNumber, *, only: bool) -> Offer:
        random = self._random
        pack = random.choice((2, 4, 10)) if self._happens(self._size.packs) else 1
        worth = RATES.get(supplier.currency, Decimal(1))
        price = self._value[part] * pack * random.randint(80, 125) / 100 / worth
        breaks = []
        packs, asked = 1, price
        for _ in range(self._size.breaks):
            packs += random.randint(1, 4)
            asked = asked * random.randint(85, 97) / 100
            breaks.append((packs, f"{asked:.2f}"))
        scarce = not only and self._happens(self._size.scarce)
        return an_offer(
            supplier.key,
            part,
            f"{price:.2f}",
            pack=pack,
            breaks=tuple(breaks),
            currency=supplier.currency,
            days=random.randint(1, 12),
            stock=random.randint(1, 3) if scarce else None,
            until=DAY + timedelta(days=random.randint(0, 200)),
        )
