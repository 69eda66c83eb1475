"""`kitting calc bush`: pressing in a bush, heat, the size to ream, and the same hot."""

from decimal import Decimal

import click

from kitting.cli.calc.brief import (
    LengthsIn,
    Number,
    few,
    limits_from,
    limits_of,
    read_at,
    said,
    short,
)
from kitting.cli.calc.common import (
    Answer,
    Given,
    Length,
    Strict,
    Temperature,
    figure,
    given_options,
    sum_door,
)
from kitting.cli.calc.layout import CAUTION, facts, page, points, table, title
from kitting.cli.calc.sizes import NOTHING, BandOut
from kitting.engineering.bush import ROOM, BushJob, Press, heat_to_drop_in, loose_at, press
from kitting.engineering.bush_ream import HotRunning, Ream, hot_running, ream
from kitting.engineering.materials import material_named
from kitting.errors import BadInput, Problem, Problems
from kitting.measure import Limits, Quantity, Unit


class BushIn(Given):
    """A bush and its housing, cold; what it is to run on; how hot it runs.

    `play` is what the bush needs to drop in freely; `bush_at` a chilled bush's temperature.
    """

    housing_bore: LengthsIn
    housing_outside: Length
    housing_material: str = "aluminium"
    bush_outside: LengthsIn
    bush_bore: Length
    bush_material: str = "phosphor bronze"
    length: Length | None = None
    friction: Number = Decimal("0.15")
    play: Length | None = None
    room: Temperature | None = None
    bush_at: Temperature | None = None
    journal: LengthsIn | None = None
    clearance: LengthsIn | None = None
    shaft_material: str = "steel"
    running: Temperature | None = None


class PressOut(Strict):
    """What one interference does; pressure, stresses and force carry their units."""

    interference: str
    pressure: str
    housing_hoop: str
    bush_hoop: str
    closure: str
    swelling: str
    force: str | None


class HeatOut(Strict):
    """Temperatures for dropping in, °C."""

    rise: str
    housing_at: str
    bush_at: str


class ReamOut(Strict):
    """The band to ream to, the bore as pressed, and the least left to cut."""

    band: BandOut
    pressed_bore: BandOut
    stock: str
    can_be_reamed: bool


class HotOut(Strict):
    """At running temperature: hold on the bush, and clearance on the journal."""

    temperature: str
    interference: BandOut
    tight: bool
    pressure_least: str
    pressure_greatest: str
    clearance: BandOut | None


class BushOut(Answer):
    """The bush at its least and greatest interference, and what follows."""

    least: PressOut
    greatest: PressOut
    tight: bool
    heat: HeatOut
    loose_at: str | None
    ream: ReamOut | None
    hot: HotOut | None
    notes: tuple[str, ...]


def answer(given: BushIn, unit: Unit) -> BushOut:
    """Work the bush out, cold and hot."""
    job = _job(given)
    low, high = _ends(job.interference)
    least, greatest = press(job, low), press(job, high)
    room = ROOM if given.room is None else given.room.value
    chill = None if given.bush_at is None else given.bush_at.value
    heat = heat_to_drop_in(job, given.play or NOTHING, room, chill)
    reamed = _ream(job, given)
    hot = _hot(job, given, None if reamed is None else reamed.band)
    gone = loose_at(job)
    return BushOut(
        unit=str(unit),
        least=_press(least, unit),
        greatest=_press(greatest, unit),
        tight=least.tight,
        heat=HeatOut(
            rise=few(heat.rise, 4), housing_at=few(heat.housing_at, 4), bush_at=few(heat.bush_at, 4)
        ),
        loose_at=None if gone is None else few(gone, 4),
        ream=None
        if reamed is None
        else ReamOut(
            band=_band(reamed.band, unit),
            pressed_bore=_band(reamed.pressed_bore, unit),
            stock=figure(reamed.stock, unit),
            can_be_reamed=reamed.can_be_reamed,
        ),
        hot=None if hot is None else _hot_out(hot, unit),
        notes=_notes(least.tight, reamed is None or reamed.can_be_reamed, hot),
    )


