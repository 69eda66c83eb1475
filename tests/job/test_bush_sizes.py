"""New bushes: reamed to the journal that runs in them, and how they go in."""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from kitting.catalog.family import Family
from kitting.job.bush_sizes import BushFit, BushSize
from kitting.job.findings import Finding, Fitted
from kitting.measure import Quantity
from tests.builders import a_fit, a_part, q
from tests.job.benches import a_finding
from tests.job.fitting_bench import FAMILY, crank, one, sizes

AS_NEW = ("1.7492", "1.7491", "1.7492", "1.7491")


def bush(*findings: Finding, family: Family = FAMILY) -> BushSize:
    return sizes(*findings, family=family).bushes[0]


def fit_of(*findings: Finding, family: Family = FAMILY) -> BushFit:
    fit = bush(*findings, family=family).fit
    assert fit is not None
    return fit


def reamed(found: BushSize) -> tuple[Quantity, Quantity]:
    assert found.bore is not None
    return found.bore.low, found.bore.high


def says(found: BushSize) -> str:
    return " ".join(str(step) for _, step in found.because.steps())


def test_a_bush_is_reamed_to_the_journal_as_it_was_measured() -> None:
    """1.7491 to 1.7492, U .0001; least 1.7493 + .0015, most 1.7490 + .0025."""
    found = bush(crank(main=AS_NEW))
    assert found.measured
    assert reamed(found) == (q("1.7508"), q("1.7515"))
    assert "main: measured 1.7491 in to 1.7492 in, U 0.0001 in" in says(found)


def test_a_bush_for_a_journal_still_to_be_ground_stands_by_drawing_until_then() -> None:
    found = bush(crank(main=("1.7480", "1.7460", "1.7480", "1.7460")))
    assert found.grade.key == "-010"
    assert not found.measured
    assert reamed(found) == (q("1.7410"), q("1.7415"))
    assert "measure the journal as ground" in says(found)


def test_a_journal_that_wanders_more_than_the_clearance_has_no_bush() -> None:
    found = bush(crank(main=("1.7495", "1.7491", "1.7491", "1.7486")))
    assert found.bore is None
    assert "cannot have a clearance" in says(found)


def test_bronze_in_aluminium_is_told_its_heat_and_its_hold_when_hot() -> None:
    """Tight .0020 to .0030, .0021 of play, 2.12525 in of aluminium at 21.5e-6: 112 °C more."""
    fit = fit_of(crank(main=AS_NEW))
    assert (fit.interference.low, fit.interference.high) == (q("0.0020"), q("0.0030"))
    assert fit.heat == Decimal(135)
    assert fit.chilled == Decimal(105)
    assert fit.tight
    assert fit.hot.low < fit.interference.low


def test_housing_and_bush_as_measured_count_before_the_drawing() -> None:
    hole = a_finding("case", one("hole", "2.1253"))
    outside = a_finding("bush", one("bush-outside", "2.1276"))
    fit = fit_of(crank(main=AS_NEW), hole, outside)
    assert (fit.interference.low, fit.interference.high) == (q("0.0020"), q("0.0026"))


def test_a_bush_that_falls_in_is_not_called_tight() -> None:
    fit = fit_of(crank(main=AS_NEW), a_finding("case", one("hole", "2.1290")))
    assert not fit.tight
    assert fit.heat is None


def test_an_unknown_metal_gives_no_heat() -> None:
    parts = tuple(replace(p, attributes={}) if p.kind == "case" else p for p in FAMILY.parts)
    assert bush(crank(main=AS_NEW), family=replace(FAMILY, parts=parts)).fit is None


def test_the_metal_that_was_found_counts_before_the_parts_list() -> None:
    iron = a_finding("case", fitted=Fitted(attributes={"material": "iron"}))
    assert "cast iron" in fit_of(crank(main=AS_NEW), iron).metals


def test_two_parts_of_different_metal_leave_the_metal_open() -> None:
    family = replace(
        FAMILY,
        parts=(*FAMILY.parts, a_part("hob:W601", "case", {"material": "iron"})),
        fits=(*FAMILY.fits, a_fit("case", "hob:W601")),
    )
    assert bush(crank(main=AS_NEW), family=family).fit is None


JOURNAL = st.integers(17485, 17495).map(lambda n: f"{n / 10000:.4f}")


@given(readings=st.tuples(JOURNAL, JOURNAL, JOURNAL, JOURNAL))
def test_a_reamed_bush_really_gives_the_clearance(readings: tuple[str, ...]) -> None:
    found = bush(crank(main=readings))
    if found.bore is None or not found.measured:
        return
    sizes_read = [Fraction(text) for text in readings]
    doubt = Fraction("0.0001")
    low, high = (Fraction(end.value_in("in")) for end in reamed(found))
    assert low - (max(sizes_read) + doubt) >= Fraction("0.0015")
    assert high - (min(sizes_read) - doubt) <= Fraction("0.0025")
