"""`kitting calc journal`: what the readings of a journal say of it."""

import click

from kitting.cli.calc.common import (
    Answer,
    Given,
    Length,
    Strict,
    estimate,
    figure,
    figure_or_none,
    given_options,
    sum_door,
)
from kitting.cli.calc.layout import facts, page, points, title
from kitting.cli.calc.regrind import LimitsIn
from kitting.cli.calc.sizes import (
    NOTHING,
    GradeIn,
    ReadingIn,
    grades_from,
    grades_of,
    readings_from,
    station_readings,
)
from kitting.engineering.form_limits import FormLimits, left_open, over_limits
from kitting.engineering.grades import Grade, check_grades, grade_named
from kitting.engineering.regrind import find_present
from kitting.errors import Problems
from kitting.measure import Unit
from kitting.measure.journal import JournalForm, measure_form
from kitting.measure.roundness import Turning, fit_circle, turn_under_indicator


class PointIn(Strict):
    """A point on the section."""

    x: Length
    y: Length


class JournalIn(Given):
    """Readings of a journal, and what may be known of it.

    `turning` are indicator readings at equal angles through one turn between centres; `points`
    are points measured round one section.
    """

    readings: tuple[ReadingIn, ...]
    uncertainty: Length = NOTHING
    grades: tuple[GradeIn, ...] = ()
    present: str | None = None
    limits: LimitsIn = LimitsIn()
    turning: tuple[Length, ...] = ()
    points: tuple[PointIn, ...] = ()


class PlaceOut(Strict):
    """Where a reading was taken."""

    station: str
    direction: str


class LobeOut(Strict):
    """The amplitude of a number of lobes."""

    lobes: int
    amplitude: str


class RoundnessOut(Strict):
    """Form round one section by least squares."""

    roundness: str
    runout: str | None = None
    eccentricity: str | None = None
    radius: str | None = None
    lobes: tuple[LobeOut, ...] = ()


class JournalOut(Answer):
    """The form, the wear and the grade."""

    least: str
    least_at: PlaceOut
    greatest: str
    greatest_at: PlaceOut
    mean: str
    ovality: str
    taper: str
    shape: str
    present: str | None
    present_because: str | None
    wear: str | None
    over: tuple[str, ...]
    undecided: tuple[str, ...]
    roundness: RoundnessOut | None
    notes: tuple[str, ...]


def answer(given: JournalIn, unit: Unit) -> JournalOut:
    """Measure the form, and hold it against the grade and the limits."""
    form = measure_form(station_readings(given.readings, unit), given.uncertainty)
    limits = FormLimits(given.limits.ovality, given.limits.taper, wear_min=given.limits.wear_min)
    present, because = _present(given, form)
    roundness, notes = _roundness(given, unit)
    return JournalOut(
        unit=str(unit),
        least=figure(form.least, unit),
        least_at=PlaceOut(station=form.least_at.station, direction=form.least_at.direction),
        greatest=figure(form.greatest, unit),
        greatest_at=PlaceOut(
            station=form.greatest_at.station, direction=form.greatest_at.direction
        ),
        mean=estimate(form.mean, unit),
        ovality=figure(form.ovality, unit),
        taper=figure(form.taper, unit),
        shape=form.shape.value,
        present=present.name if present else None,
        present_because=because,
        wear=figure_or_none(present.finish_min - form.least if present else None, unit),
        over=over_limits(form, limits, NOTHING),
        undecided=left_open(form, limits, given.uncertainty),
        roundness=roundness,
        notes=(*form.notes, *notes),
    )


def _present(given: JournalIn, form: JournalForm) -> tuple[Grade | None, str | None]:
    if not given.grades:
        return None, None
    grades = grades_of(given.grades)
    problems = Problems()
    with problems.at("grades"):
        check_grades(grades)
    problems.raise_if_any()
    if given.present is not None:
        return grade_named(grades, given.present), "as given"
    return find_present(grades, form.greatest, given.uncertainty)


def _roundness(given: JournalIn, unit: Unit) -> tuple[RoundnessOut | None, tuple[str, ...]]:
    if given.turning:
        turned = turn_under_indicator(given.turning)
        return _turned_out(turned, unit), turned.notes
    if given.points:
        circle = fit_circle([(point.x, point.y) for point in given.points])
        out = RoundnessOut(
            roundness=estimate(circle.roundness, unit), radius=estimate(circle.radius, unit)
        )
        return out, ()
    return None, ()


def _turned_out(turned: Turning, unit: Unit) -> RoundnessOut:
    return RoundnessOut(
        roundness=estimate(turned.roundness, unit),
        runout=figure(turned.runout, unit),
        eccentricity=estimate(turned.eccentricity, unit),
        lobes=tuple(
            LobeOut(lobes=number, amplitude=estimate(amplitude, unit))
            for number, amplitude in turned.lobes
        ),
    )


def sheet(found: JournalOut) -> str:
    """The answer as a sheet of text."""
    unit, form = found.unit, found.roundness
    lobes = form.lobes[0] if form and form.lobes else None
    return page(
        title("Journal"),
        facts(
            (
                ("Least", f"{found.least} {unit} at {_at(found.least_at)}"),
                ("Greatest", f"{found.greatest} {unit} at {_at(found.greatest_at)}"),
                ("Mean", f"{found.mean} {unit}"),
                ("Ovality", f"{found.ovality} {unit}"),
                ("Taper", f"{found.taper} {unit}"),
                ("Along the journal", found.shape),
                ("Present grade", found.present),
                ("told by", found.present_because),
                ("Wear below it", f"{found.wear} {unit}" if found.wear else None),
                ("Roundness", f"{form.roundness} {unit}" if form else None),
                ("Run-out", f"{form.runout} {unit}" if form and form.runout else None),
                (
                    "Strongest",
                    f"{lobes.lobes} lobes, ± {lobes.amplitude} {unit}" if lobes else None,
                ),
            )
        ),
        points("Over its limit", found.over),
        points("Not decided", found.undecided),
        points("Mind", found.notes),
    )


def _at(place: PlaceOut) -> str:
    return f"station {place.station}, direction {place.direction}"


@sum_door(JournalIn, JournalOut, answer, sheet)
@click.option("--reading", multiple=True, help="STATION,DIRECTION,DIAMETER.")
@click.option("--uncertainty", help="Expanded uncertainty (k = 2) of one reading.")
@click.option("--grade", multiple=True, help="NAME,MIN,MAX: finished limits; standard first.")
@click.option("--present", help="The grade that the shaft is at; else it is worked out.")
@click.option("--ovality", help="Limit of ovality.")
@click.option("--taper", help="Limit of taper.")
@click.option("--wear-min", help="Least diameter allowed.")
@click.option("--turning", multiple=True, help="Indicator reading, at equal angles round a turn.")
def command(
    *,
    reading: tuple[str, ...],
    uncertainty: str | None,
    grade: tuple[str, ...],
    present: str | None,
    ovality: str | None,
    taper: str | None,
    wear_min: str | None,
    turning: tuple[str, ...],
) -> dict[str, object]:
    """Least, greatest, ovality, taper and shape of a journal; its wear and grade; roundness."""
    return given_options(
        readings=readings_from(reading),
        uncertainty=uncertainty,
        grades=grades_from(grade),
        present=present,
        limits=given_options(ovality=ovality, taper=taper, wear_min=wear_min),
        turning=list(turning),
    )
