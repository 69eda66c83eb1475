"""What the works sheet says of one size: readings as found, sizes to finish to, clearances."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.engineering.band import Band
from kitting.engineering.clearance import ShellBearing, oil_clearance
from kitting.measure import Limits
from kitting.sheets.jobs.works_suits import bush_figures, pin_figures

if TYPE_CHECKING:
    from collections.abc import Iterator

    from kitting.catalog.size_tables import Grade, SizeTable
    from kitting.job.kit import KitWork
    from kitting.job.machining import MachinedFeature
    from kitting.job.path import JobPath
    from kitting.job.sizes import SizeChoice
    from kitting.measure import Quantity, Unit
    from kitting.sheets.page import Row


def clearance_facts(choice: SizeChoice) -> Iterator[tuple[str, str]]:
    """The clearance wanted, its limit, and what to do where drawing limits do not hold it."""
    table = choice.table
    if table.clearance_low is None or table.clearance_high is None:
        return
    wanted = f"{table.clearance_low} to {table.clearance_high}"
    limit = f"; never over {table.clearance_limit}" if table.clearance_limit is not None else ""
    yield "Clearance wanted", f"{wanted}{limit}"
    bearing = f"{table.housing_low} to {table.housing_high}" if table.housing_low else ""
    if bearing:
        yield "Housing, bolted up", f"{bearing} by drawing"
    target = Band(table.clearance_low, table.clearance_high)
    for grade in _grades(choice):
        wall = _wall(grade)
        if wall is not None:
            yield f"Shell wall, {grade.name}", f"{wall} by drawing"
        band = _clearance(table, grade)
        if band is not None and not target.holds(band):
            yield (
                f"At {grade.name}",
                "these limits alone do not hold the clearance wanted: measure the housing and "
                "the shells, and grind to suit them",
            )


def reading_rows(path: JobPath, machined: MachinedFeature) -> tuple[tuple[str, ...], list[Row]]:
    """The directions read, as headings, and a row of readings for each station."""
    feature = machined.feature
    finding = path.verdicts.findings.get(feature.position)
    readings = [r for r in finding.readings if r.feature == feature.key] if finding else []
    by_place = {(r.station, r.direction): r.value.to(feature.unit) for r in readings}
    planned = (feature.stations or ("",), feature.directions or ("",))
    stations = tuple(dict.fromkeys((*planned[0], *(r.station for r in readings))))
    directions = tuple(dict.fromkeys((*planned[1], *(r.direction for r in readings))))
    rows: list[Row] = [
        (station, *(_shown(by_place.get((station, direction))) for direction in directions))
        for station in stations
    ]
    return tuple(f"at {direction}" if direction else "" for direction in directions), rows


def form_facts(machined: MachinedFeature) -> Iterator[tuple[str, str]]:
    """What the readings come to, and the size at which the metal should clean up."""
    form, unit = machined.form, machined.feature.unit
    least, greatest = form.least_at, form.greatest_at
    yield (
        "Least, greatest",
        f"{least.value.to(unit)} ({least.station} {least.direction}), "
        f"{greatest.value.to(unit)} ({greatest.station} {greatest.direction})",
    )
    yield (
        "Ovality, taper",
        f"{form.ovality.to(unit)} at {form.oval_station or 'the one station'}, "
        f"{form.taper.to(unit)} along {form.taper_direction or 'the one direction'}",
    )
    if machined.score:
        yield "Scored or pitted", f"{machined.score.to(unit)} deep (radial)"
    yield (
        "Should clean up at",
        f"{machined.clean_up_even.to(unit).show(unit.places)} if worn evenly, "
        f"{machined.clean_up_one_sided.to(unit).show(unit.places)} if worn all on one side",
    )


def figures_for(path: JobPath, work: KitWork) -> Iterator[tuple[str, str]]:
    """The drawing's figures for the positions of an operation that is not itself a size choice."""
    for key in work.positions:
        position = path.family.position_by_key[key]
        tables = {f.size_table for f in path.family.features_of.get(key, ()) if f.size_table}
        if any(path.family.table_by_key[table].operation == work.operation for table in tables):
            continue
        choice = path.sizes.by_table.get(position.sized_by)
        fitted = choice is not None and any(g.lined_low is not None for g in _grades(choice))
        bushes = [bush for bush in path.sizes.bushes if bush.position.key == key]
        figures = [figure for bush in bushes for figure in bush_figures(bush)]
        pins = [found for found in path.sizes.pin_bores if found.position.key == key]
        if not bushes and choice is not None:
            figures.extend(_fit_figures(choice, finished=bool(pins)))
        figures.extend(figure for found in pins for figure in pin_figures(found))
        for feature in path.family.features_of.get(key, ()):
            if feature.is_in_hand:
                continue
            limits = Limits(feature.low, feature.high)
            known = feature.low is not None or feature.high is not None
            if known and not ((fitted or pins) and feature.kind == "bore"):
                note = f" ({feature.note})" if feature.note else ""
                figures.append(f"{feature.name}: {limits}{note}")
        for at, figure in enumerate(figures):
            yield ("" if at else position.name), figure


def _fit_figures(choice: SizeChoice, *, finished: bool) -> Iterator[str]:
    """What a bush is finished to, on the journal as it will be: likely, and at worst.

    `finished` where its own bore is told otherwise.
    """
    table = choice.table
    for grade in _grades(choice):
        journal = f"{_in(grade.finish_low, table.unit)} to {_in(grade.finish_high, table.unit)}"
        yield f"{table.name} at {grade.name}: {journal}"
        if not finished and grade.lined_low is not None and grade.lined_high is not None:
            yield (
                f"finished bore for it: {grade.lined_low} to {grade.lined_high}, "
                "to suit what runs in it, as measured"
            )
    if table.clearance_low is not None and table.clearance_high is not None:
        yield f"clearance wanted: {table.clearance_low} to {table.clearance_high}"


def _grades(choice: SizeChoice) -> tuple[Grade, ...]:
    return tuple(dict.fromkeys(g for g in (choice.likely, choice.worst) if g is not None))


def _clearance(table: SizeTable, grade: Grade) -> Band | None:
    """What housing, shells and journal come to at their limits; None where a figure is missing."""
    wall = _wall(grade)
    if wall is None or table.housing_low is None or table.housing_high is None:
        return None
    if grade.finish_low is None or grade.finish_high is None:
        return None
    bearing = ShellBearing.alike(Band(table.housing_low, table.housing_high), wall)
    return oil_clearance(bearing, Band(grade.finish_low, grade.finish_high))


def _wall(grade: Grade) -> Band | None:
    if grade.wall_low is None or grade.wall_high is None:
        return None
    return Band(grade.wall_low, grade.wall_high)


def _in(value: Quantity | None, unit: Unit) -> str:
    return str(value.to(unit)) if value is not None else ""


def _shown(value: Quantity | None) -> str:
    return str(value) if value is not None else "not read"