def _job(given: BushIn) -> BushJob:
    problems = Problems()
    housing = read_at(problems, "housing_material", lambda: material_named(given.housing_material))
    bush = read_at(problems, "bush_material", lambda: material_named(given.bush_material))
    bore = read_at(problems, "housing_bore", lambda: _both(given.housing_bore))
    outside = read_at(problems, "bush_outside", lambda: _both(given.bush_outside))
    problems.raise_if_any()
    if housing is None or bush is None or bore is None or outside is None:
        raise BadInput(list(problems))
    return BushJob(
        housing_bore=bore,
        housing_outside=given.housing_outside,
        housing=housing,
        bush_outside=outside,
        bush_bore=given.bush_bore,
        bush=bush,
        length=given.length,
        friction=given.friction,
    )


def _both(given: LengthsIn) -> Limits:
    return limits_of("", given.low, given.high, both=True)


def _ream(job: BushJob, given: BushIn) -> Ream | None:
    if (given.journal is None) != (given.clearance is None):
        raise BadInput(
            Problem("journal", "journal and clearance go together", "give both to size the bore")
        )
    if given.journal is None or given.clearance is None:
        return None
    journal = limits_of("journal", given.journal.low, given.journal.high, both=True)
    clearance = limits_of("clearance", given.clearance.low, given.clearance.high, both=True)
    return ream(job, journal, clearance)


def _hot(job: BushJob, given: BushIn, bore: Limits | None) -> HotRunning | None:
    if given.running is None:
        return None
    if bore is None or given.journal is None:
        return hot_running(job, given.running.value)
    journal = limits_of("journal", given.journal.low, given.journal.high, both=True)
    shaft = material_named(given.shaft_material)
    return hot_running(job, given.running.value, bore, journal, shaft)


def _ends(band: Limits) -> tuple[Quantity, Quantity]:
    if band.low is None or band.high is None:
        raise BadInput(Problem("", f"the limits '{band}' have an open end", "give both"))
    return band.low, band.high


def _band(band: Limits, unit: Unit) -> BandOut:
    low, high = _ends(band)
    return BandOut(low=figure(low, unit), high=figure(high, unit))


def _press(found: Press, unit: Unit) -> PressOut:
    return PressOut(
        interference=figure(found.interference, unit),
        pressure=said(found.pressure) or "",
        housing_hoop=said(found.housing_hoop) or "",
        bush_hoop=said(found.bush_hoop) or "",
        closure=figure(found.closure, unit),
        swelling=figure(found.swelling, unit),
        force=said(found.force),
    )


def _hot_out(hot: HotRunning, unit: Unit) -> HotOut:
    least, greatest = _ends(hot.pressure)
    return HotOut(
        temperature=few(hot.temperature, 4),
        interference=_band(hot.interference, unit),
        tight=hot.tight,
        pressure_least=said(least) or "",
        pressure_greatest=said(greatest) or "",
        clearance=None if hot.clearance is None else _band(hot.clearance, unit),
    )


def _notes(tight: bool, reams: bool, hot: HotRunning | None) -> tuple[str, ...]:
    found: list[str] = []
    if not tight:
        found.append("At the smallest bush in the largest bore nothing holds it: another bush.")
    if not reams:
        found.append(
            "Pressed in, the largest bore is already past the size to ream: no metal left."
        )
    if hot is not None and not hot.tight:
        found.append("At running temperature the loosest bush is not held: peg it, or more grip.")
    found.append("Heat evenly and measure it; hot metal and presses bite.")
    return tuple(found)


