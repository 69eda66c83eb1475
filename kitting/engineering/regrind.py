"""Which undersize a journal cleans up at, and why each grade does or does not do.

Diameters throughout; s is the depth of a score (radial), m the stock on the diameter that the
grinder needs, U the expanded uncertainty of one reading. Geometry, no outside source: grinding
concentric with the wear takes the journal to its least diameter; grinding on the original centre,
when all the wear is on one side, takes the same depth off the unworn side too.

    even      = least − 2 s − m − U
    one-sided = 2 least − unworn − 2 s − m − U,  unworn = max(greatest, present finish_min)

A grade does when it is smaller than the present one and its finish_max is no greater than that.
"""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from enum import StrEnum

from kitting.engineering.form_limits import NO_LIMITS, FormLimits, left_open, over_limits
from kitting.engineering.grades import Grade, HalfStep, check_grades, grade_named
from kitting.errors import NotFound, Problem, Problems
from kitting.measure.journal import JournalForm, StationReading, measure_form
from kitting.measure.quantity import Quantity

_FAR = 2


class CleansUp(StrEnum):
    """The hardest case of wear in which a grade still cleans up."""

    EVEN = "even"
    ONE_SIDED = "one_sided"
    NO = "no"


@dataclass(frozen=True, slots=True)
class RegrindRequest:
    """A journal as measured, the table of its grades, and what the grinder needs.

    `present` None: found from the greatest reading (see `find_present`). `shells` names the grades
    for which shells can be had; None: all of them. `uncertainty` is U, k = 2, of one reading.
    """

    grades: tuple[Grade, ...]
    readings: tuple[StationReading, ...]
    stock: Quantity
    uncertainty: Quantity
    score_depth: Quantity
    present: str | None = None
    limits: FormLimits = NO_LIMITS
    half_steps: tuple[HalfStep, ...] = ()
    shells: Collection[str] | None = None


@dataclass(frozen=True, slots=True)
class GradeVerdict:
    """One row of the table: whether the journal cleans up at it, and why."""

    name: str
    cleans_up: CleansUp
    has_shells: bool
    because: str


@dataclass(frozen=True, slots=True)
class RegrindChoice:
    """What to grind to. `likely` and `worst` are the largest grades that do, or None.

    They are given whether or not grinding is `needed`, so that both can be priced. Lengths are in
    the readings' own unit.
    """

    needed: bool
    reasons: tuple[str, ...]
    undecided: tuple[str, ...]
    form: JournalForm
    present: Grade
    present_because: str
    unworn: Quantity
    wear: Quantity
    clean_up_even: Quantity
    clean_up_one_sided: Quantity
    likely: Grade | None
    worst: Grade | None
    not_ground: HalfStep | None
    grades: tuple[GradeVerdict, ...]
    advice: tuple[str, ...]


def choose_regrind(request: RegrindRequest) -> RegrindChoice:
    """Return the grade to grind a journal to, evenly worn and worn on one side.

    Raises:
        BadInput: readings, grades, limits or half steps that cannot be taken, all in one go.
    """
    check_request(request)
    form = measure_form(request.readings, request.uncertainty)
    present, present_because = _present(request, form)
    unit = form.least.unit
    unworn = max(form.greatest, present.finish_min.to(unit))
    allowance = request.score_depth * 2 + request.stock + request.uncertainty
    even = form.least - allowance
    one_sided = form.least * 2 - unworn - allowance
    wear = (present.finish_min - form.least).to(unit)
    table = tuple(_verdict(request, present, grade, even, one_sided) for grade in request.grades)
    likely = _largest(request, table, {CleansUp.EVEN, CleansUp.ONE_SIDED})
    worst = _largest(request, table, {CleansUp.ONE_SIDED})
    reasons = over_limits(form, request.limits, request.score_depth)
    half_step = None if reasons else _half_step(request.half_steps, present, wear)
    return RegrindChoice(
        needed=bool(reasons),
        reasons=reasons,
        undecided=left_open(form, request.limits, request.uncertainty),
        form=form,
        present=present,
        present_because=present_because,
        unworn=unworn,
        wear=wear,
        clean_up_even=even,
        clean_up_one_sided=one_sided,
        likely=likely,
        worst=worst,
        not_ground=half_step,
        grades=table,
        advice=_advice(bool(reasons), likely, worst, half_step, wear),
    )


def find_present(
    grades: Sequence[Grade], greatest: Quantity, uncertainty: Quantity
) -> tuple[Grade, str]:
    """Return the grade that a journal is at, and the sentence that says how that was told.

    The rule: the grade whose finished band holds the greatest reading; else, since a journal only
    wears smaller, the smallest grade whose finish_max the greatest reading does not pass by more
    than the uncertainty; a journal larger than all of them is taken as the largest grade.
    """
    shown = greatest.show()
    unit = greatest.unit
    by_size = sorted(grades, key=lambda grade: grade.finish_max)
    for grade in by_size:
        if grade.finish_min <= greatest <= grade.finish_max:
            return grade, f"the greatest reading {shown} lies in the band of '{grade.name}'"
    for grade in by_size:
        if greatest <= grade.finish_max + uncertainty:
            return grade, (
                f"'{grade.name}', up to {grade.finish_max.to(unit)}, is the smallest grade from "
                f"which the greatest reading {shown} can have worn"
            )
    largest = by_size[-1]
    return largest, (
        f"the greatest reading {shown} is above every grade; taken as '{largest.name}', whose top "
        f"limit is {largest.finish_max.to(unit)}: check the table and the reading"
    )


