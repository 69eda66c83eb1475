"""Oil clearance forwards and backwards, shells to mix, and rules of thumb."""

from decimal import Decimal

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from kitting.engineering.band import Band
from kitting.engineering.clearance import (
    ShellBearing,
    ShellStock,
    band_to_grind,
    choose_shells,
    felt_by_hand,
    oil_clearance,
    rule_of_thumb,
)
from kitting.engineering.clearance_spread import Spread, likely_clearance, sample_clearance
from kitting.errors import BadInput
from kitting.measure import Quantity


def inch(text: str) -> Quantity:
    return Quantity.of(text, "in")


def band(low: str, high: str) -> Band:
    return Band(inch(low), inch(high))


def tenths(low: int, width: int) -> Band:
    return Band(
        Quantity.of(Decimal(low).scaleb(-4), "in"),
        Quantity.of(Decimal(low + width).scaleb(-4), "in"),
    )


BEARING = ShellBearing.alike(band("1.9200", "1.9205"), band("0.0840", "0.0842"))
JOURNAL = band("1.7495", "1.7500")
widths = st.integers(0, 12)
bearings = st.builds(
    lambda bore, a, wall, b, c: ShellBearing(tenths(bore, a), tenths(wall, b), tenths(wall, c)),
    st.integers(19000, 19400),
    widths,
    st.integers(780, 860),
    widths,
    widths,
)
journals = st.builds(tenths, st.integers(17000, 17500), widths)
targets = st.builds(tenths, st.integers(5, 30), st.integers(0, 40))


def test_worst_case_takes_every_size_at_its_worst() -> None:
    assert oil_clearance(BEARING, JOURNAL) == band("0.0016", "0.0030")


@given(bearings, targets)
def test_the_reported_band_really_gives_the_clearance(bearing: ShellBearing, target: Band) -> None:
    assume(bearing.lined.width <= target.width)
    grind = band_to_grind(bearing, target).band
    assert oil_clearance(bearing, grind) == target


@given(bearings, targets)
def test_a_bearing_that_varies_more_than_the_target_has_no_band(
    bearing: ShellBearing, target: Band
) -> None:
    assume(bearing.lined.width > target.width)
    with pytest.raises(BadInput, match="housing and shells alone vary by"):
        band_to_grind(bearing, target)


@given(bearings, journals)
def test_statistical_clearance_lies_within_the_worst_case(
    bearing: ShellBearing, journal: Band
) -> None:
    likely, worst = likely_clearance(bearing, journal), oil_clearance(bearing, journal)
    assert likely.middle == worst.middle
    assert worst.low - inch("0.0000001") <= likely.low
    assert likely.high <= worst.high + inch("0.0000001")


def test_measured_sizes_make_a_narrower_band_than_the_drawing() -> None:
    measured = ShellBearing.alike(
        Band.measured(inch("1.9203"), inch("0.0001")),
        Band.measured(inch("0.0841"), inch("0.00005")),
    )
    assert measured.lined == band("1.7519", "1.7523")
    grind = band_to_grind(measured, band("0.0015", "0.0025"), JOURNAL)
    assert grind.band == band("1.7498", "1.7504")
    assert "part of the band lies outside" in grind.notes[0]


@pytest.mark.parametrize(("finished", "side"), [("1.7600", "below"), ("1.7400", "above")])
def test_a_band_off_the_grade_is_questioned(finished: str, side: str) -> None:
    grade = Band.measured(inch(finished), inch("0.0005"))
    grind = band_to_grind(BEARING, band("0.0010", "0.0030"), grade)
    assert f"lies {side} the grade's finished limits" in grind.notes[0]


def test_a_band_within_the_grade_needs_no_note() -> None:
    assert not band_to_grind(BEARING, band("0.0016", "0.0030"), JOURNAL).notes


def test_a_clearance_larger_than_the_bore_is_refused() -> None:
    with pytest.raises(BadInput, match="leaves no journal"):
        band_to_grind(BEARING, band("1.0", "2.0"))


def test_shells_that_fill_the_housing_and_sizes_below_zero_are_refused() -> None:
    with pytest.raises(BadInput, match="the shells fill the bore"):
        ShellBearing.alike(band("1.9200", "1.9205"), band("0.9840", "0.9842"))
    with pytest.raises(BadInput, match=r"lower shell wall: .* is not above zero"):
        ShellBearing(band("1.92", "1.93"), band("0.08", "0.09"), band("-0.084", "0.08"))
    with pytest.raises(BadInput, match="wrong way round"):
        band("1.93", "1.92")


