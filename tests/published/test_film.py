"""The oil film against worked problems."""

from decimal import Decimal

import pytest

from kitting.engineering.film import Bearing, Film, oil_film, sommerfeld_number, trumpler_least_film
from kitting.measure import parse_quantity as q


@pytest.fixture(scope="module")
def shigley_12_1() -> Film:
    """Shigley, 9th edition, problem 12-1: 25.00/25.03, l/d 1/2, 1.2 kN, 1100 rpm, 55 mPa s."""
    return oil_film(
        Bearing(
            journal=q("25 mm"),
            clearance=q("0.030 mm"),
            length=q("12.5 mm"),
            load=q("1200 N"),
            speed=Decimal(1100),
            viscosity=Decimal(55),
        )
    )


def test_a_half_length_bearing_by_the_charts(shigley_12_1: Film) -> None:
    """Shigley 12-1: S .182, h0/c .3, h0 .0045, f .00648, Q 219 (charts read to two figures)."""
    film = shigley_12_1
    assert round(film.sommerfeld, 3) == Decimal("0.182")
    assert film.film_ratio == pytest.approx(Decimal("0.3"), abs=Decimal("0.015"))
    assert abs(film.least_film - q("0.0045 mm")) <= q("0.0002 mm")
    assert film.friction == pytest.approx(Decimal("0.00648"), rel=Decimal("0.01"))
    assert film.flow == pytest.approx(219, rel=Decimal("0.005"))


def test_the_power_and_side_flow_of_the_same_bearing(shigley_12_1: Film) -> None:
    """Shigley 12-1 (from memory): 11.2 W lost; Qs/Q .81, side flow 177 mm³/s."""
    assert shigley_12_1.power == pytest.approx(Decimal("11.2"), rel=Decimal("0.01"))
    assert shigley_12_1.side_flow == pytest.approx(177, rel=Decimal("0.02"))


def test_the_oil_warms_as_the_books_formula_says(shigley_12_1: Film) -> None:
    """Shigley Eq. 12-15: 0.120 ΔT / P = (r/c) f / ((1 − Qs/2Q) Q/(r c N l)), °C and MPa."""
    pressure = Decimal(1200) / (25 * Decimal("12.5"))
    variable = shigley_12_1.friction * Decimal("12.5") / Decimal("0.015")
    flow = shigley_12_1.flow / (Decimal("12.5") ** 2 * Decimal("0.015") * Decimal(1100) / 60)
    share = 1 - shigley_12_1.side_flow / shigley_12_1.flow / 2
    rise = pressure / Decimal("0.120") * variable / (share * flow)
    assert shigley_12_1.rise == pytest.approx(rise, rel=Decimal("0.01"))


def test_the_square_bearing_of_the_text() -> None:
    """Shigley, Examples 12-1 to 12-4 (from memory): r .75, c .0015, l 1.5 in, 500 lbf, 30 rev/s,

    4 µreyn: S .135, h0/c .42, h0 .00063 in, (r/c) f 3.50, Q/(r c N l) 4.28, Qs/Q .655.
    """
    bearing = Bearing(
        journal=q("1.5 in"),
        clearance=q("0.0030 in"),
        length=q("1.5 in"),
        load=q("500 lbf"),
        speed=Decimal(1800),
        viscosity=Decimal("27.579"),  # 4 µreyn
    )
    assert round(sommerfeld_number(bearing), 3) == Decimal("0.135")
    film = oil_film(bearing)
    assert film.film_ratio == pytest.approx(Decimal("0.42"), abs=Decimal("0.01"))
    assert abs(film.least_film - q("0.00063 in")) <= q("0.000015 in")
    assert film.friction * 500 == pytest.approx(Decimal("3.50"), rel=Decimal("0.02"))
    cubic_inches = film.flow / Decimal("25.4") ** 3
    assert cubic_inches == pytest.approx(Decimal("0.216"), rel=Decimal("0.01"))
    assert film.side_flow / film.flow == pytest.approx(Decimal("0.655"), abs=Decimal("0.01"))


def test_least_film_for_starting_and_running() -> None:
    """Trumpler, in Shigley section 12-7 (from memory): 0.0002 + 0.00004 d, inches."""
    assert trumpler_least_film(q("2 in")) == q("0.00028 in")
