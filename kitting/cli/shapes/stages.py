"""The shapes of the stages: verdicts, sizes, kit."""

from dataclasses import dataclass

from kitting.cli.shapes.job import JobShape, ReadyShape, Step, job_shape, ready_shape, steps_of
from kitting.job.assess import Comparison
from kitting.job.consequences import Demand
from kitting.job.kit import KitLine
from kitting.job.path import JobPath
from kitting.job.sizes import SizeChoice
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
class MachinedShape:
    """One journal or bore: what the sum says of it."""

    feature: str
    least: str
    greatest: str
    ovality: str
    taper: str
    score_depth: str
    clean_up_even: str
    clean_up_one_sided: str
    likely: str | None
    worst: str | None
    grades: list[dict[str, str]]


@dataclass(frozen=True, slots=True)
class SizeShape:
    """The size chosen for a table: present, likely and worst grade, and whether to hold."""

    table: str
    name: str
    basis: str
    present: str | None
    likely: str | None
    worst: str | None
    half_step: str | None
    hold: bool
    because: list[Step]
    unsettled: list[Step]
    machined: list[MachinedShape]


@dataclass(frozen=True, slots=True)
class SizesShape:
    """All sizes of a job."""

    job: JobShape
    ready: ReadyShape
    sizes: list[SizeShape]


@dataclass(frozen=True, slots=True)
class KitLineShape:
    """One line of the kit."""

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


def sizes_shape(path: JobPath) -> SizesShape:
    """The shape of a job's sizes."""
    return SizesShape(
        job=job_shape(path.bench.job),
        ready=ready_shape(path.kit.readiness),
        sizes=[_size(choice) for choice in path.sizes.choices],
    )


def _size(choice: SizeChoice) -> SizeShape:
    return SizeShape(
        table=choice.table.key,
        name=choice.table.name,
        basis=choice.basis,
        present=choice.present.name if choice.present else None,
        likely=choice.likely.name if choice.likely else None,
        worst=choice.worst.name if choice.worst else None,
        half_step=choice.half_step.name if choice.half_step else None,
        hold=choice.hold,
        because=steps_of(choice.because),
        unsettled=steps_of(choice.unsettled),
        machined=_machined(choice),
    )


def _machined(choice: SizeChoice) -> list[MachinedShape]:
    if choice.machined is None:
        return []
    return [
        MachinedShape(
            feature=each.feature.key,
            least=str(each.form.least),
            greatest=str(each.form.greatest),
            ovality=str(each.form.ovality),
            taper=str(each.form.taper),
            score_depth=str(each.score),
            clean_up_even=str(each.clean_up_even),
            clean_up_one_sided=str(each.clean_up_one_sided),
            likely=each.likely,
            worst=each.worst,
            grades=[
                {"name": row.name, "cleans_up": row.cleans_up, "because": row.because}
                for row in each.grades
            ],
        )
        for each in choice.machined.features
    ]


def kit_shape(path: JobPath) -> KitShape:
    """The shape of a job's kit."""
    kit = path.kit
    return KitShape(
        job=job_shape(path.bench.job),
        ready=ready_shape(kit.readiness),
        lines=[_line(line) for line in kit.lines],
        possible=[_line(line) for line in kit.possible],
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


def _line(line: KitLine) -> KitLineShape:
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
        needed=steps_of(line.needed),
        chosen=steps_of(line.chosen),
    )
