"""The band to finish each machined journal or bore to, so that what it runs in has its clearance.

Worked backwards from the housing bolted up and the shells in hand, or from the piston in hand,
wherever the bench measured them; by drawing where it did not. Each target says which.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from kitting.catalog.size_tables import SizeKind
from kitting.engineering.band import Band
from kitting.engineering.clearance import ShellBearing, band_to_grind, oil_clearance
from kitting.errors import BadInput
from kitting.job.because import Because
from kitting.job.known_sizes import BenchSizes, KnownSize, bore_for, by_drawing, inward
from kitting.job.size_choice import Basis, SizeChoice

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from kitting.catalog.model import Feature
    from kitting.catalog.size_tables import Grade, SizeTable

_WALLS = ("upper", "lower")


class RestsOn(StrEnum):
    """What a target was worked from."""

    IN_HAND = "measured in hand"
    PARTLY = "partly measured, the rest by drawing"
    DRAWING = "drawings alone"


@dataclass(frozen=True, slots=True)
class FinishTarget:
    """What one journal or bore is finished to at one grade.

    `band` gives the clearance `gives` with every bearing that it `rests_on`; `gives` is None where
    nothing tells what runs there. `wanted` is the family's clearance. `notes` are what the
    machinist must know beside it.
    """

    table: SizeTable
    feature: Feature
    grade: Grade
    band: Band
    gives: Band | None
    wanted: Band | None
    rests_on: RestsOn
    bearing: ShellBearing | None
    notes: tuple[str, ...]
    because: Because


def set_targets(choices: Iterable[SizeChoice], bench: BenchSizes) -> tuple[FinishTarget, ...]:
    """Return the targets of everything that is machined, likely and worst."""
    return tuple(target for choice in choices for target in _targets(choice, bench))


def _targets(choice: SizeChoice, bench: BenchSizes) -> Iterator[FinishTarget]:
    if choice.basis is not Basis.MACHINED or choice.machined is None:
        return
    for machined in choice.machined.features:
        for grade in dict.fromkeys((choice.likely, choice.worst)):
            if grade is not None and grade.finish_low is not None and grade.finish_high is not None:
                finished = Band(grade.finish_low, grade.finish_high)
                yield _target(choice.table, machined.feature, grade, finished, bench)


def _target(
    table: SizeTable, feature: Feature, grade: Grade, finished: Band, bench: BenchSizes
) -> FinishTarget:
    wanted = clearance_wanted(table, grade)
    if wanted is not None and table.kind is SizeKind.BORE:
        return _to_the_piston(table, feature, grade, finished, wanted, bench)
    if wanted is not None and _wall(grade) is not None:
        return _to_the_shells(table, feature, grade, finished, wanted, bench)
    drawn = by_drawing(f"{feature.name} at {grade.name}", finished.low, finished.high, table.source)
    notes = ("the bush is reamed to suit it afterwards",) if grade.lined_low is not None else ()
    gives = wanted if grade.lined_low is not None else None
    return FinishTarget(
        table, feature, grade, finished, gives, wanted, RestsOn.DRAWING, None, notes, drawn.because
    )


def clearance_wanted(table: SizeTable, grade: Grade) -> Band | None:
    """The grade's clearance as printed, else the table's, else None."""
    for low, high in (
        (grade.clearance_low, grade.clearance_high),
        (table.clearance_low, table.clearance_high),
    ):
        if low is not None and high is not None:
            return Band(low, high)
    return None


def _wall(grade: Grade) -> Band | None:
    if grade.wall_low is None or grade.wall_high is None:
        return None
    return Band(grade.wall_low, grade.wall_high)


def _to_the_shells(
    table: SizeTable,
    feature: Feature,
    grade: Grade,
    finished: Band,
    wanted: Band,
    bench: BenchSizes,
) -> FinishTarget:
    housing = _housing(table, feature, bench)
    walls, notes = _walls(table, feature, grade, bench)
    if housing is None:
        drawn = by_drawing(feature.name, finished.low, finished.high, table.source)
        return FinishTarget(
            table, feature, grade, finished, None, wanted, RestsOn.DRAWING, None, notes,
            drawn.because,
        )  # fmt: skip
    known = (housing, *walls)
    rests_on = _rests_on(known)
    bearing, band, more = None, finished, tuple[str, ...]()
    try:
        bearing = ShellBearing(housing.band, walls[0].band, walls[1].band)
        found = band_to_grind(bearing, wanted, finished)
    except BadInput as error:
        more = tuple(f"{problem.wrong}: {problem.right}" for problem in error.problems)
    else:
        band, more = inward(found.band, table.unit), found.notes
        if rests_on is RestsOn.DRAWING:
            band, more = _within(band, finished), ()
    gives = oil_clearance(bearing, band) if bearing is not None else None
    says = (
        f"{feature.name} at {grade.name}: finish to {band}, which gives {gives or 'no such fit'} "
        f"where {wanted} is wanted ({rests_on})"
    )
    because = Because(says, table.source, after=tuple(dict.fromkeys(k.because for k in known)))
    return FinishTarget(
        table, feature, grade, band, gives, wanted, rests_on, bearing, (*notes, *more), because
    )


def _rests_on(known: Iterable[KnownSize]) -> RestsOn:
    measured = {each.measured for each in known}
    if measured == {True}:
        return RestsOn.IN_HAND
    return RestsOn.PARTLY if True in measured else RestsOn.DRAWING


def _within(band: Band, finished: Band) -> Band:
    """By drawing alone the grade's own limits stand: what of the band lies in them."""
    low, high = max(band.low, finished.low), min(band.high, finished.high)
    return Band(low, high) if low <= high else finished


