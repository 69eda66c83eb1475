"""The band to finish to: worked from what is in hand, and giving what it promises."""

from fractions import Fraction
from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from kitting.catalog.model import Verdict
from kitting.engineering.band import Band
from kitting.job.findings import Finding
from kitting.job.targets import FinishTarget, RestsOn
from kitting.job.verdicts import judge
from tests.builders import q
from tests.job.benches import a_bench, a_finding, read
from tests.job.fitting_bench import FAMILY, SETTINGS, crank, one, rod, shells, sizes


def target(*findings: Finding, table: str = "crankpin") -> FinishTarget:
    return sizes(*findings).targets_of(table)[0]


def says(found: FinishTarget) -> str:
    return " ".join(str(step) for _, step in found.because.steps())


def holds(found: FinishTarget) -> bool:
    assert found.wanted is not None
    assert found.gives is not None
    return found.wanted.holds(found.gives)


def test_with_nothing_measured_the_drawings_stand_and_it_says_so() -> None:
    """Lined 1.4900 to 1.4915, clearance .0005 to .0025: journal 1.4890 to 1.4895."""
    found = target(crank())
    assert found.rests_on is RestsOn.DRAWING
    assert (found.band.low, found.band.high) == (q("1.4890"), q("1.4895"))
    assert "by drawing 1.6250 in to 1.6255 in" in says(found)


def test_a_rod_measured_moves_the_band_with_it() -> None:
    """Eye 1.6252 ± .0002, walls .0670 to .0675: lined 1.4900 to 1.4914."""
    found = target(crank(), rod("1.6252"))
    assert found.rests_on is RestsOn.PARTLY
    assert (found.band.low, found.band.high) == (q("1.4889"), q("1.4895"))
    assert "eye: measured 1.6252 in, U 0.0002 in" in says(found)


def test_shells_and_rod_in_hand_are_all_that_it_rests_on() -> None:
    """Eye 1.6252 ± .0002, walls .0672 ± .0001: lined 1.4904 to 1.4912."""
    found = target(crank(), rod("1.6252"), shells("0.0672", "0.0672"))
    assert found.rests_on is RestsOn.IN_HAND
    assert (found.band.low, found.band.high) == (q("1.4887"), q("1.4899"))
    assert any("outside the grade's finished limits" in note for note in found.notes)


def test_the_old_shells_of_another_grade_are_not_counted() -> None:
    found = target(crank(), rod("1.6252"), shells("0.0623", "0.0623"))
    assert found.rests_on is RestsOn.PARTLY
    assert any("std grade: not counted" in note for note in found.notes)


def test_an_eye_too_far_out_of_round_is_said_and_the_grades_limits_stand() -> None:
    found = target(crank(), rod("1.6240", "1.6262"))
    assert found.rests_on is RestsOn.PARTLY
    assert (found.band.low, found.band.high) == (q("1.4890"), q("1.4895"))
    assert any("no journal gives" in note for note in found.notes)
    assert not holds(found)


def test_shells_that_fill_the_eye_are_a_slip_and_no_journal_is_asked_for() -> None:
    found = target(crank(), rod("0.1200"))
    assert found.gives is None
    assert (found.band.low, found.band.high) == (q("1.4890"), q("1.4895"))
    assert any("the shells fill the bore" in note for note in found.notes)


def test_a_bore_goes_to_the_piston_in_hand() -> None:
    """Piston 2.5171 ± .0001 and .0030 to .0040: bore 2.5202 to 2.5210."""
    worn = a_finding("barrel", *read("barrel-bore", "2.5070", "2.5068", "2.5062", "2.5060"))
    piston = a_finding("piston", one("skirt", "2.5171"))
    found = target(worn, piston, table="bore")
    assert found.rests_on is RestsOn.IN_HAND
    assert (found.band.low, found.band.high) == (q("2.5202"), q("2.5210"))
    assert found.gives == Band(q("0.0030"), q("0.0040"))


def test_the_old_piston_sizes_no_bore() -> None:
    worn = a_finding("barrel", *read("barrel-bore", "2.5070", "2.5068", "2.5062", "2.5060"))
    found = target(worn, a_finding("piston", one("skirt", "2.4960")), table="bore")
    assert found.rests_on is RestsOn.DRAWING
    assert any("is of another size" in note for note in found.notes)


def test_a_journal_in_a_bush_is_ground_to_its_limits_and_the_bush_follows() -> None:
    found = target(crank(main=("1.7480", "1.7460", "1.7480", "1.7460")), table="main")
    assert (found.band.low, found.band.high) == (q("1.7390"), q("1.7395"))
    assert "the bush is reamed to suit it afterwards" in found.notes


def test_what_is_in_hand_is_no_look_at_what_was_fitted() -> None:
    verdicts = judge(FAMILY, a_bench(shells("0.0672", "0.0672")), SETTINGS)
    assert "shells" not in verdicts.by_position
    looked = judge(FAMILY, a_bench(rod("1.6252")), SETTINGS)
    assert looked.by_position["rod"].verdict is Verdict.REUSE


EYE = st.one_of(
    st.integers(16248, 16257).map(lambda n: f"{n / 10000:.4f} in"),
    st.integers(412700, 412930).map(lambda n: f"{n / 10000:.4f} mm"),
)
WALL = st.integers(668, 677).map(lambda n: f"{n / 10000:.4f} in")


def mm(text: str) -> Fraction:
    return Fraction(q(text).base)


@given(eye=st.lists(EYE, min_size=1, max_size=4), upper=WALL, lower=WALL)
def test_the_reported_band_really_gives_the_clearance(
    eye: list[str], upper: str, lower: str
) -> None:
    """Whatever the true sizes are within U of the readings, and wherever in the band it is ground;
    else the target says that it does not hold. In millimetres, by fractions."""
    found = target(crank(), rod(*eye), shells(upper, lower))
    clearances = [
        (size + way * mm("0.0002 in"))
        - sum(mm(w) + off * mm("0.0001 in") for w, off in walls)
        - pin
        for size in map(mm, eye)
        for way in (-1, 1)
        for walls in (((upper, a), (lower, b)) for a, b in product((-1, 1), repeat=2))
        for pin in (Fraction(found.band.low.base), Fraction(found.band.high.base))
    ]
    held = mm("0.0005 in") <= min(clearances) and max(clearances) <= mm("0.0025 in")
    assert held == holds(found)
    assert held or any("no journal gives" in note for note in found.notes)


def test_the_grinder_reads_a_band_in_tenths_however_the_rod_was_read() -> None:
    band = target(crank(), rod("41.2763 mm")).band
    for end in (band.low, band.high):
        assert end == end.rounded(4)
