"""How long the proof of the cheapest buying plan takes, and what the plan saves.

The markets are random and alike for the same seed: six in ten suppliers offer a part, a quarter of
the lines have other ways, three in twenty offers come in packs, a quarter of the suppliers ask
other money, one offer in ten is scarce, half the suppliers have a least order. The saving is
against what `tests.buying.baselines` spends: all from one supplier, and each line where it is
cheapest.
"""

import time
from decimal import Decimal
from statistics import median

from kitting.buying.planning.demand import Policy
from kitting.buying.planning.plan import make_plan
from tests.buying.baselines import best_single_supplier, line_by_line
from tests.buying.markets import Size, a_market

Row = tuple[str, str, str, str]

ONE_JOB = Size(lines=60, parts=60, suppliers=8, sets=20, breaks=3)
TEN_JOBS = Size(lines=300, jobs=10, parts=200, suppliers=20, sets=60, breaks=3)
# Each part stands in three sets and on three lines of several jobs: about as tangled as can be.
TANGLED = Size(lines=300, jobs=10, parts=120, suppliers=20, sets=60, breaks=3)
KIT = Size(
    lines=20, parts=24, suppliers=5, sets=4, breaks=2, offered=90, foreign=20, scarce=0,
    least_orders=20, shelf=3, matched=0,
)  # fmt: skip


def measure(markets: int = 10, kits: int = 200) -> list[Row]:
    """Plan random markets; returns (name, figure, unit, note) of each finding."""
    return [
        *_proofs("60 lines, 8 suppliers, 3 breaks, 20 sets", ONE_JOB, markets),
        *_proofs("300 lines of 10 jobs, 20 suppliers, 60 sets", TEN_JOBS, max(1, markets // 5)),
        *_proofs("the same, with 120 parts in all", TANGLED, max(1, markets // 5)),
        *_savings(kits),
    ]


def _proofs(name: str, size: Size, markets: int) -> list[Row]:
    seconds, gaps, proved = [], [], 0
    for seed in range(markets):
        problem = a_market(seed, size, Policy(time_limit=20))
        start = time.perf_counter()
        plan = make_plan(problem)
        seconds.append(time.perf_counter() - start)
        gaps.append(plan.proof.gap)
        proved += plan.proof.proved
    told = f"{proved} of {markets} proved, the rest stopped after 20 s"
    return [
        (f"{name}: time, median", f"{median(seconds):.2f}", "s", told),
        (f"{name}: time, longest", f"{max(seconds):.2f}", "s", "one thread"),
        (f"{name}: largest gap", f"{max(gaps)}", "%", "nothing where proved"),
    ]


def _savings(kits: int) -> list[Row]:
    single: list[Decimal] = []
    apart: list[Decimal] = []
    dearer = 0
    for seed in range(kits):
        problem = a_market(seed, KIT)
        total = make_plan(problem).total
        for other, savings in (
            (best_single_supplier(problem), single),
            (line_by_line(problem), apart),
        ):
            if other is not None:
                savings.append(100 * (1 - total / other))
                dearer += total > other
    return [
        (
            "saving against the best single supplier, median",
            f"{median(single):.1f}",
            "%",
            f"of {len(single)} kits that one supplier has whole",
        ),
        (
            "saving against each line at its cheapest, median",
            f"{median(apart):.1f}",
            "%",
            f"of {len(apart)} kits that can be bought so",
        ),
        ("plans dearer than either", str(dearer), "plans", f"of {kits} random kits of 20 lines"),
    ]