def check_request(request: RegrindRequest) -> None:
    """Refuse what no grade can be chosen from.

    Raises:
        BadInput: with every problem found.
    """
    problems = Problems()
    with problems.at("grades"):
        check_grades(request.grades)
    with problems.at("readings"):
        measure_form(request.readings)
    names = {grade.name for grade in request.grades}
    for step in request.half_steps:
        if step.for_grade not in names:
            problems.add(
                f"half step '{step.name}'",
                f"it is for the grade '{step.for_grade}', which is not in the table",
                f"name one of {', '.join(sorted(names))}",
            )
    if request.present is not None and request.grades:
        with problems.at("present"):
            grade_named(request.grades, request.present)
    for name in sorted(set(request.shells or ()) - names):
        problems.extend(NotFound("grade", name, sorted(names)).problems)
    problems.extend(_below_zero(request))
    if not len(problems):
        problems.extend(_far_from_table(request))
    problems.raise_if_any()


def _below_zero(request: RegrindRequest) -> list[Problem]:
    amounts = {
        "score_depth": request.score_depth,
        "stock": request.stock,
        "uncertainty": request.uncertainty,
    } | request.limits.amounts
    return [
        Problem(place, f"{amount} is below zero", "give it as a plain amount, without a sign")
        for place, amount in amounts.items()
        if amount is not None and amount.base < 0
    ]


def _far_from_table(request: RegrindRequest) -> list[Problem]:
    largest = max(grade.finish_max for grade in request.grades)
    smallest = min(grade.finish_min for grade in request.grades)
    least = min(reading.value for reading in request.readings)
    if least * _FAR >= smallest and least <= largest * _FAR:
        return []
    return [
        Problem(
            "readings",
            f"the least reading {least} is nowhere near the grades, {smallest} to {largest}",
            "give both in one unit, or write the unit beside each figure",
        )
    ]


def _present(request: RegrindRequest, form: JournalForm) -> tuple[Grade, str]:
    if request.present is None:
        return find_present(request.grades, form.greatest, request.uncertainty)
    grade = grade_named(request.grades, request.present)
    if form.greatest > grade.finish_max + request.uncertainty:
        return grade, (
            f"'{grade.name}' as given, though the greatest reading {form.greatest} is above its "
            f"top limit {grade.finish_max.to(form.greatest.unit)}: check which grade the shaft is"
        )
    return grade, f"'{grade.name}' as given"


def _half_step(half_steps: Sequence[HalfStep], present: Grade, wear: Quantity) -> HalfStep | None:
    if wear.base <= 0:
        return None
    enough = [
        step for step in half_steps if step.for_grade == present.name and step.takes_up >= wear
    ]
    return min(enough, key=lambda step: step.takes_up, default=None)


def _verdict(
    request: RegrindRequest, present: Grade, grade: Grade, even: Quantity, one_sided: Quantity
) -> GradeVerdict:
    shells = request.shells is None or grade.name in request.shells
    cleans_up, because = _cleans_up(present, grade, even, one_sided)
    if cleans_up is not CleansUp.NO and not shells:
        because += "; but no shells of this grade are to be had"
    return GradeVerdict(grade.name, cleans_up, shells, because)


def _cleans_up(
    present: Grade, grade: Grade, even: Quantity, one_sided: Quantity
) -> tuple[CleansUp, str]:
    top = grade.finish_max.to(even.unit)
    if grade.name == present.name:
        return CleansUp.NO, "the shaft is at this grade now"
    if grade.finish_max >= present.finish_max:
        return CleansUp.NO, f"{top} is larger than the present grade '{present.name}'"
    if grade.finish_max <= one_sided:
        return CleansUp.ONE_SIDED, (
            f"its top limit {top} is within the clean-up diameter {one_sided} of wear all on one "
            f"side, and so within {even} of even wear"
        )
    if grade.finish_max <= even:
        return CleansUp.EVEN, (
            f"its top limit {top} is within the clean-up diameter {even} of even wear, but over "
            f"{one_sided} if the wear is all on one side"
        )
    return CleansUp.NO, f"its top limit {top} is over the clean-up diameter {even} of even wear"


def _largest(
    request: RegrindRequest, table: Sequence[GradeVerdict], wanted: set[CleansUp]
) -> Grade | None:
    names = {row.name for row in table if row.cleans_up in wanted and row.has_shells}
    fitting = [grade for grade in request.grades if grade.name in names]
    return max(fitting, key=lambda grade: grade.finish_max, default=None)


def _advice(
    needed: bool,
    likely: Grade | None,
    worst: Grade | None,
    half_step: HalfStep | None,
    wear: Quantity,
) -> tuple[str, ...]:
    if not needed and half_step is not None:
        return (
            f"do not grind: '{half_step.name}' shells take up {half_step.takes_up.to(wear.unit)}, "
            f"and the journal is {wear} below its present grade",
        )
    if not needed:
        return ("nothing that was measured calls for grinding",)
    if likely is None:
        return (
            "no grade with shells cleans this journal up: have it built up and ground (reclaimed) "
            "by a specialist, or find another crank",
        )
    if worst is None:
        return (
            f"'{likely.name}' cleans up only if the wear is even; worn on one side no grade does, "
            "and it is reclaim or another crank: order no shells until the grinder has clocked it",
        )
    if worst.name != likely.name:
        return (
            f"'{likely.name}' if the wear is even, '{worst.name}' if it is all on one side: order "
            "no shells until the grinder has clocked the crank, and price both",
        )
    return (f"'{likely.name}' cleans up whichever way the journal is worn",)
