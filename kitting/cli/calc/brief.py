"""Plain numbers in, and figures a person reads: bands, few digits, a unit on each."""

import re
from collections.abc import Callable
from decimal import ROUND_HALF_EVEN, Context, Decimal
from typing import Annotated, Any, TypeVar

from pydantic import PlainValidator, WithJsonSchema
from pydantic_core import PydanticCustomError

from kitting.cli.calc.common import Length, Stiffness, Strict
from kitting.cli.calc.sizes import split_option
from kitting.errors import BadInput, Problem, Problems
from kitting.measure import Limits, Quantity, Unit

_NUMBER = re.compile(r"[+\-−]?(\d+\.?\d*|\.\d+)")
_FIGURES = 6


def _number(value: Any) -> Decimal:
    if isinstance(value, Decimal):
        return value
    text = str(value).strip()
    if isinstance(value, bool) or len(text) > 20 or not _NUMBER.fullmatch(text):
        raise PydanticCustomError("bad", "'{said}' is not a number", {"said": text[:20]})
    return Decimal(text.replace("−", "-"))


Number = Annotated[
    Decimal,
    PlainValidator(_number),
    WithJsonSchema(
        {"type": ["string", "number"], "description": "a plain number", "examples": [9]}
    ),
]


_Read = TypeVar("_Read")


def read_at(problems: Problems, place: str, reader: Callable[[], _Read]) -> _Read | None:
    """What `reader` reads; its problems are noted as those of the field `place`."""
    try:
        return reader()
    except BadInput as error:
        for problem in error.problems:
            problems.add(place, problem.wrong, problem.right)
        return None


class LengthsIn(Strict):
    """Limits of a length; either may be left out."""

    low: Length | None = None
    high: Length | None = None


class RatesIn(Strict):
    """Limits of a spring rate; either may be left out."""

    low: Stiffness | None = None
    high: Stiffness | None = None


def limits_of(
    place: str, low: Quantity | None, high: Quantity | None, *, both: bool = False
) -> Limits:
    """The limits; a problem names `place` when they are swapped, or one is missing and needed."""
    problems = Problems()
    if both and (low is None or high is None):
        problems.add(place, "one of its limits is missing", "give low and high")
    problems.raise_if_any()
    with problems.at(place):
        return Limits(low, high)
    raise BadInput(list(problems))


def limits_from(text: str | None, option: str) -> dict[str, str] | None:
    """`1.7500,1.7505` as low and high; one size as both."""
    if text is None:
        return None
    if "," not in text:
        return {"low": text, "high": text}
    low, high = split_option(text, 2, option)
    return {key: one for key, one in (("low", low), ("high", high)) if one}


def few(value: Decimal, figures: int = _FIGURES) -> str:
    """A number to a few significant figures, half-even, never in exponents."""
    rounded = Context(prec=figures, rounding=ROUND_HALF_EVEN).plus(value)
    text = format(rounded, "f")
    return text.rstrip("0").rstrip(".") if "." in text else text


def said(quantity: Quantity | None, unit: Unit | str | None = None) -> str | None:
    """A quantity to six significant figures with its unit, or None where there is none."""
    if quantity is None:
        return None
    shown = quantity if unit is None else quantity.to(unit)
    return f"{few(shown.value)} {shown.unit}"


def short(text: str, places: int = 5) -> str:
    """Decimal text cut for a sheet: rounded half-even where it has more places than that."""
    if "." not in text or len(text.split(".")[1]) <= places:
        return text
    return format(Decimal(text).quantize(Decimal(1).scaleb(-places), ROUND_HALF_EVEN), "f")


def pair_of(text: str, option: str) -> tuple[str, str]:
    """`1.2 in=10.8 lbf` in its two sides.

    Raises:
        BadInput: no equals sign, or more than one.
    """
    sides = [side.strip() for side in text.split("=")]
    if len(sides) != 2:
        raise BadInput(Problem(option, f"'{text}' is no pair", "write length=load, 1.2 in=10 lbf"))
    return sides[0], sides[1]
