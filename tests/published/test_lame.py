"""Press fits, expansion and bush sizes against printed figures; each names its source."""

from decimal import Decimal

import pytest

from kitting.engineering.band import Band
from kitting.engineering.bush import BushJob, heat_to_drop_in, press
from kitting.engineering.bush_ream import ream_band
from kitting.engineering.materials import Material, material_named
from kitting.measure import Limits, Quantity
from kitting.measure import parse_quantity as q


def exactly(size: str) -> Limits:
    return Limits(q(size), q(size))


def metal(modulus: str, poisson: str = "0.3") -> Material:
    return Material("as printed", q(modulus), Decimal(poisson), Decimal("0.0000117"), "the source")


def hub(meeting: str, outside: str, stuff: Material, length: str | None = None) -> BushJob:
    """A solid shaft in a hub of its own material."""
    return BushJob(
        housing_bore=exactly(meeting),
        housing_outside=q(outside),
        housing=stuff,
        bush_outside=exactly(meeting),
        bush_bore=q("0 mm"),
        bush=stuff,
        length=q(length) if length else None,
        friction=Decimal("0.15"),
    )


@pytest.mark.parametrize(
    ("meeting", "outside", "interference", "modulus", "pressure", "hoop", "within"),
    [
        # Shigley, 8th edition, problem 3-68 (radial interference .001 is .002 on the diameter)
        ("1 in", "2 in", "0.002 in", "30000000 psi", "22500 psi", "37500 psi", "1 psi"),
        # Lamé, worked by hand: D 100, Do 150, 0.1 mm, E 210 GPa
        ("100 mm", "150 mm", "0.1 mm", "210000 MPa", "58.3 MPa", "151.7 MPa", "0.05 MPa"),
        # a public calculator's worked example: 50/80 mm, 0.04 mm, E 200 GPa
        ("50 mm", "80 mm", "0.04 mm", "200000 MPa", "48.75 MPa", "111.3 MPa", "0.05 MPa"),
        # another public calculator's worked example and table: the same at E 210 GPa
        ("50 mm", "80 mm", "0.04 mm", "210000 MPa", "51.2 MPa", "117 MPa", "0.5 MPa"),
        ("50 mm", "80 mm", "0.02 mm", "210000 MPa", "25.6 MPa", "58.5 MPa", "0.5 MPa"),
        ("50 mm", "80 mm", "0.06 mm", "210000 MPa", "76.8 MPa", "175.4 MPa", "0.5 MPa"),
    ],
)
def test_solid_shafts_in_hubs(
    meeting: str,
    outside: str,
    interference: str,
    modulus: str,
    pressure: str,
    hoop: str,
    within: str,
) -> None:
    found = press(hub(meeting, outside, metal(modulus)), q(interference))
    assert abs(found.pressure - q(pressure)) <= q(within)
    assert abs(found.housing_hoop - q(hoop)) <= q(within)
    assert found.bush_hoop == -found.pressure


def test_the_force_that_pushes_the_worked_example_in() -> None:
    """A public calculator's worked example: 50/80 mm, 40 long, µ 0.15: 45.9 kN."""
    found = press(hub("50 mm", "80 mm", metal("200000 MPa"), "40 mm"), q("0.04 mm"))
    assert found.force is not None
    assert abs(found.force - q("45950 N")) <= q("20 N")


@pytest.mark.parametrize(
    ("name", "millionths"),
    [
        # Callister, Materials Science and Engineering, appendix B
        ("steel", "11.7"),  # from memory
        ("cast iron", "11.4"),
        ("aluminium 356", "21.5"),
        ("aluminium 6061", "23.6"),
        ("phosphor bronze", "17.8"),
        ("bearing bronze", "18.0"),
        ("aluminium bronze", "16.2"),
        ("brass", "19.9"),  # from memory
        ("magnesium", "26.0"),  # from memory
    ],
)
def test_expansion_of_metals(name: str, millionths: str) -> None:
    assert material_named(name).expansion == Decimal(millionths).scaleb(-6)


@pytest.mark.parametrize(
    ("name", "gigapascals"),
    [
        # Callister, appendix B (from memory)
        ("steel", 207),
        ("aluminium 6061", 69),
        ("aluminium 356", Decimal("72.4")),
        ("phosphor bronze", 110),
        ("brass", 110),
        ("magnesium", 45),
    ],
)
def test_moduli_of_metals(name: str, gigapascals: Decimal | int) -> None:
    assert material_named(name).modulus == Quantity.of(gigapascals, "MPa") * 1000


def test_a_small_end_bush_by_its_makers_procedure() -> None:
    """Maker's procedure 1028H58: eye 23.939-23.972, bush 24.016-24.041: 0.044 to 0.102 tight."""
    job = BushJob(
        housing_bore=Limits(q("23.939 mm"), q("23.972 mm")),
        housing_outside=q("34 mm"),
        housing=material_named("steel"),
        bush_outside=Limits(q("24.016 mm"), q("24.041 mm")),
        bush_bore=q("21.5 mm"),
        bush=material_named("bronze"),
    )
    assert job.interference == Limits(q("0.044 mm"), q("0.102 mm"))


def test_a_small_end_bush_is_reamed_to_pin_and_clearance() -> None:
    """Maker's procedure 1028H58: reamed 22.004-22.009; a 21.994-21.999 pin then runs at 5-15 µm."""
    band = ream_band(Limits(q("21.994 mm"), q("21.999 mm")), Limits(q("0.005 mm"), q("0.015 mm")))
    assert band == Band(q("22.004 mm"), q("22.009 mm"))


def test_force_fits_of_a_lathe_hands_handbook_lie_between_one_and_two_and_a_half_thou_an_inch() -> (
    None
):
    """F. D. Jones, Turning and Boring: .001-.0025 per inch, .0015 a fair average.

    At .0015 per inch a steel ring of twice the diameter is stressed to about half its yield:
    22 500 psi × .0015/.002 in the Shigley case above.
    """
    found = press(hub("1 in", "2 in", metal("30000000 psi")), q("0.0015 in"))
    assert abs(found.pressure - q("16875 psi")) <= q("1 psi")


def test_heat_to_open_an_aluminium_case() -> None:
    """ΔT = (δ + play) / (α d): 0.10 mm and 0.05 play on 60 mm of 356 alloy, 21.5e-6: 116 °C."""
    job = BushJob(
        housing_bore=exactly("60 mm"),
        housing_outside=q("90 mm"),
        housing=material_named("aluminium"),
        bush_outside=exactly("60.1 mm"),
        bush_bore=q("50 mm"),
        bush=material_named("bronze"),
    )
    assert round(heat_to_drop_in(job, q("0.05 mm")).rise, 1) == Decimal("116.3")
