"""The sizes stage: the grade to which each table's metal will be finished, likely and worst.

Machining is decided by the verdicts; here the size follows. Journals or bores that a family
machines together take the deepest grade of the group. Where wear even all round and wear all on
one side lead to different grades, what is bought to that size is held until the machinist has
looked.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from kitting.catalog.rules import Then
from kitting.catalog.size_tables import SizeKind
from kitting.job.because import Because
from kitting.job.bush_sizes import size_bushes
from kitting.job.float_shims import floats_to_measure, stack_shims
from kitting.job.known_sizes import BenchSizes
from kitting.job.machining import Measured, machine
from kitting.job.pin_bores import size_to_pins
from kitting.job.present import present_grade
from kitting.job.size_choice import Basis, SizeChoice, Sizes
from kitting.job.targets import set_targets
from kitting.job.thrust_washers import choose_washers
from kitting.measure import Quantity

__all__ = ["Basis", "SizeChoice", "Sizes", "choose_sizes"]

if TYPE_CHECKING:
    from collections.abc import Callable

    from kitting.catalog.family import Family
    from kitting.catalog.model import Feature
    from kitting.catalog.size_tables import Grade, SizeTable
    from kitting.job.consequences import Demands
    from kitting.job.findings import SizeDecision
    from kitting.job.settings import Settings
    from kitting.job.verdicts import Verdicts


def choose_sizes(
    family: Family,
    verdicts: Verdicts,
    demands: Demands,
    settings: Settings,
    obtainable: Callable[[SizeTable, Grade], bool],
) -> Sizes:
    """Return the size choice of every table that is machined, or that a renewed part follows.

    `obtainable` answers whether parts of a grade can be had today, after interchange: a grade for
    which there are none is no choice.
    """
    bench = BenchSizes(family, verdicts, settings)
    chosen = []
    for table in family.size_tables:
        owners = _features(table, bench)
        asked = _asked(table, owners, demands)
        followed = any(family.position_by_key[p].sized_by == table.key for p in demands.renewed)
        if asked or followed or any(m.readings for m in owners):
            choice = _choose(table, owners, asked, demands, settings, obtainable)
            chosen.append(_decided(choice, verdicts.bench.size_decisions))
    return Sizes(
        tuple(chosen),
        targets=set_targets(chosen, bench),
        bushes=size_bushes(chosen, demands, bench),
        shims=stack_shims(bench),
        unmeasured=floats_to_measure(bench),
        washers=choose_washers(bench, demands.renewed),
        pin_bores=size_to_pins(bench, demands.renewed),
    )


def _decided(choice: SizeChoice, decisions: tuple[SizeDecision, ...]) -> SizeChoice:
    """The choice, or a named person's instead, with what the sum said kept among its reasons."""
    for decision in decisions:
        if decision.table == choice.table.key:
            grade = choice.table.grade(decision.grade)
            says = (
                f"{choice.table.name}: {grade.name}, decided by {decision.who} on "
                f"{decision.when:%d %b %Y}: {decision.reason}"
            )
            because = Because(says, "named person's decision", after=choice.because)
            metal = choice.table.grade(grade.half_step_of) if grade.half_step_of else grade
            return replace(
                choice,
                likely=metal,
                worst=metal,
                half_step=grade if grade.half_step_of else None,
                hold=False,
                because=(because,),
                unsettled=(),
            )
    return choice


def _features(table: SizeTable, bench: BenchSizes) -> tuple[Measured, ...]:
    return tuple(
        Measured(feature, bench.readings(feature), _score(feature, bench))
        for feature in bench.metal_of(table)
    )


def _score(feature: Feature, bench: BenchSizes) -> Quantity:
    depths = [Quantity.of(0, feature.unit)]
    for depth in bench.family.features:
        if depth.scores == feature.key:
            depths.extend(reading.value for reading in bench.readings(depth))
    return max(depths)


def _asked(table: SizeTable, owners: tuple[Measured, ...], demands: Demands) -> tuple[Because, ...]:
    positions = {measured.feature.position for measured in owners}
    return tuple(
        reason
        for demand in demands.of(Then.OPERATION)
        if demand.operation == table.operation and demand.position in positions
        for reason in demand.reasons
    )


