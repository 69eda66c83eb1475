"""`kitting calc film`: what a clearance does to the oil film, as a second opinion."""

from decimal import Decimal

import click

from kitting.cli.calc.brief import Number, few, said
from kitting.cli.calc.common import (
    Answer,
    Force,
    Given,
    Length,
    Strict,
    figure,
    given_options,
    sum_door,
)
from kitting.cli.calc.layout import CAUTION, facts, page, points, table, title
from kitting.engineering.film import Bearing, Film, oil_film, trumpler_least_film
from kitting.engineering.working import amount, beside
from kitting.errors import BadInput, Problem, Problems
from kitting.measure import Quantity, Unit


class FilmIn(Given):
    """A plain bearing running. `clearance` is on the diameter; several are compared.

    Speed in rev/min, viscosity in mPa·s (cP) at the heat that the oil has in the bearing.
    """

    journal: Length
    length: Length
    clearance: tuple[Length, ...]
    load: Force
    speed: Number
    viscosity: Number


class FilmRow(Strict):
    """The film at one clearance; flows in mm³/s, power in W, rise in °C."""

    clearance: str
    sommerfeld: str
    film_ratio: str
    least_film: str
    enough: bool
    friction: str
    power: str
    flow: str
    side_flow: str
    rise: str
    reynolds: str
    notes: tuple[str, ...]


class FilmOut(Answer):
    """The films, with the least film that is asked for starting and running."""

    pressure: str
    wanted_film: str
    films: tuple[FilmRow, ...]
    range_of_validity: str


_RANGE = (
    "Raimondi and Boyd, 1958: steady load, full round bearing, no grooves, one viscosity, laminar "
    "film, length 1/4 to 4 diameters. An engine's bearings are loaded by turns and grooved: a "
    "second opinion, never a limit."
)


def answer(given: FilmIn, unit: Unit) -> FilmOut:
    """Work out the film at every clearance."""
    if not given.clearance:
        raise BadInput(Problem("clearance", "there is none", "give one or more, on the diameter"))
    problems, rows = Problems(), list[FilmRow]()
    wanted = trumpler_least_film(given.journal)
    for number, clearance in enumerate(given.clearance, 1):
        with problems.at(f"clearance, number {number}"):
            bearing = Bearing(
                journal=given.journal,
                clearance=clearance,
                length=given.length,
                load=given.load,
                speed=given.speed,
                viscosity=given.viscosity,
            )
            rows.append(_row(clearance, oil_film(bearing), wanted, unit))
    problems.raise_if_any()
    return FilmOut(
        unit=str(unit),
        pressure=said(_pressure(given)) or "",
        wanted_film=figure(wanted, unit),
        films=tuple(rows),
        range_of_validity=_RANGE,
    )


def _pressure(given: FilmIn) -> Quantity:
    area = given.journal.value_in("mm") * given.length.value_in("mm")
    mean = given.load.value_in("N") / area
    return amount(mean, "MPa", beside(given.journal, "MPa", "psi"))


def _row(clearance: Quantity, film: Film, wanted: Quantity, unit: Unit) -> FilmRow:
    return FilmRow(
        clearance=figure(clearance, unit),
        sommerfeld=few(film.sommerfeld),
        film_ratio=few(film.film_ratio, 4),
        least_film=figure(film.least_film, unit),
        enough=film.least_film >= wanted,
        friction=few(film.friction, 4),
        power=few(film.power, 4),
        flow=few(film.flow, 4),
        side_flow=few(film.side_flow, 4),
        rise=few(film.rise, 3),
        reynolds=few(film.reynolds, 3),
        notes=film.notes,
    )


def _four(text: str) -> str:
    return few(Decimal(text), 4)


def sheet(found: FilmOut) -> str:
    """The answer as a sheet of text."""
    header = ("Clearance", "S", "Least film", "Friction", "Power W", "Flow mm³/s", "Rise °C")
    rows = [
        (
            row.clearance,
            _four(row.sommerfeld),
            _four(row.least_film),
            row.friction,
            row.power,
            row.flow,
            row.rise,
        )
        for row in found.films
    ]
    thin = [f"{row.clearance} {found.unit}" for row in found.films if not row.enough]
    notes = [f"{row.clearance} {found.unit}: {note}" for row in found.films for note in row.notes]
    return page(
        title(f"Oil film, sizes in {found.unit}"),
        facts(
            (
                ("Pressure on the bearing", found.pressure),
                ("Film wanted at least", f"{_four(found.wanted_film)} {found.unit} (Trumpler)"),
                ("Thinner than that at", ", ".join(thin)),
            )
        ),
        table(header, rows),
        points("Mind", (*notes, found.range_of_validity, CAUTION)),
    )


@sum_door(FilmIn, FilmOut, answer, sheet)
@click.option("--journal", help="Diameter of the journal.")
@click.option("--length", help="Length of the bearing.")
@click.option("--clearance", multiple=True, help="Clearance on the diameter; may be repeated.")
@click.option("--load", help="Load on the bearing, such as '1200 N'.")
@click.option("--speed", help="Revolutions a minute.")
@click.option("--viscosity", help="Viscosity of the hot oil, mPa·s (cP).")
def command(*, clearance: tuple[str, ...], **options: str | None) -> dict[str, object]:
    """What a clearance does to the oil film: Sommerfeld number, least film, friction, flow.

    Example: kitting calc film --journal "25 mm" --length "12.5 mm" --clearance "0.03 mm"
    --clearance "0.05 mm" --load "1200 N" --speed 1100 --viscosity 55
    """
    return given_options(clearance=clearance, **options)
