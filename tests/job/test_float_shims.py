"""Shims for an end float, from what the bench measured and what can be had."""

from dataclasses import replace
from datetime import date
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.catalog.model import Verdict
from kitting.engineering.shims import Stack
from kitting.job.findings import Override, Reading
from kitting.job.float_shims import FloatShims
from kitting.job.kit import KitLine
from kitting.job.path import walk
from tests.builders import an_offer, q
from tests.job.benches import a_bench, a_finding
from tests.job.fitting_bench import fitted_family, one, sizes
from tests.wren import tiny_trade


def stack(end_float: str, in_place: str = "") -> FloatShims:
    more = (one("in-place", in_place),) if in_place else ()
    return sizes(a_finding("shims", one("float", end_float), *more)).shims[0]


def best(found: FloatShims) -> Stack:
    assert found.choice is not None
    return found.choice.best


def test_too_much_float_asks_for_the_stack_that_lands_in_the_middle() -> None:
    """.019 with .005 in: bare .024, middle .0075 wants .0165; 5 + 5 + 3 + 3 is .016."""
    found = stack("0.019", "0.005")
    assert not found.as_it_is
    assert best(found).thickness == q("0.016")
    assert best(found).gives == q("0.008")
    assert "with 0.0050 in of shims in place" in str(found.because.after[0])


def test_a_float_inside_its_band_is_left_alone() -> None:
    found = stack("0.0075", "0.005")
    assert found.as_it_is
    assert "leave the shims as they are" in found.because.says


def test_without_the_shims_that_were_in_nothing_can_be_said() -> None:
    found = stack("0.019")
    assert found.choice is None
    assert "measure the shims that are in" in found.because.says


def test_of_two_readings_the_greatest_counts() -> None:
    """It is what the shaft can move."""
    readings = one("float", "0.012"), one("float", "0.019", "again")
    assert sizes(a_finding("shims", *readings)).shims[0].measured == q("0.019")


def test_no_float_measured_no_shims() -> None:
    assert sizes(a_finding("shims", one("in-place", "0.005"))).shims == ()


@given(st.integers(0, 30), st.integers(0, 12))
def test_the_stack_is_the_best_by_trying_them_all(thou: int, shims: int) -> None:
    found = stack(f"{thou / 1000:.3f}", f"{shims / 1000:.3f}")
    middle = q("0.0075")
    tried = [
        abs(q(f"{(thou + shims - 5 * fives - 3 * threes) / 1000:.3f}") - middle)
        for fives, threes in product(range(10), range(15))
    ]
    assert abs(best(found).gives - middle) == min(tried)


RENEWED = Override("shims", Verdict.RENEW, "", "R. Ames", "torn", date(2024, 5, 1))
# The thin one is far cheaper.
OFFERS = (an_offer("ashby", "hob:W620", "2.00"), an_offer("ashby", "hob:W621", "0.10"))


def kit_lines(*readings: Reading) -> list[KitLine]:
    trade = tiny_trade()
    wider = replace(trade, offers=(*trade.offers, *OFFERS))
    findings = (a_finding("shims", *readings),) if readings else ()
    bench = a_bench(*findings, overrides=(RENEWED,))
    path = walk(fitted_family(), wider, bench, date(2024, 5, 2))
    return [line for line in path.kit.lines if "shims" in line.positions]


def test_the_kit_buys_the_stack_that_the_float_asks_for_not_the_cheapest_shim() -> None:
    lines = kit_lines(one("float", "0.019"), one("in-place", "0.005"))
    assert [(str(line.part), line.quantity) for line in lines] == [("hob:W620", 2), ("hob:W621", 2)]
    assert "2 × 0.0050 in + 2 × 0.0030 in gives 0.0080 in" in str(lines[0].chosen[0])


@pytest.mark.parametrize(
    ("readings", "says"),
    [
        ((), "which shims are wanted follows from the end float: measure it"),
        ((one("float", "0.019"),), "measure the shims that are in"),
        ((one("float", "0.000"), one("in-place", "0.002")), "cannot be met"),
    ],
)
def test_where_no_stack_can_be_named_none_is_guessed(
    readings: tuple[Reading, ...], says: str
) -> None:
    (line,) = kit_lines(*readings)
    assert line.part is None
    assert says in line.problem
