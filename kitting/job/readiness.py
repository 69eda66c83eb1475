"""Whether a job may be ordered for, and what stands in the way."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from kitting.catalog.rules import Then
from kitting.job.because import Because

if TYPE_CHECKING:
    from collections.abc import Iterator

    from kitting.catalog.family import Family
    from kitting.job.consequences import Demands
    from kitting.job.sizes import Sizes
    from kitting.job.verdicts import Verdicts


class Open(StrEnum):
    """Why a point is open."""

    NOT_LOOKED_AT = "not looked at"
    CHECK_ASKED = "check asked for"
    UNDECIDED = "undecided"
    NO_SIZE = "no size"
    NO_PART = "no part"
    NO_PRICE = "no price"


@dataclass(frozen=True, slots=True)
class OpenPoint:
    """One thing that must be answered before the job is ready to order."""

    why: Open
    where: str
    because: Because


@dataclass(frozen=True, slots=True)
class Readiness:
    """Ready when nothing is open."""

    points: tuple[OpenPoint, ...]

    @property
    def ready(self) -> bool:
        """Whether the job may be ordered for."""
        return not self.points

    @property
    def sentence(self) -> str:
        """Ready or not, in one line."""
        if self.ready:
            return "Ready to order."
        count = len(self.points)
        return f"NOT ready to order: {count} point{'s' if count > 1 else ''} open."


def open_points(
    family: Family, verdicts: Verdicts, demands: Demands, sizes: Sizes
) -> tuple[OpenPoint, ...]:
    """Everything the bench has still to answer, each once, in the order an engine comes apart."""
    found: dict[tuple[str, str], OpenPoint] = {}
    for point in (
        *_unchecked(family, verdicts, demands),
        *_not_looked_at(family, verdicts, demands),
        *_undecided(verdicts, demands),
        *_unsized(sizes),
    ):
        found.setdefault((point.where, "size" if point.why is Open.NO_SIZE else "look"), point)
    return tuple(found.values())


def _unchecked(family: Family, verdicts: Verdicts, demands: Demands) -> Iterator[OpenPoint]:
    for demand in demands.of(Then.CHECK):
        looked = demand.position in verdicts.by_position or demand.position in demands.renewed
        if not looked:
            name = family.position_by_key[demand.position].name
            because = demand.reasons[0]
            yield OpenPoint(Open.CHECK_ASKED, name, because)


def _not_looked_at(family: Family, verdicts: Verdicts, demands: Demands) -> Iterator[OpenPoint]:
    stripped = set(verdicts.bench.stripped)
    for position in family.positions_on(verdicts.bench.job.variant):
        expected = position.must_look and position.assembly in stripped
        answered = position.key in verdicts.by_position or position.key in demands.renewed
        if expected and not answered:
            assembly = family.assembly_by_key[position.assembly].name
            says = f"{assembly} is stripped and {position.name} has no finding"
            yield OpenPoint(Open.NOT_LOOKED_AT, position.name, Because(says))


def _undecided(verdicts: Verdicts, demands: Demands) -> Iterator[OpenPoint]:
    for verdict in verdicts.positions:
        if verdict.position.key not in demands.renewed:
            for because in verdict.undecided:
                yield OpenPoint(Open.UNDECIDED, verdict.position.name, because)


def _unsized(sizes: Sizes) -> Iterator[OpenPoint]:
    for choice in sizes.choices:
        for because in choice.unsettled:
            yield OpenPoint(Open.NO_SIZE, choice.table.name, because)
