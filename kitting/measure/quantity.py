"""A number and its unit, kept exact."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Context, Decimal, DivisionByZero, Inexact, InvalidOperation
from fractions import Fraction

from kitting.errors import KittingError
from kitting.measure.units import UNITS, Dimension, Unit, unit_named

# Sums in the base unit must not round: this context raises if one would.
_EXACT = Context(prec=60, traps=[Inexact, InvalidOperation, DivisionByZero])
# Only for showing a value in a unit in which it may not end (42.85 mm in inches).
_SHOW = Context(prec=28, rounding=ROUND_HALF_EVEN)


class UnitMismatch(KittingError):
    """Two quantities of different kinds met in one sum or comparison."""

    def __init__(self, left: Quantity, right: Quantity) -> None:
        super().__init__(
            f"{left} is a {left.unit.dimension} and {right} is a {right.unit.dimension}: "
            "they cannot be added or compared"
        )


@dataclass(frozen=True, slots=True, eq=False)
class Quantity:
    """An exact amount of one dimension, with the unit it is shown in.

    Equal when the amounts are equal, whatever the unit: 1 in = 25.4 mm. Sums and products with
    whole or decimal numbers are exact; the result is shown in the left one's unit.
    """

    base: Decimal
    unit: Unit

    @classmethod
    def of(cls, value: Decimal | int | str, unit: Unit | str) -> Quantity:
        """Make a quantity from a number as written; never from a binary float."""
        if isinstance(value, float):
            raise TypeError("a quantity is made from text, an integer or a Decimal, not a float")
        unit = unit_named(unit) if isinstance(unit, str) else unit
        return cls(_EXACT.multiply(Decimal(value), unit.per_base), unit)

    @property
    def value(self) -> Decimal:
        """The number in its own unit; exact wherever it ends there, else to 28 digits."""
        return self.value_in(self.unit)

    def value_in(self, unit: Unit | str) -> Decimal:
        """The number in `unit`, exact where it ends there, else half-even at 28 digits."""
        unit = unit_named(unit) if isinstance(unit, str) else unit
        if unit.dimension is not self.unit.dimension:
            raise UnitMismatch(self, Quantity(Decimal(0), unit))
        return _plain(_SHOW.divide(self.base, unit.per_base))

    def to(self, unit: Unit | str) -> Quantity:
        """The same amount, shown in another unit of its dimension."""
        unit = unit_named(unit) if isinstance(unit, str) else unit
        if unit.dimension is not self.unit.dimension:
            raise UnitMismatch(self, Quantity(Decimal(0), unit))
        return Quantity(self.base, unit)

    def rounded(self, places: int | None = None, rounding: str = ROUND_HALF_EVEN) -> Quantity:
        """The amount rounded in its own unit, to the unit's usual places when none are given."""
        digits = self.unit.places if places is None else places
        return Quantity.of(self.value.quantize(Decimal(1).scaleb(-digits), rounding), self.unit)

    def show(self, places: int | None = None) -> str:
        """The amount as text with its unit, at least the unit's usual places, never fewer digits.

        With `places` the text is rounded half-even to just that many.
        """
        value = self.value
        if places is not None:
            return f"{value.quantize(Decimal(1).scaleb(-places), ROUND_HALF_EVEN)} {self.unit}"
        shown = value.quantize(Decimal(1).scaleb(-max(self.unit.places, min(6, _places(value)))))
        return f"{shown} {self.unit}"

    def __str__(self) -> str:
        return self.show()

    def _other(self, other: object) -> Decimal:
        if not isinstance(other, Quantity):
            raise TypeError(f"{self} and {other!r}: a quantity meets only a quantity here")
        if other.unit.dimension is not self.unit.dimension:
            raise UnitMismatch(self, other)
        return other.base

    def __add__(self, other: Quantity) -> Quantity:
        return Quantity(_EXACT.add(self.base, self._other(other)), self.unit)

    def __sub__(self, other: Quantity) -> Quantity:
        return Quantity(_EXACT.subtract(self.base, self._other(other)), self.unit)

    def __mul__(self, factor: Decimal | int) -> Quantity:
        if isinstance(factor, float):
            raise TypeError("a quantity is multiplied by an integer or a Decimal, not a float")
        return Quantity(_EXACT.multiply(self.base, Decimal(factor)), self.unit)

    __rmul__ = __mul__

    def __neg__(self) -> Quantity:
        return Quantity(-self.base, self.unit)

    def __abs__(self) -> Quantity:
        return Quantity(abs(self.base), self.unit)

    def half(self) -> Quantity:
        """Half the amount, exactly."""
        return self * Decimal("0.5")

    def ratio(self, other: Quantity) -> Fraction:
        """How many times `other` this is, as an exact fraction."""
        return Fraction(self.base) / Fraction(self._other(other))

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Quantity):
            return NotImplemented
        return self.unit.dimension is other.unit.dimension and self.base == other.base

    def __hash__(self) -> int:
        return hash((self.unit.dimension, self.base))

    def __lt__(self, other: Quantity) -> bool:
        return self.base < self._other(other)

    def __le__(self, other: Quantity) -> bool:
        return self.base <= self._other(other)

    def __gt__(self, other: Quantity) -> bool:
        return self.base > self._other(other)

    def __ge__(self, other: Quantity) -> bool:
        return self.base >= self._other(other)

    def __bool__(self) -> bool:
        return bool(self.base)

    @property
    def is_length(self) -> bool:
        """Whether this is a length."""
        return self.unit.dimension is Dimension.LENGTH


def _places(value: Decimal) -> int:
    exponent = value.normalize().as_tuple().exponent
    return max(0, -exponent) if isinstance(exponent, int) else 0


def _plain(value: Decimal) -> Decimal:
    """Drop the zeros that a division leaves, without falling into exponents."""
    trimmed = value.normalize(_SHOW)
    return Decimal(format(trimmed, "f"))


MM = UNITS["mm"]
INCH = UNITS["in"]
