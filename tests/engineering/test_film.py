"""The oil film: laws that Raimondi and Boyd's solutions keep, and their range."""

from dataclasses import replace
from decimal import Decimal
from math import pi, sqrt
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.engineering.film import Bearing, oil_film, sommerfeld_number, trumpler_least_film
from kitting.engineering.film_tables import TABLES, weights
from kitting.errors import BadInput
from kitting.measure import Quantity
from kitting.measure import parse_quantity as q

MAIN = Bearing(
    journal=q("40 mm"),
    clearance=q("0.04 mm"),
    length=q("20 mm"),
    load=q("1200 N"),
    speed=Decimal(3000),
    viscosity=Decimal(15),
)


def at_number(slenderness: Decimal, number: Decimal) -> Bearing:
    """MAIN of another length, loaded so that its Sommerfeld number is `number`."""
    long = replace(MAIN, length=Quantity.of(40 * slenderness, "mm"))
    return replace(long, load=long.load * (sommerfeld_number(long) / number))


@pytest.mark.parametrize("name", ["1", "1/2", "1/4"])
def test_each_row_of_the_tables_comes_back_at_its_own_number(name: str) -> None:
    slenderness = {"1": Decimal(1), "1/2": Decimal("0.5"), "1/4": Decimal("0.25")}[name]
    for row in TABLES[name]:
        found = oil_film(at_number(slenderness, row.sommerfeld))
        assert found.eccentricity == pytest.approx(row.eccentricity, abs=Decimal("1e-9"))
        assert found.friction * 1000 == pytest.approx(row.friction, rel=Decimal("1e-9"))
        assert found.side_flow / found.flow == pytest.approx(row.side, abs=Decimal("1e-9"))


@given(st.integers(25, 400).map(lambda n: Decimal(n) / 100))
def test_the_weights_of_the_four_tables_add_up_to_one(slenderness: Decimal) -> None:
    assert sum(weights(slenderness).values()) == pytest.approx(1, abs=Decimal("1e-20"))


@given(st.integers(1, 18).map(lambda n: Decimal(n) / 20))
def test_a_short_bearing_agrees_with_ocvirks_closed_solution(eccentricity: Decimal) -> None:
    """S (l/d)² = (1 − ε²)² / (π ε √(π² (1 − ε²) + 16 ε²)), the short-bearing solution.

    Good to a tenth at l/d of a quarter up to ε of about 0.8 (it ignores flow round the journal).
    """
    e = min(float(eccentricity), 0.8)
    number = (1 - e * e) ** 2 / (pi * e * sqrt(pi**2 * (1 - e * e) + 16 * e * e)) / 0.0625
    found = oil_film(at_number(Decimal("0.25"), Decimal(number)))
    assert float(found.eccentricity) == pytest.approx(e, abs=0.05)


def test_a_lightly_loaded_bearing_tends_to_petroffs_friction() -> None:
    """Petroff: (r/c) f = 2 π² S."""
    found = oil_film(at_number(Decimal(1), Decimal(20)))
    assert float(found.friction) * 1000 == pytest.approx(2 * pi**2 * 20, rel=0.02)
    assert any("Petroff" in note for note in found.notes)


@given(st.integers(400, 20000), st.integers(2, 20))
def test_more_load_never_thickens_the_film(load: int, slenderness: int) -> None:
    long = replace(MAIN, length=q(f"{slenderness * 2 + 6} mm"), load=q(f"{load} N"))
    heavier = replace(long, load=long.load * Decimal("1.2"))
    try:
        thin = oil_film(heavier).least_film
    except BadInput:
        return
    assert thin <= oil_film(long).least_film


def test_film_number_and_power_do_not_depend_on_the_units() -> None:
    imperial = replace(
        MAIN,
        journal=MAIN.journal.to("in"),
        clearance=MAIN.clearance.to("thou"),
        load=MAIN.load.to("lbf"),
    )
    assert oil_film(imperial).power == oil_film(MAIN).power
    assert oil_film(imperial).least_film == oil_film(MAIN).least_film
    assert oil_film(imperial).least_film.unit.symbol == "in"


def test_a_length_between_tables_is_served_where_one_of_them_has_ended() -> None:
    film = oil_film(at_number(Decimal("0.35"), Decimal("0.009")))
    assert Decimal("0.02") < film.film_ratio < Decimal("0.05")


def test_what_lies_outside_the_solutions_is_said() -> None:
    with pytest.raises(BadInput, match="the journal would touch"):
        oil_film(replace(MAIN, load=q("1000000 N")))
    with pytest.raises(BadInput, match="the solutions serve"):
        replace(MAIN, length=q("5 mm"))
    fast = replace(
        MAIN, speed=Decimal(60000), viscosity=Decimal("0.5"), load=q("10 N"), clearance=q("0.4 mm")
    )
    assert any("not laminar" in note for note in oil_film(fast).notes)


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"clearance": q("4 mm")}, "no running clearance"),
        ({"clearance": q("-0.04 mm")}, "not above zero"),
        ({"speed": Decimal(0)}, "not above zero"),
        ({"viscosity": Decimal(-1)}, "not above zero"),
        ({"load": q("0 N")}, "not above zero"),
        ({"load": q("5 mm")}, "a force belongs here"),
    ],
)
def test_a_bearing_that_cannot_run_is_refused(changes: dict[str, Any], sentence: str) -> None:
    with pytest.raises(BadInput, match=sentence):
        replace(MAIN, **changes)


def test_trumplers_least_film_grows_with_the_journal() -> None:
    assert trumpler_least_film(q("1.5 in")) == q("0.00026 in")
    assert trumpler_least_film(q("3 in")) > trumpler_least_film(q("1.5 in"))
