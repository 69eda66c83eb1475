"""One feature against its limits: proven good, proven bad, undecided, or not measured."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from kitting.catalog.model import Verdict
from kitting.job.because import Because
from kitting.job.deciders import how_to_decide
from kitting.job.present import present_grade
from kitting.measure import Decision, Limits, decide
from kitting.measure.journal import StationReading, measure_form

if TYPE_CHECKING:
    from kitting.catalog.family import Family
    from kitting.catalog.model import Feature
    from kitting.job.findings import Reading
    from kitting.job.settings import Settings
    from kitting.measure import Quantity


class State(StrEnum):
    """What the readings prove of a feature."""

    GOOD = "good"
    BAD = "bad"
    UNDECIDED = "undecided"
    NOT_MEASURED = "not measured"


@dataclass(frozen=True, slots=True)
class Comparison:
    """One figure held against one limit; `against` is size, ovality or taper.

    `decide_by` says what would settle it where it is too near to call.
    """

    what: str
    against: str
    value: Quantity
    limits: Limits
    uncertainty: Quantity
    decision: Decision
    source: str
    decide_by: str = ""

    def because(self) -> Because:
        """The sentence: the figure, its limit, and what that proves."""
        reads = {
            Decision.GOOD: "inside",
            Decision.BAD: "outside",
            Decision.UNDECIDED: f"too near to call (U {self.uncertainty}) of",
        }[self.decision]
        says = f"{self.what} {self.value}, {reads} {self.limits}"
        if self.decide_by:
            says += f"; {self.decide_by}"
        return Because(says, source=self.source)

    @property
    def margin(self) -> Quantity:
        """How far the figure is from its nearest limit."""
        return abs(_nearest(self.limits, self.value) - self.value)


@dataclass(frozen=True, slots=True)
class Assessment:
    """What was proven of one feature, and the verdict that follows from it."""

    feature: Feature
    state: State
    verdict: Verdict
    tests: tuple[Comparison, ...]
    missing: int

    @property
    def telling(self) -> tuple[Comparison, ...]:
        """The comparisons that made the state what it is; of good ones the nearest to each."""
        if self.state is State.GOOD:
            nearest: dict[str, Comparison] = {}
            for test in sorted(self.tests, key=lambda test: test.margin):
                nearest.setdefault(test.against, test)
            return tuple(nearest.values())
        wanted = Decision.BAD if self.state is State.BAD else Decision.UNDECIDED
        return tuple(test for test in self.tests if test.decision is wanted)


def assess(
    family: Family, feature: Feature, readings: tuple[Reading, ...], settings: Settings
) -> Assessment:
    """Hold the readings of one feature against its limits of use.

    A feature with a size table is held against the limits of its *present* grade. Ovality and
    taper are held against the feature's own. Near a limit the reading's uncertainty decides
    (ISO 14253-1).
    """
    planned = max(1, len(feature.stations)) * max(1, len(feature.directions))
    missing = planned - len({(reading.station, reading.direction) for reading in readings})
    if not readings:
        return Assessment(feature, State.NOT_MEASURED, Verdict.RECHECK, (), planned)
    tests = (
        *_size_tests(family, feature, readings, settings),
        *_form_tests(family, feature, readings, settings),
    )
    decisions = {test.decision for test in tests}
    if Decision.BAD in decisions:
        state = State.BAD
    elif Decision.UNDECIDED in decisions:
        state = State.UNDECIDED
    else:
        state = State.GOOD
    return Assessment(feature, state, _verdict(feature, state), tests, max(0, missing))


def _verdict(feature: Feature, state: State) -> Verdict:
    if state is State.GOOD:
        return Verdict.REUSE
    if state is State.UNDECIDED:
        return Verdict.RECHECK
    return Verdict.WRONG_PART if feature.part_tells else feature.if_out


def _size_tests(
    family: Family, feature: Feature, readings: tuple[Reading, ...], settings: Settings
) -> list[Comparison]:
    limits, source = _limits_of_use(family, feature, readings, settings)
    if limits.low is None and limits.high is None:
        return []
    tests = []
    for reading in readings:
        uncertainty = settings.uncertainty_of(reading, feature)
        figure = reading.value, uncertainty
        what = _where(feature, reading)
        tests.append(_compared(family, feature, (what, "size", source), figure, limits, settings))
    return tests


def _compared(
    family: Family,
    feature: Feature,
    named: tuple[str, str, str],
    figure: tuple[Quantity, Quantity],
    limits: Limits,
    settings: Settings,
) -> Comparison:
    """A figure (value, U) against its limits; `named` are what it is, against what, and source."""
    value, uncertainty = figure
    decision = decide(value, uncertainty, limits)
    decide_by = ""
    if decision is Decision.UNDECIDED:
        near = value, uncertainty, _nearest(limits, value)
        decide_by = how_to_decide(family, feature, near, settings)
    what, against, source = named
    return Comparison(what, against, value, limits, uncertainty, decision, source, decide_by)


def _nearest(limits: Limits, value: Quantity) -> Quantity:
    ends = [end for end in (limits.low, limits.high) if end is not None]
    return min(ends, key=lambda end: abs(end - value))


def _limits_of_use(
    family: Family, feature: Feature, readings: tuple[Reading, ...], settings: Settings
) -> tuple[Limits, str]:
    if feature.size_table and not feature.scores:
        table = family.table_by_key[feature.size_table]
        grade, _ = present_grade(table, feature, readings, settings)
        source = f"{table.source}, {grade.name}"
        if table.kind == "shaft":
            return Limits(low=grade.worn or grade.finish_low), source
        return Limits(high=grade.worn or grade.finish_high), source
    if feature.part_tells:
        return Limits(feature.low, feature.high), feature.source
    worn_low, worn_high = feature.wear_low, feature.wear_high
    one_way = _wears_one_way(feature) and (worn_low is None) != (worn_high is None)
    low = worn_low if worn_low is not None or one_way else feature.low
    high = worn_high if worn_high is not None or one_way else feature.high
    return Limits(low, high), feature.source


def _wears_one_way(feature: Feature) -> bool:
    """Whether wear moves the figure one way only, so that the drawing's other limit is no limit.

    A shaft wears smaller and a bore larger; both limits of a load, a pressure or an end float
    count.
    """
    return feature.kind in {"diameter", "bore", "thickness", "clearance", "length", "height", "gap"}


def _form_tests(
    family: Family, feature: Feature, readings: tuple[Reading, ...], settings: Settings
) -> list[Comparison]:
    if (feature.ovality is None and feature.taper is None) or len(readings) < 2:
        return []
    form = measure_form(
        StationReading(reading.station, reading.direction, reading.value) for reading in readings
    )
    uncertainty = max(settings.uncertainty_of(reading, feature) for reading in readings)
    cases = (("ovality", form.ovality, feature.ovality), ("taper", form.taper, feature.taper))
    return [
        _compared(
            family,
            feature,
            (f"{feature.name}: {name}", name, feature.source),
            (value, uncertainty),
            Limits(high=limit),
            settings,
        )
        for name, value, limit in cases
        if limit is not None
    ]


def _where(feature: Feature, reading: Reading) -> str:
    where = " ".join(
        part
        for part in (reading.station, f"at {reading.direction}" if reading.direction else "")
        if part
    )
    return f"{feature.name}, {where}:" if where else f"{feature.name}:"
