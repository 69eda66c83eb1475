"""Roundness by least squares, from a shaft turned under an indicator or from points round it.

Sources: least-squares reference circle of ISO 12181-1, limaçon approximation for small
deviations; Gauss–Newton on the distances to the circle after Gander, Golub and Strebel, BIT 34
(1994). Angles have no exact decimals, so binary floats are used here and results are rounded to
0.01 µm: estimates with an uncertainty, to be decided as such.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import atan2, cos, degrees, hypot, isfinite, pi, sin

from kitting.errors import BadInput, Problem
from kitting.measure.quantity import Quantity
from kitting.measure.units import UNITS

_SWEEPS = 200
_STILL = 1e-12
_SAME_LINE = 1e-12


@dataclass(frozen=True, slots=True)
class Circle:
    """A fitted circle, and the spread of the points from it, highest to lowest."""

    x: Quantity
    y: Quantity
    radius: Quantity
    roundness: Quantity


@dataclass(frozen=True, slots=True)
class Turning:
    """What a shaft showed when turned under an indicator.

    `runout` is highest less lowest; `eccentricity` how far the centre it turned on is off the
    journal's; `roundness` what is left; `lobes` the amplitude at 2, 3 … lobes, largest first.
    """

    runout: Quantity
    eccentricity: Quantity
    high_at: Quantity
    roundness: Quantity
    lobes: tuple[tuple[int, Quantity], ...]
    notes: tuple[str, ...]


def turn_under_indicator(readings: Sequence[Quantity]) -> Turning:
    """Return the roundness that indicator readings at equal angles through one turn show.

    Raises:
        BadInput: fewer than five readings.
    """
    count = len(readings)
    if count < 5:
        raise BadInput(
            Problem(
                "turning readings",
                f"{count} in a turn cannot show form",
                "read at eight or more equal angles",
            )
        )
    unit = readings[0].unit
    heights = [float(reading.value_in("mm")) for reading in readings]
    mean = sum(heights) / count
    waves = [_wave(heights, order) for order in range(1, (count + 1) // 2)]
    along, across = waves[0]
    left = [
        height - mean - along * cos(angle) - across * sin(angle)
        for height, angle in zip(heights, _angles(count), strict=True)
    ]
    lobes = [(order, _length(hypot(*wave)).to(unit)) for order, wave in enumerate(waves[1:], 2)]
    return Turning(
        runout=max(readings) - min(readings),
        eccentricity=_length(hypot(along, across)).to(unit),
        high_at=_direction(along, across),
        roundness=_length(max(left) - min(left)).to(unit),
        lobes=tuple(sorted(lobes, key=lambda lobe: lobe[1], reverse=True)),
        notes=_turning_notes(count),
    )


def _turning_notes(count: int) -> tuple[str, ...]:
    most = (count - 1) // 2
    if most < 3:
        return (
            f"{count} readings cannot show three lobes: take seven or more, "
            "at equal angles round the turn",
        )
    return (f"{count} readings show up to {most} lobes",)


def _direction(along: float, across: float) -> Quantity:
    turned = round(degrees(atan2(across, along)), 1) % 360
    return Quantity.of(f"{turned:.1f}", UNITS["°"])


def _angles(count: int) -> list[float]:
    return [2 * pi * place / count for place in range(count)]


def _wave(heights: Sequence[float], order: int) -> tuple[float, float]:
    angles = _angles(len(heights))
    pairs = list(zip(heights, angles, strict=True))
    scale = 2 / len(heights)
    return (
        scale * sum(height * cos(order * angle) for height, angle in pairs),
        scale * sum(height * sin(order * angle) for height, angle in pairs),
    )


def fit_circle(points: Sequence[tuple[Quantity, Quantity]]) -> Circle:
    """Return the circle whose distances from the points have the least sum of squares.

    Raises:
        BadInput: fewer than three points, or points in a line.
    """
    if len(points) < 3:
        raise BadInput(
            Problem("points", f"{len(points)} cannot fix a circle", "give three or more")
        )
    unit = points[0][0].unit
    flat = [(float(x.value_in("mm")), float(y.value_in("mm"))) for x, y in points]
    centred, middle, size = _centred(flat)
    x, y, radius = _settle(centred)
    reach = [hypot(one - x, other - y) for one, other in centred]
    return Circle(
        x=_length(middle[0] + x * size).to(unit),
        y=_length(middle[1] + y * size).to(unit),
        radius=_length(radius * size).to(unit),
        roundness=_length((max(reach) - min(reach)) * size).to(unit),
    )


def _centred(
    points: Sequence[tuple[float, float]],
) -> tuple[list[tuple[float, float]], tuple[float, float], float]:
    """The points about their own middle and of size one, so that the sums lose no digits."""
    middle = (
        sum(x for x, _ in points) / len(points),
        sum(y for _, y in points) / len(points),
    )
    size = max(hypot(x - middle[0], y - middle[1]) for x, y in points)
    if not size:
        raise _in_line()
    centred = [((x - middle[0]) / size, (y - middle[1]) / size) for x, y in points]
    return centred, middle, size


def _settle(points: Sequence[tuple[float, float]]) -> tuple[float, float, float]:
    """Gauss–Newton with halved steps from the algebraic circle."""
    here = _algebraic(points)
    error = _error(points, here)
    for _ in range(_SWEEPS):
        step = _gauss_newton(points, here)
        scale = 1.0
        while scale > _STILL:
            there = tuple(old + scale * move for old, move in zip(here, step, strict=True))
            better = _error(points, (there[0], there[1], there[2]))
            if better <= error:
                break
            scale /= 2
        else:
            break
        here, error = (there[0], there[1], there[2]), better
        if scale * max(abs(move) for move in step) < _STILL:
            break
    return here


def _error(points: Sequence[tuple[float, float]], circle: tuple[float, float, float]) -> float:
    x, y, radius = circle
    return sum((hypot(one - x, other - y) - radius) ** 2 for one, other in points)


def _gauss_newton(
    points: Sequence[tuple[float, float]], circle: tuple[float, float, float]
) -> tuple[float, float, float]:
    x, y, radius = circle
    rows, sides = [], []
    for one, other in points:
        away = hypot(one - x, other - y) or _STILL
        rows.append((-(one - x) / away, -(other - y) / away, -1.0))
        sides.append(radius - away)
    return _least_squares(rows, sides)


def _algebraic(points: Sequence[tuple[float, float]]) -> tuple[float, float, float]:
    """x² + y² = 2 a x + 2 b y + c, by linear least squares."""
    rows = [(2 * x, 2 * y, 1.0) for x, y in points]
    a, b, c = _least_squares(rows, [x * x + y * y for x, y in points])
    square = c + a * a + b * b
    if not isfinite(square) or square <= 0:
        raise _in_line()
    return a, b, square**0.5


def _least_squares(
    rows: Sequence[tuple[float, float, float]], sides: Sequence[float]
) -> tuple[float, float, float]:
    """Solve three unknowns from the normal equations, by determinants."""
    m = [[sum(row[i] * row[j] for row in rows) for j in range(3)] for i in range(3)]
    v = [sum(row[i] * side for row, side in zip(rows, sides, strict=True)) for i in range(3)]
    whole = _determinant(m)
    if abs(whole) <= _SAME_LINE:
        raise _in_line()
    found = []
    for column in range(3):
        swapped = [[v[i] if j == column else m[i][j] for j in range(3)] for i in range(3)]
        found.append(_determinant(swapped) / whole)
    return found[0], found[1], found[2]


def _determinant(m: Sequence[Sequence[float]]) -> float:
    return (
        m[0][0] * (m[1][1] * m[2][2] - m[1][2] * m[2][1])
        - m[0][1] * (m[1][0] * m[2][2] - m[1][2] * m[2][0])
        + m[0][2] * (m[1][0] * m[2][1] - m[1][1] * m[2][0])
    )


def _in_line() -> BadInput:
    return BadInput(
        Problem("points", "they lie in one line, or on one spot", "take them all round the part")
    )


def _length(millimetres: float) -> Quantity:
    return Quantity.of(f"{millimetres:.5f}", UNITS["mm"])