def sheet(found: BushOut) -> str:
    """The answer as a sheet of text."""
    unit = found.unit
    rows = [
        (
            f"Interference, {unit}",
            short(found.least.interference),
            short(found.greatest.interference),
        ),
        ("Pressure", found.least.pressure, found.greatest.pressure),
        ("Hoop, housing bore", found.least.housing_hoop, found.greatest.housing_hoop),
        ("Hoop, bush bore", found.least.bush_hoop, found.greatest.bush_hoop),
        (f"Bore closes by, {unit}", short(found.least.closure), short(found.greatest.closure)),
        (f"Housing swells by, {unit}", short(found.least.swelling), short(found.greatest.swelling)),
        ("Force to push in", found.least.force or "", found.greatest.force or ""),
    ]
    return page(
        title("Bush"),
        table(("", "Loosest", "Tightest"), rows),
        facts(
            (
                ("Heat the housing to", f"{found.heat.housing_at} °C"),
                ("Loosens at", f"{found.loose_at} °C" if found.loose_at else "no heat"),
                *_ream_lines(found.ream, unit),
                *_hot_lines(found.hot, unit),
            )
        ),
        points("Mind", (*found.notes, CAUTION)),
    )


def _ream_lines(found: ReamOut | None, unit: str) -> list[tuple[str, str]]:
    if found is None:
        return []
    pressed = found.pressed_bore
    return [
        ("Ream or hone to", f"{_span(found.band)} {unit}"),
        ("Bore as pressed", f"{_span(pressed)} {unit}, least to cut {short(found.stock)}"),
    ]


def _hot_lines(found: HotOut | None, unit: str) -> list[tuple[str, str]]:
    if found is None:
        return []
    at = f"At {found.temperature} °C"
    lines = [(at, f"{'tight' if found.tight else 'loose'}, {_span(found.interference)} {unit}")]
    lines.append((f"{at}, pressure", f"{found.pressure_least} to {found.pressure_greatest}"))
    if found.clearance is not None:
        lines.append((f"{at}, clearance", f"{_span(found.clearance)} {unit}"))
    return lines


def _span(band: BandOut) -> str:
    return f"{short(band.low)} to {short(band.high)}"


@sum_door(BushIn, BushOut, answer, sheet)
@click.option("--housing-bore", help="LOW,HIGH or one measured size.")
@click.option("--housing-outside", help="Diameter of the metal round the bush.")
@click.option("--housing-material", help="steel, cast iron, aluminium …")
@click.option("--bush-outside", help="LOW,HIGH or one measured size.")
@click.option("--bush-bore", help="Bore before pressing.")
@click.option("--bush-material", help="phosphor bronze, bearing bronze …")
@click.option("--length", help="Length pressed in, for the force.")
@click.option("--friction", help="Friction when pushed in; 0.15 when not said.")
@click.option("--play", help="What the bush needs to drop in freely.")
@click.option("--room", help="Room temperature, °C; 20 when not said.")
@click.option("--bush-at", help="Temperature of a chilled bush, °C.")
@click.option("--journal", help="LOW,HIGH of the journal as finished, or one size.")
@click.option("--clearance", help="LOW,HIGH of the running clearance.")
@click.option("--shaft-material", help="Material of the journal; steel when not said.")
@click.option("--running", help="Running temperature, °C.")
def command(
    *,
    housing_bore: str | None,
    bush_outside: str | None,
    journal: str | None,
    clearance: str | None,
    **options: str | None,
) -> dict[str, object]:
    """Interference, pressure, closure, heat to drop in, size to ream; the same hot.

    Example: kitting calc bush --unit in --housing-bore 1.7500,1.7505 --housing-outside 2.75
    --bush-outside 1.7530,1.7535 --bush-bore 1.43 --journal 1.4375,1.4380 --clearance .0015,.0025
    --play .002 --running 100
    """
    return given_options(
        housing_bore=limits_from(housing_bore, "--housing-bore"),
        bush_outside=limits_from(bush_outside, "--bush-outside"),
        journal=limits_from(journal, "--journal"),
        clearance=limits_from(clearance, "--clearance"),
        **options,
    )
