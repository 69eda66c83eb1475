"""Which oversize a bore cleans up at, and why each one does or does not do.

The mirror of `kitting.engineering.regrind`: s is the depth of a score, m the stock on the diameter
for the boring tool, h what the hone takes after it, U the expanded uncertainty of one reading.

    even      = greatest + 2 s + m + h + U
    one-sided = 2 greatest − unworn + 2 s + m + h + U,  unworn = min(least, present finish_max)

An oversize does when it is larger than the present size and its finish_min is no less than that.
The bored size, before honing, is the finished band less h.
"""

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from kitting.engineering.band import Band
from kitting.engineering.form_limits import NO_LIMITS, FormLimits, left_open, over_limits
from kitting.engineering.grades import Grade, check_grades, grade_named
from kitting.engineering.regrind import CleansUp, GradeVerdict
from kitting.errors import NotFound, Problems
from kitting.measure.journal import JournalForm, StationReading, measure_form
from kitting.measure.quantity import Quantity

_FAR = 2


@dataclass(frozen=True, slots=True)
class ReboreRequest:
    """A bore as measured, the table of its sizes, and what the borer needs.

    `hone` is on the diameter. `present` None: found from the least reading. `pistons` names the
    sizes for which pistons can be had; None: all of them.
    """

    grades: tuple[Grade, ...]
    readings: tuple[StationReading, ...]
    stock: Quantity
    hone: Quantity
    uncertainty: Quantity
    score_depth: Quantity
    present: str | None = None
    limits: FormLimits = NO_LIMITS
    pistons: Collection[str] | None = None


@dataclass(frozen=True, slots=True)
class ReboreChoice:
    """What to bore to: `likely` and `worst` are the smallest oversizes that do, or None."""

    needed: bool
    reasons: tuple[str, ...]
    undecided: tuple[str, ...]
    form: JournalForm
    present: Grade
    unworn: Quantity
    wear: Quantity
    clean_up_even: Quantity
    clean_up_one_sided: Quantity
    likely: Grade | None
    worst: Grade | None
    bore_to: Band | None
    grades: tuple[GradeVerdict, ...]
    advice: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class BlockChoice:
    """The one size to which all bores of a block are taken."""

    needed: bool
    likely: Grade | None
    worst: Grade | None
    choices: tuple[tuple[str, ReboreChoice], ...]


def choose_rebore(request: ReboreRequest) -> ReboreChoice:
    """Return the oversize to bore to, evenly worn and worn on one side.

    Raises:
        BadInput: readings, sizes or limits that cannot be taken, all in one go.
    """
    _check(request)
    form = measure_form(request.readings, request.uncertainty)
    present = _present(request, form.least)
    unit = form.least.unit
    unworn = min(form.least, present.finish_max.to(unit))
    allowance = request.score_depth * 2 + request.stock + request.hone + request.uncertainty
    even = form.greatest + allowance
    one_sided = form.greatest * 2 - unworn + allowance
    table = tuple(_verdict(request, present, grade, even, one_sided) for grade in request.grades)
    likely = _smallest(request, table, {CleansUp.EVEN, CleansUp.ONE_SIDED})
    worst = _smallest(request, table, {CleansUp.ONE_SIDED})
    reasons = over_limits(form, request.limits, request.score_depth)
    return ReboreChoice(
        needed=bool(reasons),
        reasons=reasons,
        undecided=left_open(form, request.limits, request.uncertainty),
        form=form,
        present=present,
        unworn=unworn,
        wear=form.greatest - present.finish_max,
        clean_up_even=even,
        clean_up_one_sided=one_sided,
        likely=likely,
        worst=worst,
        bore_to=_before_honing(likely, request.hone),
        grades=table,
        advice=_advice(bool(reasons), likely, worst),
    )


def choose_rebore_for_block(requests: Sequence[tuple[str, ReboreRequest]]) -> BlockChoice:
    """Return the one size for all bores of a block: the largest that any of them needs.

    Raises:
        BadInput: no bore, one that cannot be taken, or bores of different tables.
    """
    problems = Problems()
    choices: list[tuple[str, ReboreChoice]] = []
    if not requests:
        problems.add("block", "it has no bore", "give at least one")
    for name, request in requests:
        if request.grades != requests[0][1].grades:
            problems.add(name, "its sizes are not those of the first bore", "give one table")
        with problems.at(name):
            choices.append((name, choose_rebore(request)))
    problems.raise_if_any()
    return BlockChoice(
        needed=any(choice.needed for _, choice in choices),
        likely=_largest_of([choice.likely for _, choice in choices]),
        worst=_largest_of([choice.worst for _, choice in choices]),
        choices=tuple(choices),
    )