def _choose(
    table: SizeTable,
    owners: tuple[Measured, ...],
    asked: tuple[Because, ...],
    demands: Demands,
    settings: Settings,
    obtainable: Callable[[SizeTable, Grade], bool],
) -> SizeChoice:
    measured = tuple(m for m in owners if m.readings)
    renewed = [m for m in owners if m.feature.position in demands.renewed]
    if owners and len(renewed) == len(owners):
        return _new(table, demands, renewed)
    missing = [m.feature.name for m in owners if not m.readings]
    if not measured or (asked and missing and table.together):
        return _not_measured(table, missing, asked)
    if asked:
        return _machined(table, measured, asked, settings, obtainable)
    return _as_it_is(table, measured, settings)


def _new(table: SizeTable, demands: Demands, renewed: list[Measured]) -> SizeChoice:
    standard = table.machined[0]
    reasons = demands.renewed[renewed[0].feature.position].reasons
    says = Because(f"{table.name}: the part is renewed, so {standard.name}", after=reasons)
    return SizeChoice(table, Basis.NEW, standard, standard, standard, None, False, (says,))


def _not_measured(table: SizeTable, missing: list[str], asked: tuple[Because, ...]) -> SizeChoice:
    what = ", ".join(missing) or table.name
    says = Because(f"{table.name}: no size can be chosen until it is measured: {what}", after=asked)
    return SizeChoice(
        table, Basis.NOT_MEASURED, None, None, None, None, False, (says,), unsettled=(says,)
    )


def _machined(
    table: SizeTable,
    measured: tuple[Measured, ...],
    asked: tuple[Because, ...],
    settings: Settings,
    obtainable: Callable[[SizeTable, Grade], bool],
) -> SizeChoice:
    had = frozenset(grade.key for grade in table.machined if obtainable(table, grade))
    result = machine(table, measured, had, settings)
    likely = table.grade(result.likely) if result.likely else None
    worst = table.grade(result.worst) if result.worst else None
    because = tuple(Because(says, table.source, after=asked) for says in result.says)
    unsettled = () if likely else because
    return SizeChoice(
        table=table,
        basis=Basis.MACHINED,
        present=table.grade(result.present),
        likely=likely,
        worst=worst,
        half_step=None,
        hold=likely != worst,
        because=because,
        unsettled=unsettled,
        machined=result,
    )


def _as_it_is(table: SizeTable, measured: tuple[Measured, ...], settings: Settings) -> SizeChoice:
    found = [present_grade(table, m.feature, m.readings, settings) for m in measured]
    grades = sorted({grade.sequence: grade for grade, _ in found}.items())
    present = grades[-1][1]
    because = [
        Because(f"{m.feature.name}: {says}", table.source)
        for m, (_, says) in zip(measured, found, strict=True)
    ]
    unsettled: tuple[Because, ...] = ()
    if len(grades) > 1 and table.together:
        names = " and ".join(grade.name for _, grade in grades)
        unsettled = (
            Because(f"{table.name} stands at {names}: find out which", after=tuple(because)),
        )
    half_step = _half_step(table, measured, present)
    if half_step is not None:
        because.append(
            Because(f"worn a little and not machined: {half_step.name} shells", table.source)
        )
    return SizeChoice(
        table,
        Basis.AS_IT_IS,
        present,
        present,
        present,
        half_step,
        False,
        tuple(because),
        unsettled,
    )


def _half_step(table: SizeTable, measured: tuple[Measured, ...], present: Grade) -> Grade | None:
    """The smallest half step of the present grade that takes up the greatest wear."""
    if table.kind is not SizeKind.SHAFT or present.finish_low is None:
        return None
    least = min(reading.value for m in measured for reading in m.readings)
    wear = present.finish_low - least
    if wear.base <= 0:
        return None
    enough = [
        (grade.takes_up, grade.sequence, grade)
        for grade in table.grades
        if grade.half_step_of == present.key
        and grade.takes_up is not None
        and grade.takes_up >= wear
    ]
    return min(enough)[2] if enough else None
