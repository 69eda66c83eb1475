"""Compression springs: the laws that the sums keep, and what is refused."""

from decimal import Decimal
from typing import Any

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.engineering.spring import (
    Ends,
    Seating,
    Spring,
    blow_off_pressure,
    critical_deflection,
    length_at,
    load_at,
    pitch,
    rate,
    shear_stress,
    solid_length,
    spring,
    spring_index,
    wahl_factor,
)
from kitting.errors import BadInput
from kitting.measure import parse_quantity as q


def relief(**changes: Any) -> Spring:
    given_sizes: dict[str, Any] = {
        "wire": q("0.064 in"),
        "outside": q("0.480 in"),
        "total_coils": Decimal(11),
        "free_length": q("1.53 in"),
    }
    return spring(**(given_sizes | changes))


registry: pint.UnitRegistry[Decimal] = pint.UnitRegistry(non_int_type=Decimal)
wires = st.integers(50, 400).map(lambda n: Decimal(n) / 100)
indexes = st.integers(40, 120).map(lambda n: Decimal(n) / 10)
counts = st.integers(3, 30).map(Decimal)


@given(wires, indexes, counts)
def test_rate_agrees_with_the_formula_worked_by_pint(
    wire: Decimal, index: Decimal, active: Decimal
) -> None:
    made = spring(
        wire=q(f"{wire} mm"),
        mean=q(f"{wire * index} mm"),
        active_coils=active,
        shear_modulus=q("81500 MPa"),
    )
    d, middle = wire * registry.mm, wire * index * registry.mm
    k = Decimal(81500) * registry.MPa * d**4 / (8 * middle**3 * active)
    assert rate(made).value_in("N/mm") == pytest.approx(k.m_as("N/mm"), rel=Decimal("1e-15"))
    assert rate(made).value_in("lbf/in") == pytest.approx(k.m_as("lbf/in"), rel=Decimal("1e-12"))


@given(wires, indexes, counts)
def test_half_the_working_coils_doubles_the_rate(
    wire: Decimal, index: Decimal, active: Decimal
) -> None:
    def with_coils(count: Decimal) -> Spring:
        return spring(wire=q(f"{wire} mm"), mean=q(f"{wire * index} mm"), active_coils=count)

    doubled, half = rate(with_coils(active)).value, rate(with_coils(active / 2)).value
    assert half == pytest.approx(doubled * 2, rel=Decimal("1e-15"))


def test_the_same_spring_in_inches_and_millimetres_has_one_rate() -> None:
    imperial = relief()
    metric = relief(wire=q("1.6256 mm"), outside=q("12.192 mm"), free_length=q("38.862 mm"))
    assert rate(imperial) == rate(metric)
    assert rate(imperial).unit.symbol == "lbf/in"
    assert rate(metric).unit.symbol == "N/mm"


def test_outside_mean_and_inside_diameters_describe_one_spring() -> None:
    by_mean = relief(outside=None, mean=q("0.416 in"))
    by_inside = relief(outside=None, inside=q("0.352 in"))
    assert relief() == by_mean == by_inside
    assert relief().outside_diameter == q("0.480 in")
    assert relief().inside_diameter == q("0.352 in")


@pytest.mark.parametrize(
    ("ends", "active", "solid"),
    [
        (Ends.PLAIN, 11, "0.768 in"),
        (Ends.PLAIN_GROUND, 10, "0.704 in"),
        (Ends.CLOSED, 9, "0.768 in"),
        (Ends.CLOSED_GROUND, 9, "0.704 in"),
    ],
)
def test_the_ends_settle_the_working_coils_and_the_solid_length(
    ends: Ends, active: int, solid: str
) -> None:
    made = relief(ends=ends)
    assert made.active_coils == active
    assert solid_length(made) == q(solid)


@pytest.mark.parametrize("ends", list(Ends))
def test_pitch_and_ends_add_up_to_the_free_length(ends: Ends) -> None:
    made = relief(ends=ends)
    wire, step = made.wire, pitch(made)
    built = {
        Ends.PLAIN: step * 11 + wire,
        Ends.PLAIN_GROUND: step * 11,
        Ends.CLOSED: step * 9 + wire * 3,
        Ends.CLOSED_GROUND: step * 9 + wire * 2,
    }[ends]
    assert built.value_in("in") == pytest.approx(Decimal("1.53"), rel=Decimal("1e-15"))


