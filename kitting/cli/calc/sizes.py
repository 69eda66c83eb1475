"""Shapes that several sums share: readings, grades, and a size on drawing or as measured."""

from kitting.cli.calc.common import Length, Strict, figure
from kitting.engineering.band import Band
from kitting.engineering.grades import Grade
from kitting.errors import BadInput, Problem, Problems
from kitting.measure import Quantity, Unit
from kitting.measure.journal import StationReading

NOTHING = Quantity.of(0, "mm")


class GradeIn(Strict):
    """A grade's finished limits."""

    name: str
    finish_min: Length
    finish_max: Length


class ReadingIn(Strict):
    """One diameter: station along, direction round."""

    station: str
    direction: str
    value: Length


class SizeIn(Strict):
    """A size: low and high off the drawing, or measured with its uncertainty."""

    low: Length | None = None
    high: Length | None = None
    measured: Length | None = None
    uncertainty: Length = NOTHING


class BandOut(Strict):
    """A band, in the unit of the answer."""

    low: str
    high: str


def grades_of(rows: tuple[GradeIn, ...]) -> tuple[Grade, ...]:
    """The grades, with every bad row named at once."""
    problems = Problems()
    grades: list[Grade] = []
    for row in rows:
        with problems.at("grades"):
            grades.append(Grade(row.name, row.finish_min, row.finish_max))
    problems.raise_if_any()
    return tuple(grades)


def station_readings(readings: tuple[ReadingIn, ...], unit: Unit) -> tuple[StationReading, ...]:
    """The readings as the sums take them, all shown in the unit of the answer."""
    return tuple(StationReading(r.station, r.direction, r.value.to(unit)) for r in readings)


def band_of(size: SizeIn, name: str, unit: Unit) -> Band:
    """The band that a size stands for.

    Raises:
        BadInput: neither or both ways of giving it, or limits the wrong way round.
    """
    on_drawing = size.low is not None and size.high is not None
    if on_drawing == (size.measured is not None) or (size.low is None) != (size.high is None):
        raise BadInput(
            Problem(name, "it is not clear what size is meant", "give low and high, or measured")
        )
    problems = Problems()
    band = None
    with problems.at(name):
        if size.low is not None and size.high is not None:
            band = Band(size.low.to(unit), size.high.to(unit))
        elif size.measured is not None:
            band = Band.measured(size.measured.to(unit), size.uncertainty)
    problems.raise_if_any()
    if band is None:
        raise BadInput(Problem(name, "it has no size", "give low and high, or measured"))
    return band


def band_out(band: Band, unit: Unit) -> BandOut:
    """The band as text."""
    return BandOut(low=figure(band.low, unit), high=figure(band.high, unit))


def split_option(text: str, parts: int, option: str) -> list[str]:
    """`A,0,2.7461` in its parts.

    Raises:
        BadInput: another number of parts.
    """
    found = [part.strip() for part in text.split(",")]
    if len(found) != parts:
        raise BadInput(
            Problem(option, f"'{text}' has {len(found)} parts, not {parts}", "see --help")
        )
    return found


def readings_from(texts: tuple[str, ...]) -> list[dict[str, str]]:
    """`A,0,2.7461` as the JSON has it."""
    keys = ("station", "direction", "value")
    return [dict(zip(keys, split_option(text, 3, "--reading"), strict=True)) for text in texts]


def grades_from(texts: tuple[str, ...]) -> list[dict[str, str]]:
    """`standard,2.7480,2.7490` as the JSON has it."""
    keys = ("name", "finish_min", "finish_max")
    return [dict(zip(keys, split_option(text, 3, "--grade"), strict=True)) for text in texts]


def size_from(text: str | None, option: str) -> dict[str, str] | None:
    """`2.973,2.985` as low and high, `2.9791` as measured."""
    if text is None:
        return None
    if "," not in text:
        return {"measured": text}
    low, high = split_option(text, 2, option)
    return {"low": low, "high": high}
