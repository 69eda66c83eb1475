"""The instrument's budget and what decides an open reading."""

from dataclasses import replace
from decimal import Decimal
from math import sqrt
from statistics import stdev

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from uncertainties import ufloat

from kitting.errors import BadInput
from kitting.measure import Decision, Limits, Quantity, decide
from kitting.measure.expansion import Body
from kitting.measure.uncertainty import (
    Contribution,
    Distribution,
    Instrument,
    combine,
    instrument_budget,
    repeats_to_decide,
    spread_of,
    what_would_decide,
)

_DIVISOR = {
    Distribution.RECTANGULAR: sqrt(3),
    Distribution.TRIANGULAR: sqrt(6),
    Distribution.TWICE_STANDARD: 2.0,
    Distribution.STANDARD: 1.0,
}
microns = st.integers(0, 500).map(lambda n: Quantity.of(Decimal(n).scaleb(-4), "mm"))
above_nothing = microns.filter(bool)
lines = st.lists(
    st.builds(
        Contribution, st.sampled_from(["one", "two"]), above_nothing, st.sampled_from(Distribution)
    ),
    min_size=1,
    max_size=8,
)
STEEL = Body("carbon steel")


def inch(text: str) -> Quantity:
    return Quantity.of(text, "in")


MICROMETER = Instrument(
    resolution=inch("0.0001"),
    calibration=inch("0.00004"),
    operator=inch("0.00003"),
    part=STEEL,
    body=STEEL,
    temperature_spread=Quantity.of(2, "°C"),
)


@given(lines)
def test_combination_agrees_with_a_second_opinion(budget: list[Contribution]) -> None:
    summed = sum(
        ufloat(0, float(line.half_width.value_in("mm")) / _DIVISOR[line.shape]) for line in budget
    )
    found = combine(budget)
    assert float(found.combined.value_in("mm")) == pytest.approx(summed.std_dev, abs=2e-9)
    assert found.expanded == found.combined * 2


def test_a_part_away_from_20_degrees_adds_the_doubt_of_its_expansion() -> None:
    warm = Body("aluminium 356", Quantity.of(35, "°C"))
    cold_sources = {line.source for line in instrument_budget(inch("2"), MICROMETER).lines}
    warm_budget = instrument_budget(inch("2"), replace(MICROMETER, part=warm))
    assert {line.source for line in warm_budget.lines} - cold_sources == {"expansion of the part"}
    assert warm_budget.expanded > instrument_budget(inch("2"), MICROMETER).expanded


def test_repeats_shrink_only_the_operators_share() -> None:
    once, often = (
        instrument_budget(inch("2"), replace(MICROMETER, repeats=count)).lines for count in (1, 4)
    )
    shares = [(a.standard, b.standard) for a, b in zip(once, often, strict=True) if a != b]
    assert shares == [(inch("0.00003"), inch("0.000015"))]


def test_the_greatest_line_is_named() -> None:
    assert instrument_budget(inch("1"), MICROMETER).greatest.source == "operator"


@given(st.lists(microns, min_size=2, max_size=9))
def test_the_spread_of_repeats_is_the_sample_deviation(taken: list[Quantity]) -> None:
    expected = stdev(float(one.value_in("mm")) for one in taken)
    assert float(spread_of(taken).value_in("mm")) == pytest.approx(expected, abs=1e-9)


def test_one_repeat_shows_no_spread() -> None:
    with pytest.raises(BadInput, match="one reading shows no spread"):
        spread_of([inch("1")])


def test_amounts_below_zero_are_refused_together() -> None:
    with pytest.raises(BadInput) as refused:
        replace(MICROMETER, resolution=inch("-0.0001"), repeats=0)
    assert [problem.place for problem in refused.value.problems] == ["resolution", "repeats"]


def test_an_empty_budget_is_refused() -> None:
    with pytest.raises(BadInput, match="it has no line"):
        combine([])


def test_a_line_below_zero_is_refused() -> None:
    with pytest.raises(BadInput, match="below zero"):
        combine([Contribution("dust", inch("-0.001"), Distribution.RECTANGULAR)])


def test_an_open_reading_names_the_instrument_and_the_repeats_that_would_decide() -> None:
    said = what_would_decide(inch("1.75005"), inch("0.0001"), inch("1.7500"))
    assert said == (
        "an instrument good to 0.00005 in (U, k = 2) would decide, "
        "or the mean of at least 4 readings with this one"
    )


def test_a_reading_on_the_limit_or_very_near_it_is_not_decided_by_repeating() -> None:
    on_it = what_would_decide(inch("1.75"), inch("0.0001"), inch("1.75"))
    near = what_would_decide(inch("1.75001"), inch("0.0001"), inch("1.75"))
    assert "finer instrument" in on_it
    assert "repeating the reading would not" in near


@given(microns, microns)
def test_so_many_repeats_do_decide(distance: Quantity, spread: Quantity) -> None:
    assume(distance)
    limit = Quantity.of(40, "mm")
    count = repeats_to_decide(limit + distance, spread, limit)
    assert float(spread.base) / sqrt(count) <= float(distance.base) * (1 + 1e-12)
    if count > 1:
        assert float(spread.base) / sqrt(count - 1) > float(distance.base) * (1 - 1e-12)


@given(microns, microns, microns)
def test_more_uncertainty_never_turns_bad_into_good(
    value: Quantity, one: Quantity, other: Quantity
) -> None:
    limits = Limits(Quantity.of("0.01", "mm"), Quantity.of("0.03", "mm"))
    less, more = sorted((one, other))
    before, after = decide(value, less, limits), decide(value, more, limits)
    assert after is before or after is Decision.UNDECIDED
