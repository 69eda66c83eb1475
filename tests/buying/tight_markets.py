"""Small markets in which a pack more or less decides: the terms lie near what the orders come to.

Breaks may make many packs cheaper than a few, or a few more only dearer; a maker may be preferred,
small orders may be made up.
"""

from dataclasses import replace
from decimal import Decimal
from random import Random

from kitting.buying.planning.demand import LineWay, PlanLine, PlanProblem, Policy, SmallOrder
from kitting.catalog.model import PartNumber
from kitting.catalog.trade import Offer, Supplier
from tests.buying.markets import DAY, RATES, a_line, a_supplier, an_offer, part_of

_PENNY = Decimal("0.01")
# A pack costs no less and no term is above, so that few packs will reach every term.
_LEAST, _MOST = Decimal(2), Decimal(30)


def a_tight_market(seed: int) -> PlanProblem:
    """Up to two parts, two suppliers and three offers."""
    random = Random(seed)
    parts = [part_of(n, random.choice(("ash", "birch"))) for n in range(random.randint(1, 2))]
    lines = tuple(_line(random, parts, n) for n in range(random.randint(1, 2)))
    keys = ("north", "south")[: random.randint(1, 2)]
    currency = {key: random.choice(("GBP", "GBP", "GBP", "EUR")) for key in keys}
    asked = [(parts[0], keys[0]), (parts[-1], keys[-1]), (parts[-1], keys[0])]
    offers = tuple(
        _offer(random, part, key, currency[key])
        for part, key in dict.fromkeys(asked[: random.randint(1, 3)])
    )
    return PlanProblem(
        day=DAY,
        currency="GBP",
        lines=lines,
        offers=offers,
        suppliers=tuple(_supplier(random, key, currency[key], lines, offers) for key in keys),
        rates=RATES,
        policy=Policy(
            preferred_maker=random.choice(("", "ash")),
            premium=Decimal(random.choice((5, 20))),
            sale_or_return=frozenset(keys[:1]) if random.random() < 0.3 else frozenset(),
            small_order=random.choice(list(SmallOrder)),
        ),
    )


def _line(random: Random, parts: list[PartNumber], number: int) -> PlanLine:
    quantity = random.randint(1, 4)
    line = a_line(str(number), (random.choice(parts), quantity), held=random.random() < 0.15)
    if random.random() < 0.3:
        other = LineWay(((random.choice(parts), quantity),), "either way", 1)
        return replace(line, ways=(*line.ways, other))
    return line


def _offer(random: Random, part: PartNumber, supplier: str, currency: str) -> Offer:
    packs, asked = 1, Decimal(random.randint(250, 1000)) / 100
    first, breaks = asked, []
    for _ in range(random.randint(0, 3)):
        packs += random.randint(1, 3)
        asked = max(_LEAST, (asked * random.randint(60, 101) / 100).quantize(_PENNY))
        breaks.append((packs, str(asked)))
    return an_offer(
        supplier,
        part,
        str(first),
        pack=random.choice((1, 1, 1, 2)),
        breaks=tuple(breaks),
        currency=currency,
        stock=random.choice((None, None, None, 3, 6)),
    )


def _supplier(
    random: Random, key: str, currency: str, lines: tuple[PlanLine, ...], offers: tuple[Offer, ...]
) -> Supplier:
    """Terms that an order for about what is needed just reaches, or just misses."""

    def near() -> str:
        basket = Decimal(random.randint(-150, 150)) / 100
        for offer in offers:
            if offer.supplier == key and random.random() < 0.8:
                packs = sum(line.quantity for line in lines) + random.randint(-2, 3)
                basket += offer.pack_price(max(1, packs)) * max(1, packs)
        return str(min(max(Decimal(1), basket), _MOST))

    return a_supplier(
        key,
        f"{random.randint(0, 900) / 100:.2f}",
        free_over=near() if random.random() < 0.7 else "",
        least=near() if random.random() < 0.6 else "0",
        currency=currency,
    )
