"""`kitting calc crank`: all journals that are ground together."""

import click

from kitting.cli.calc.common import Answer, Given, Length, Strict, given_options, sum_door
from kitting.cli.calc.layout import CAUTION, facts, page, points, table, title
from kitting.cli.calc.regrind import (
    GradeNamed,
    HalfStepIn,
    LimitsIn,
    RegrindIn,
    RegrindOut,
    out_of,
    request_of,
)
from kitting.cli.calc.sizes import (
    NOTHING,
    GradeIn,
    ReadingIn,
    grades_from,
    readings_from,
    split_option,
)
from kitting.engineering.regrind_group import choose_for_group
from kitting.measure import Unit


class JournalIn(Strict):
    """One journal of the group."""

    name: str
    readings: tuple[ReadingIn, ...]
    present: str | None = None
    score_depth: Length = NOTHING


class CrankIn(Given):
    """The journals, and the one table of grades that they share."""

    grades: tuple[GradeIn, ...]
    journals: tuple[JournalIn, ...]
    stock: Length = NOTHING
    uncertainty: Length = NOTHING
    limits: LimitsIn = LimitsIn()
    half_steps: tuple[HalfStepIn, ...] = ()
    shells: tuple[str, ...] | None = None


class JournalOut(Strict):
    """One journal's own choice."""

    name: str
    choice: RegrindOut


class CrankOut(Answer):
    """The grade of the group, and which journals set it."""

    needed: bool
    because: str
    likely: GradeNamed | None
    worst: GradeNamed | None
    likely_set_by: tuple[str, ...]
    worst_set_by: tuple[str, ...]
    journals: tuple[JournalOut, ...]


def _alone(given: CrankIn, journal: JournalIn) -> RegrindIn:
    shared = {key: getattr(given, key) for key in ("grades", "stock", "uncertainty", "limits")}
    return RegrindIn.model_construct(
        **shared,
        half_steps=given.half_steps,
        shells=given.shells,
        readings=journal.readings,
        present=journal.present,
        score_depth=journal.score_depth,
    )


def answer(given: CrankIn, unit: Unit) -> CrankOut:
    """Choose for all of them."""
    choice = choose_for_group(
        [(journal.name, request_of(_alone(given, journal), unit)) for journal in given.journals]
    )
    return CrankOut(
        unit=str(unit),
        needed=choice.needed,
        because=choice.because,
        likely=GradeNamed(grade=choice.likely.name) if choice.likely else None,
        worst=GradeNamed(grade=choice.worst.name) if choice.worst else None,
        likely_set_by=choice.likely_set_by,
        worst_set_by=choice.worst_set_by,
        journals=tuple(
            JournalOut(name=name, choice=out_of(one, unit)) for name, one in choice.choices
        ),
    )


def _row(journal: JournalOut) -> tuple[str, ...]:
    one = journal.choice
    return (
        journal.name,
        "yes" if one.needed else "no",
        one.likely.grade if one.likely else "none",
        one.worst.grade if one.worst else "none",
        "; ".join((*one.reasons, *one.undecided)) or "in limits",
    )


def sheet(found: CrankOut) -> str:
    """The answer as a sheet of text."""
    return page(
        title("Journals ground together"),
        facts(
            (
                ("Must they be ground?", "yes" if found.needed else "no"),
                ("Likely grade", found.likely.grade if found.likely else "none"),
                ("set by", ", ".join(found.likely_set_by)),
                ("Worst-case grade", found.worst.grade if found.worst else "none"),
                ("set by ", ", ".join(found.worst_set_by)),
                ("Why", found.because),
            )
        ),
        table(
            ("Journal", "Grind", "Likely", "Worst", "Why"),
            [_row(journal) for journal in found.journals],
        ),
        points("Mind", (CAUTION,)),
    )


@sum_door(CrankIn, CrankOut, answer, sheet)
@click.option("--grade", multiple=True, help="NAME,MIN,MAX: finished limits; standard first.")
@click.option("--reading", multiple=True, help="JOURNAL,STATION,DIRECTION,DIAMETER.")
@click.option("--stock", help="What the grinder needs on the diameter to clean up.")
@click.option("--uncertainty", help="Expanded uncertainty (k = 2) of one reading.")
@click.option("--ovality", help="Limit of ovality.")
@click.option("--taper", help="Limit of taper.")
@click.option("--wear-min", help="Least diameter allowed.")
def command(
    *,
    grade: tuple[str, ...],
    reading: tuple[str, ...],
    stock: str | None,
    uncertainty: str | None,
    ovality: str | None,
    taper: str | None,
    wear_min: str | None,
) -> dict[str, object]:
    """One grade for all journals that are ground together: the deepest that any of them needs."""
    journals: dict[str, list[str]] = {}
    for text in reading:
        name, *rest = split_option(text, 4, "--reading")
        journals.setdefault(name, []).append(",".join(rest))
    return given_options(
        grades=grades_from(grade),
        journals=[
            {"name": name, "readings": readings_from(tuple(texts))}
            for name, texts in journals.items()
        ],
        stock=stock,
        uncertainty=uncertainty,
        limits=given_options(ovality=ovality, taper=taper, wear_min=wear_min),
    )
