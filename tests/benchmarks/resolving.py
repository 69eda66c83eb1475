"""Supersession and interchange among a million parts: one part, and a kit of 300 lines at once."""

import random
from collections.abc import Iterator
from datetime import date

from kitting.catalog.model import PartNumber
from kitting.catalog.resolver import resolve
from kitting.catalog.ways import Need, Resolution
from kitting.store.links import Links
from tests.benchmarks.rows import Row, least, middle_and_tail, milliseconds
from tests.benchmarks.trade import big_trade, linked_numbers

_DAY = date(2026, 11, 25)
_KIT = 300


def rows(parts: int, few: int = 10_000) -> Iterator[Row]:
    """Resolve in a trade of so many parts and in one of few."""
    small, _ = _one(few)
    one, tail = _one(parts)
    yield Row("resolve one part, median", one, "ms", 1, f"95 % within {tail:.2f} ms; one statement")
    yield Row(f"the same beside {few:,} parts", one / small, "×", 1.5, f"there {small:.2f} ms")
    kit, problems = _kit(parts)
    yield Row(f"resolve a kit of {_KIT} lines in one go", kit, "ms", 100, problems)


def _one(parts: int) -> tuple[float, float]:
    trade = big_trade(parts)
    database = trade.database
    numbers = linked_numbers(trade, 1000)
    try:
        with database.read() as work:
            links = work.links

            def one(part: PartNumber) -> Resolution:
                return resolve(Need(part), links.subgraph(part), _DAY)

            milliseconds(one, numbers[:100])
            return middle_and_tail(milliseconds(one, numbers))
    finally:
        database.close()


def _kit(parts: int) -> tuple[float, str]:
    trade = big_trade(parts)
    database = trade.database
    numbers = linked_numbers(trade, 20 * _KIT)
    random.Random(3).shuffle(numbers)
    kits = [numbers[at : at + _KIT] for at in range(0, len(numbers), _KIT)]
    try:
        with database.read() as work:
            taken = sorted(least(lambda kit: _resolved(work.links, kit), kit, 3) for kit in kits)
            found = _resolved(work.links, kits[0])
            median, tail = middle_and_tail(taken)
    finally:
        database.close()
    others = sum(bool(each.problems) for each in found)
    note = (
        f"{len(kits)} kits, each the least of 3; 95 % within {tail:.0f} ms; "
        f"of one kit {others} lines are in loops or torn, and told"
    )
    return median, note


def _resolved(links: Links, kit: list[PartNumber]) -> list[Resolution]:
    graphs = links.subgraphs(kit)
    return [resolve(Need(part), graphs[part], _DAY) for part in kit]
