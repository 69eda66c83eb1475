"""Numbers with units: lengths kept exact, readings, limits, and what a reading proves.

Pure: imports nothing of the project but `kitting.errors`.
"""

from kitting.measure.decide import Decision, Limits, decide
from kitting.measure.parse import parse_quantity
from kitting.measure.quantity import Quantity, UnitMismatch
from kitting.measure.units import UNITS, Dimension, Unit, unit_named

__all__ = [
    "UNITS",
    "Decision",
    "Dimension",
    "Limits",
    "Quantity",
    "Unit",
    "UnitMismatch",
    "decide",
    "parse_quantity",
    "unit_named",
]
