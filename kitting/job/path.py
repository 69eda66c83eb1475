"""The path of a job, walked in one go: findings → verdicts → sizes → kit → estimate."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from kitting.job.consequences import Demands, follow
from kitting.job.estimate import Estimate, make_estimate
from kitting.job.hand import NOTHING_YET, Hand
from kitting.job.kit import Kit, make_kit
from kitting.job.pricing import Market
from kitting.job.settings import Settings
from kitting.job.sizes import Sizes, choose_sizes
from kitting.job.sourcing import Sourcing
from kitting.job.verdicts import Verdicts, judge

if TYPE_CHECKING:
    from datetime import date

    from kitting.catalog.family import Family
    from kitting.catalog.trade import Trade
    from kitting.job.findings import Bench


@dataclass(frozen=True)
class JobPath:
    """Every stage of one job on one day; `hand` is what of it is in the shop already."""

    family: Family
    trade: Trade
    bench: Bench
    day: date
    verdicts: Verdicts
    demands: Demands
    sizes: Sizes
    kit: Kit
    estimate: Estimate
    hand: Hand = NOTHING_YET


def walk(
    family: Family, trade: Trade, bench: Bench, day: date, hand: Hand = NOTHING_YET
) -> JobPath:
    """Take a job from its findings to its estimate, as of `day`."""
    settings = Settings.of_shop(trade.shop)
    sourcing = Sourcing(family, bench.job, Market(trade, day))
    verdicts = judge(family, bench, settings)
    demands = follow(family, verdicts)
    sizes = choose_sizes(family, verdicts, demands, settings, sourcing.obtainable)
    kit = make_kit(family, verdicts, demands, sizes, sourcing)
    estimate = make_estimate(family, verdicts, demands, kit, trade, day)
    return JobPath(family, trade, bench, day, verdicts, demands, sizes, kit, estimate, hand)
