"""Least-squares form, with an optimiser as second opinion."""

from decimal import Decimal
from math import cos, hypot, pi, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import least_squares

from kitting.errors import BadInput
from kitting.measure import Quantity
from kitting.measure.journal import StationReading, measure_form
from kitting.measure.roundness import fit_circle, turn_under_indicator


def mm(value: float) -> Quantity:
    return Quantity.of(Decimal(f"{value:.6f}"), "mm")


@st.composite
def rough_circles(draw: st.DrawFn) -> list[tuple[float, float]]:
    x, y = draw(st.floats(-50, 50)), draw(st.floats(-50, 50))
    radius, count = draw(st.floats(5, 60)), draw(st.integers(5, 24))
    errors = draw(st.lists(st.floats(-0.05, 0.05), min_size=count, max_size=count))
    return [
        (
            round(x + (radius + error) * cos(2 * pi * place / count), 6),
            round(y + (radius + error) * sin(2 * pi * place / count), 6),
        )
        for place, error in enumerate(errors)
    ]


@settings(max_examples=60, deadline=None)
@given(rough_circles())
def test_circle_agrees_with_an_optimiser(points: list[tuple[float, float]]) -> None:
    found = fit_circle([(mm(x), mm(y)) for x, y in points])

    def away(circle: list[float]) -> list[float]:
        return [hypot(x - circle[0], y - circle[1]) - circle[2] for x, y in points]

    start = [sum(p[0] for p in points) / len(points), sum(p[1] for p in points) / len(points), 20.0]
    other = least_squares(away, start, xtol=1e-14, ftol=1e-14, gtol=1e-14).x
    for ours, theirs in zip((found.x, found.y, found.radius), other, strict=True):
        assert float(ours.value_in("mm")) == pytest.approx(theirs, abs=2e-5)


@pytest.mark.parametrize("points", [[(0, 0), (1, 1)], [(0, 0), (1, 1), (2, 2)], [(1, 1)] * 4])
def test_points_that_fix_no_circle_are_refused(points: list[tuple[int, int]]) -> None:
    with pytest.raises(BadInput, match="points"):
        fit_circle([(mm(x), mm(y)) for x, y in points])


def turned(count: int, *waves: tuple[int, float]) -> list[Quantity]:
    return [
        mm(sum(size * cos(order * 2 * pi * place / count) for order, size in waves))
        for place in range(count)
    ]


def test_a_round_shaft_off_centre_has_run_out_and_no_roundness_error() -> None:
    found = turn_under_indicator(turned(12, (1, 0.02)))
    assert found.runout == Quantity.of("0.04", "mm")
    assert found.eccentricity == Quantity.of("0.02", "mm")
    assert not found.roundness
    assert found.high_at == Quantity.of(0, "°")


def test_the_high_place_is_counted_round_from_the_first_reading() -> None:
    heights = turned(8, (1, 0.02))
    found = turn_under_indicator(heights[2:] + heights[:2])
    assert found.high_at == Quantity.of(270, "°")


def test_three_lobes_show_when_turned_and_not_across_two_points() -> None:
    """r = R + a cos 3θ: no ovality, out of round by 2 a."""
    found = turn_under_indicator(turned(12, (3, 0.01)))
    assert found.roundness == Quantity.of("0.02", "mm")
    assert found.lobes[0] == (3, Quantity.of("0.01", "mm"))
    heights = turned(12, (3, 0.01))
    across = [
        StationReading("A", str(30 * place), mm(40) + heights[place] + heights[place + 6])
        for place in range(6)
    ]
    assert not measure_form(across).ovality


def test_too_few_readings_say_that_lobes_are_not_seen() -> None:
    assert "cannot show three lobes" in turn_under_indicator(turned(6, (2, 0.01))).notes[0]
    assert "up to 3 lobes" in turn_under_indicator(turned(7, (2, 0.01))).notes[0]


def test_four_readings_in_a_turn_are_refused() -> None:
    with pytest.raises(BadInput, match="cannot show form"):
        turn_under_indicator(turned(4, (2, 0.01)))
