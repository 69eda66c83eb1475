"""`kitting calc bore`: what the readings of a bore say, and the oversize it cleans up at."""

import click

from kitting.cli.calc.common import (
    Answer,
    Given,
    Length,
    Strict,
    estimate,
    figure,
    given_options,
    sum_door,
)
from kitting.cli.calc.layout import CAUTION, facts, page, points, table, title
from kitting.cli.calc.regrind import CASES, CleanUp, GradeNamed, GradeRow
from kitting.cli.calc.sizes import (
    NOTHING,
    BandOut,
    GradeIn,
    ReadingIn,
    band_out,
    grades_from,
    grades_of,
    readings_from,
    split_option,
    station_readings,
)
from kitting.engineering.form_limits import FormLimits
from kitting.engineering.rebore import ReboreChoice, ReboreRequest, choose_rebore
from kitting.errors import BadInput, Problem
from kitting.measure import Quantity, Unit
from kitting.measure.bore import SixReadings, ring_gap_after, wear_ridge
from kitting.measure.journal import measure_form


class BoreLimitsIn(Strict):
    """What the family allows of a bore."""

    ovality: Length | None = None
    taper: Length | None = None
    wear_max: Length | None = None


class RingIn(Strict):
    """A ring's gap, and the bore in which it was measured."""

    gap: Length
    in_bore: Length


class BoreIn(Given):
    """Readings of a bore; with `grades`, the oversize too.

    `six` are D1 … D6: odd along the crank, even across it, top to bottom. `unworn` is the bore
    above ring travel. `hone` and `stock` are on the diameter. `pistons` are the sizes to be had.
    """

    readings: tuple[ReadingIn, ...] = ()
    six: tuple[Length, ...] = ()
    unworn: Length | None = None
    grades: tuple[GradeIn, ...] = ()
    present: str | None = None
    score_depth: Length = NOTHING
    stock: Length = NOTHING
    hone: Length = NOTHING
    uncertainty: Length = NOTHING
    limits: BoreLimitsIn = BoreLimitsIn()
    pistons: tuple[str, ...] | None = None
    ring: RingIn | None = None


class SixOut(Strict):
    """The six-reading figures."""

    bore: str
    taper: str
    out_of_round: str


class ReboreOut(Strict):
    """The oversize, with its sum."""

    needed: bool
    reasons: tuple[str, ...]
    undecided: tuple[str, ...]
    present: str
    wear: str
    clean_up: CleanUp
    likely: GradeNamed | None
    worst: GradeNamed | None
    bore_to: BandOut | None
    grades: tuple[GradeRow, ...]
    advice: tuple[str, ...]


class BoreOut(Answer):
    """The form of the bore, and what follows."""

    least: str
    greatest: str
    mean: str
    ovality: str
    taper: str
    shape: str
    six: SixOut | None
    ridge: str | None
    ring_gap: str | None
    rebore: ReboreOut | None
    notes: tuple[str, ...]


def answer(given: BoreIn, unit: Unit) -> BoreOut:
    """Measure the form, and choose the oversize where sizes are given."""
    given = _with_six_placed(given)
    form = measure_form(station_readings(given.readings, unit), given.uncertainty)
    ring = given.ring
    gap = ring_gap_after(ring.gap, form.greatest - ring.in_bore) if ring else None
    return BoreOut(
        unit=str(unit),
        least=figure(form.least, unit),
        greatest=figure(form.greatest, unit),
        mean=estimate(form.mean, unit),
        ovality=figure(form.ovality, unit),
        taper=figure(form.taper, unit),
        shape=form.shape.value,
        six=_six_out(given, unit),
        ridge=_ridge(given, form.greatest, unit),
        ring_gap=estimate(gap, unit) if gap is not None else None,
        rebore=_rebore_out(choose_rebore(_request(given, unit)), unit) if given.grades else None,
        notes=form.notes,
    )


def _ridge(given: BoreIn, greatest: Quantity, unit: Unit) -> str | None:
    if given.unworn is None:
        return None
    return figure(wear_ridge(greatest, given.unworn), unit)


def _with_six_placed(given: BoreIn) -> BoreIn:
    """The six readings stand as readings at three stations, along and across the crank."""
    if not given.six:
        return given
    if given.readings or len(given.six) != 6:
        raise BadInput(
            Problem("six", f"{len(given.six)} figures", "give six and no readings, or readings")
        )
    places = [(s, d) for s in ("top", "middle", "bottom") for d in ("along", "across")]
    readings = tuple(
        ReadingIn.model_construct(station=station, direction=direction, value=value)
        for (station, direction), value in zip(places, given.six, strict=True)
    )
    return given.model_copy(update={"readings": readings})


def _six_out(given: BoreIn, unit: Unit) -> SixOut | None:
    if len(given.six) != 6:
        return None
    d1, d2, d3, d4, d5, d6 = given.six
    six = SixReadings((d1, d2, d3, d4, d5, d6))
    return SixOut(
        bore=figure(six.bore, unit),
        taper=figure(six.taper, unit),
        out_of_round=figure(six.out_of_round, unit),
    )


