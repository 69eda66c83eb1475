"""The form of a journal, or of a bore, from readings across it at stations along it.

Sources: taper and ovality as workshop manuals define them (greatest difference along one
direction; greatest difference round one station). Why two-point readings miss lobes: a curve of
constant width, r = R + a cos 3θ, has one diameter in every direction.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Context, Decimal
from enum import StrEnum
from fractions import Fraction

from kitting.errors import BadInput, Problem, Problems
from kitting.measure.quantity import Quantity

LOBES_UNSEEN = (
    "readings across two points cannot see three-lobed form: check in a V-block, "
    "or turn the shaft under an indicator between centres"
)
# A worn part never differs from itself by half: such readings are in two units, or misread.
_FAR_APART = Decimal("1.5")
_MEANS = Context(prec=28, rounding=ROUND_HALF_EVEN)


class Shape(StrEnum):
    """How the diameter runs along the length."""

    EVEN = "even"
    BARREL = "barrel"
    HOURGLASS = "hourglass"
    TAPERED = "tapered"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class StationReading:
    """One diameter: the station along the part, the direction across it, and what was read."""

    station: str
    direction: str
    value: Quantity

    @property
    def place(self) -> str:
        """Where it was taken, in words."""
        return f"station {self.station}, direction {self.direction}"


@dataclass(frozen=True, slots=True)
class JournalForm:
    """What the readings say of the form; every length in the readings' own unit.

    `mean` is rounded half-even to 28 digits and is for showing; every other figure is exact.
    Taper is zero where no direction was read at two stations, and ovality where no station was
    read in two directions; `notes` then say that it is not known.
    """

    least: Quantity
    greatest: Quantity
    mean: Quantity
    ovality: Quantity
    taper: Quantity
    shape: Shape
    least_at: StationReading
    greatest_at: StationReading
    oval_station: str
    taper_direction: str
    notes: tuple[str, ...]


def measure_form(
    readings: Iterable[StationReading], uncertainty: Quantity | None = None
) -> JournalForm:
    """Return the form that `readings` show; serves a journal and a bore alike.

    Args:
        readings: at least two; stations in the order in which they lie along the part.
        uncertainty: expanded uncertainty of one reading; a difference along the part that is no
            greater does not make a barrel, an hourglass or a taper of it.

    Raises:
        BadInput: fewer than two readings, one that is not above zero, or readings a unit apart.
    """
    taken = tuple(readings)
    check_readings(taken)
    least_at = min(taken, key=lambda reading: reading.value)
    greatest_at = max(taken, key=lambda reading: reading.value)
    ovality, oval_station = _widest(taken, by_station=True)
    taper, taper_direction = _widest(taken, by_station=False)
    return JournalForm(
        least=least_at.value,
        greatest=greatest_at.value,
        mean=_mean(taken),
        ovality=ovality,
        taper=taper,
        shape=_shape(taken, uncertainty),
        least_at=least_at,
        greatest_at=greatest_at,
        oval_station=oval_station,
        taper_direction=taper_direction,
        notes=_notes(taken),
    )


def check_readings(readings: Sequence[StationReading]) -> None:
    """Refuse readings from which no form can be told.

    Raises:
        BadInput: with every problem found.
    """
    if len(readings) < 2:
        what = "there is no reading" if not readings else "one reading only"
        raise BadInput(
            Problem(
                "",
                f"{what}: ovality and taper cannot be told from it",
                "measure at two stations or more, in two directions at each",
            )
        )
    problems = Problems()
    for reading in readings:
        if reading.value.base <= 0:
            problems.add(
                reading.place,
                f"the diameter {reading.value} is not above zero",
                "write the diameter as read, without a minus sign",
            )
    problems.raise_if_any()
    _check_one_unit(readings)


def _check_one_unit(readings: Sequence[StationReading]) -> None:
    ordered = sorted(readings, key=lambda reading: reading.value)
    usual = ordered[len(ordered) // 2].value
    problems = Problems()
    for reading in readings:
        if reading.value * _FAR_APART < usual or reading.value > usual * _FAR_APART:
            problems.add(
                reading.place,
                f"{reading.value} stands far from the other readings, about {usual}",
                "give every reading in one unit, or write each one's unit beside it",
            )
    problems.raise_if_any()


def _widest(readings: Sequence[StationReading], *, by_station: bool) -> tuple[Quantity, str]:
    """The greatest spread within one station, or within one direction, and which it is."""
    groups: dict[str, list[Quantity]] = {}
    for reading in readings:
        key = reading.station if by_station else reading.direction
        groups.setdefault(key, []).append(reading.value)
    spreads = [(max(values) - min(values), key) for key, values in groups.items()]
    return max(spreads, key=lambda spread: spread[0])


def _mean(readings: Sequence[StationReading]) -> Quantity:
    total = sum((reading.value.base for reading in readings), Decimal(0))
    return Quantity(_MEANS.divide(total, Decimal(len(readings))), readings[0].value.unit)


def _shape(readings: Sequence[StationReading], uncertainty: Quantity | None) -> Shape:
    means = _station_means(readings)
    if len(means) < 2:
        return Shape.UNKNOWN
    clear = Fraction(uncertainty.base) if uncertainty is not None else Fraction(0)
    first, last, inner = means[0], means[-1], means[1:-1]
    if inner and min(inner) > max(first, last) + clear:
        return Shape.BARREL
    if inner and max(inner) < min(first, last) - clear:
        return Shape.HOURGLASS
    return Shape.TAPERED if max(means) - min(means) > clear else Shape.EVEN


def _station_means(readings: Sequence[StationReading]) -> list[Fraction]:
    stations: dict[str, list[Fraction]] = {}
    for reading in readings:
        stations.setdefault(reading.station, []).append(Fraction(reading.value.base))
    return [sum(values, Fraction(0)) / len(values) for values in stations.values()]


def _notes(readings: Sequence[StationReading]) -> tuple[str, ...]:
    notes = []
    directions: dict[str, set[str]] = {}
    stations: dict[str, set[str]] = {}
    for reading in readings:
        directions.setdefault(reading.station, set()).add(reading.direction)
        stations.setdefault(reading.direction, set()).add(reading.station)
    if all(len(found) < 2 for found in directions.values()):
        notes.append("ovality is not known: no station was read in two directions")
    if all(len(found) < 2 for found in stations.values()):
        notes.append("taper is not known: no direction was read at two stations")
    notes.append(LOBES_UNSEEN)
    return tuple(notes)
