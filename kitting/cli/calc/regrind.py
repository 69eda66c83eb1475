"""`kitting calc regrind`: the undersize that a journal cleans up at."""

from typing import Literal

import click

from kitting.cli.calc.common import Answer, Given, Length, Strict, figure, given_options, sum_door
from kitting.cli.calc.layout import CAUTION, facts, page, points, table, title
from kitting.cli.calc.sizes import (
    NOTHING,
    GradeIn,
    ReadingIn,
    grades_from,
    grades_of,
    readings_from,
    split_option,
    station_readings,
)
from kitting.engineering.form_limits import FormLimits
from kitting.engineering.grades import Grade, HalfStep
from kitting.engineering.regrind import RegrindChoice, RegrindRequest, choose_regrind
from kitting.errors import BadInput, Problems
from kitting.measure import Unit

CASES = {
    "one_sided": "yes, even or one-sided",
    "even": "only if worn evenly",
    "no": "no",
}


class LimitsIn(Strict):
    """What the family allows."""

    ovality: Length | None = None
    taper: Length | None = None
    wear_min: Length | None = None


class HalfStepIn(Strict):
    """A shell for a shaft worn a little and not ground."""

    name: str
    for_grade: str
    takes_up: Length


class RegrindIn(Given):
    """A journal, its grades and what the grinder needs."""

    grades: tuple[GradeIn, ...]
    readings: tuple[ReadingIn, ...]
    present: str | None = None
    score_depth: Length = NOTHING
    stock: Length = NOTHING
    uncertainty: Length = NOTHING
    limits: LimitsIn = LimitsIn()
    half_steps: tuple[HalfStepIn, ...] = ()
    shells: tuple[str, ...] | None = None


class CleanUp(Strict):
    """Largest diameters at which the journal cleans up."""

    even: str
    one_sided: str


class GradeNamed(Strict):
    """A grade that was chosen."""

    grade: str


class ShellNamed(Strict):
    """A shell that was chosen."""

    shell: str


class GradeRow(Strict):
    """Whether the journal cleans up at a grade, and why."""

    name: str
    cleans_up: Literal["even", "one_sided", "no"]
    has_shells: bool
    because: str


class RegrindOut(Answer):
    """The choice, with its sum."""

    needed: bool
    reasons: tuple[str, ...]
    undecided: tuple[str, ...]
    present: str
    present_because: str
    least: str
    greatest: str
    ovality: str
    taper: str
    shape: str
    unworn: str
    wear: str
    clean_up: CleanUp
    likely: GradeNamed | None
    worst: GradeNamed | None
    not_ground: ShellNamed | None
    grades: tuple[GradeRow, ...]
    advice: tuple[str, ...]
    notes: tuple[str, ...]


def request_of(given: RegrindIn, unit: Unit) -> RegrindRequest:
    """What the choice is made from."""
    problems = Problems()
    grades: tuple[Grade, ...] = ()
    half_steps: list[HalfStep] = []
    try:
        grades = grades_of(given.grades)
    except BadInput as error:
        problems.extend(error.problems)
    for step in given.half_steps:
        with problems.at("half_steps"):
            half_steps.append(HalfStep(step.name, step.for_grade, step.takes_up))
    problems.raise_if_any()
    return RegrindRequest(
        grades=grades,
        readings=station_readings(given.readings, unit),
        stock=given.stock,
        uncertainty=given.uncertainty,
        score_depth=given.score_depth,
        present=given.present,
        limits=FormLimits(given.limits.ovality, given.limits.taper, wear_min=given.limits.wear_min),
        half_steps=tuple(half_steps),
        shells=None if given.shells is None else frozenset(given.shells),
    )


def answer(given: RegrindIn, unit: Unit) -> RegrindOut:
    """Choose, and put the choice into words and figures."""
    return out_of(choose_regrind(request_of(given, unit)), unit)


