"""Printed clearances, shells and housings; each names its source."""

from itertools import pairwise

import pytest

from kitting.engineering.band import Band
from kitting.engineering.clearance import (
    ShellBearing,
    ShellStock,
    band_to_grind,
    choose_shells,
    felt_by_hand,
    oil_clearance,
    rule_of_thumb,
)
from kitting.measure import Quantity


def band(text: str, unit: str) -> Band:
    low, high = text.split()
    return Band(Quantity.of(low, unit), Quantity.of(high, unit))


# TM 5-4320-302-14, p. 6-181: bore over shells, wall, centre journal (p. 6-149), mm
PUMP_MM = (
    ("standard", "60.040 60.083", "2.973 2.985", "59.971 59.990"),
    ("1st", "59.540 59.583", "3.223 3.235", "59.471 59.490"),
    ("2nd", "59.040 59.083", "3.473 3.485", "58.971 58.990"),
    ("3rd", "58.540 58.583", "3.723 3.735", "58.471 58.490"),
)
PUMP_HOUSING = band("66.010 66.029", "mm")
PUMP_TARGET = band("0.050 0.112", "mm")


@pytest.mark.parametrize(("name", "lined", "wall", "journal"), PUMP_MM)
def test_pump_engine_closes_at_every_undersize(
    name: str, lined: str, wall: str, journal: str
) -> None:
    """TM 5-4320-302-14, p. 6-181: one housing, four shells, clearance 0.050 to 0.112 mm."""
    bearing = ShellBearing.alike(PUMP_HOUSING, band(wall, "mm"))
    assert bearing.lined == band(lined, "mm"), name
    assert oil_clearance(bearing, band(journal, "mm")) == PUMP_TARGET


@pytest.mark.parametrize(("name", "lined", "wall", "journal"), PUMP_MM)
def test_pump_engine_the_band_to_grind_is_the_printed_journal(
    name: str, lined: str, wall: str, journal: str
) -> None:
    """The same table, backwards."""
    printed = band(journal, "mm")
    found = band_to_grind(ShellBearing.alike(PUMP_HOUSING, band(wall, "mm")), PUMP_TARGET, printed)
    assert found.band == printed, name
    assert not found.notes


@pytest.mark.parametrize(("one", "next_one"), tuple(pairwise(PUMP_MM)))
def test_pump_engine_the_wall_grows_by_half_the_undersize(
    one: tuple[str, ...], next_one: tuple[str, ...]
) -> None:
    """The same table."""
    wall = band(next_one[2], "mm").low - band(one[2], "mm").low
    undersize = band(one[3], "mm").low - band(next_one[3], "mm").low
    assert wall * 2 == undersize


# TM 5-4320-300-14, p. 6-103: wall and journal by undersize, in
PUMP_ROD = (
    ("standard", ".1245 .1250", "2.499 2.500"),
    (".002", ".1255 .1260", "2.497 2.498"),
    (".010", ".1295 .1300", "2.489 2.490"),
    (".020", ".1345 .1350", "2.479 2.480"),
    (".030", ".1395 .1400", "2.469 2.470"),
)


@pytest.mark.parametrize(("name", "wall", "journal"), PUMP_ROD)
def test_pump_rod_clearance_at_every_undersize(name: str, wall: str, journal: str) -> None:
    """TM 5-4320-300-14, p. 6-103: shell bore 2.5015 to 2.5035, clearance .0015 to .0045."""
    housing = band("2.7515 2.7525", "in")
    bearing = ShellBearing.alike(housing, band(wall, "in"))
    if name == "standard":
        assert bearing.lined == band("2.5015 2.5035", "in")
    assert oil_clearance(bearing, band(journal, "in")) == band("0.0015 0.0045", "in")


@pytest.mark.parametrize(
    ("size", "wall_low"), [("0.03", "2.017"), ("0.05", "2.027"), ("0.25", "2.127")]
)
def test_flat_four_undersize_shells_grow_by_half_from_one_another(size: str, wall_low: str) -> None:
    """Subaru Impreza 2.5, 2000: main shell walls 2.017 to 2.020, 2.027 to 2.030, 2.127 to 2.130."""
    grown = Quantity.of(wall_low, "mm") - Quantity.of("2.002", "mm")
    assert grown * 2 == Quantity.of(size, "mm")


@pytest.mark.parametrize(
    ("journal", "high"),
    [("2.5190 2.5198", "0.0023"), ("2.3103 2.3111", "0.0027")],
)
def test_v6_shell_walls_keep_the_allowable_clearance_reachable(journal: str, high: str) -> None:
    """Ford Mustang 3.8 l, 2001: walls .0572 to .0577; main .0005 to .0023, rod .00086 to .0027."""
    shaft, walls = band(journal, "in"), band("0.0572 0.0577", "in")
    target = Band(Quantity.of("0.0005", "in"), Quantity.of(high, "in"))
    # a housing in hand, measured: then the printed journal can be matched to it
    housing = Band.measured(shaft.middle + walls.middle * 2 + target.middle, Quantity.of(0, "in"))
    found = band_to_grind(ShellBearing.alike(housing, walls), target).band
    assert found.low <= shaft.middle <= found.high


@pytest.mark.parametrize(
    ("diameter", "rod", "clearance"),
    [("2.000", False, "0.002"), ("2.000", True, "0.0025"), ("1.750", True, "0.00225")],
)
def test_rule_of_thumb(diameter: str, rod: bool, clearance: str) -> None:
    """Bearing maker's guidance, 2008: .001 per inch of journal, +.0005 on rods."""
    found = rule_of_thumb(Quantity.of(diameter, "in"), rod=rod)
    assert found == Quantity.of(clearance, "in")


@pytest.mark.parametrize(
    ("loaded", "other", "taken"),
    [("standard", "standard", "0"), (".001", "standard", "0.0005"), (".001", ".001", "0.001")],
)
def test_selective_fitting(loaded: str, other: str, taken: str) -> None:
    """Bearing maker's guidance, 2008: a pair of .001 shells takes .001 off, one takes half."""
    nothing = Quantity.of(0, "in")
    steps = tuple(
        ShellStock(name, Band.measured(Quantity.of(wall, "in"), nothing))
        for name, wall in (("standard", "0.0840"), (".001", "0.0845"), (".002", "0.0850"))
    )
    housing = Band.measured(Quantity.of("1.9200", "in"), nothing)
    journal = Band.measured(Quantity.of("1.7495", "in"), nothing)
    pairs = choose_shells(housing, journal, band("0.001 0.002", "in"), steps)
    (found,) = [p for p in pairs if (p.loaded.name, p.other.name) == (loaded, other)]
    assert Quantity.of("0.0025", "in") - found.clearance.low == Quantity.of(taken, "in")
    assert (".002", "standard") not in {(p.loaded.name, p.other.name) for p in pairs}


def test_main_bush_running_clearance_cannot_be_felt() -> None:
    """Common practice, no source: .0015; at that no movement can be felt by hand."""
    assert "no movement" in felt_by_hand(Quantity.of("0.0015", "in"))