def _request(given: BoreIn, unit: Unit) -> ReboreRequest:
    limits = given.limits
    return ReboreRequest(
        grades=grades_of(given.grades),
        readings=station_readings(given.readings, unit),
        stock=given.stock,
        hone=given.hone,
        uncertainty=given.uncertainty,
        score_depth=given.score_depth,
        present=given.present,
        limits=FormLimits(limits.ovality, limits.taper, wear_max=limits.wear_max),
        pistons=None if given.pistons is None else frozenset(given.pistons),
    )


def _rebore_out(choice: ReboreChoice, unit: Unit) -> ReboreOut:
    return ReboreOut(
        needed=choice.needed,
        reasons=choice.reasons,
        undecided=choice.undecided,
        present=choice.present.name,
        wear=figure(choice.wear, unit),
        clean_up=CleanUp(
            even=figure(choice.clean_up_even, unit),
            one_sided=figure(choice.clean_up_one_sided, unit),
        ),
        likely=GradeNamed(grade=choice.likely.name) if choice.likely else None,
        worst=GradeNamed(grade=choice.worst.name) if choice.worst else None,
        bore_to=band_out(choice.bore_to, unit) if choice.bore_to else None,
        grades=tuple(
            GradeRow(
                name=row.name,
                cleans_up=row.cleans_up.value,
                has_shells=row.has_shells,
                because=row.because,
            )
            for row in choice.grades
        ),
        advice=choice.advice,
    )


def sheet(found: BoreOut) -> str:
    """The answer as a sheet of text."""
    unit, six = found.unit, found.six
    return page(
        title("Bore"),
        facts(
            (
                ("Least, greatest", f"{found.least}, {found.greatest} {unit}"),
                ("Mean", f"{found.mean} {unit}"),
                ("Ovality, taper", f"{found.ovality}, {found.taper} {unit}"),
                ("Along the bore", found.shape),
                ("Six-reading taper", f"{six.taper} {unit}" if six else None),
                ("Six-reading round", f"{six.out_of_round} {unit}" if six else None),
                ("Wear ridge", f"{found.ridge} {unit}, radial" if found.ridge else None),
                ("Ring gap here", f"{found.ring_gap} {unit}" if found.ring_gap else None),
            )
        ),
        _rebore_sheet(found.rebore, unit),
        points("Mind", (*found.notes, CAUTION)),
    )


def _rebore_sheet(found: ReboreOut | None, unit: str) -> str:
    if found is None:
        return ""
    bored = found.bore_to
    return page(
        facts(
            (
                ("Must it be bored?", "yes" if found.needed else "no"),
                ("Present size", found.present),
                ("Wear above it", f"{found.wear} {unit}"),
                ("Cleans up, even wear", f"{found.clean_up.even} {unit}"),
                ("Cleans up, one-sided", f"{found.clean_up.one_sided} {unit}"),
                ("Likely size", found.likely.grade if found.likely else "none"),
                ("Worst-case size", found.worst.grade if found.worst else "none"),
                ("Bore to, then hone", f"{bored.low} to {bored.high} {unit}" if bored else None),
            )
        ),
        points("Why", found.reasons),
        points("Not decided", found.undecided),
        points("What to do", found.advice),
        table(
            ("Size", "Cleans up", "Because"),
            [(row.name, CASES[row.cleans_up], row.because) for row in found.grades],
        ),
    )


@sum_door(BoreIn, BoreOut, answer, sheet)
@click.option("--reading", multiple=True, help="STATION,DIRECTION,DIAMETER.")
@click.option("--six", help="D1,D2,D3,D4,D5,D6: odd along the crank, even across it.")
@click.option("--unworn", help="The bore above ring travel.")
@click.option("--grade", multiple=True, help="NAME,MIN,MAX: finished limits; standard first.")
@click.option("--present", help="The size that the bore is at; else it is worked out.")
@click.option("--stock", help="What the boring tool needs on the diameter to clean up.")
@click.option("--hone", help="What the hone takes off the diameter after it.")
@click.option("--uncertainty", help="Expanded uncertainty (k = 2) of one reading.")
@click.option("--ovality", help="Limit of ovality.")
@click.option("--taper", help="Limit of taper.")
@click.option("--wear-max", help="Greatest diameter allowed.")
@click.option("--ring", help="GAP,BORE: a ring's gap and the bore it was measured in.")
def command(
    *,
    reading: tuple[str, ...],
    six: str | None,
    unworn: str | None,
    grade: tuple[str, ...],
    present: str | None,
    stock: str | None,
    hone: str | None,
    uncertainty: str | None,
    ovality: str | None,
    taper: str | None,
    wear_max: str | None,
    ring: str | None,
) -> dict[str, object]:
    """Ovality, taper, shape and ridge of a bore; the next oversize; the ring gap."""
    gap = (
        dict(zip(("gap", "in_bore"), split_option(ring, 2, "--ring"), strict=True))
        if ring
        else None
    )
    return given_options(
        readings=readings_from(reading),
        six=split_option(six, 6, "--six") if six else None,
        unworn=unworn,
        grades=grades_from(grade),
        present=present,
        stock=stock,
        hone=hone,
        uncertainty=uncertainty,
        limits=given_options(ovality=ovality, taper=taper, wear_max=wear_max),
        ring=gap,
    )
