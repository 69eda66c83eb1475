"""The units a bench uses, each an exact decimal multiple of its dimension's base.

The base of a dimension is chosen so that every unit of it is an exact decimal of the base: then no
conversion to the base ever rounds. Sources: international yard and pound agreement of 1959
(1 in = 25.4 mm, 1 lb = 0.45359237 kg), standard gravity 9.80665 m/s2 (CGPM 1901), hence
1 lbf = 4.4482216152605 N.
"""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from types import MappingProxyType

from kitting.errors import BadInput, Problem


class Dimension(StrEnum):
    """What kind of thing a number counts."""

    LENGTH = "length"
    FORCE = "force"
    PRESSURE = "pressure"
    STIFFNESS = "stiffness"
    TORQUE = "torque"
    VOLUME = "volume"
    MASS = "mass"
    ANGLE = "angle"
    TEMPERATURE = "temperature"
    COUNT = "count"


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: its symbol, what it measures, how many base units it is, usual decimal places."""

    symbol: str
    dimension: Dimension
    per_base: Decimal
    places: int

    def __str__(self) -> str:
        return self.symbol


_LBF = "4.4482216152605"
_D = Dimension
_ALL = tuple(
    Unit(symbol, dimension, Decimal(factor), places)
    for symbol, dimension, factor, places in (
        ("mm", _D.LENGTH, "1", 3),
        ("µm", _D.LENGTH, "0.001", 0),
        ("cm", _D.LENGTH, "10", 3),
        ("m", _D.LENGTH, "1000", 6),
        ("in", _D.LENGTH, "25.4", 4),
        ("thou", _D.LENGTH, "0.0254", 1),
        ("µin", _D.LENGTH, "0.0000254", 0),
        ("N", _D.FORCE, "1", 1),
        ("lbf", _D.FORCE, _LBF, 1),
        ("kgf", _D.FORCE, "9.80665", 2),
        # base: N over 64516 mm², of which MPa and psi are both exact decimals
        ("MPa", _D.PRESSURE, "64516", 3),
        ("kPa", _D.PRESSURE, "64.516", 0),
        ("bar", _D.PRESSURE, "6451.6", 2),
        ("psi", _D.PRESSURE, "444.82216152605", 1),
        # base: N over 25.4 mm
        ("N/mm", _D.STIFFNESS, "25.4", 2),
        ("lbf/in", _D.STIFFNESS, _LBF, 2),
        ("N·m", _D.TORQUE, "1000", 1),
        ("lbf·ft", _D.TORQUE, "1355.8179483314004", 1),
        ("lbf·in", _D.TORQUE, "112.9848290276167", 1),
        ("cc", _D.VOLUME, "1", 1),
        ("L", _D.VOLUME, "1000", 2),
        ("g", _D.MASS, "1", 1),
        ("oz", _D.MASS, "28.349523125", 2),
        ("lb", _D.MASS, "453.59237", 3),
        ("°", _D.ANGLE, "1", 1),
        ("°C", _D.TEMPERATURE, "1", 0),
        ("each", _D.COUNT, "1", 0),
        ("teeth", _D.COUNT, "1", 0),
        ("coils", _D.COUNT, "1", 1),
    )
)
UNITS = MappingProxyType({unit.symbol: unit for unit in _ALL})

_OTHER_SPELLINGS = MappingProxyType(
    {
        '"': "in", "″": "in", "”": "in", "''": "in", "inch": "in", "inches": "in", "ins": "in",
        "th": "thou", "mil": "thou", "mils": "thou",
        "um": "µm", "μm": "µm", "micron": "µm", "microns": "µm", "uin": "µin", "μin": "µin",
        "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
        "lb/in": "lbf/in", "lbs/in": "lbf/in", "nm": "N·m", "n.m": "N·m",
        "lbf.ft": "lbf·ft", "lbfft": "lbf·ft", "lbf ft": "lbf·ft", "ftlb": "lbf·ft",
        "ft lb": "lbf·ft",
        "lbf in": "lbf·in", "lbf.in": "lbf·in",
        "lb/in2": "psi", "lbf/in2": "psi", "n/mm2": "MPa", "n/mm²": "MPa",
        "deg": "°", "degc": "°C", "c": "°C", "off": "each", "ea": "each", "kg": "kgf",
    }
)  # fmt: skip
_BY_LOWER = MappingProxyType({symbol.lower(): unit for symbol, unit in UNITS.items()})


def unit_named(text: str) -> Unit:
    """Return the unit that `text` names, in any of its usual spellings.

    Raises:
        BadInput: no unit has that name.
    """
    name = text.strip()
    if name in UNITS:
        return UNITS[name]
    lowered = name.lower().rstrip(".")
    found = _BY_LOWER.get(_OTHER_SPELLINGS.get(lowered, lowered).lower())
    if found is None:
        known = "in, thou, mm, µm, lbf, N, psi, kPa, lbf/in, N/mm"
        raise BadInput(Problem("", f"'{name}' is no unit known here", f"use one such as {known}"))
    return found
