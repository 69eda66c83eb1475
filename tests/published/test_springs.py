"""Springs against printed figures. Each row names its source; 'from memory' says so."""

from decimal import Decimal

import pytest

from kitting.engineering.spring import (
    Ends,
    Seating,
    Spring,
    blow_off_pressure,
    critical_deflection,
    length_at,
    load_at,
    rate,
    solid_length,
    spring,
    spring_index,
    wahl_factor,
)
from kitting.engineering.spring_rig import RigLoad, free_length_from_rig
from kitting.engineering.spring_verdict import (
    SpringBand,
    SpringFigures,
    SpringState,
    judge_spring,
)
from kitting.engineering.spring_wire import SpringWire, wire_named
from kitting.measure import Limits, Quantity
from kitting.measure import parse_quantity as q


def near(figure: Quantity, printed: str, within: str) -> bool:
    """Whether `figure` is the printed one, as near as its last printed place."""
    wanted = q(printed)
    return abs(figure - wanted) <= Quantity.of(within, wanted.unit)


def shigley_10_3() -> Spring:
    return spring(
        wire=q("0.105 in"),
        outside=q("1.225 in"),
        total_coils=Decimal(12),
        ends=Ends.PLAIN_GROUND,
        shear_modulus=q("11750000 psi"),
    )


def test_plain_and_ground_music_wire() -> None:
    """Shigley, 7th edition, problem 10-3."""
    made = shigley_10_3()
    assert made.active_coils == 11
    assert made.mean_diameter == q("1.120 in")
    assert round(spring_index(made), 2) == Decimal("10.67")
    assert near(rate(made), "11.55 lbf/in", "0.05")  # the solution rounds on the way
    assert solid_length(made) == q("1.26 in")
    assert wire_named("music wire").shear_modulus(q("0.105 in")) == q("11750000 psi")


def en_listing() -> Spring:
    return spring(
        wire=q("5.000 mm"),
        outside=q("39.60 mm"),
        active_coils=Decimal("9.5"),
        total_coils=Decimal("11.5"),
        shear_modulus=q("81500 MPa"),
        free_length=q("105.8 mm"),
    )


@pytest.mark.parametrize(
    ("load", "deflection", "length"), [("280 N", "17.3", "88.5 mm"), ("620 N", "38.3", "67.5 mm")]
)
def test_a_listed_spring_at_two_loads(load: str, deflection: str, length: str) -> None:
    """EN 13906-1 calculation listing: d 5.000, De 39.60, n 9.50, nt 11.50, L0 105.8."""
    made = en_listing()
    assert made.mean_diameter == q("34.60 mm")
    assert near(rate(made), "16.181 N/mm", "0.0005")
    assert near(length_at(made, q(load)), length, "0.05")
    travel = q("105.8 mm") - length_at(made, q(load))
    assert near(travel, f"{deflection} mm", "0.05")


def test_the_textbook_spring_of_example_10_1() -> None:
    """Shigley, 8th edition, example 10-1 (from memory); D is rounded to .400 there."""
    made = spring(
        wire=q("0.037 in"),
        mean=q("0.400 in"),
        active_coils=Decimal("10.5"),
        ends=Ends.CLOSED,
        material="music wire",
    )
    assert near(rate(made), "4.13 lbf/in", "0.005")
    assert made.total_coils == Decimal("12.5")
    assert near(solid_length(made), "0.4995 in", "0.0001")


def test_hard_drawn_wire_squared_and_ground() -> None:
    """Juvinall and Marshek, Machine Component Design, helical compression spring problem:

    d .100, D .625, N 8, squared and ground, ASTM A227 wire: 73.60 lb/in, solid 1.000 in.
    """
    made = spring(
        wire=q("0.100 in"),
        mean=q("0.625 in"),
        active_coils=Decimal(8),
        material="hard-drawn wire",
    )
    assert near(rate(made), "73.60 lbf/in", "0.05")
    assert solid_length(made) == q("1.000 in")


@pytest.mark.parametrize(
    ("index", "factor", "places"),
    [
        ("5", "1.3105", 4),  # Faires, Design of Machine Elements, solutions, section 4, prob. 271
        ("4", "1.40", 2),  # Wahl, Mechanical Springs, curve of K (from memory)
        ("6", "1.25", 2),  # the same (from memory)
        ("8", "1.18", 2),  # the same (from memory)
        ("10", "1.14", 2),  # the same (from memory)
    ],
)
def test_wahls_factor(index: str, factor: str, places: int) -> None:
    assert round(wahl_factor(Decimal(index)), places) == Decimal(factor)


