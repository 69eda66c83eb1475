"""The shapes of a job: who and what, readiness, chains of reasons, findings."""

from dataclasses import dataclass
from datetime import date

from kitting.catalog.family import Family
from kitting.job.because import Because
from kitting.job.findings import Bench, Finding, Job
from kitting.job.readiness import Readiness


@dataclass(frozen=True, slots=True)
class Step:
    """One step of a chain of reasons; `depth` 0 is the conclusion, deeper ones explain it."""

    depth: int
    says: str
    source: str
    rule: str


@dataclass(frozen=True, slots=True)
class JobShape:
    """One job; `closed` is null while it is open."""

    number: str
    family: str
    edition: str
    variant: str
    engine_number: str
    customer: str
    opened: date
    note: str
    closed: date | None
    closed_by: str | None


@dataclass(frozen=True, slots=True)
class OpenShape:
    """One point that keeps a job from being ready."""

    why: str
    where: str
    because: list[Step]


@dataclass(frozen=True, slots=True)
class ReadyShape:
    """Whether the job may be ordered for."""

    ready: bool
    sentence: str
    open: list[OpenShape]


@dataclass(frozen=True, slots=True)
class ReadingShape:
    """One reading, as typed and as understood."""

    feature: str
    station: str
    direction: str
    text: str
    value: str
    instrument: str


@dataclass(frozen=True, slots=True)
class SeenShape:
    """One observation in its grade."""

    observation: str
    grade: str
    amount: str | None


@dataclass(frozen=True, slots=True)
class FindingShape:
    """What the bench said of one position."""

    position: str
    name: str
    assembly: str
    readings: list[ReadingShape]
    seen: list[SeenShape]
    fitted_number: str
    fitted_attributes: dict[str, str]
    sound: bool
    note: str
    who: str
    when: date | None
    place: str


@dataclass(frozen=True, slots=True)
class JobsShape:
    """The jobs."""

    jobs: list[JobShape]


@dataclass(frozen=True, slots=True)
class StripShape:
    """A job's findings, in the order an engine comes apart."""

    job: JobShape
    stripped: list[str]
    findings: list[FindingShape]


@dataclass(frozen=True, slots=True)
class JobSummaryShape:
    """A job, how far it is, and what it comes to."""

    job: JobShape
    stripped: list[str]
    findings: int
    ready: ReadyShape
    currency: str
    likely_gross: str
    worst_gross: str


def steps_of(reasons: tuple[Because, ...]) -> list[Step]:
    """Flatten chains of reasons."""
    return [
        Step(depth, step.says, step.source, step.rule)
        for reason in reasons
        for depth, step in reason.steps()
    ]


def job_shape(job: Job) -> JobShape:
    """The shape of a job."""
    return JobShape(
        number=job.number,
        family=job.family,
        edition=job.edition,
        variant=job.variant,
        engine_number=job.engine_number,
        customer=job.customer,
        opened=job.opened,
        note=job.note,
        closed=job.closed,
        closed_by=job.closed_by or None,
    )


def ready_shape(readiness: Readiness) -> ReadyShape:
    """The shape of readiness."""
    points = [
        OpenShape(point.why, point.where, steps_of((point.because,))) for point in readiness.points
    ]
    return ReadyShape(readiness.ready, readiness.sentence, points)


def strip_shape(family: Family, bench: Bench) -> StripShape:
    """The shape of what the bench said."""
    said = {finding.position: finding for finding in bench.findings}
    ordered = [p.key for p in family.positions_on(bench.job.variant) if p.key in said]
    findings = [finding_shape(family, said[key]) for key in ordered]
    return StripShape(job_shape(bench.job), list(bench.stripped), findings)


def finding_shape(family: Family, finding: Finding) -> FindingShape:
    """The shape of one finding."""
    position = family.position_by_key[finding.position]
    fitted = finding.fitted
    return FindingShape(
        position=position.key,
        name=position.name,
        assembly=position.assembly,
        readings=[
            ReadingShape(r.feature, r.station, r.direction, r.text, str(r.value), r.instrument)
            for r in finding.readings
        ],
        seen=[
            SeenShape(s.observation, s.grade, str(s.amount) if s.amount is not None else None)
            for s in finding.seen
        ],
        fitted_number=fitted.number if fitted else "",
        fitted_attributes=dict(fitted.attributes or {}) if fitted else {},
        sound=finding.sound,
        note=finding.note,
        who=finding.who,
        when=finding.when,
        place=finding.place,
    )
