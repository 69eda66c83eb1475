"""What bushes, housings and shafts are made of: modulus, Poisson's ratio, expansion.

Sources: expansion Callister, Materials Science and Engineering, appendix B (carbon steel from
memory); moduli and Poisson's ratios Callister appendix B and Shigley Table A-5 (from memory).
Figures for room temperature; castings vary by some per cent.
"""

from dataclasses import dataclass
from decimal import Decimal
from types import MappingProxyType

from kitting.errors import BadInput, NotFound, Problem
from kitting.measure import Quantity


@dataclass(frozen=True, slots=True)
class Material:
    """A material: E as a pressure, Poisson's ratio bare, expansion per °C."""

    name: str
    modulus: Quantity
    poisson: Decimal
    expansion: Decimal
    source: str

    def __post_init__(self) -> None:
        if self.modulus.base <= 0 or not 0 <= self.poisson < Decimal("0.5") or self.expansion < 0:
            raise BadInput(
                Problem(
                    "material", f"the figures of {self.name} cannot be", "E above 0, ν 0 to 0.5"
                )
            )


def _material(name: str, gigapascals: str, poisson: str, millionths: str, source: str) -> Material:
    modulus = Quantity.of(Decimal(gigapascals) * 1000, "MPa")
    expansion = Decimal(millionths).scaleb(-6)
    return Material(name, modulus, Decimal(poisson), expansion, source)


_CALLISTER = "Callister appendix B"
_ALL = (
    _material("steel", "207", "0.30", "11.7", f"{_CALLISTER} (from memory)"),
    _material("cast iron", "100", "0.211", "11.4", f"{_CALLISTER}; E, ν Shigley A-5 (from memory)"),
    _material("aluminium 356", "72.4", "0.33", "21.5", f"{_CALLISTER}, cast 356.0"),
    _material("aluminium 6061", "69", "0.33", "23.6", f"{_CALLISTER}, 6061"),
    _material("phosphor bronze", "110", "0.35", "17.8", f"{_CALLISTER}, C51000"),
    _material("bearing bronze", "100", "0.34", "18.0", f"{_CALLISTER}, C93200"),
    _material("aluminium bronze", "110", "0.33", "16.2", f"{_CALLISTER} (E, ν from memory)"),
    _material("brass", "110", "0.35", "19.9", f"{_CALLISTER}, cartridge brass (from memory)"),
    _material("magnesium", "45", "0.35", "26.0", f"{_CALLISTER}, AZ31B (from memory)"),
)
MATERIALS = MappingProxyType({material.name: material for material in _ALL})
# What a person says when he does not know the alloy: the usual one of an engine.
_OTHER_NAMES = MappingProxyType(
    {
        "aluminium": "aluminium 356", "aluminum": "aluminium 356", "alloy": "aluminium 356",
        "iron": "cast iron", "grey iron": "cast iron", "bronze": "phosphor bronze",
        "phosphor-bronze": "phosphor bronze", "leaded bronze": "bearing bronze",
    }
)  # fmt: skip


def material_named(name: str) -> Material:
    """Return the material of that name.

    Raises:
        NotFound: no such material; all are offered.
    """
    wanted = name.strip().lower()
    found = MATERIALS.get(_OTHER_NAMES.get(wanted, wanted))
    if found is None:
        raise NotFound("material", name, MATERIALS)
    return found
