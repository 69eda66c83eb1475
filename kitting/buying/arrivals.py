"""Parts whose size matters, measured as they arrive, against their own drawing.

Shells, bushes, springs, shims, rings: whatever position follows a size table, or has a wall, a
thickness, a rate or a length on its drawing. The limits are those of a new part, never those of
wear, and the rule is that of the strip: ISO 14253-1, with the instrument's own uncertainty. A new
part that is proven outside its drawing is the wrong part.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from kitting.catalog.model import Feature, Verdict
from kitting.errors import BadInput, Problem, Problems
from kitting.job.assess import Assessment, State, assess
from kitting.job.findings import Reading
from kitting.measure import parse_quantity

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from kitting.buying.orders import OrderLine
    from kitting.catalog.family import Family
    from kitting.catalog.model import Grade, Position, SizeTable
    from kitting.job.settings import Settings

_TELLING = frozenset({"wall", "thickness", "rate", "length", "width", "load"})
# Of many alike, so many are measured.
_MOST_OF_A_PART = 1_000_000
_MOST_PIECES = 8


@dataclass(frozen=True, slots=True)
class Check:
    """One thing to measure of an order line as it arrives; `feature` holds the drawing's limits."""

    key: str
    feature: Feature

    @property
    def places(self) -> tuple[tuple[str, str], ...]:
        """Station and direction of each figure that is wanted."""
        return tuple(
            (station, direction)
            for station in self.feature.stations or ("",)
            for direction in self.feature.directions or ("",)
        )

    @property
    def limits_text(self) -> str:
        """The drawing's limits in words."""
        low, high = self.feature.low, self.feature.high
        if low is None:
            return f"at most {high}"
        return f"{low} to {high}" if high is not None else f"at least {low}"


@dataclass(frozen=True, slots=True)
class Arrival:
    """What the figures prove of one line: the worst of its checks; `missing` are not measured."""

    verdict: Verdict | None
    assessments: tuple[Assessment, ...]
    missing: tuple[str, ...]

    @property
    def word(self) -> str:
        """The verdict in a word."""
        if self.verdict is Verdict.REUSE:
            return "good"
        return str(self.verdict) if self.verdict else "not measured"


def checks_of(families: Mapping[str, Family], line: OrderLine) -> tuple[Check, ...]:
    """What to measure of a line; `families` are the editions of its jobs, by job number.

    Positions of one size have one drawing between them.
    """
    found: dict[tuple[object, ...], Feature] = {}
    for need in line.needed_by:
        family = families.get(need.job)
        for key in need.positions if family else ():
            position = family.position_by_key.get(key) if family else None
            if family and position:
                for feature in _drawing(family, position, need.grade, line.quantity):
                    same = (feature.kind, feature.low, feature.high, feature.unit.symbol)
                    found.setdefault(same, feature)
    kinds = [feature.kind for feature in found.values()]
    return tuple(
        Check(feature.kind if kinds.count(feature.kind) == 1 else feature.key, feature)
        for feature in found.values()
    )


def _drawing(family: Family, position: Position, grade_key: str, pieces: int) -> Iterable[Feature]:
    table = family.table_by_key.get(position.sized_by) if position.sized_by else None
    if table is not None and grade_key in {grade.key for grade in table.grades}:
        wall = _wall(table, table.grade(grade_key), position, pieces)
        if wall is not None:
            yield wall
    for feature in family.features_of.get(position.key, ()):
        if _on_the_part(feature):
            yield replace(
                feature,
                stations=feature.stations if len(feature.stations) >= pieces else _numbered(pieces),
                ovality=None,
                taper=None,
                part_tells=True,
            )


def _on_the_part(feature: Feature) -> bool:
    """Whether it is a figure of the part itself, with limits for a new one.

    The outside of a bush goes with its journal; other diameters and bores are finished when fitted.
    """
    limited = feature.low is not None or feature.high is not None
    in_hand = feature.kind == "diameter" and bool(feature.goes_with)
    told = feature.kind in _TELLING or in_hand
    return told and limited and not (feature.scores or feature.size_table)


