"""New guides and small-end bushes: reamed to the pin or stem that runs in them."""

from dataclasses import replace
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from kitting.catalog.family import Family
from kitting.catalog.rules import Then, When
from kitting.job.findings import Finding
from kitting.job.pin_bores import PinBore
from kitting.measure import Quantity
from tests.builders import a_consequence, a_feature, a_position, q
from tests.job.benches import a_finding, read
from tests.job.fitting_bench import one, sizes
from tests.wren import tiny_family

KEPT = ("0.3095", "0.3094", "0.3095", "0.3094")


def guided(*, new_valve: bool = False, printed: bool = True) -> Family:
    """The Wren with a guide that is always renewed, and a valve that is kept or renewed."""
    family = tiny_family()
    renewed = ("guide", "valve") if new_valve else ("guide",)
    clearance = a_feature("play", "guide", "clearance", ("0.0015", "0.0025"))
    return replace(
        family,
        positions=(
            *family.positions,
            a_position("valve", "bottom-end", "valve"),
            a_position("guide", "bottom-end", "guide"),
        ),
        features=(
            *family.features,
            a_feature("stem", "valve", "diameter", ("0.3100", "0.3105"), ("0.3085", "")),
            a_feature("new-stem", "valve", "diameter", ("0.3100", "0.3105"), goes_with="hole"),
            a_feature("hole", "guide", "bore", ("0.3120", "0.3125"), goes_with="stem"),
            *((clearance,) if printed else ()),
        ),
        consequences=(
            *family.consequences,
            *(
                a_consequence(f"{key}-too", When.STRIPPED, "assembly:bottom-end", Then.RENEW, key)
                for key in renewed
            ),
        ),
    )


def guide(*findings: Finding, family: Family | None = None) -> PinBore:
    (found,) = sizes(*findings, family=family or guided()).pin_bores
    return found


def valve(*stem: str, new: str = "") -> Finding:
    in_hand = (one("new-stem", new),) if new else ()
    return a_finding("valve", *(read("stem", *stem) if stem else ()), *in_hand)


def reamed(found: PinBore) -> tuple[Quantity, Quantity]:
    assert found.bore is not None
    return found.bore.low, found.bore.high


def says(found: PinBore) -> str:
    return " ".join(str(step) for _, step in found.because.steps())


def test_a_guide_is_reamed_to_the_stem_that_is_kept_as_it_was_measured() -> None:
    """.3094 to .3095, U .0001; least .3096 + .0015, most .3093 + .0025."""
    found = guide(valve(*KEPT))
    assert found.measured
    assert reamed(found) == (q("0.3111"), q("0.3118"))
    assert "stem: measured 0.3094 in to 0.3095 in, U 0.0001 in" in says(found)


def test_the_readings_of_a_stem_that_is_renewed_count_for_nothing() -> None:
    found = guide(valve(*KEPT), family=guided(new_valve=True))
    assert not found.measured
    assert reamed(found) == (q("0.3120"), q("0.3125"))
    assert "measure the new one in hand, and ream to that" in says(found)


def test_the_new_valve_in_hand_counts_before_all() -> None:
    """.3103, U .0001: .3104 + .0015, .3102 + .0025."""
    for family in (guided(new_valve=True), guided()):
        found = guide(valve(*KEPT, new="0.3103"), family=family)
        assert found.measured
        assert reamed(found) == (q("0.3119"), q("0.3127"))


def test_a_stem_that_nobody_measured_stands_by_drawing() -> None:
    found = guide()
    assert reamed(found) == (q("0.3120"), q("0.3125"))
    assert "measure it first" in says(found)


def test_with_no_printed_clearance_it_is_bore_less_pin() -> None:
    assert guide(valve(*KEPT), family=guided(printed=False)) == replace(
        guide(valve(*KEPT)), wanted=guide(family=guided(printed=False)).wanted
    )
    assert guide(family=guided(printed=False)).wanted == guide().wanted


def test_a_stem_that_wanders_more_than_the_clearance_has_no_bore() -> None:
    found = guide(valve("0.3105", "0.3104", "0.3095", "0.3094"))
    assert found.bore is None
    assert "cannot have a clearance" in says(found)


def test_a_guide_that_stays_is_not_reamed() -> None:
    family = replace(guided(), consequences=tiny_family().consequences)
    assert sizes(valve(*KEPT), family=family).pin_bores == ()


STEM = st.integers(3085, 3105).map(lambda n: f"{n / 10000:.4f}")


@given(readings=st.tuples(STEM, STEM, STEM, STEM))
def test_the_clearance_that_results_lies_within_the_drawing_wherever_the_stem_is_true(
    readings: tuple[str, ...],
) -> None:
    found = guide(valve(*readings))
    spread = max(map(Fraction, readings)) - min(map(Fraction, readings))
    doubt = Fraction("0.0001")
    assert (found.bore is None) == (spread + 2 * doubt > Fraction("0.0010"))
    if found.bore is None:
        return
    low, high = (Fraction(end.value_in("in")) for end in reamed(found))
    assert low - (max(map(Fraction, readings)) + doubt) >= Fraction("0.0015")
    assert high - (min(map(Fraction, readings)) - doubt) <= Fraction("0.0025")