def test_a_one_inch_wire_spring() -> None:
    """Faires, Design of Machine Elements, solutions, section 4, problem 271.

    d 1.0, D 5.0, G 10.5e6, 11.5 coils: 2.85 kips at 3.12 in (2.8 kips at 3.066 by the formula).
    """
    made = spring(
        wire=q("1 in"),
        mean=q("5 in"),
        active_coils=Decimal("11.5"),
        shear_modulus=q("10500000 psi"),
    )
    deflection = Decimal(2850) / rate(made).value_in("lbf/in")
    assert round(deflection, 2) == Decimal("3.12")


def test_steel_springs_that_cannot_bow_are_those_below_the_textbook_slenderness() -> None:
    """Shigley Eq. 10-13: steel never bows when L0 < 2.63 D / alpha (E 30, G 11.5 Mpsi)."""
    steel = SpringWire("book steel", q("30000000 psi"), ((None, q("11500000 psi")),), "Shigley")
    for alpha, seating in (("0.5", Seating.BOTH_FLAT), ("1", Seating.BOTH_PIVOTED)):
        edge = Decimal("2.63") / Decimal(alpha)
        for part, bows in (("0.99", False), ("1.01", True)):
            made = spring(
                wire=q("0.1 in"),
                mean=q("1 in"),
                active_coils=Decimal(8),
                material=steel,
                free_length=Quantity.of(edge * Decimal(part), "in"),
            )
            assert (critical_deflection(made, seating) is not None) is bows


@pytest.mark.parametrize(
    ("material", "modulus"),
    [
        ("spring steel", "81500 MPa"),  # EN 13906-1 / a spring maker's sheet on EN 10270-1 wire
        ("oil-tempered steel", "79500 MPa"),  # EN 13906-1 (from memory)
        ("stainless 1.4310", "70000 MPa"),  # EN 13906-1 (from memory)
        ("phosphor bronze", "42000 MPa"),  # EN 13906-1 (from memory)
    ],
)
def test_wire_moduli(material: str, modulus: str) -> None:
    assert wire_named(material).shear_modulus(q("2 mm")) == q(modulus)


def test_the_relief_valve_of_a_scraper_opens_where_its_manual_says() -> None:
    """TM 5-3895-382-24: 59.8 mm at 15.9-23.1 N... opens at 340-395 kPa.

    The load at that length is not the load at opening: the plunger of 18.17 mm then sees less
    than the least of the opening band, so the spring must be shorter still when it opens.
    """
    closed = blow_off_pressure(q("23.1 N"), q("18.17 mm"))
    assert closed < q("340 kPa")
    opening_load = Decimal(340) / closed.value_in("kPa") * Decimal("23.1")
    assert round(opening_load, 0) == Decimal(88)


OIL_VALVE = SpringBand(  # TM 5-3825-229-14&P, p. 5-36; the manual prints lb-ft, a slip
    free_length=Limits(low=q("3.37 in")),
    load=Limits(q("12 lbf"), q("14 lbf")),
    load_length=q("2.08 in"),
)


@pytest.mark.parametrize(
    ("free_length", "load", "state"),
    [
        ("3.40 in", "13 lbf", SpringState.AGREES),
        ("3.37 in", "12 lbf", SpringState.AGREES),
        ("3.30 in", "11.2 lbf", SpringState.TIRED),
        ("3.20 in", "13.9 lbf", SpringState.ANOTHER),
    ],
)
def test_an_oil_regulating_valve_spring(free_length: str, load: str, state: SpringState) -> None:
    figures = SpringFigures(q(free_length), rig=(RigLoad(q("2.08 in"), q(load)),))
    assert judge_spring(figures, OIL_VALVE).state is state


def test_load_and_rate_lead_back_to_the_free_length_of_the_listing() -> None:
    """EN 13906-1 listing, worked backwards."""
    made = en_listing()
    assert near(load_at(made, q("88.5 mm")), "280 N", "0.5")
    back = free_length_from_rig(RigLoad(q("67.5 mm"), q("620 N")), q("16.181 N/mm"))
    assert near(back, "105.8 mm", "0.05")