def test_load_at_a_length_and_length_under_a_load_are_one_line() -> None:
    made = relief()
    load = load_at(made, q("1.20 in"))
    assert length_at(made, load).value_in("in") == pytest.approx(
        Decimal("1.20"), rel=Decimal("1e-15")
    )
    assert load_at(made, q("1.53 in")) == q("0 lbf")


def test_blow_off_pressure_is_the_load_over_the_seat() -> None:
    pressure = blow_off_pressure(q("10 lbf"), q("0.5 in"))
    assert pressure.show(2) == "50.93 psi"
    assert blow_off_pressure(q("100 N"), q("20 mm")).show(1) == "318.3 kPa"


def test_a_slim_spring_bows_and_a_stout_one_never_does() -> None:
    slim = relief(free_length=q("4 in"))
    bows = critical_deflection(slim, Seating.BOTH_PIVOTED)
    assert bows is not None
    assert q("0 in") < bows < q("1 in")
    assert critical_deflection(relief(free_length=q("1 in")), Seating.BOTH_FLAT) is None


def test_wahl_stress_grows_with_curvature() -> None:
    assert wahl_factor(Decimal(4)) > wahl_factor(Decimal(8)) > 1
    tight, open_coil = relief(outside=q("0.32 in")), relief(outside=q("0.64 in"))
    load = q("10 lbf")
    plain_ratio = spring_index(open_coil) / spring_index(tight)
    measured = shear_stress(open_coil, load).ratio(shear_stress(tight, load))
    assert float(measured) < float(plain_ratio)


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"total_coils": Decimal(0)}, "0 coils make no spring"),
        ({"total_coils": Decimal(2)}, "2 total coils leave none to work"),
        ({"total_coils": None}, "no coils are given"),
        ({"active_coils": Decimal(12)}, "12 working coils are more than the 11"),
        ({"wire": q("-0.064 in")}, "is not above zero"),
        ({"wire": q("0.064 N")}, "a length belongs here"),
        ({"outside": None}, "one diameter of the coil is needed"),
        ({"inside": q("0.3 in")}, "one diameter of the coil is needed"),
        ({"outside": q("0.1 in")}, "cannot be coiled"),
        ({"free_length": q("0.5 in")}, "shorter than the spring pressed solid"),
        ({"material": "cheese"}, "no spring wire 'cheese'"),
        ({"shear_modulus": q("-1 MPa")}, "is not above zero"),
    ],
)
def test_a_spring_that_cannot_be_is_refused_with_a_sentence(
    changes: dict[str, Any], sentence: str
) -> None:
    with pytest.raises(BadInput, match=sentence):
        relief(**changes)


def test_all_that_is_wrong_with_a_spring_comes_at_once() -> None:
    with pytest.raises(BadInput) as caught:
        relief(wire=q("-1 mm"), total_coils=Decimal(0))
    assert len(caught.value.problems) == 2


def test_lengths_past_free_and_below_solid_are_refused() -> None:
    with pytest.raises(BadInput, match="loose"):
        load_at(relief(), q("1.6 in"))
    with pytest.raises(BadInput, match="coil-bound"):
        load_at(relief(), q("0.7 in"))
    with pytest.raises(BadInput, match="binds the coils"):
        length_at(relief(), q("500 lbf"))
    with pytest.raises(BadInput, match="no free length"):
        load_at(relief(free_length=None), q("1 in"))


def test_a_seat_or_load_that_cannot_be_is_refused() -> None:
    with pytest.raises(BadInput, match="not above zero"):
        blow_off_pressure(q("10 lbf"), q("0 in"))
    with pytest.raises(BadInput, match="a force belongs here"):
        blow_off_pressure(q("10 mm"), q("1 in"))
    with pytest.raises(BadInput, match="no spring index"):
        wahl_factor(Decimal(1))
