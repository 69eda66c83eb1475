"""Pressing in a bush: Lamé's laws, heat, reaming, and what is refused."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from kitting.engineering.bush import (
    BushJob,
    heat_to_drop_in,
    interference_at,
    loose_at,
    press,
)
from kitting.engineering.bush_ream import hot_running, ream, ream_band
from kitting.engineering.materials import MATERIALS, Material, material_named
from kitting.errors import BadInput
from kitting.measure import Limits, Quantity
from kitting.measure import parse_quantity as q


def band(low: str, high: str) -> Limits:
    return Limits(q(low), q(high))


JOB = BushJob(
    housing_bore=band("1.7500 in", "1.7505 in"),
    housing_outside=q("2.75 in"),
    housing=material_named("aluminium"),
    bush_outside=band("1.7530 in", "1.7535 in"),
    bush_bore=q("1.4300 in"),
    bush=material_named("phosphor bronze"),
    length=q("1.125 in"),
)


def solved_numerically(job: BushJob, interference: Quantity) -> tuple[float, float, float]:
    """Pressure, closure and swelling by solving u = A r + B / r in both rings (plane stress)."""
    d, di, do = (
        float(size.value_in("mm")) for size in (job.meeting, job.bush_bore, job.housing_outside)
    )

    def radial(material: Material, radius: float) -> list[float]:
        e, v = float(material.modulus.value_in("MPa")), float(material.poisson)
        return [e / (1 - v), -e / (1 + v) / radius**2]

    outer, inner = radial(job.housing, d / 2), radial(job.bush, d / 2)
    matrix = np.array(
        [
            [*radial(job.housing, do / 2), 0, 0],
            [0, 0, *radial(job.bush, di / 2)],
            [*outer, -inner[0], -inner[1]],
            [d / 2, 2 / d, -d / 2, -2 / d],
        ]
    )
    right = np.array([0, 0, 0, float(interference.value_in("mm")) / 2])
    a_out, b_out, a_in, b_in = np.linalg.solve(matrix, right)
    pressure = -(outer[0] * a_out + outer[1] * b_out)
    return pressure, -2 * (a_in * di / 2 + 2 * b_in / di), 2 * (a_out * do / 2 + 2 * b_out / do)


materials = st.sampled_from(list(MATERIALS.values()))


@given(
    st.integers(20, 80), st.integers(2, 12), st.integers(5, 40), st.integers(5, 80),
    materials, materials,
)  # fmt: skip
def test_pressure_closure_and_swelling_agree_with_a_numerical_solution(
    d: int, wall: int, round_it: int, microns: int, housing: Material, bush: Material
) -> None:
    job = BushJob(
        housing_bore=band(f"{d} mm", f"{d} mm"),
        housing_outside=q(f"{d + round_it} mm"),
        housing=housing,
        bush_outside=band(f"{d} mm", f"{d} mm"),
        bush_bore=q(f"{d - wall} mm"),
        bush=bush,
    )
    found = press(job, q(f"{microns} µm"))
    pressure, closure, swelling = solved_numerically(job, q(f"{microns} µm"))
    assert float(found.pressure.value_in("MPa")) == pytest.approx(pressure, rel=1e-9)
    assert float(found.closure.value_in("mm")) == pytest.approx(closure, rel=1e-9)
    assert float(found.swelling.value_in("mm")) == pytest.approx(swelling, rel=1e-9)


def test_interference_is_smallest_bush_less_largest_bore_and_the_other_way() -> None:
    assert JOB.interference == band("0.0025 in", "0.0035 in")


def test_twice_the_interference_is_twice_the_pressure_and_the_closure() -> None:
    one, two = press(JOB, q("1 thou")), press(JOB, q("2 thou"))
    assert float(two.pressure.ratio(one.pressure)) == pytest.approx(2, rel=1e-15)
    assert float(two.closure.ratio(one.closure)) == pytest.approx(2, rel=1e-15)


def test_the_bore_closes_by_less_than_the_interference() -> None:
    found = press(JOB, q("3 thou"))
    assert q("0 in") < found.closure < q("3 thou")
    assert found.tight
    assert found.force is not None
    assert found.pressure.unit.symbol == "psi"
    assert found.bush_hoop < q("0 psi") < found.housing_hoop


def test_a_loose_bush_is_held_by_nothing() -> None:
    found = press(JOB, q("-0.001 in"))
    assert not found.tight
    assert not found.pressure
    assert not found.closure


def test_the_heat_to_drop_in_opens_the_housing_by_interference_and_play() -> None:
    heat = heat_to_drop_in(JOB, q("0.002 in"))
    grown = JOB.meeting.value_in("in") * JOB.housing.expansion * heat.rise
    assert grown == pytest.approx(Decimal("0.0055"), rel=Decimal("1e-15"))
    assert heat.housing_at == heat.rise + 20


def test_a_chilled_bush_needs_a_cooler_housing() -> None:
    warm = heat_to_drop_in(JOB, q("0.002 in"))
    chilled = heat_to_drop_in(JOB, q("0.002 in"), bush_at=Decimal(-40))
    assert chilled.rise < warm.rise
    assert heat_to_drop_in(JOB, q("0 in"), bush_at=Decimal(-270)).rise == 0


def test_heat_carries_the_uncertainty_of_its_figures_as_uncertainties_says() -> None:
    spread = ufloat(0.0030, 0.0005)
    rise = (spread + 0.002) / (float(JOB.housing.expansion) * float(JOB.meeting.value_in("in")))
    middle = heat_to_drop_in(replace(JOB, bush_outside=band("1.7530 in", "1.7530 in")), q("2 thou"))
    assert float(middle.rise) == pytest.approx(rise.nominal_value, abs=1e-6)


def test_bronze_in_aluminium_loosens_as_it_warms_and_falls_out_at_a_stated_heat() -> None:
    hot = hot_running(JOB, Decimal(100))
    assert hot.tight
    assert hot.interference.low is not None
    assert hot.interference.low < q("0.0025 in")
    at = loose_at(JOB)
    assert at is not None
    gone = interference_at(JOB, q("0.0025 in"), at)
    assert abs(gone) < q("0.000001 µm")
    assert not hot_running(JOB, at + 1).tight


def test_bronze_in_iron_tightens_as_it_warms_and_never_falls_out() -> None:
    job = replace(JOB, housing=material_named("cast iron"))
    assert loose_at(job) is None
    assert interference_at(job, q("0.0025 in"), Decimal(120)) > q("0.0025 in")


def test_ream_to_the_journal_as_finished_and_its_clearance() -> None:
    found = ream(JOB, band("1.4375 in", "1.4380 in"), band("0.0015 in", "0.0025 in"))
    assert found.band == band("1.4395 in", "1.4400 in")
    assert found.can_be_reamed
    assert found.pressed_bore.high is not None
    assert found.stock == q("1.4395 in") - found.pressed_bore.high
    assert found.pressed_bore.high == q("1.43 in") - press(JOB, q("2.5 thou")).closure
    assert found.pressed_bore.low == q("1.43 in") - press(JOB, q("3.5 thou")).closure
    open_bore = replace(JOB, bush_bore=q("1.4450 in"))
    assert not ream(
        open_bore, band("1.4375 in", "1.4380 in"), band("0.0015 in", "0.0025 in")
    ).can_be_reamed


@given(st.integers(0, 20), st.integers(0, 20), st.integers(5, 40), st.integers(20, 60))
def test_the_reamed_band_really_gives_the_clearance(
    base: int, spread: int, least: int, more: int
) -> None:
    journal = Limits(q(f"{40000 + base} µm"), q(f"{40000 + base + spread} µm"))
    clearance = Limits(q(f"{least} µm"), q(f"{least + more} µm"))
    bore = ream_band(journal, clearance)
    assert journal.low is not None
    assert journal.high is not None
    assert bore.low - journal.high == clearance.low
    assert bore.high - journal.low == clearance.high


def test_hot_clearance_counts_growth_of_bush_and_shaft_and_the_closure_let_go() -> None:
    steel = material_named("steel")
    bore, journal = band("1.4395 in", "1.4400 in"), band("1.4375 in", "1.4380 in")
    cold = hot_running(JOB, Decimal(20), bore, journal, steel)
    assert cold.clearance == band("0.0015 in", "0.0025 in")
    hot = hot_running(JOB, Decimal(100), bore, journal, steel)
    assert hot.clearance is not None
    assert hot.clearance.low is not None
    assert hot.clearance.low > q("0.0015 in")
    assert hot_running(JOB, Decimal(100)).clearance is None


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"housing_outside": q("1.75 in")}, "cannot hold a bush"),
        ({"bush_bore": q("1.76 in")}, "leaves no wall"),
        ({"bush_bore": q("-1 in")}, "is below zero"),
        ({"bush_outside": band("1.80 in", "1.81 in")}, "no fit at all"),
        ({"bush_outside": band("1.70 in", "1.70 in")}, "no fit at all"),
        ({"bush_outside": Limits(q("1.75 in"))}, "open end"),
        ({"housing_bore": band("-1.75 in", "1.75 in")}, "not above zero"),
        ({"length": q("0 in")}, "not above zero"),
        ({"friction": Decimal(0)}, "not above zero"),
    ],
)
def test_a_bush_that_cannot_be_is_refused(changes: dict[str, Any], sentence: str) -> None:
    with pytest.raises(BadInput, match=sentence):
        replace(JOB, **changes)


def test_swapped_limits_and_impossible_clearances_are_refused() -> None:
    with pytest.raises(BadInput, match="wrong way round"):
        band("1.7505 in", "1.7500 in")
    with pytest.raises(BadInput, match="throughout"):
        ream_band(band("1.43 in", "1.45 in"), band("0.001 in", "0.002 in"))
    with pytest.raises(BadInput, match="open end"):
        ream_band(Limits(q("1.43 in")), band("0.001 in", "0.002 in"))
    with pytest.raises(BadInput, match="is below zero"):
        heat_to_drop_in(JOB, q("-1 thou"))
    with pytest.raises(BadInput, match="hotter than the room"):
        heat_to_drop_in(JOB, q("1 thou"), bush_at=Decimal(60))


def test_materials_go_by_their_workshop_names_and_strangers_are_refused() -> None:
    assert material_named("Alloy") is MATERIALS["aluminium 356"]
    assert material_named(" bronze ") is MATERIALS["phosphor bronze"]
    with pytest.raises(BadInput, match="no material 'cheese'"):
        material_named("cheese")
    with pytest.raises(BadInput, match="cannot be"):
        Material("wool", q("0 MPa"), Decimal("0.3"), Decimal(0), "none")
