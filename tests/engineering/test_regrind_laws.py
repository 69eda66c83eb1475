"""Laws of the regrind choice, over random journals."""

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from kitting.engineering.grades import Grade, HalfStep
from kitting.engineering.regrind import RegrindChoice, RegrindRequest, choose_regrind
from kitting.engineering.regrind_group import choose_for_group
from kitting.measure import Quantity
from kitting.measure.journal import StationReading
from tests.engineering.regrind_cases import amounts, requests, work_again


def depth(grade: Grade | None) -> float:
    """Deeper is more; no grade left is deepest of all."""
    return float("inf") if grade is None else -float(grade.finish_max.base)


def in_mm(request: RegrindRequest) -> RegrindRequest:
    def mm(amount: Quantity | None) -> Quantity | None:
        return None if amount is None else amount.to("mm")

    limits = request.limits
    return replace(
        request,
        grades=tuple(
            Grade(g.name, g.finish_min.to("mm"), g.finish_max.to("mm")) for g in request.grades
        ),
        readings=tuple(
            StationReading(r.station, r.direction, r.value.to("mm")) for r in request.readings
        ),
        stock=request.stock.to("mm"),
        uncertainty=request.uncertainty.to("thou"),
        score_depth=request.score_depth.to("µm"),
        limits=replace(
            limits, ovality=mm(limits.ovality), taper=mm(limits.taper), wear_min=mm(limits.wear_min)
        ),
        half_steps=tuple(
            HalfStep(h.name, h.for_grade, h.takes_up.to("mm")) for h in request.half_steps
        ),
    )


def verdict(choice: RegrindChoice) -> tuple[object, ...]:
    return (
        choice.needed,
        len(choice.reasons),
        len(choice.undecided),
        choice.likely and choice.likely.name,
        choice.worst and choice.worst.name,
        choice.not_ground and choice.not_ground.name,
        [(row.name, row.cleans_up) for row in choice.grades],
    )


@given(requests())
def test_the_choice_agrees_with_a_second_working(request: RegrindRequest) -> None:
    choice, again = choose_regrind(request), work_again(request)
    assert choice.needed == again.needed
    assert choice.clean_up_even.base == again.even
    assert choice.clean_up_one_sided.base == again.one_sided
    assert (choice.likely.name if choice.likely else None) == again.likely
    assert (choice.worst.name if choice.worst else None) == again.worst
    assert (choice.not_ground.name if choice.not_ground else None) == again.not_ground


@given(requests(), amounts)
def test_a_deeper_score_never_gives_a_smaller_undersize(
    request: RegrindRequest, more: Quantity
) -> None:
    before = choose_regrind(request)
    after = choose_regrind(replace(request, score_depth=request.score_depth + more))
    assert depth(after.likely) >= depth(before.likely)
    assert depth(after.worst) >= depth(before.worst)


@given(requests())
def test_one_sided_is_never_shallower_than_even(request: RegrindRequest) -> None:
    choice = choose_regrind(request)
    assert choice.clean_up_one_sided <= choice.clean_up_even
    assert depth(choice.worst) >= depth(choice.likely)


@given(requests())
def test_converting_units_never_changes_a_verdict(request: RegrindRequest) -> None:
    assert verdict(choose_regrind(in_mm(request))) == verdict(choose_regrind(request))


@given(requests())
def test_what_is_chosen_really_cleans_up(request: RegrindRequest) -> None:
    choice = choose_regrind(request)
    for grade, diameter in (
        (choice.likely, choice.clean_up_even),
        (choice.worst, choice.clean_up_one_sided),
    ):
        if grade is not None:
            assert grade.finish_max <= diameter
            assert grade.finish_max < choice.present.finish_max


@given(st.lists(requests(), min_size=1, max_size=4))
def test_a_group_takes_the_deepest_grade_that_any_journal_needs(
    group: list[RegrindRequest],
) -> None:
    named = [(f"pin {place}", request) for place, request in enumerate(group)]
    choice = choose_for_group(named)
    alone = [choose_regrind(request) for request in group]
    assert depth(choice.likely) == max(depth(one.likely) for one in alone)
    assert depth(choice.worst) == max(depth(one.worst) for one in alone)
    assert choice.needed == any(one.needed for one in alone)