STEPS = (
    ShellStock("standard", Band.measured(inch("0.0840"), inch("0"))),
    ShellStock("0.001", Band.measured(inch("0.0845"), inch("0"))),
    ShellStock("0.002", Band.measured(inch("0.0850"), inch("0"))),
)
HOUSING = Band.measured(inch("1.9200"), inch("0"))


def test_a_pair_of_thousandth_shells_takes_a_thousandth_and_one_takes_half() -> None:
    shaft = Band.measured(inch("1.7500"), inch("0"))
    pairs = choose_shells(HOUSING, shaft, band("0.0010", "0.0020"), STEPS)
    found = {(pair.loaded.name, pair.other.name): pair.clearance.low for pair in pairs}
    assert found["standard", "standard"] == inch("0.0020")
    assert found["0.001", "standard"] == inch("0.0015")
    assert found["0.001", "0.001"] == inch("0.0010")
    assert (pairs[0].loaded.name, pairs[0].other.name) == ("0.001", "standard")
    assert pairs[0].mixed


def test_never_more_than_one_step_is_mixed_and_the_thicker_takes_the_load() -> None:
    shaft = Band.measured(inch("1.7490"), inch("0"))
    pairs = choose_shells(HOUSING, shaft, band("0.0010", "0.0020"), STEPS)
    names = [step.name for step in STEPS]
    for pair in pairs:
        assert 0 <= names.index(pair.loaded.name) - names.index(pair.other.name) <= 1
        assert pair.loaded.wall.middle >= pair.other.wall.middle


def test_a_single_half_shell_makes_no_pair_of_itself() -> None:
    steps = (ShellStock("standard", STEPS[0].wall, 1), ShellStock("0.001", STEPS[1].wall, 1))
    shaft = Band.measured(inch("1.7490"), inch("0"))
    pairs = choose_shells(HOUSING, shaft, band("0.0010", "0.0020"), steps)
    assert [(pair.loaded.name, pair.other.name) for pair in pairs] == [("0.001", "standard")]


def test_shells_that_do_not_step_are_refused() -> None:
    shaft, target = Band.measured(inch("1.7490"), inch("0")), band("0.001", "0.002")
    with pytest.raises(BadInput, match="do not step"):
        choose_shells(HOUSING, shaft, target, (STEPS[0], STEPS[2], STEPS[1]))
    with pytest.raises(BadInput, match="none to choose from"):
        choose_shells(HOUSING, shaft, target, ())


def test_rule_of_thumb_by_the_inch_with_more_on_a_rod() -> None:
    assert rule_of_thumb(inch("1.75"), rod=False) == inch("0.00175")
    assert rule_of_thumb(Quantity.of("44.45", "mm"), rod=True) == inch("0.00225")


@pytest.mark.parametrize(
    ("clearance", "said"),
    [("-0.0001", "nipped"), ("0.0015", "no movement"), ("0.0016", "movement can be felt")],
)
def test_what_the_hand_feels(clearance: str, said: str) -> None:
    assert said in felt_by_hand(inch(clearance))


def test_the_same_seed_gives_the_same_sample() -> None:
    target = band("0.0016", "0.0030")
    one, two, other = (
        sample_clearance(BEARING, JOURNAL, target, seed=seed, trials=1000) for seed in (7, 7, 8)
    )
    assert one == two
    assert one != other


def test_a_sample_stands_about_the_statistical_band() -> None:
    target = band("0.0016", "0.0030")
    sample = sample_clearance(BEARING, JOURNAL, target, seed=1, trials=20_000)
    likely = likely_clearance(BEARING, JOURNAL)
    for drawn, worked in ((sample.low, likely.low), (sample.high, likely.high)):
        assert abs(drawn - worked) < inch("0.00006")
    assert sample.outside == 0


def test_a_uniform_sample_spreads_wider_and_a_tight_target_is_missed() -> None:
    target = band("0.0022", "0.0024")
    bell, flat = (
        sample_clearance(BEARING, JOURNAL, target, seed=1, trials=5000, spread=spread)
        for spread in Spread
    )
    assert flat.high - flat.low > bell.high - bell.low
    assert flat.outside > bell.outside > 0


@pytest.mark.parametrize("trials", [0, 99, 1_000_001])
def test_too_few_or_too_many_trials_are_refused(trials: int) -> None:
    with pytest.raises(BadInput, match="is no use"):
        sample_clearance(BEARING, JOURNAL, band("0.001", "0.003"), seed=1, trials=trials)
