"""Markets small enough to try every plan."""

from dataclasses import replace
from decimal import Decimal
from random import Random

from kitting.buying.planning.demand import (
    LineWay,
    PlanLine,
    PlanProblem,
    PlanSet,
    Policy,
    ShelfStock,
    SmallOrder,
)
from kitting.catalog.model import PartNumber
from kitting.catalog.trade import Quality, Supplier
from tests.buying.markets import DAY, RATES, a_supplier, an_offer, part_of


def a_small_market(seed: int) -> PlanProblem:
    """Up to three lines and five offers; every rule turns up in some of them."""
    random = Random(seed)
    parts = [part_of(n, random.choice(("ash", "birch"))) for n in range(random.randint(1, 3))]
    suppliers = tuple(
        _supplier(random, key) for key in ("north", "south", "east")[: random.randint(1, 3)]
    )
    sets: tuple[PlanSet, ...] = ()
    if random.random() < 0.4:
        contents = random.sample(parts, random.randint(1, len(parts)))
        sets = (PlanSet(part_of("set"), tuple((p, random.randint(1, 2)) for p in contents)),)
    sold = [*parts, *(each.number for each in sets)]
    offers = []
    for _ in range(random.randint(2, 4)):
        supplier = random.choice(suppliers)
        offers.append(
            an_offer(
                supplier.key,
                random.choice(sold),
                f"{random.randint(100, 600) / 100:.2f}",
                pack=random.choice((1, 1, 1, 2, 3)),
                currency=supplier.currency,
                days=random.randint(1, 5),
                stock=random.choice((None, None, None, 0, 1, 2)),
            )
        )
        quality = random.choice((Quality.UNSAID, Quality.UNSAID, Quality.USED, Quality.PATTERN))
        if random.random() < 0.4:
            less = offers[-1].price * random.randint(60, 95) / 100
            step = ((random.randint(2, 4), f"{less:.2f}"),)
            offers[-1] = replace(
                an_offer(supplier.key, offers[-1].part, "1", breaks=step),
                price=offers[-1].price,
                pack=offers[-1].pack,
                stock=offers[-1].stock,
                currency=supplier.currency,
                days=offers[-1].days,
            )
        offers[-1] = replace(offers[-1], quality=quality)
    shelf = tuple(
        ShelfStock(part, random.randint(1, 2), Decimal(random.choice((0, 0, 150, 300))) / 100)
        for part in sold
        if random.random() < 0.15
    )
    return PlanProblem(
        day=DAY,
        currency="GBP",
        lines=tuple(_line(random, parts, n) for n in range(random.randint(1, 3))),
        offers=tuple(offers),
        suppliers=suppliers,
        rates=RATES,
        sets=sets,
        shelf=shelf,
        policy=_policy(random, suppliers),
    )


def _supplier(random: Random, key: str) -> Supplier:
    return a_supplier(
        key,
        f"{random.randint(0, 500) / 100:.2f}",
        free_over=random.choice(("", "", "6", "12")),
        least=random.choice(("0", "0", "5", "8")),
        currency=random.choice(("GBP", "GBP", "EUR")),
    )


def _line(random: Random, parts: list[PartNumber], number: int) -> PlanLine:
    quantity = random.randint(1, 3)
    ways = [LineWay(((random.choice(parts), quantity),))]
    if random.random() < 0.4:
        work = Decimal(random.choice((0, 50, 120))) / 100
        both = ((random.choice(parts), quantity), (random.choice(parts), 1))
        ways.append(LineWay(both[: random.randint(1, 2)], "with work", 4, work, ("ease",)))
    return PlanLine(
        f"J{number % 2}",
        str(number),
        f"part {number}",
        quantity,
        tuple(ways),
        held=random.random() < 0.2,
        critical=random.random() < 0.3,
        match=random.choice(("", "", "pair")),
    )


def _policy(random: Random, suppliers: tuple[Supplier, ...]) -> Policy:
    return Policy(
        banned_makers=frozenset({"birch"}) if random.random() < 0.1 else frozenset(),
        banned_suppliers=frozenset({suppliers[0].key}) if random.random() < 0.1 else frozenset(),
        sale_or_return=frozenset({suppliers[-1].key}) if random.random() < 0.4 else frozenset(),
        small_order=random.choice((SmallOrder.BARRED, SmallOrder.BARRED, SmallOrder.MADE_UP)),
        back_orders=random.random() < 0.7,
        critical_rank=random.choice((None, None, 3)),
        within_days=random.choice((None, None, None, 4)),
        not_of=random.choice((frozenset(), frozenset(), frozenset({Quality.PATTERN}))),
        not_where_critical=random.choice(
            (frozenset({Quality.USED}), frozenset({Quality.USED, Quality.PATTERN}), frozenset())
        ),
    )
