"""Rotary shaft lip seals: shaft × housing × width, compared, and the nearest standard sizes.

Nominal sizes and seats: ISO 6194-1 (DIN 3760): shaft h11, housing H8. The list of sizes is from
memory of Table 1 there. Inch seals are compared but have no list here.
"""

import re
from dataclasses import dataclass
from decimal import Decimal
from functools import cache

from kitting.engineering.fits import deviations
from kitting.engineering.sizes import SizeComparison, compare_sizes
from kitting.errors import BadInput, Problem, Problems
from kitting.measure import Limits, Quantity, Unit, parse_quantity, unit_named

SOURCE = "ISO 6194-1, Table 1 (from memory)"
_NOMINAL = Quantity.of("0.05", "mm")
# width: shaft:housing,housing …
_SIZES = {
    "7": "6:16,22 7:22 8:22,24 9:22 10:22,25 12:24,25,30 15:26,30,35 16:30,35 18:30,35 20:35,40 "
    "22:35,40,47 25:40,47,52 28:40,47,52 30:42,47,52",
    "8": "32:45,47,52 35:50,52,55 38:55,58,62 40:55,62 42:55,62 45:62,65 50:68,72 55:72,80 "
    "60:80,85",
    "10": "65:85,90 70:90,95 75:95,100 80:100,110",
    "12": "85:110,120 90:120 95:120 100:125 105:130 110:140 120:150 130:160 140:170",
    "15": "150:180 160:190 170:200 180:210 190:220 200:230",
}
_SPLIT = re.compile(r"\s*(?:[x×*]|\s-\s|(?<=\d)-(?=\d))\s*", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class SealSize:
    """A lip seal by its nominal sizes: the shaft it runs on, the bore it sits in, its width."""

    shaft: Quantity
    housing: Quantity
    width: Quantity

    def __post_init__(self) -> None:
        problems = Problems()
        for place, size in self.dimensions.items():
            if not size.is_length or size.base <= 0:
                problems.add(place, f"{size} is no size", "give a length above zero")
        problems.raise_if_any()
        if self.housing <= self.shaft:
            problems.add(
                "housing",
                f"a housing of {self.housing} does not go round a shaft of {self.shaft}",
                "shaft first, then housing, then width",
            )
        problems.raise_if_any()

    @property
    def dimensions(self) -> dict[str, Quantity]:
        """The three sizes by name."""
        return {"shaft": self.shaft, "housing": self.housing, "width": self.width}

    def __str__(self) -> str:
        sizes = " × ".join(_short(size) for size in self.dimensions.values())
        return f"{sizes} {self.shaft.unit}"


def parse_seal(text: str, unit: Unit | None = None) -> SealSize:
    """Return the seal that `text` names: 30x47x7, 1.250 x 2.000 x 0.375 in; mm when none is said.

    Raises:
        BadInput: not three sizes, or sizes that cannot be a seal.
    """
    parts = _SPLIT.split(text.strip())
    if len(parts) != 3:
        raise BadInput(
            Problem("seal", f"'{text}' is not three sizes", "shaft x housing x width, 30x47x7")
        )
    said = re.search(r"[a-z\"″µ]+\.?\s*$", parts[2], re.IGNORECASE)
    bare = unit_named(said.group().strip(" .")) if said else unit or unit_named("mm")
    problems, sizes = Problems(), list[Quantity]()
    for place, part in zip(("shaft", "housing", "width"), parts, strict=True):
        with problems.at(place):
            sizes.append(parse_quantity(part, bare))
    problems.raise_if_any()
    return SealSize(*sizes)


def compare_seals(
    fitted: SealSize, wanted: SealSize, within: Quantity = _NOMINAL
) -> tuple[SizeComparison, ...]:
    """Return shaft, housing and width of `fitted` against `wanted`."""
    return compare_sizes(fitted.dimensions, wanted.dimensions, within)


@dataclass(frozen=True, slots=True)
class NearSeal:
    """A standard seal near a size, and how it compares with it."""

    seal: SealSize
    differs: tuple[SizeComparison, ...]

    @property
    def same_size(self) -> bool:
        """Whether it is the same size: to be offered as 'same size, confirm'."""
        return all(one.by <= _NOMINAL for one in self.differs)


def nearest_seals(size: SealSize, at_most: int = 4) -> tuple[NearSeal, ...]:
    """Return the nearest standard seals, the shaft counting most, then housing, then width."""
    ranked = sorted(standard_seals(), key=lambda seal: _distance(seal, size))
    return tuple(NearSeal(seal, compare_seals(seal, size)) for seal in ranked[:at_most])


def _distance(seal: SealSize, size: SealSize) -> Decimal:
    return (
        abs(seal.shaft - size.shaft).base * 9
        + abs(seal.housing - size.housing).base * 3
        + abs(seal.width - size.width).base
    )


@cache
def standard_seals() -> tuple[SealSize, ...]:
    """The metric sizes of ISO 6194-1, smallest shaft first."""
    found = [
        SealSize(Quantity.of(shaft, "mm"), Quantity.of(housing, "mm"), Quantity.of(width, "mm"))
        for width, text in _SIZES.items()
        for shaft, housings in (entry.split(":") for entry in text.split())
        for housing in housings.split(",")
    ]
    return tuple(sorted(found, key=lambda seal: (seal.shaft, seal.housing)))


def seats(seal: SealSize) -> tuple[Limits, Limits]:
    """Return the limits of the shaft (h11) and the housing bore (H8) for a seal (ISO 6194-1)."""
    shaft = deviations(seal.shaft, "h11").limits(seal.shaft)
    return shaft, deviations(seal.housing, "H8").limits(seal.housing)


def _short(size: Quantity) -> str:
    return format(size.value, "f")