def _wall(table: SizeTable, grade: Grade, position: Position, pieces: int) -> Feature | None:
    """The wall of a shell or bush of this grade, as a thing to measure."""
    if grade.wall_low is None or grade.wall_high is None:
        return None
    return Feature(
        key=f"{position.key}-wall",
        position=position.key,
        name=f"wall, {grade.name}",
        kind="wall",
        unit=table.unit,
        low=grade.wall_low,
        high=grade.wall_high,
        wear_low=None,
        wear_high=None,
        ovality=None,
        taper=None,
        size_table="",
        stations=_numbered(pieces),
        directions=(),
        instrument="micrometer",
        if_out=Verdict.WRONG_PART,
        operation="",
        source=f"{table.source}, {grade.name}",
        part_tells=True,
    )


def _numbered(pieces: int) -> tuple[str, ...]:
    return tuple(str(at) for at in range(1, min(pieces, _MOST_PIECES) + 1)) if pieces > 1 else ()


def judge_arrival(
    family: Family, checks: Iterable[Check], readings: Iterable[Reading], settings: Settings
) -> Arrival:
    """Hold what was measured against the drawing, and say what follows for the line's pieces."""
    taken = tuple(readings)
    assessments = []
    missing = []
    for check in checks:
        mine = tuple(reading for reading in taken if reading.feature == check.key)
        found = assess(family, check.feature, mine, settings)
        assessments.append(found)
        if found.missing:
            missing.append(check.feature.name)
    return Arrival(_worst(assessments, missing), tuple(assessments), tuple(missing))


def _worst(assessments: Iterable[Assessment], missing: Iterable[str]) -> Verdict | None:
    states = {each.state for each in assessments}
    if State.BAD in states:
        return Verdict.WRONG_PART
    if State.UNDECIDED in states:
        return Verdict.RECHECK
    if states == {State.GOOD} and not tuple(missing):
        return Verdict.REUSE
    return None


def reading_of(checks: Iterable[Check], text: str, instrument: str = "") -> Reading:
    """Understand 'wall 1 = .0609' (a check, a place where there are several, a figure).

    Raises:
        BadInput: no such check or place, or no figure.
    """
    named, equals, figure = (piece.strip() for piece in text.partition("="))
    by_key = {check.key: check for check in checks}
    check = next((c for key, c in by_key.items() if named.casefold() == key.casefold()), None)
    place = ""
    if check is None:
        name, _, place = named.rpartition(" ")
        check = by_key.get(name.strip())
    if check is None or not equals:
        known = ", ".join(f"'{_example(each)}'" for each in by_key.values())
        raise BadInput(
            Problem("", f"'{text}' is no figure of this line", known or "nothing is measured of it")
        )
    return placed_reading(check, place, figure, instrument)


def placed_reading(check: Check, place: str, figure: str, instrument: str = "") -> Reading:
    """A figure at a place ('1', or '1 90' with a direction) of a check.

    Raises:
        BadInput: no such place, no figure, or a figure of another dimension.
    """
    places = {" ".join(filter(None, each)): each for each in check.places}
    if place not in places:
        raise BadInput(
            Problem("", f"'{place}' is no place of {check.key}", f"one of {', '.join(places)}")
        )
    value = parse_quantity(figure, check.feature.unit)
    if abs(value.value) >= _MOST_OF_A_PART:
        raise BadInput(
            Problem(
                "",
                f"'{figure}' is larger than anything measured on a part",
                f"its drawing says {check.limits_text}",
            )
        )
    station, direction = places[place]
    return Reading(check.key, station, direction, figure, value, instrument)


def join_readings(before: Iterable[Reading], after: Iterable[Reading]) -> tuple[Reading, ...]:
    """The readings of a line, a later one in the place of an earlier one at the same place."""
    kept = {(r.feature, r.station, r.direction): r for r in before}
    kept.update({(r.feature, r.station, r.direction): r for r in after})
    return tuple(kept.values())


def readings_of(checks: Iterable[Check], texts: Iterable[str]) -> tuple[Reading, ...]:
    """Understand several figures.

    Raises:
        BadInput: with each that cannot be understood.
    """
    known = tuple(checks)
    problems = Problems()
    readings = []
    for text in texts:
        with problems.at(f"'{text}'"):
            readings.append(reading_of(known, text))
    problems.raise_if_any()
    return join_readings((), readings)


def _example(check: Check) -> str:
    place = " ".join(filter(None, check.places[0]))
    name = f"{check.key} {place}" if place else check.key
    return f"{name} = {check.feature.low or check.feature.high}"
