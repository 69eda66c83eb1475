"""The shop's own hours: each row of the family's times, where the job does what it times."""

from __future__ import annotations

from collections import defaultdict
from decimal import Decimal
from typing import TYPE_CHECKING

from kitting.catalog.model import Verdict
from kitting.catalog.rules import Then

if TYPE_CHECKING:
    from kitting.catalog.family import Family
    from kitting.job.consequences import Demands
    from kitting.job.verdicts import Verdicts

_BY_ASSEMBLY = ("strip", "clean", "build")


def labour_hours(family: Family, verdicts: Verdicts, demands: Demands) -> dict[str, Decimal]:
    """Return the hours of each assembly's stage, in strip order, without stages of no hours.

    Times of stripping, cleaning and building count once for each stripped assembly that they
    name; times of renewing, reworking and checking once for each position that is.
    """
    variant = verdicts.bench.job.variant
    stripped = set(verdicts.bench.stripped)
    touched = {
        "renew": set(demands.renewed),
        "rework": {v.position.key for v in verdicts.positions if v.verdict is Verdict.REWORK},
        "check": {d.position for d in demands.of(Then.CHECK)},
    }
    hours: dict[str, Decimal] = defaultdict(Decimal)
    for row in family.labour:
        for position in family.aimed_at(row.of, variant):
            if position.key in touched.get(row.action, ()):
                hours[position.assembly] += row.hours
        if row.action in _BY_ASSEMBLY and row.of.sort == "assembly" and row.of.key in stripped:
            hours[row.of.key] += row.hours
    ordered = sorted(family.assemblies, key=lambda assembly: assembly.sequence)
    return {a.name: hours[a.key] for a in ordered if hours[a.key]}
