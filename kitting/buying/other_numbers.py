"""The numbers that may be bought in the place of what an order's line asks for, and how many.

Only what serves alone is one, without work and with nothing to buy beside. Sets, several numbers
together and what takes work are for the buying plan, which weighs the whole kit.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING

from kitting.buying.substitutes import measure_of, serving
from kitting.job.pricing import unsound_for

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from datetime import date

    from kitting.buying.orders import LineFor, OrderLine
    from kitting.catalog.family import Family
    from kitting.catalog.model import PartNumber
    from kitting.catalog.trade import Quality
    from kitting.job.findings import Job


@dataclass(frozen=True, slots=True)
class OtherNumber:
    """A number that would do: `measure` of it for one of what was ordered."""

    part: PartNumber
    measure: Fraction = Fraction(1)

    def pieces(self, ordered: int) -> int:
        """How many take the place of so many as were ordered; 1 or more for 1 or more."""
        return -(-ordered * self.measure.numerator // self.measure.denominator)


def numbers_for(
    line: OrderLine, families: Mapping[str, Family], jobs: Iterable[Job], day: date
) -> tuple[OtherNumber, ...]:
    """Return the number ordered, then every other that does in all the places of a line.

    Where parts are matched, only those of the same maker. What a set brings has no other number.

    Args:
        line: the line of the order.
        families: the edition of each of its jobs' families, by job number.
        jobs: those jobs.
        day: when the rest would be bought.
    """
    own = OtherNumber(line.part)
    job_by_number = {job.number: job for job in jobs}
    needs = [need for need in line.needed_by if need.job in families]
    if not needs or any(need.in_set for need in needs):
        return (own,)
    found: list[frozenset[PartNumber]] = []
    for need in needs:
        family, job = families[need.job], job_by_number[need.job]
        meant = replace(need, stands_for=need.stands_for or line.part)
        alike = serving(family, job, meant, day)
        if _is_matched(family, need):
            alike = frozenset(part for part in alike if part.maker == line.part.maker)
        found.append(alike)
    others = frozenset.intersection(*found) - {line.part}
    measured = (_measured(line, part, needs, families, job_by_number, day) for part in others)
    return (own, *sorted((each for each in measured if each is not None), key=_part))


def barred_for(line: OrderLine, families: Mapping[str, Family]) -> frozenset[Quality]:
    """The qualities that are not bought for a line's places."""
    needs = (need for need in line.needed_by if need.job in families)
    return frozenset().union(*(unsound_for(families[n.job], n.positions) for n in needs))


def _is_matched(family: Family, need: LineFor) -> bool:
    positions = (family.position_by_key.get(key) for key in need.positions)
    return any(position is not None and position.matched for position in positions)


def _measured(
    line: OrderLine,
    part: PartNumber,
    needs: Iterable[LineFor],
    families: Mapping[str, Family],
    jobs: Mapping[str, Job],
    day: date,
) -> OtherNumber | None:
    """By two needs the more of it; None where one cannot tell."""
    measures = [
        measure_of(families[need.job], jobs[need.job], need, line.part, part, day) for need in needs
    ]
    known = [measure for measure in measures if measure is not None]
    return OtherNumber(part, max(known)) if len(known) == len(measures) else None


def _part(other: OtherNumber) -> PartNumber:
    return other.part
