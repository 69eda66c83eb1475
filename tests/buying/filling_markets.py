"""Small markets in which it pays to fill an order up: with what a line might have taken but does
not, with a set that nothing is taken out of, with a part that is bought elsewhere already."""

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
from kitting.catalog.trade import Offer, Quality
from tests.buying.markets import DAY, a_line, a_supplier, an_offer, part_of

_OWN, _OTHER, _SET = part_of(0), part_of(1), part_of("set")


def a_filling_market(seed: int) -> PlanProblem:
    """One or two lines that take either of two parts, a set, two suppliers, no topping up."""
    random = Random(seed)
    sold = [("north", _OWN), ("north", _OTHER), ("north", _SET), ("south", _OWN), ("south", _OTHER)]
    asked = random.sample(sold, random.randint(2, 4))
    brings = random.choice((((_OWN, 1), (_OTHER, 1)), ((_OWN, 2),), ((_OWN, 1), (part_of(9), 1))))
    return PlanProblem(
        day=DAY,
        currency="GBP",
        lines=tuple(_line(random, str(n)) for n in range(random.randint(1, 2))),
        offers=tuple(_offer(random, *each) for each in asked),
        suppliers=(
            a_supplier(
                "north",
                f"{random.randint(300, 600) / 100:.2f}",
                free_over=random.choice(("4", "5", "6", "7")),
                least=random.choice(("0", "0", "0", "4")),
            ),
            a_supplier("south", f"{random.randint(0, 400) / 100:.2f}"),
        ),
        rates={},
        sets=(PlanSet(_SET, brings),),
        shelf=(ShelfStock(_OWN, 1, Decimal("0.50")),) if random.random() < 0.2 else (),
        policy=Policy(
            top_up=False,
            small_order=random.choice((SmallOrder.BARRED, SmallOrder.BARRED, SmallOrder.MADE_UP)),
        ),
    )


def _line(random: Random, key: str) -> PlanLine:
    count = random.randint(1, 2)
    line = replace(a_line(key, (_OWN, count)), critical=random.random() < 0.3)
    other = LineWay(((_OTHER, count),), "either way", 1)
    return replace(line, ways=(*line.ways, other)) if random.random() < 0.7 else line


def _offer(random: Random, supplier: str, part: PartNumber) -> Offer:
    price = random.randint(100, 300)
    breaks = (
        ((2, f"{price * random.randint(40, 95) / 10000:.2f}"),) if random.random() < 0.3 else ()
    )
    offer = an_offer(
        supplier, part, f"{price / 100:.2f}", pack=random.choice((1, 1, 2)), breaks=breaks
    )
    used = random.random() < 0.2
    return replace(offer, quality=Quality.USED) if used else offer
