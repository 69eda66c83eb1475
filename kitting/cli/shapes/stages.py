"""The shapes of the verdicts and of the kit."""

from dataclasses import dataclass

from kitting.cli.shapes.job import JobShape, ReadyShape, Step, job_shape, ready_shape, steps_of
from kitting.job.assess import Comparison
from kitting.job.consequences import Demand
from kitting.job.hand import Source
from kitting.job.kit import KitLine
from kitting.job.path import JobPath
from kitting.job.verdicts import PositionVerdict


@dataclass(frozen=True, slots=True)
class ComparisonShape:
    """One figure held against its limit."""

    what: str
    value: str
    limits: str
    uncertainty: str
    decision: str
    source: str


@dataclass(frozen=True, slots=True)
class VerdictShape:
    """The verdict on one position. `ruled` is what the rules said where a person overruled them."""

    position: str
    name: str
    assembly: str
    verdict: str
    ruled: str | None
    operations: list[str]
    because: list[Step]
    undecided: list[Step]
    measured: list[ComparisonShape]


@dataclass(frozen=True, slots=True)
class DemandShape:
    """What follows from the verdicts: renew, operation, check or advise, of one position."""

    then: str
    position: str
    name: str
    operation: str
    because: list[Step]


@dataclass(frozen=True, slots=True)
class VerdictsShape:
    """All verdicts of a job and what follows from them."""

    job: JobShape
    ready: ReadyShape
    verdicts: list[VerdictShape]
    follows: list[DemandShape]


@dataclass(frozen=True, slots=True)
class KitLineShape:
    """One line of the kit; of `in_hand` pieces, `from_shelf` came off the shelf.

    `to_measure` are here beside them, and not proven. `wrong_in_data` says in what links about its
    numbers contradict each other.
    """

    line: str
    stage: str
    positions: list[str]
    named: str | None
    part: str | None
    name: str
    quantity: int
    grade: str
    worst_part: str | None
    worst_grade: str
    hold: bool
    covered_by: str | None
    problem: str
    wrong_in_data: list[str]
    in_hand: int
    from_shelf: int
    to_measure: int
    needed: list[Step]
    chosen: list[Step]


@dataclass(frozen=True, slots=True)
class SetShape:
    """A set in the kit: the lines it covers and what it brings beyond them."""

    set: str
    covers: list[str]
    surplus: dict[str, int]
    saves: str
    because: list[Step]


@dataclass(frozen=True, slots=True)
class WorkShape:
    """An operation by the machinist."""

    operation: str
    positions: list[str]
    because: list[Step]


@dataclass(frozen=True, slots=True)
class KitShape:
    """The kit of a job."""

    job: JobShape
    ready: ReadyShape
    lines: list[KitLineShape]
    possible: list[KitLineShape]
    sets: list[SetShape]
    work: list[WorkShape]
    advice: list[DemandShape]


def verdicts_shape(path: JobPath) -> VerdictsShape:
    """The shape of a job's verdicts."""
    return VerdictsShape(
        job=job_shape(path.bench.job),
        ready=ready_shape(path.kit.readiness),
        verdicts=[_verdict(verdict) for verdict in path.verdicts.positions],
        follows=[demand_shape(path, demand) for demand in path.demands.demands],
    )


def _verdict(verdict: PositionVerdict) -> VerdictShape:
    return VerdictShape(
        position=verdict.position.key,
        name=verdict.position.name,
        assembly=verdict.position.assembly,
        verdict=verdict.verdict,
        ruled=verdict.ruled,
        operations=list(verdict.operations),
        because=steps_of(verdict.because),
        undecided=steps_of(verdict.undecided),
        measured=[_compared(test) for assessed in verdict.assessments for test in assessed.tests],
    )


def _compared(test: Comparison) -> ComparisonShape:
    return ComparisonShape(
        test.what,
        str(test.value),
        str(test.limits),
        str(test.uncertainty),
        test.decision,
        test.source,
    )


def demand_shape(path: JobPath, demand: Demand) -> DemandShape:
    """The shape of a demand."""
    name = path.family.position_by_key[demand.position].name
    return DemandShape(
        demand.then, demand.position, name, demand.operation, steps_of(demand.reasons)
    )


def kit_shape(path: JobPath) -> KitShape:
    """The shape of a job's kit."""
    kit = path.kit
    return KitShape(
        job=job_shape(path.bench.job),
        ready=ready_shape(kit.readiness),
        lines=[_line(path, line) for line in kit.lines],
        possible=[_line(path, line) for line in kit.possible],
        sets=[
            SetShape(
                set=str(chosen.set),
                covers=[key for key, _ in chosen.covers],
                surplus={str(part): count for part, count in chosen.surplus},
                saves=str(chosen.saves),
                because=steps_of((chosen.because,)),
            )
            for chosen in kit.sets
        ],
        work=[
            WorkShape(work.operation, list(work.positions), steps_of(work.because))
            for work in kit.work
        ],
        advice=[
            demand_shape(path, demand) for demand in path.demands.demands if demand.then == "advise"
        ],
    )


def _line(path: JobPath, line: KitLine) -> KitLineShape:
    return KitLineShape(
        line=line.key,
        stage=line.stage,
        positions=list(line.positions),
        named=str(line.named) if line.named else None,
        part=str(line.part) if line.part else None,
        name=line.name,
        quantity=line.quantity,
        grade=line.grade,
        worst_part=str(line.worst_part) if line.worst_part else None,
        worst_grade=line.worst_grade,
        hold=line.hold,
        covered_by=str(line.covered_by) if line.covered_by else None,
        problem=line.problem,
        wrong_in_data=list(line.wrong_in_data),
        in_hand=path.hand.count(line),
        from_shelf=path.hand.count(line, Source.SHELF),
        to_measure=sum(each.quantity for each in path.hand.to_prove(line)),
        needed=steps_of(line.needed),
        chosen=steps_of(line.chosen),
    )