def _largest_of(grades: Sequence[Grade | None]) -> Grade | None:
    found = [grade for grade in grades if grade is not None]
    if len(found) < len(grades):
        return None
    return max(found, key=lambda grade: grade.finish_min)


def rebore_size(piston: Quantity, clearance: Quantity, hone: Quantity) -> Quantity:
    """The size to bore to for a piston in hand: piston + clearance − honing allowance.

    Source: maker's motorcycle procedure, which leaves at most 0.02 mm to the hone.
    """
    return piston + clearance - hone


def _before_honing(grade: Grade | None, hone: Quantity) -> Band | None:
    if grade is None:
        return None
    return Band(grade.finish_min - hone, grade.finish_max - hone)


def _check(request: ReboreRequest) -> None:
    problems = Problems()
    with problems.at("grades"):
        check_grades(request.grades)
    with problems.at("readings"):
        measure_form(request.readings)
    names = [grade.name for grade in request.grades]
    if request.present is not None and request.grades:
        with problems.at("present"):
            grade_named(request.grades, request.present)
    for name in sorted(set(request.pistons or ()) - set(names)):
        problems.extend(NotFound("size", name, names).problems)
    amounts = {
        "score_depth": request.score_depth,
        "stock": request.stock,
        "hone": request.hone,
        "uncertainty": request.uncertainty,
    } | request.limits.amounts
    for place, amount in amounts.items():
        if amount is not None and amount.base < 0:
            problems.add(place, f"{amount} is below zero", "give it as a plain amount")
    if not len(problems):
        _check_near(request, problems)
    problems.raise_if_any()


def _check_near(request: ReboreRequest, problems: Problems) -> None:
    largest = max(grade.finish_max for grade in request.grades)
    smallest = min(grade.finish_min for grade in request.grades)
    greatest = max(reading.value for reading in request.readings)
    if greatest * _FAR < smallest or greatest > largest * _FAR:
        problems.add(
            "readings",
            f"the greatest reading {greatest} is nowhere near the sizes, {smallest} to {largest}",
            "give both in one unit, or write the unit beside each figure",
        )


def _present(request: ReboreRequest, least: Quantity) -> Grade:
    """The size given; else the one whose band holds the least reading; else, as a bore only wears
    larger, the largest that the least reading does not fall below by more than the uncertainty."""
    if request.present is not None:
        return grade_named(request.grades, request.present)
    by_size = sorted(request.grades, key=lambda grade: grade.finish_min, reverse=True)
    for grade in by_size:
        if grade.finish_min <= least <= grade.finish_max:
            return grade
    for grade in by_size:
        if least >= grade.finish_min - request.uncertainty:
            return grade
    return by_size[-1]


def _verdict(
    request: ReboreRequest, present: Grade, grade: Grade, even: Quantity, one_sided: Quantity
) -> GradeVerdict:
    pistons = request.pistons is None or grade.name in request.pistons
    bottom = grade.finish_min.to(even.unit)
    if grade.name == present.name:
        found, because = CleansUp.NO, "the bore is at this size now"
    elif grade.finish_min <= present.finish_min:
        found, because = CleansUp.NO, f"{bottom} is smaller than the present '{present.name}'"
    elif grade.finish_min >= one_sided:
        found = CleansUp.ONE_SIDED
        because = f"its low limit {bottom} reaches {one_sided}, for wear all on one side"
    elif grade.finish_min >= even:
        found = CleansUp.EVEN
        because = (
            f"its low limit {bottom} reaches {even}, for even wear, but not {one_sided} if the "
            "wear is all on one side"
        )
    else:
        found = CleansUp.NO
        because = f"its low limit {bottom} does not reach {even}, for even wear"
    if found is not CleansUp.NO and not pistons:
        because += "; but no pistons of this size are to be had"
    return GradeVerdict(grade.name, found, pistons, because)


def _smallest(
    request: ReboreRequest, table: Sequence[GradeVerdict], wanted: set[CleansUp]
) -> Grade | None:
    names = {row.name for row in table if row.cleans_up in wanted and row.has_shells}
    fitting = [grade for grade in request.grades if grade.name in names]
    return min(fitting, key=lambda grade: grade.finish_min, default=None)


def _advice(needed: bool, likely: Grade | None, worst: Grade | None) -> tuple[str, ...]:
    if not needed:
        return ("nothing that was measured calls for boring",)
    if likely is None:
        return ("no size with pistons cleans this bore up: sleeve it, or find another block",)
    if worst is None:
        return (
            f"'{likely.name}' cleans up only if the wear is even; worn on one side no size does: "
            "order no pistons until the borer has set up and clocked it",
        )
    if worst.name != likely.name:
        return (
            f"'{likely.name}' if the wear is even, '{worst.name}' if it is all on one side: order "
            "no pistons until the borer has set up, and price both",
        )
    return (f"'{likely.name}' cleans up whichever way the bore is worn",)
