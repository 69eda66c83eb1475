"""Lengths at temperatures other than the reference, 20 °C (ISO 1).

Expansion per °C × 10⁻⁶: Callister, Materials Science and Engineering, appendix B; carbon steel
from memory.
"""

from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Context, Decimal
from difflib import get_close_matches
from types import MappingProxyType

from kitting.errors import BadInput, NotFound, Problem
from kitting.measure.quantity import Quantity
from kitting.measure.units import UNITS, Dimension

REFERENCE = Quantity.of(20, "°C")
PER_MILLION = MappingProxyType(
    {
        "carbon steel": Decimal("11.7"),
        "grey iron": Decimal("11.4"),
        "aluminium 356": Decimal("21.5"),
        "aluminium 6061": Decimal("23.6"),
        "phosphor bronze": Decimal("17.8"),
        "bearing bronze": Decimal("18.0"),
        "aluminium bronze": Decimal("16.2"),
    }
)
_DIGITS = Context(prec=28, rounding=ROUND_HALF_EVEN)
_PLACES = 7
_COLDEST, _HOTTEST = Decimal(-60), Decimal(500)


@dataclass(frozen=True, slots=True)
class Body:
    """Something of one material at one temperature: the part, or the instrument."""

    material: str
    temperature: Quantity = REFERENCE

    def __post_init__(self) -> None:
        expansion_of(self.material)
        if self.temperature.unit.dimension is not Dimension.TEMPERATURE:
            raise BadInput(Problem("temperature", f"{self.temperature} is none", "give it in °C"))
        if not _COLDEST <= self.temperature.base <= _HOTTEST:
            raise BadInput(
                Problem(
                    "temperature",
                    f"{self.temperature} is outside {_COLDEST} to {_HOTTEST} °C",
                    "give the temperature of the part in °C",
                )
            )

    @property
    def growth(self) -> Decimal:
        """Length now over length at 20 °C."""
        above = self.temperature.base - REFERENCE.base
        return 1 + expansion_of(self.material) * above / 1_000_000


def expansion_of(material: str) -> Decimal:
    """Expansion per °C, in millionths.

    Raises:
        NotFound: no such material; near matches are offered.
    """
    if material not in PER_MILLION:
        names = list(PER_MILLION)
        raise NotFound("material", material, get_close_matches(material, names) or names)
    return PER_MILLION[material]


def at_reference(read: Quantity, part: Body, instrument: Body | None = None) -> Quantity:
    """The part's length at 20 °C, from what an instrument read on it warm.

    read × (1 + αi (Ti − 20)) / (1 + αp (Tp − 20)): a warm instrument reads short, a warm part
    long. Rounded half-even to 0.1 nm. Without an instrument, `read` is taken as true.
    """
    grown = instrument.growth if instrument is not None else Decimal(1)
    value = _DIGITS.divide(_DIGITS.multiply(read.value_in("mm"), grown), part.growth)
    return Quantity.of(value, UNITS["mm"]).rounded(_PLACES).to(read.unit)


def at_temperature(length: Quantity, body: Body) -> Quantity:
    """A length known at 20 °C, as it is at the body's temperature. Rounded to 0.1 nm."""
    value = _DIGITS.multiply(length.value_in("mm"), body.growth)
    return Quantity.of(value, UNITS["mm"]).rounded(_PLACES).to(length.unit)
