"""What spring wire is made of: shear and elastic moduli, with their sources.

EN 13906-1 gives one modulus a material (N/mm² at 20 °C); Shigley Table 10-5 gives music wire and
hard-drawn wire a little less as the wire grows thicker. Both are kept: name the one you mean.
"""

from dataclasses import dataclass
from types import MappingProxyType

from kitting.errors import NotFound
from kitting.measure import Quantity


@dataclass(frozen=True, slots=True)
class SpringWire:
    """A wire material. `steps` are (thickest wire, shear modulus), the last open-ended."""

    name: str
    elastic_modulus: Quantity
    steps: tuple[tuple[Quantity | None, Quantity], ...]
    source: str

    def shear_modulus(self, wire: Quantity) -> Quantity:
        """Return G for a wire of this diameter."""
        for thickest, modulus in self.steps:
            if thickest is None or wire <= thickest:
                return modulus
        return self.steps[-1][1]


def _metric(name: str, elastic: str, shear: str, source: str) -> SpringWire:
    return SpringWire(
        name, Quantity.of(elastic, "MPa"), ((None, Quantity.of(shear, "MPa")),), source
    )


def _stepped(name: str, elastic: str, shears: tuple[str, str, str, str]) -> SpringWire:
    tops = (*(Quantity.of(top, "in") for top in ("0.032", "0.063", "0.125")), None)
    steps = tuple((top, Quantity.of(shear, "psi")) for top, shear in zip(tops, shears, strict=True))
    return SpringWire(name, Quantity.of(elastic, "psi"), steps, "Shigley Table 10-5")


_EN = "EN 13906-1, moduli at 20 °C"
_ALL = (
    _metric("spring steel", "206000", "81500", f"{_EN}: EN 10270-1"),
    _metric("oil-tempered steel", "206000", "79500", f"{_EN}: EN 10270-2"),
    _metric("stainless 1.4310", "180000", "70000", f"{_EN}: EN 10270-3"),
    _metric("phosphor bronze", "115000", "42000", f"{_EN}: EN 12166, CuSn6"),
    _stepped("music wire", "28500000", ("12000000", "11850000", "11750000", "11600000")),
    _stepped("hard-drawn wire", "28600000", ("11700000", "11600000", "11500000", "11400000")),
)
WIRES = MappingProxyType({wire.name: wire for wire in _ALL})


def wire_named(name: str) -> SpringWire:
    """Return the material of that name.

    Raises:
        NotFound: no such material; all are offered.
    """
    found = WIRES.get(name.strip().lower())
    if found is None:
        raise NotFound("spring wire", name, WIRES)
    return found