def out_of(choice: RegrindChoice, unit: Unit) -> RegrindOut:
    """The choice in words and figures."""
    form = choice.form
    return RegrindOut(
        unit=str(unit),
        needed=choice.needed,
        reasons=choice.reasons,
        undecided=choice.undecided,
        present=choice.present.name,
        present_because=choice.present_because,
        least=figure(form.least, unit),
        greatest=figure(form.greatest, unit),
        ovality=figure(form.ovality, unit),
        taper=figure(form.taper, unit),
        shape=form.shape.value,
        unworn=figure(choice.unworn, unit),
        wear=figure(choice.wear, unit),
        clean_up=CleanUp(
            even=figure(choice.clean_up_even, unit),
            one_sided=figure(choice.clean_up_one_sided, unit),
        ),
        likely=GradeNamed(grade=choice.likely.name) if choice.likely else None,
        worst=GradeNamed(grade=choice.worst.name) if choice.worst else None,
        not_ground=ShellNamed(shell=choice.not_ground.name) if choice.not_ground else None,
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
        notes=form.notes,
    )


def sheet(found: RegrindOut) -> str:
    """The answer as a sheet of text."""
    return page(
        title("Regrind"),
        facts(
            (
                ("Must it be ground?", "yes" if found.needed else "no"),
                ("Present grade", f"{found.present} ({found.present_because})"),
                ("Least, greatest", f"{found.least}, {found.greatest} {found.unit}"),
                ("Ovality, taper", f"{found.ovality}, {found.taper} {found.unit}"),
                ("Along the journal", found.shape),
                ("Wear below the grade", f"{found.wear} {found.unit}"),
                ("Cleans up, even wear", f"{found.clean_up.even} {found.unit}"),
                ("Cleans up, one-sided", f"{found.clean_up.one_sided} {found.unit}"),
                ("Likely grade", found.likely.grade if found.likely else "none"),
                ("Worst-case grade", found.worst.grade if found.worst else "none"),
                ("Shell, not ground", found.not_ground.shell if found.not_ground else None),
            )
        ),
        points("Why", found.reasons),
        points("Not decided", found.undecided),
        points("What to do", found.advice),
        table(
            ("Grade", "Cleans up", "Because"),
            [(row.name, CASES[row.cleans_up], row.because) for row in found.grades],
        ),
        points("Mind", (*found.notes, CAUTION)),
    )


@sum_door(RegrindIn, RegrindOut, answer, sheet)
@click.option("--grade", multiple=True, help="NAME,MIN,MAX: finished limits; standard first.")
@click.option("--reading", multiple=True, help="STATION,DIRECTION,DIAMETER.")
@click.option("--present", help="The grade that the shaft is at; else it is worked out.")
@click.option("--score-depth", help="Depth of the deepest score.")
@click.option("--stock", help="What the grinder needs on the diameter to clean up.")
@click.option("--uncertainty", help="Expanded uncertainty (k = 2) of one reading.")
@click.option("--ovality", help="Limit of ovality.")
@click.option("--taper", help="Limit of taper.")
@click.option("--wear-min", help="Least diameter allowed.")
@click.option("--half-step", multiple=True, help="NAME,GRADE,AMOUNT: a shell and what it takes up.")
def command(
    *,
    grade: tuple[str, ...],
    reading: tuple[str, ...],
    present: str | None,
    score_depth: str | None,
    stock: str | None,
    uncertainty: str | None,
    ovality: str | None,
    taper: str | None,
    wear_min: str | None,
    half_step: tuple[str, ...],
) -> dict[str, object]:
    """The undersize that a journal cleans up at, evenly worn and worn on one side.

    Example: kitting calc regrind --unit in --grade standard,2.7480,2.7490 --grade
    .010,2.7380,2.7390 --reading A,0,2.7461 --reading A,90,2.7470 --stock .0005 --wear-min 2.7470
    """
    keys = ("name", "for_grade", "takes_up")
    steps = [
        dict(zip(keys, split_option(text, 3, "--half-step"), strict=True)) for text in half_step
    ]
    return given_options(
        grades=grades_from(grade),
        readings=readings_from(reading),
        present=present,
        score_depth=score_depth,
        stock=stock,
        uncertainty=uncertainty,
        limits=given_options(ovality=ovality, taper=taper, wear_min=wear_min),
        half_steps=steps,
    )
