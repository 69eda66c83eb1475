"""The oversize a bore cleans up at."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.engineering.band import Band
from kitting.engineering.form_limits import FormLimits
from kitting.engineering.grades import Grade
from kitting.engineering.rebore import (
    ReboreRequest,
    choose_rebore,
    choose_rebore_for_block,
    rebore_size,
)
from kitting.engineering.regrind import CleansUp
from kitting.errors import BadInput
from kitting.measure import Quantity
from kitting.measure.journal import StationReading


def inch(text: str) -> Quantity:
    return Quantity.of(text, "in")


def tenths(count: int) -> Quantity:
    return Quantity.of(Decimal(count).scaleb(-4), "in")


SIZES = tuple(
    Grade(
        f"+0.0{step}" if step else "standard", tenths(27500 + 10 * step), tenths(27505 + 10 * step)
    )
    for step in (0, 10, 20, 40)
)


def readings(*values: str) -> tuple[StationReading, ...]:
    places = [(s, d) for s in ("top", "middle", "bottom") for d in ("along", "across")]
    return tuple(
        StationReading(s, d, inch(value)) for (s, d), value in zip(places, values, strict=False)
    )


BORE = ReboreRequest(
    grades=SIZES,
    readings=readings("2.7560", "2.7566", "2.7540", "2.7544", "2.7510", "2.7512"),
    stock=inch("0.001"),
    hone=inch("0.001"),
    uncertainty=inch("0.0002"),
    score_depth=inch("0"),
    present="standard",
    limits=FormLimits(ovality=inch("0.002"), taper=inch("0.004"), wear_max=inch("2.7560")),
)


def test_the_clean_up_size_leaves_room_for_the_hone() -> None:
    choice = choose_rebore(BORE)
    assert choice.clean_up_even == inch("2.7588")
    assert choice.unworn == inch("2.7505")
    assert choice.clean_up_one_sided == inch("2.7649")
    assert (choice.likely, choice.worst) == (SIZES[1], SIZES[2])
    assert choice.bore_to == Band(inch("2.7590"), inch("2.7595"))
    assert [row.cleans_up for row in choice.grades] == [
        CleansUp.NO,
        CleansUp.EVEN,
        CleansUp.ONE_SIDED,
        CleansUp.ONE_SIDED,
    ]
    assert "price both" in choice.advice[0]


def test_wear_and_taper_past_their_limits_call_for_boring() -> None:
    choice = choose_rebore(BORE)
    assert [reason.split(":")[0] for reason in choice.reasons] == ["wear", "taper"]
    assert choice.wear == inch("0.0061")


def test_a_bore_in_limits_is_left_alone() -> None:
    fresh = replace(BORE, readings=readings("2.7502", "2.7503", "2.7502", "2.7503"))
    choice = choose_rebore(fresh)
    assert not choice.needed
    assert choice.advice == ("nothing that was measured calls for boring",)


def test_a_size_without_pistons_is_passed_over() -> None:
    choice = choose_rebore(replace(BORE, pistons=frozenset({"standard", "+0.040"})))
    assert choice.likely is choice.worst is SIZES[3]
    assert "no pistons" in choice.grades[1].because


def test_a_bore_past_the_last_size_is_sleeved() -> None:
    choice = choose_rebore(replace(BORE, score_depth=inch("0.030")))
    assert (choice.likely, choice.worst, choice.bore_to) == (None, None, None)
    assert "sleeve it" in choice.advice[0]


@pytest.mark.parametrize(
    ("least", "size"),
    [
        ("2.7503", "standard"),
        ("2.7540", "standard"),
        ("2.7599", "+0.010"),
        ("2.7490", "standard"),
        ("2.7602", "+0.010"),
    ],
)
def test_the_present_size_is_found_from_the_least_reading(least: str, size: str) -> None:
    choice = choose_rebore(replace(BORE, present=None, readings=readings(least, least)))
    assert choice.present.name == size


def test_all_bores_of_a_block_go_to_the_largest_that_any_needs() -> None:
    worse = replace(BORE, score_depth=inch("0.003"))
    block = choose_rebore_for_block([("left", BORE), ("right", worse)])
    assert (block.likely, block.worst) == (SIZES[2], SIZES[3])
    assert block.needed
    spoilt = replace(BORE, score_depth=inch("0.030"))
    assert choose_rebore_for_block([("left", BORE), ("right", spoilt)]).likely is None


def test_bores_of_two_tables_or_none_are_refused() -> None:
    with pytest.raises(BadInput, match="give one table"):
        choose_rebore_for_block([("left", BORE), ("right", replace(BORE, grades=SIZES[:2]))])
    with pytest.raises(BadInput, match="it has no bore"):
        choose_rebore_for_block([])


def test_what_is_wrong_with_a_bore_is_said_in_one_go() -> None:
    wrong = replace(
        BORE, present="std", hone=inch("-0.001"), pistons=frozenset({"+0.060"}), grades=SIZES
    )
    with pytest.raises(BadInput) as refused:
        choose_rebore(wrong)
    for part in ("no grade 'std'", "no size '+0.060'", "hone: -0.0010 in is below zero"):
        assert part in str(refused.value)
    with pytest.raises(BadInput, match="nowhere near the sizes"):
        choose_rebore(replace(BORE, readings=readings("69.85", "69.85")))


def test_a_piston_in_hand_sets_the_size_to_bore_to() -> None:
    assert rebore_size(inch("2.7470"), inch("0.0040"), inch("0.0008")) == inch("2.7502")


worn = st.lists(st.integers(27500, 27800).map(tenths), min_size=2, max_size=6)


@given(worn, st.integers(0, 40).map(tenths), st.integers(0, 40).map(tenths))
def test_a_deeper_score_never_gives_a_smaller_oversize(
    sizes: list[Quantity], score: Quantity, more: Quantity
) -> None:
    taken = tuple(StationReading("A", str(place), size) for place, size in enumerate(sizes))
    request = replace(BORE, readings=taken, score_depth=score)
    before, after = (
        choose_rebore(request),
        choose_rebore(replace(request, score_depth=score + more)),
    )
    for shallow, deep in ((before.likely, after.likely), (before.worst, after.worst)):
        assert deep is None or (shallow is not None and deep.finish_min >= shallow.finish_min)
    for choice in (before, after):
        assert choice.clean_up_one_sided >= choice.clean_up_even
        assert choice.likely is None or choice.likely.finish_min >= choice.clean_up_even
