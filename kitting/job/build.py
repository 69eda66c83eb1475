"""The build stage: what is measured at assembly, its limits by the plan, what the figures prove.

The plan of a figure. Of a journal or bore: its finished size at the grade decided. Of a part that
goes with one: the clearance of that grade. Else, where anything at the position was renewed or
machined, or the builder sets the figure (an end float made up with shims): the drawing's limits.
Else the limits of use, for parts that go back as they were. Only stripped assemblies are built.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from kitting.catalog.model import Verdict
from kitting.catalog.rules import Then
from kitting.catalog.size_tables import SizeKind
from kitting.job.assess import Comparison, State
from kitting.job.measuring_plan import reading_places
from kitting.job.settings import Lean
from kitting.job.size_choice import Basis
from kitting.measure import Decision, Limits, decide

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from kitting.catalog.model import Assembly, Feature, Position
    from kitting.job.build_figures import BuildFigure
    from kitting.job.path import JobPath
    from kitting.job.settings import Settings
    from kitting.job.size_choice import SizeChoice

_MADE = frozenset({Basis.MACHINED, Basis.NEW})


@dataclass(frozen=True, slots=True)
class Planned:
    """One figure to be measured at assembly.

    `basis` says in a few words what the limits are; `settled` is false while the size that they
    follow may still become another.
    """

    feature: Feature
    position: Position
    assembly: Assembly
    limits: Limits
    basis: str
    source: str
    settled: bool = True

    @property
    def places(self) -> tuple[tuple[str, str], ...]:
        """Station and direction of each figure that is wanted."""
        return reading_places(self.feature)


@dataclass(frozen=True, slots=True)
class BuildLine:
    """What was measured of one planned figure, and what it proves; `missing` places are open."""

    planned: Planned
    figures: tuple[BuildFigure, ...]
    tests: tuple[Comparison, ...]
    missing: tuple[tuple[str, str], ...]
    state: State

    @property
    def is_complete(self) -> bool:
        """Whether every place of it was measured."""
        return not self.missing


@dataclass(frozen=True, slots=True)
class BuildRecord:
    """The build of a job: every planned figure in build order; `unplanned` are asked no more."""

    lines: tuple[BuildLine, ...]
    unplanned: tuple[BuildFigure, ...] = ()

    @property
    def wanting(self) -> tuple[BuildLine, ...]:
        """Critical figures that are not there: a job is not closed without them."""
        return self._critical(lambda line: not line.is_complete)

    @property
    def bad(self) -> tuple[BuildLine, ...]:
        """Figures that are proven outside their limits."""
        return tuple(line for line in self.lines if line.state is State.BAD)

    @property
    def doubtful(self) -> tuple[BuildLine, ...]:
        """Critical figures too near their limits to call, with nobody's word for them."""
        return self._critical(lambda line: line.state is State.UNDECIDED)

    @property
    def unsettled(self) -> tuple[BuildLine, ...]:
        """Critical figures held against a size that may still become another."""
        return self._critical(lambda line: line.is_complete and not line.planned.settled)

    @property
    def may_close(self) -> bool:
        """Whether anything was built, and each critical figure is there and beyond doubt."""
        open_lines = (*self.wanting, *self.bad, *self.doubtful, *self.unsettled)
        return bool(self.lines) and not open_lines

    @property
    def sentence(self) -> str:
        """How far the record is, in one line."""
        if not self.lines:
            return "Nothing is stripped, so there is nothing to measure."
        done = sum(1 for line in self.lines if line.is_complete)
        said = [f"{done} of {len(self.lines)} figures measured"]
        for lines, words in (
            (self.wanting, "critical ones missing"),
            (self.bad, "proven bad"),
            (self.doubtful, "critical ones too near to call"),
            (self.unsettled, "critical ones to a size not settled"),
        ):
            if lines:
                said.append(f"{len(lines)} {words}")
        return ", ".join(said) + ("." if not self.may_close else "; the job may be closed.")

    def _critical(self, asked: Callable[[BuildLine], bool]) -> tuple[BuildLine, ...]:
        return tuple(line for line in self.lines if line.planned.feature.critical and asked(line))


def plan_build(path: JobPath) -> tuple[Planned, ...]:
    """Return what is to be measured at assembly, in the order in which the engine is built."""
    family, stripped = path.family, set(path.bench.stripped)
    positions = {p.key: p for p in family.positions_on(path.bench.job.variant)}
    built = sorted(family.assemblies, key=lambda assembly: -assembly.sequence)
    return tuple(
        _planned(path, feature, positions[feature.position], assembly)
        for assembly in built
        if assembly.key in stripped
        for feature in family.features
        if feature.at_build
        and feature.position in positions
        and positions[feature.position].assembly == assembly.key
    )


def judge_build(
    plan: Iterable[Planned], figures: Iterable[BuildFigure], settings: Settings
) -> BuildRecord:
    """Hold the figures against the plan, by the rule of the strip (ISO 14253-1).

    Args:
        plan: what is to be measured.
        figures: what was, the last of each place.
        settings: how sure each instrument is, and how the shop leans near a limit.
    """
    taken = tuple(figures)
    lines = tuple(_line(each, taken, settings) for each in plan)
    known = {line.planned.feature.key for line in lines}
    return BuildRecord(lines, tuple(f for f in taken if f.feature not in known))


