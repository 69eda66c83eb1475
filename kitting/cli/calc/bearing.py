"""`kitting calc bearing`: sizes, designation and internal clearance of a rolling bearing."""

from collections.abc import Mapping

import click

from kitting.cli.calc.brief import read_at
from kitting.cli.calc.common import Answer, Given, Length, Strict, figure, given_options, sum_door
from kitting.cli.calc.layout import facts, page, points, table, title
from kitting.engineering.rolling import (
    SAME_SIZE,
    RollingBearing,
    compare_bearings,
    internal_clearance,
    nearest_bearings,
    parse_bearing,
)
from kitting.engineering.rolling_tables import CLASSES
from kitting.engineering.sizes import Size, compare_sizes
from kitting.errors import BadInput, Problems
from kitting.measure import Quantity, Unit


class MeasuredIn(Strict):
    """A bearing as measured."""

    bore: Length
    outside: Length
    width: Length


class BearingIn(Given):
    """A bearing by its designation or as measured; `against` is the designation wanted."""

    bearing: str | None = None
    against: str | None = None
    measured: MeasuredIn | None = None


class ClearanceOut(Strict):
    """One class of radial internal clearance, µm, before fitting."""

    name: str
    least: int
    greatest: int


class BearingOut(Strict):
    """What a designation means."""

    designation: str
    kind: str
    bore: str
    outside: str
    width: str
    clearance_class: str
    closure: str
    clearances: tuple[ClearanceOut, ...]


class DiffersOut(Strict):
    """One thing in which the bearing differs from the one wanted."""

    what: str
    found: str
    wanted: str


class NearOut(Strict):
    """A standard bearing near the measured sizes; `same` is by dimensions alone, so confirm."""

    designation: str
    kind: str
    same: bool
    differs: str


class BearingAnswer(Answer):
    """The bearing, how it compares with the one wanted, and what a measured one may be."""

    bearing: BearingOut | None
    against: BearingOut | None
    same: bool | None
    differs: tuple[DiffersOut, ...]
    nearest: tuple[NearOut, ...]
    source: str


def answer(given: BearingIn, unit: Unit) -> BearingAnswer:
    """Read, compare, and look for the nearest."""
    problems = Problems()
    if (given.bearing is None) == (given.measured is None):
        problems.add("", "one bearing is needed", "give its designation or what was measured")
    problems.raise_if_any()
    part = _named(problems, "bearing", given.bearing)
    wanted = _named(problems, "against", given.against)
    problems.raise_if_any()
    differs = () if wanted is None else _differs(part, given.measured, wanted, unit)
    return BearingAnswer(
        unit=str(unit),
        bearing=None if part is None else _shape(part, unit),
        against=None if wanted is None else _shape(wanted, unit),
        same=None if wanted is None else not differs,
        differs=differs,
        nearest=() if given.measured is None else _nearest(given.measured),
        source="ISO 15, ISO 5753-1",
    )


def _named(problems: Problems, place: str, text: str | None) -> RollingBearing | None:
    return None if text is None else read_at(problems, place, lambda: parse_bearing(text))


def _shape(part: RollingBearing, unit: Unit) -> BearingOut:
    return BearingOut(
        designation=part.designation,
        kind=part.kind,
        bore=figure(part.bore, unit),
        outside=figure(part.outside, unit),
        width=figure(part.width, unit),
        clearance_class=part.clearance_class,
        closure=part.closure,
        clearances=tuple(_clearances(part)),
    )


def _clearances(part: RollingBearing) -> list[ClearanceOut]:
    found: list[ClearanceOut] = []
    for name in CLASSES:
        try:
            band = internal_clearance(part, name)
        except BadInput:
            return []  # kinds and bores that the tables do not have
        if band.low is not None and band.high is not None:
            least, greatest = (int(end.value_in("µm")) for end in (band.low, band.high))
            found.append(ClearanceOut(name=name, least=least, greatest=greatest))
    return found


