"""The shape of the build record."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from kitting.cli.shapes.job import JobShape, job_shape

if TYPE_CHECKING:
    from kitting.job.build import BuildLine, BuildRecord
    from kitting.job.build_figures import BuildFigure, Closing
    from kitting.job.path import JobPath


@dataclass(frozen=True, slots=True)
class BuildFigureShape:
    """One figure, as typed and as understood, and what it proves: good, bad or undecided."""

    station: str
    direction: str
    text: str
    value: str
    instrument: str
    uncertainty: str | None
    decision: str | None
    who: str
    when: date
    place: str


@dataclass(frozen=True, slots=True)
class BuildLineShape:
    """One feature: its plan, and what was measured; `missing` are places without a figure."""

    feature: str
    name: str
    position: str
    assembly: str
    critical: bool
    limits: str
    basis: str
    source: str
    settled: bool
    state: str
    figures: list[BuildFigureShape]
    missing: list[str]


@dataclass(frozen=True, slots=True)
class ClosingShape:
    """Who closed the job."""

    who: str
    when: date
    note: str


@dataclass(frozen=True, slots=True)
class BuildShape:
    """The build record of a job, in build order."""

    job: JobShape
    sentence: str
    may_close: bool
    lines: list[BuildLineShape]
    unplanned: list[BuildFigureShape]
    closed: ClosingShape | None


def build_shape(path: JobPath, record: BuildRecord, closing: Closing | None) -> BuildShape:
    """The shape of a build record."""
    return BuildShape(
        job=job_shape(path.bench.job),
        sentence=record.sentence,
        may_close=record.may_close,
        lines=[_line(line) for line in record.lines],
        unplanned=[_figure(figure, None, None) for figure in record.unplanned],
        closed=ClosingShape(closing.who, closing.when, closing.note) if closing else None,
    )


def _line(line: BuildLine) -> BuildLineShape:
    planned = line.planned
    tests = line.tests or (None,) * len(line.figures)
    return BuildLineShape(
        feature=planned.feature.key,
        name=planned.feature.name,
        position=planned.position.key,
        assembly=planned.assembly.key,
        critical=planned.feature.critical,
        limits=str(planned.limits),
        basis=planned.basis,
        source=planned.source,
        settled=planned.settled,
        state=line.state,
        figures=[
            _figure(
                figure,
                str(test.decision) if test else None,
                str(test.uncertainty) if test else None,
            )
            for figure, test in zip(line.figures, tests, strict=True)
        ],
        missing=[" ".join(filter(None, place)) for place in line.missing],
    )


def _figure(figure: BuildFigure, decision: str | None, uncertainty: str | None) -> BuildFigureShape:
    return BuildFigureShape(
        station=figure.station,
        direction=figure.direction,
        text=figure.text,
        value=str(figure.value),
        instrument=figure.instrument,
        uncertainty=uncertainty,
        decision=decision,
        who=figure.who,
        when=figure.when,
        place=figure.place,
    )
