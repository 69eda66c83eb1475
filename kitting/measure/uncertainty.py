"""What a reading is good to: the instrument's budget, and what would decide an open reading.

Source: Guide to the expression of uncertainty in measurement, JCGM 100:2008: type B evaluation
4.3, combination of independent inputs 5.1.2, expanded uncertainty with k = 2, 6.2.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Context, Decimal
from enum import StrEnum
from fractions import Fraction
from math import ceil

from kitting.errors import BadInput, Problem, Problems
from kitting.measure.expansion import REFERENCE, Body, expansion_of
from kitting.measure.quantity import Quantity

COVERAGE = 2
_DIGITS = Context(prec=28, rounding=ROUND_HALF_EVEN)
_PLACES = 9
_MOST_REPEATS = 20
# A handbook's coefficient is good to about ±1 × 10⁻⁶ per °C (GUM, H.1.3.4, same order).
_COEFFICIENT_SPREAD = 1


class Distribution(StrEnum):
    """How a contribution is spread, which says what to divide its half-width by."""

    RECTANGULAR = "rectangular"
    TRIANGULAR = "triangular"
    TWICE_STANDARD = "normal, k = 2"
    STANDARD = "standard deviation"


_DIVISOR_SQUARED = {
    Distribution.RECTANGULAR: Decimal(3),
    Distribution.TRIANGULAR: Decimal(6),
    Distribution.TWICE_STANDARD: Decimal(4),
    Distribution.STANDARD: Decimal(1),
}


@dataclass(frozen=True, slots=True)
class Contribution:
    """One line of a budget: where it comes from, its half-width, and its shape."""

    source: str
    half_width: Quantity
    shape: Distribution

    @property
    def variance(self) -> Decimal:
        """The square of the standard uncertainty, mm²."""
        width = self.half_width.value_in("mm")
        return _DIGITS.divide(_DIGITS.multiply(width, width), _DIVISOR_SQUARED[self.shape])

    @property
    def standard(self) -> Quantity:
        """The standard uncertainty, rounded half-even to a picometre."""
        return _root(self.variance).to(self.half_width.unit)


@dataclass(frozen=True, slots=True)
class Budget:
    """The lines, the combined standard uncertainty and the expanded one (k = 2)."""

    lines: tuple[Contribution, ...]
    combined: Quantity
    expanded: Quantity

    @property
    def greatest(self) -> Contribution:
        """The line that matters most: mend that one first."""
        return max(self.lines, key=lambda line: line.variance)


@dataclass(frozen=True, slots=True)
class Instrument:
    """An instrument and how it was used.

    `resolution` is the step of its scale; `calibration` the expanded uncertainty (k = 2) on its
    certificate or of the setting piece; the temperatures are known to ± `temperature_spread`.
    `operator` is the standard deviation of one reading (see `spread_of`), `repeats` how many were
    averaged.
    """

    resolution: Quantity
    calibration: Quantity
    operator: Quantity
    part: Body
    body: Body
    temperature_spread: Quantity
    repeats: int = 1

    def __post_init__(self) -> None:
        problems = Problems()
        for name, amount in (
            ("resolution", self.resolution),
            ("calibration", self.calibration),
            ("operator", self.operator),
            ("temperature_spread", self.temperature_spread),
        ):
            if amount.base < 0:
                problems.add(name, f"{amount} is below zero", "give it as a plain amount")
        if self.repeats < 1:
            problems.add("repeats", f"{self.repeats} readings is none", "give 1 or more")
        problems.raise_if_any()


def instrument_budget(length: Quantity, instrument: Instrument) -> Budget:
    """Return the budget of one length measured with `instrument`, in the length's unit.

    The reading is taken to be corrected to 20 °C; what stays are the doubts of the temperatures
    and of the coefficients.
    """
    lines = [
        Contribution("resolution", instrument.resolution.half(), Distribution.RECTANGULAR),
        Contribution("calibration", instrument.calibration, Distribution.TWICE_STANDARD),
        Contribution("operator", _of_mean(instrument), Distribution.STANDARD),
    ]
    for name, body in (("part", instrument.part), ("instrument", instrument.body)):
        by_degrees = _per_million(length, expansion_of(body.material)) * (
            instrument.temperature_spread.base
        )
        lines.append(
            Contribution(f"temperature of the {name}", by_degrees, Distribution.RECTANGULAR)
        )
        off = abs(body.temperature.base - REFERENCE.base)
        if off:
            by_coefficient = _per_million(length, Decimal(_COEFFICIENT_SPREAD)) * off
            lines.append(
                Contribution(f"expansion of the {name}", by_coefficient, Distribution.RECTANGULAR)
            )
    return combine([_in_unit(line, length) for line in lines])


def combine(lines: Sequence[Contribution]) -> Budget:
    """Return the budget of independent contributions: u = √Σu², U = 2 u.

    Both are rounded half-even to a picometre.

    Raises:
        BadInput: there is no line, or a half-width below zero.
    """
    if not lines:
        raise BadInput(Problem("budget", "it has no line", "give at least the resolution"))
    problems = Problems()
    for line in lines:
        if line.half_width.base < 0:
            problems.add(line.source, f"{line.half_width} is below zero", "give a plain amount")
    problems.raise_if_any()
    total = sum((line.variance for line in lines), Decimal(0))
    combined = _root(total).to(lines[0].half_width.unit)
    return Budget(tuple(lines), combined, combined * COVERAGE)


def spread_of(readings: Sequence[Quantity]) -> Quantity:
    """The standard deviation of one reading, from repeats of it (n − 1 below the line; GUM 4.2.2).

    Raises:
        BadInput: fewer than two readings.
    """
    if len(readings) < 2:
        raise BadInput(
            Problem(
                "repeats", "one reading shows no spread", "measure the same place twice or more"
            )
        )
    values = [Fraction(reading.value_in("mm")) for reading in readings]
    mean = sum(values, Fraction(0)) / len(values)
    variance = sum(((value - mean) ** 2 for value in values), Fraction(0)) / (len(values) - 1)
    return _root(_decimal(variance)).to(readings[0].unit)


def what_would_decide(value: Quantity, uncertainty: Quantity, limit: Quantity) -> str:
    """Say what instrument, or how many repeats, would settle `value` against `limit`.

    The mean of n independent readings has the uncertainty U/√n (GUM, 4.2.3), for the part of U
    that varies from reading to reading; so n is the least.
    """
    distance = abs(value - limit)
    if not distance:
        return "it stands on the limit: a finer instrument must say on which side"
    repeats = repeats_to_decide(value, uncertainty, limit)
    instrument = f"an instrument good to {distance.to(value.unit)} (U, k = 2) would decide"
    if repeats > _MOST_REPEATS:
        return f"{instrument}; repeating the reading would not"
    return f"{instrument}, or the mean of at least {repeats} readings with this one"


def repeats_to_decide(value: Quantity, uncertainty: Quantity, limit: Quantity) -> int:
    """The least n with U/√n no greater than the distance to the limit, which must not be zero."""
    distance = Fraction(abs(value - limit).base)
    return max(1, ceil((Fraction(uncertainty.base) / distance) ** 2))


def _of_mean(instrument: Instrument) -> Quantity:
    deviation = instrument.operator.value_in("mm")
    return _root(_DIGITS.divide(_DIGITS.multiply(deviation, deviation), instrument.repeats))


def _per_million(length: Quantity, millionths: Decimal) -> Quantity:
    return Quantity.of(length.value_in("mm"), "mm") * (millionths / 1_000_000)


def _in_unit(line: Contribution, length: Quantity) -> Contribution:
    return Contribution(line.source, line.half_width.to(length.unit), line.shape)


def _root(square: Decimal) -> Quantity:
    return Quantity.of(_DIGITS.sqrt(square), "mm").rounded(_PLACES)


def _decimal(value: Fraction) -> Decimal:
    return _DIGITS.divide(Decimal(value.numerator), Decimal(value.denominator))
