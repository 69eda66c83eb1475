"""The shapes of the sizes: what each table comes to, and what is made to suit it."""

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from kitting.cli.shapes.job import JobShape, ReadyShape, Step, job_shape, ready_shape, steps_of
from kitting.engineering.band import Band
from kitting.job.bush_sizes import BushSize
from kitting.job.float_shims import FloatShims
from kitting.job.path import JobPath
from kitting.job.size_choice import SizeChoice
from kitting.job.targets import FinishTarget


@dataclass(frozen=True, slots=True)
class BandShape:
    """Two limits, each with its unit."""

    low: str
    high: str


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
class TargetShape:
    """The band to finish one journal or bore to at one grade; lengths with their unit.

    `rests_on` says what of it was measured; `gives` is null where nothing tells what runs there.
    """

    feature: str
    grade: str
    low: str
    high: str
    gives: BandShape | None
    wanted: BandShape | None
    rests_on: str
    notes: list[str]
    because: list[Step]


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
    finish_to: list[TargetShape]


@dataclass(frozen=True, slots=True)
class BushShape:
    """A new bush on its journal: the bore to ream to, null where none will do.

    `interference`, `tight_at_100_c` and the temperatures (°C, of the housing; `chilled` with the
    bush at −18 °C) are null where the family does not say what the metals are.
    """

    position: str
    journal: str
    grade: str
    journal_measured: bool
    clearance: BandShape
    ream_to: BandShape | None
    interference: BandShape | None
    tight_at_100_c: bool | None
    heat_housing_to_c: int | None
    chilled_heat_housing_to_c: int | None
    because: list[Step]


@dataclass(frozen=True, slots=True)
class ShimsShape:
    """The stack for an end float; `stack` is thickness → number, null where none was worked out."""

    position: str
    feature: str
    measured: str
    in_place: str | None
    band: BandShape
    leave_as_it_is: bool
    stack: dict[str, int] | None
    gives: str | None
    because: list[Step]


@dataclass(frozen=True, slots=True)
class WasherShape:
    """The thrust washer that a float chooses; `part` is null where the table leaves it open."""

    position: str
    float: str | None
    part: str | None
    because: list[Step]


@dataclass(frozen=True, slots=True)
class PinBoreShape:
    """A new bush or guide on its pin or stem: the bore to ream to, null where none will do."""

    position: str
    runs_in_it: str
    measured: bool
    clearance: BandShape
    ream_to: BandShape | None
    because: list[Step]


@dataclass(frozen=True, slots=True)
class SizesShape:
    """All sizes of a job, what is made to suit them, and the pictures written when asked for."""

    job: JobShape
    ready: ReadyShape
    sizes: list[SizeShape]
    bushes: list[BushShape]
    shims: list[ShimsShape]
    washers: list[WasherShape]
    pin_bores: list[PinBoreShape]
    pictures: list[str]


def sizes_shape(path: JobPath, pictures: Iterable[Path] = ()) -> SizesShape:
    """The shape of a job's sizes; `pictures` are the files written beside it."""
    return SizesShape(
        job=job_shape(path.bench.job),
        ready=ready_shape(path.kit.readiness),
        sizes=[_size(path, choice) for choice in path.sizes.choices],
        bushes=[_bush(bush) for bush in path.sizes.bushes],
        shims=[_shims(found) for found in path.sizes.shims],
        washers=[
            WasherShape(
                position=each.position.key,
                float=str(each.value) if each.value is not None else None,
                part=str(each.part) if each.part else None,
                because=steps_of((each.because,)),
            )
            for each in path.sizes.washers
        ],
        pin_bores=[
            PinBoreShape(
                position=each.position.key,
                runs_in_it=each.pin.key,
                measured=each.measured,
                clearance=BandShape(str(each.wanted.low), str(each.wanted.high)),
                ream_to=_band(each.bore),
                because=steps_of((each.because,)),
            )
            for each in path.sizes.pin_bores
        ],
        pictures=[str(file) for file in pictures],
    )


def _size(path: JobPath, choice: SizeChoice) -> SizeShape:
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
        finish_to=[_target(each) for each in path.sizes.targets_of(choice.table.key)],
    )


def _target(target: FinishTarget) -> TargetShape:
    return TargetShape(
        feature=target.feature.key,
        grade=target.grade.name,
        low=str(target.band.low),
        high=str(target.band.high),
        gives=_band(target.gives),
        wanted=_band(target.wanted),
        rests_on=target.rests_on,
        notes=list(target.notes),
        because=steps_of((target.because,)),
    )


def _bush(bush: BushSize) -> BushShape:
    fit = bush.fit
    return BushShape(
        position=bush.position.key,
        journal=bush.journal.key,
        grade=bush.grade.name,
        journal_measured=bush.measured,
        clearance=BandShape(str(bush.wanted.low), str(bush.wanted.high)),
        ream_to=_band(bush.bore),
        interference=_band(fit.interference) if fit else None,
        tight_at_100_c=fit.tight if fit else None,
        heat_housing_to_c=int(fit.heat) if fit and fit.heat is not None else None,
        chilled_heat_housing_to_c=int(fit.chilled) if fit and fit.chilled is not None else None,
        because=steps_of((bush.because, *((fit.because,) if fit else ()))),
    )


def _shims(found: FloatShims) -> ShimsShape:
    best = found.choice.best if found.choice else None
    return ShimsShape(
        position=found.position.key,
        feature=found.feature.key,
        measured=str(found.measured),
        in_place=str(found.in_place) if found.in_place is not None else None,
        band=BandShape(str(found.band.low), str(found.band.high)),
        leave_as_it_is=found.as_it_is,
        stack={str(size): number for size, number in best.shims} if best else None,
        gives=str(best.gives) if best else None,
        because=steps_of((found.because,)),
    )


def _band(band: Band | None) -> BandShape | None:
    return BandShape(str(band.low), str(band.high)) if band is not None else None


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