def _differs(
    part: RollingBearing | None, measured: MeasuredIn | None, wanted: RollingBearing, unit: Unit
) -> tuple[DiffersOut, ...]:
    if part is not None:
        _, others = compare_bearings(part, wanted)
        sizes = _size_differences(part.dimensions, wanted, unit)
        return (*sizes, *(DiffersOut(what=o.what, found=o.left, wanted=o.right) for o in others))
    return () if measured is None else _size_differences(_sizes(measured), wanted, unit)


def _sizes(measured: MeasuredIn) -> dict[str, Quantity]:
    return {"bore": measured.bore, "outside": measured.outside, "width": measured.width}


def _size_differences(
    sizes: Mapping[str, Quantity], wanted: RollingBearing, unit: Unit
) -> tuple[DiffersOut, ...]:
    return tuple(
        DiffersOut(
            what=one.what,
            found=f"{figure(sizes[one.what], unit)} {unit}, {one.size}",
            wanted=f"{figure(wanted.dimensions[one.what], unit)} {unit}",
        )
        for one in compare_sizes(sizes, wanted.dimensions, SAME_SIZE)
        if one.size is not Size.SAME
    )


def _nearest(measured: MeasuredIn) -> tuple[NearOut, ...]:
    found = nearest_bearings(measured.bore, measured.outside, measured.width)
    return tuple(
        NearOut(
            designation=near.bearing.designation,
            kind=near.bearing.kind,
            same=near.same_size,
            differs=", ".join(str(one) for one in near.sizes if one.size is not Size.SAME),
        )
        for near in found
    )


def sheet(found: BearingAnswer) -> str:
    """The answer as a sheet of text."""
    part = found.bearing
    verdict = {True: "same size and kind, confirm", False: "another bearing", None: None}
    near = [
        (one.designation, one.kind, "same size, confirm" if one.same else one.differs)
        for one in found.nearest
    ]
    return page(
        title(part.designation if part else "Rolling bearing"),
        facts(_lines(part, found.unit)) if part else "",
        facts(
            (
                ("Against", found.against.designation if found.against else None),
                ("Verdict", verdict[found.same]),
            )
        ),
        table(
            ("Differs in", "This one", "Wanted"),
            [(one.what, one.found or "none", one.wanted or "none") for one in found.differs],
        )
        if found.differs
        else "",
        table(("Nearest", "Kind", "Standard against measured"), near) if near else "",
        points(
            "Mind",
            (
                f"Sizes and clearances by {found.source}; the clearance is that before fitting.",
                "Cage, seals, grease and the maker's own suffixes are not in the sizes.",
            ),
        ),
    )


def _lines(part: BearingOut, unit: str) -> list[tuple[str, str]]:
    lines = [
        ("Kind", part.kind),
        ("Bore × outside × width", f"{part.bore} × {part.outside} × {part.width} {unit}"),
        ("Closed", part.closure),
    ]
    for one in part.clearances:
        mark = " (this one)" if one.name == part.clearance_class else ""
        lines.append((f"Clearance {one.name}{mark}", f"{one.least} to {one.greatest} µm"))
    return lines


@sum_door(BearingIn, BearingAnswer, answer, sheet)
@click.option("--bearing", help="Designation: '6205-2RS C3', 'NU 205'.")
@click.option("--against", help="The designation wanted.")
@click.option("--bore", help="Measured bore, instead of a designation.")
@click.option("--outside", help="Measured outside diameter.")
@click.option("--width", help="Measured width.")
def command(
    *, bearing: str | None, against: str | None, **measured: str | None
) -> dict[str, object]:
    """Sizes of a rolling bearing from its number, or the number from its sizes; clearance class.

    Examples: kitting calc bearing --bearing "6305 C3" --against "NU 305"

    kitting calc bearing --bore "25 mm" --outside "52 mm" --width "15 mm"
    """
    return given_options(bearing=bearing, against=against, measured=given_options(**measured))
