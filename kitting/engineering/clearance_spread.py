"""What clearance to expect of many bearings: an estimate beside the worst case, never a verdict.

Sources: root sum of squares of independent tolerances, each centred on its band (statistical
tolerancing as in ASME Y14.5 practice); Monte Carlo after JCGM 101:2008, clause 7.
"""

from collections.abc import Callable
from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Context, Decimal
from enum import StrEnum
from statistics import NormalDist

from kitting.engineering.band import Band
from kitting.engineering.clearance import ShellBearing, oil_clearance
from kitting.errors import BadInput, Problem
from kitting.measure.quantity import Quantity
from kitting.measure.units import UNITS

_ROOTS = Context(prec=28, rounding=ROUND_HALF_EVEN)
_MOST_TRIALS = 1_000_000
_SIGMAS_ACROSS = 6
_LOW_TAIL = 0.00135


class Spread(StrEnum):
    """How a size is taken to lie in its band: bell-shaped with 6 σ across, or anywhere alike."""

    NORMAL = "normal"
    UNIFORM = "uniform"


@dataclass(frozen=True, slots=True)
class ClearanceSample:
    """What the trials gave; rounded to 0.01 µm, for they are estimates."""

    trials: int
    seed: int
    mean: Quantity
    low: Quantity
    high: Quantity
    outside: Decimal


def likely_clearance(bearing: ShellBearing, journal: Band) -> Band:
    """Return the clearance that nearly all bearings will have: middle ± ½ √(Σ width²).

    Rounded half-even at 28 digits in the root.
    """
    middle = oil_clearance(bearing, journal).middle
    sizes = (bearing.housing, bearing.upper_wall, bearing.lower_wall, journal)
    squares = sum((size.width.base * size.width.base for size in sizes), Decimal(0))
    reach = Quantity(_ROOTS.sqrt(squares), middle.unit).half()
    return Band(middle - reach, middle + reach)


def sample_clearance(
    bearing: ShellBearing,
    journal: Band,
    target: Band,
    *,
    seed: int,
    trials: int = 10_000,
    spread: Spread = Spread.NORMAL,
) -> ClearanceSample:
    """Return what `trials` bearings drawn at random would have; the same seed, the same answer.

    `low` and `high` hold 99.73 % of them; `outside` is the share that leaves the target.

    Raises:
        BadInput: fewer than 100 trials, or more than a million.
    """
    if not 100 <= trials <= _MOST_TRIALS:
        raise BadInput(Problem("trials", f"{trials} is no use", f"take from 100 to {_MOST_TRIALS}"))
    draw = _drawer(spread, trials, seed)
    housing, upper, lower, shaft = (
        draw(band, place)
        for place, band in enumerate(
            (bearing.housing, bearing.upper_wall, bearing.lower_wall, journal)
        )
    )
    found = sorted(
        bore - one - two - size
        for bore, one, two, size in zip(housing, upper, lower, shaft, strict=True)
    )
    low, high = float(target.low.value_in("mm")), float(target.high.value_in("mm"))
    outside = sum(1 for clearance in found if not low <= clearance <= high)
    tail = int(_LOW_TAIL * trials)
    unit = target.low.unit
    return ClearanceSample(
        trials=trials,
        seed=seed,
        mean=_quantity(sum(found) / trials).to(unit),
        low=_quantity(found[tail]).to(unit),
        high=_quantity(found[trials - 1 - tail]).to(unit),
        outside=Decimal(outside) / Decimal(trials),
    )


def _drawer(spread: Spread, trials: int, seed: int) -> Callable[[Band, int], list[float]]:
    """Something that draws `trials` sizes in millimetres from the band in a given place."""
    bell = NormalDist()

    def draw(band: Band, place: int) -> list[float]:
        # one stream a size, told apart by its place in the sum
        scores = bell.samples(trials, seed=f"{seed}/{place}")
        middle = float(band.middle.value_in("mm"))
        width = float(band.width.value_in("mm"))
        if spread is Spread.NORMAL:
            return [middle + score * width / _SIGMAS_ACROSS for score in scores]
        return [middle + (bell.cdf(score) - 0.5) * width for score in scores]

    return draw


def _quantity(millimetres: float) -> Quantity:
    return Quantity.of(f"{millimetres:.5f}", UNITS["mm"])
