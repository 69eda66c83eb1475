"""Handing a size table's measured features to the regrind or rebore sum, and its answer back."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from kitting.catalog.size_tables import SizeKind
from kitting.engineering.form_limits import FormLimits
from kitting.engineering.rebore import ReboreRequest, choose_rebore_for_block
from kitting.engineering.regrind import RegrindRequest
from kitting.engineering.regrind_group import choose_for_group
from kitting.errors import BadInput
from kitting.job.present import finished_grades, present_grade
from kitting.measure import Quantity
from kitting.measure.journal import StationReading

if TYPE_CHECKING:
    from collections.abc import Collection

    from kitting.catalog.model import Feature
    from kitting.catalog.size_tables import Grade, SizeTable
    from kitting.engineering.rebore import BlockChoice, ReboreChoice
    from kitting.engineering.regrind import GradeVerdict, RegrindChoice
    from kitting.engineering.regrind_group import GroupChoice
    from kitting.job.findings import Reading
    from kitting.job.settings import Settings
    from kitting.measure.journal import JournalForm


@dataclass(frozen=True, slots=True)
class Measured:
    """One journal or bore of a table, with its readings and the depth of any score in it."""

    feature: Feature
    readings: tuple[Reading, ...]
    score: Quantity


@dataclass(frozen=True, slots=True)
class MachinedFeature:
    """What the sum says of one journal or bore; grades by their keys."""

    feature: Feature
    form: JournalForm
    score: Quantity
    clean_up_even: Quantity
    clean_up_one_sided: Quantity
    likely: str | None
    worst: str | None
    grades: tuple[GradeVerdict, ...]


@dataclass(frozen=True, slots=True)
class Machined:
    """The answer for the whole table: grades by their keys, and the sentences that say why."""

    present: str
    likely: str | None
    worst: str | None
    says: tuple[str, ...]
    features: tuple[MachinedFeature, ...]


def machine(
    table: SizeTable, measured: tuple[Measured, ...], had: Collection[str], settings: Settings
) -> Machined:
    """Choose the grade for a table whose machining is demanded.

    `had` are the keys of the grades for which parts are to be had. Where readings cannot be taken
    the answer has no grade and says why.
    """
    present = _present(table, measured, settings)
    group: GroupChoice | BlockChoice
    try:
        if table.kind is SizeKind.SHAFT:
            group = choose_for_group(
                [(m.feature.name, _regrind(table, m, present, had, settings)) for m in measured]
            )
        else:
            group = choose_rebore_for_block(
                [(m.feature.name, _rebore(table, m, present, had, settings)) for m in measured]
            )
    except BadInput as error:
        says = tuple(f"{table.name}: {problem}" for problem in error.problems)
        return Machined(present.key, None, None, says, ())
    choices: list[RegrindChoice | ReboreChoice] = [choice for _, choice in group.choices]
    features = tuple(_feature(m, choice) for m, choice in zip(measured, choices, strict=True))
    likely = group.likely.name if group.likely else None
    worst = group.worst.name if group.worst else None
    says = _says(table, features, likely, worst)
    return Machined(present.key, likely, worst, says, features)


def _present(table: SizeTable, measured: tuple[Measured, ...], settings: Settings) -> Grade:
    """The grade of the whole table: the one furthest from standard that any feature shows."""
    found = (present_grade(table, m.feature, m.readings, settings)[0] for m in measured)
    return max(found, key=lambda grade: grade.sequence)


def _stations(measured: Measured) -> tuple[StationReading, ...]:
    return tuple(StationReading(r.station, r.direction, r.value) for r in measured.readings)


def _uncertainty(measured: Measured, settings: Settings) -> Quantity:
    return max(settings.uncertainty_of(r, measured.feature) for r in measured.readings)


def _regrind(
    table: SizeTable, m: Measured, present: Grade, had: Collection[str], settings: Settings
) -> RegrindRequest:
    return RegrindRequest(
        grades=finished_grades(table),
        readings=_stations(m),
        stock=table.stock,
        uncertainty=_uncertainty(m, settings),
        score_depth=m.score,
        present=present.key,
        limits=FormLimits(m.feature.ovality, m.feature.taper, wear_min=present.worn),
        shells=had,
    )


def _rebore(
    table: SizeTable, m: Measured, present: Grade, had: Collection[str], settings: Settings
) -> ReboreRequest:
    return ReboreRequest(
        grades=finished_grades(table),
        readings=_stations(m),
        stock=table.stock,
        hone=Quantity.of(0, table.unit),
        uncertainty=_uncertainty(m, settings),
        score_depth=m.score,
        present=present.key,
        limits=FormLimits(m.feature.ovality, m.feature.taper, wear_max=present.worn),
        pistons=had,
    )


def _feature(measured: Measured, choice: RegrindChoice | ReboreChoice) -> MachinedFeature:
    return MachinedFeature(
        feature=measured.feature,
        form=choice.form,
        score=measured.score,
        clean_up_even=choice.clean_up_even,
        clean_up_one_sided=choice.clean_up_one_sided,
        likely=choice.likely.name if choice.likely else None,
        worst=choice.worst.name if choice.worst else None,
        grades=choice.grades,
    )


def _says(
    table: SizeTable, features: tuple[MachinedFeature, ...], likely: str | None, worst: str | None
) -> tuple[str, ...]:
    says = [_sum(table, feature) for feature in features]
    if likely is None:
        says.append(
            f"{table.name}: no grade that can be had cleans up; have the metal built up and "
            "machined by a specialist, or find another part"
        )
    elif worst is None:
        says.append(
            f"{table.name}: {table.grade(likely).name} if the wear is even; worn on one side "
            "nothing cleans up: hold until the machinist has looked"
        )
    elif likely != worst:
        says.append(
            f"{table.name}: {table.grade(likely).name} if the wear is even, "
            f"{table.grade(worst).name} if it is all on one side: hold until the machinist has "
            "looked"
        )
    else:
        says.append(f"{table.name}: {table.grade(likely).name} cleans up whichever way it is worn")
    return tuple(says)


def _sum(table: SizeTable, feature: MachinedFeature) -> str:
    form, unit = feature.form, table.unit
    worn_to = form.least if table.kind is SizeKind.SHAFT else form.greatest
    extreme = "least" if table.kind is SizeKind.SHAFT else "greatest"
    score = f", scored {feature.score.to(unit)} deep" if feature.score else ""
    return (
        f"{feature.feature.name}: {extreme} {worn_to.to(unit)}{score}, stock {table.stock}; "
        f"cleans up at {feature.clean_up_even.to(unit)} evenly worn, "
        f"{feature.clean_up_one_sided.to(unit)} worn on one side"
    )