def where(station: str, direction: str) -> str:
    """A place along and round, in words."""
    return " ".join(filter(None, (station, f"at {direction}" if direction else "")))


def _planned(path: JobPath, feature: Feature, position: Position, assembly: Assembly) -> Planned:
    follows = feature.size_table or position.sized_by
    choice = path.sizes.by_table.get(follows) if follows else None
    if feature.size_table and not feature.scores:
        table = path.family.table_by_key[feature.size_table]
        limits = _of_metal(choice) if choice is not None else Limits()
        basis, settled = _size_named(choice)
        return Planned(feature, position, assembly, limits, basis, table.source, settled)
    if choice is not None and feature.kind == "clearance":
        limits = _by_size(choice, feature)
        if limits != Limits() and _made_to_size(path, choice, position):
            basis, settled = _size_named(choice)
            source = choice.table.source
            return Planned(feature, position, assembly, limits, basis, source, settled)
    limits, basis = _by_drawing(feature, touched=_touched(path, position))
    return Planned(feature, position, assembly, limits, basis, feature.source)


def _by_drawing(feature: Feature, *, touched: bool) -> tuple[Limits, str]:
    """The limits of a figure that follows no size, and what they are."""
    drawing = Limits(feature.low, feature.high)
    if feature.wear_low is None and feature.wear_high is None:
        return drawing, "drawing"
    if _is_set(feature):
        return drawing, "set at assembly"
    return (drawing, "as new") if touched else (_of_use(feature), "limits of use, parts reused")


def _size_named(choice: SizeChoice | None) -> tuple[str, bool]:
    """The size decided in words, and whether it is settled."""
    if choice is None or choice.parts_likely is None:
        return "size not settled", False
    return f"{choice.table.name} {choice.parts_likely.name}", not choice.hold


def _of_metal(choice: SizeChoice) -> Limits:
    """What a journal or bore measures at the grade decided; where reused, down to its limit."""
    grade = choice.likely
    if grade is None:
        return Limits()
    if choice.basis in _MADE:
        return Limits(grade.finish_low, grade.finish_high)
    if choice.table.kind is SizeKind.SHAFT:
        return Limits(grade.worn or grade.finish_low, grade.finish_high)
    return Limits(grade.finish_low, grade.worn or grade.finish_high)


def _by_size(choice: SizeChoice, feature: Feature) -> Limits:
    """The clearance at the grade decided, else the table's own; open where neither is printed."""
    grade, table = choice.parts_likely, choice.table
    for low, high in (
        (grade.clearance_low, grade.clearance_high) if grade else (None, None),
        (table.clearance_low, table.clearance_high),
    ):
        if low is not None or high is not None:
            return Limits(
                low.to(feature.unit) if low is not None else None,
                high.to(feature.unit) if high is not None else None,
            )
    return Limits()


def _made_to_size(path: JobPath, choice: SizeChoice, position: Position) -> bool:
    """Whether the metal was machined or is new, or the part at the position is renewed."""
    return choice.basis in _MADE or _touched(path, position)


def _is_set(feature: Feature) -> bool:
    """Whether the builder sets the figure: an end float that calls for no part when it is out."""
    return feature.kind == "end float" and feature.if_out is Verdict.RECHECK


def _touched(path: JobPath, position: Position) -> bool:
    """Whether the position is renewed or anything is done to it."""
    if position.key in path.demands.renewed:
        return True
    return any(demand.position == position.key for demand in path.demands.of(Then.OPERATION))


def _of_use(feature: Feature) -> Limits:
    """The limits of use; a side without one is the drawing's, for too tight is wrong at any age."""
    return Limits(
        feature.wear_low if feature.wear_low is not None else feature.low,
        feature.wear_high if feature.wear_high is not None else feature.high,
    )


def _line(planned: Planned, figures: tuple[BuildFigure, ...], settings: Settings) -> BuildLine:
    wanted = planned.places
    mine = {
        (figure.station, figure.direction): figure
        for figure in figures
        if figure.feature == planned.feature.key
    }
    measured = tuple(mine[place] for place in wanted if place in mine)
    tests = tuple(_tests(planned, measured, settings))
    return BuildLine(
        planned,
        measured,
        tests,
        tuple(place for place in wanted if place not in mine),
        _state(measured, tests, settings.lean),
    )


def _tests(
    planned: Planned, figures: tuple[BuildFigure, ...], settings: Settings
) -> Iterator[Comparison]:
    if planned.limits == Limits():
        return
    for figure in figures:
        uncertainty = settings.uncertainty_of(figure.reading, planned.feature)
        place = where(figure.station, figure.direction)
        yield Comparison(
            f"{planned.feature.name}, {place}:" if place else f"{planned.feature.name}:",
            "size",
            figure.value,
            planned.limits,
            uncertainty,
            decide(figure.value, uncertainty, planned.limits),
            f"{planned.basis}, {planned.source}",
        )


def _state(figures: tuple[BuildFigure, ...], tests: tuple[Comparison, ...], lean: Lean) -> State:
    if not figures:
        return State.NOT_MEASURED
    decisions = {test.decision for test in tests}
    if Decision.BAD in decisions:
        return State.BAD
    if Decision.UNDECIDED in decisions and lean is not Lean.REUSE:
        return State.UNDECIDED
    return State.GOOD
