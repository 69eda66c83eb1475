"""`kitting calc fit`: ISO 286 limits of a hole and a shaft, and what they leave between them."""

from decimal import Decimal

import click

from kitting.cli.calc.brief import short
from kitting.cli.calc.common import Answer, Given, Length, Strict, figure, given_options, sum_door
from kitting.cli.calc.layout import facts, page, points, title
from kitting.engineering.fits import Deviations, IsoFit, fit
from kitting.measure import UNITS, Quantity, Unit


class FitIn(Given):
    """A nominal size and the classes of its hole and shaft."""

    size: Length
    hole: str
    shaft: str


class DeviationsOut(Strict):
    """Deviations from the nominal in µm, and the limits of size they make."""

    code: str
    upper: int | float
    lower: int | float
    greatest: str
    least: str
    note: str


class FitOut(Answer):
    """Deviations and clearances in whole µm (halves only where the standard prints halves).

    `unit` is that of `size`, `greatest` and `least`. A negative clearance is interference.
    """

    size: str
    hole: DeviationsOut
    shaft: DeviationsOut
    clearance_min: int | float
    clearance_max: int | float
    kind: str


def micrometres(value: Decimal) -> int | float:
    """A whole number as an integer; a half, which is exact in binary too, as it is."""
    return int(value) if value == int(value) else float(value)


def answer(given: FitIn, unit: Unit) -> FitOut:
    """Look both classes up and compare them."""
    found: IsoFit = fit(given.size, given.hole, given.shaft)
    return FitOut(
        unit=str(unit),
        size=figure(given.size, unit),
        hole=_deviations(given.size, found.hole, unit),
        shaft=_deviations(given.size, found.shaft, unit),
        clearance_min=micrometres(found.clearance_min),
        clearance_max=micrometres(found.clearance_max),
        kind=found.kind.value,
    )


def _deviations(size: Quantity, found: Deviations, unit: Unit) -> DeviationsOut:
    upper, lower = (Quantity.of(value, UNITS["µm"]) for value in (found.upper, found.lower))
    return DeviationsOut(
        code=str(found.code),
        upper=micrometres(found.upper),
        lower=micrometres(found.lower),
        greatest=figure(size + upper, unit),
        least=figure(size + lower, unit),
        note=found.note,
    )


def sheet(found: FitOut) -> str:
    """The answer as a sheet of text."""
    return page(
        title(f"{found.size} {found.unit} {found.hole.code}/{found.shaft.code}"),
        facts(
            (
                (f"Hole {found.hole.code}", _line(found.hole, found.unit)),
                (f"Shaft {found.shaft.code}", _line(found.shaft, found.unit)),
                ("Least clearance", f"{found.clearance_min:+} µm"),
                ("Greatest clearance", f"{found.clearance_max:+} µm"),
                ("Kind of fit", found.kind),
            )
        ),
        points(
            "Mind",
            (
                *(side.note for side in (found.hole, found.shaft) if side.note),
                "A clearance below zero is interference. Limits hold at 20 °C (ISO 1).",
            ),
        ),
    )


def _line(side: DeviationsOut, unit: str) -> str:
    return f"{side.upper:+} {side.lower:+} µm: {short(side.least)} to {short(side.greatest)} {unit}"


@sum_door(FitIn, FitOut, answer, sheet)
@click.option("--size", help="Nominal size, such as '40 mm' or '1.5 in'.")
@click.option("--hole", help="Class of the hole, such as H7.")
@click.option("--shaft", help="Class of the shaft, such as p6.")
def command(*, size: str | None, hole: str | None, shaft: str | None) -> dict[str, object]:
    """ISO 286 limits of a hole and a shaft, and their clearance or interference.

    Example: kitting calc fit --size "40 mm" --hole H7 --shaft p6
    """
    return given_options(size=size, hole=hole, shaft=shaft)