def _housing(table: SizeTable, feature: Feature, bench: BenchSizes) -> KnownSize | None:
    bore = bench.going_with(feature, "bore")
    measured = bench.measured(bore) if bore else None
    if measured is not None:
        return measured
    if table.housing_low is None or table.housing_high is None:
        return None
    name = bore.name if bore else f"housing of {feature.name}"
    return by_drawing(name, table.housing_low, table.housing_high, table.source)


def _walls(
    table: SizeTable, feature: Feature, grade: Grade, bench: BenchSizes
) -> tuple[tuple[KnownSize, KnownSize], tuple[str, ...]]:
    """The two half shells' walls, measured where those in hand are of this grade."""
    drawing = _wall(grade)
    if drawing is None:
        raise ValueError(f"{grade.name} of {table.key} has no shells")
    drawn = by_drawing(
        f"shell wall, {grade.name}", drawing.low, drawing.high, f"{table.source}, {grade.name}"
    )
    shell = bench.going_with(feature, "thickness")
    if shell is None:
        return (drawn, drawn), ()
    found: list[KnownSize] = []
    notes: list[str] = []
    stations = _WALLS if set(shell.stations) >= set(_WALLS) else ("", "")
    for station in stations:
        measured = bench.measured(shell, station)
        of = _grade_of_wall(table, measured.band) if measured else None
        if measured is not None and of is not None and of.key == grade.key:
            found.append(measured)
            continue
        found.append(drawn)
        if measured is not None and of is not None:
            notes.append(
                f"the shells measured ({measured.band.middle}) are {of.name}: not counted here"
            )
    return (found[0], found[1]), tuple(dict.fromkeys(notes))


def _grade_of_wall(table: SizeTable, wall: Band) -> Grade | None:
    """The grade whose wall lies nearest to one that was measured."""
    walls = [(band, grade) for grade in table.grades if (band := _wall(grade)) is not None]
    if not walls:
        return None
    return min(walls, key=lambda each: abs(each[0].middle - wall.middle))[1]


def _to_the_piston(
    table: SizeTable,
    feature: Feature,
    grade: Grade,
    finished: Band,
    wanted: Band,
    bench: BenchSizes,
) -> FinishTarget:
    skirt = bench.going_with(feature, "diameter")
    piston = bench.measured(skirt) if skirt else None
    drawn = by_drawing(f"{feature.name} at {grade.name}", finished.low, finished.high, table.source)
    notes: list[str] = []
    if piston is not None and not _is_of_grade(table, grade, piston.band, wanted):
        notes.append(f"the piston measured ({piston.band.middle}) is of another size: not counted")
        piston = None
    if piston is None:
        notes.append("measure the pistons in hand, and bore to them")
        return FinishTarget(
            table, feature, grade, finished, None, wanted, RestsOn.DRAWING, None, tuple(notes),
            drawn.because,
        )  # fmt: skip
    band = finished
    try:
        band = bore_for(piston.band, wanted, table.unit)
    except BadInput as error:
        notes.extend(f"{problem.wrong}: {problem.right}" for problem in error.problems)
    else:
        if not finished.holds(band):
            notes.append(f"part of the band lies outside the grade's finished limits {finished}")
    gives = Band(band.low - piston.band.high, band.high - piston.band.low)
    says = (
        f"{feature.name} at {grade.name}: bore and hone to {band}, which gives {gives} where "
        f"{wanted} is wanted ({RestsOn.IN_HAND})"
    )
    because = Because(says, table.source, after=(piston.because,))
    return FinishTarget(
        table, feature, grade, band, gives, wanted, RestsOn.IN_HAND, None, tuple(notes), because
    )


def _is_of_grade(table: SizeTable, grade: Grade, piston: Band, wanted: Band) -> bool:
    """Whether a piston belongs to the grade: its bore lies nearest to that grade's."""
    bore = piston.middle + wanted.middle
    bands = [
        (Band(each.finish_low, each.finish_high), each.key)
        for each in table.machined
        if each.finish_low is not None and each.finish_high is not None
    ]
    return min(bands, key=lambda each: abs(each[0].middle - bore))[1] == grade.key
