"""Reading what a person typed: 1.6872, 1.6872", 42.85 mm, 1.5 thou, 1 11/16 in, 26 psi."""

import re
from decimal import Decimal

from kitting.errors import BadInput, Problem
from kitting.measure.quantity import Quantity
from kitting.measure.units import Dimension, Unit, unit_named

_PATTERN = re.compile(
    r"""^\s*(?P<sign>[+\-−]?)\s*
        (?: (?:(?P<whole>\d+)(?:\s+|\s*-\s*))?(?P<over>\d+)\s*/\s*(?P<under>\d+)
          | (?P<number>\d+\.?\d*|\.\d+) )
        \s*(?P<unit>(?!e[+\-]?\d)[^\d\s.,+\-/][^,]*)?\s*$""",
    re.VERBOSE | re.IGNORECASE,
)
_LONGEST = 40
_FINEST = 12
# Nothing that is measured or reckoned here comes near it, in whatever unit.
_LARGEST = Decimal(10) ** 15


def parse_quantity(text: str, unit: Unit | None = None) -> Quantity:
    """Return the quantity that `text` states; a bare number takes `unit`.

    Args:
        text: as typed. Decimal point, optional fraction of an inch, optional unit.
        unit: the unit of a bare number, and the dimension that a stated unit must have.

    Raises:
        BadInput: not a number, no unit anywhere, or a unit of another dimension.
    """
    typed = text.strip()
    example = f"such as {_example(unit)}"
    if len(typed) > _LONGEST:
        raise BadInput(
            Problem("", f"'{typed[:20]}…' is too long for a figure", f"write one number, {example}")
        )
    match = _PATTERN.match(typed)
    if match is None:
        raise BadInput(Problem("", f"'{typed}' is not a figure", _advice(typed, example)))
    stated = unit_named(match["unit"]) if match["unit"] else unit
    if stated is None:
        raise BadInput(Problem("", f"'{typed}' has no unit", "add one, such as in, thou or mm"))
    if unit is not None and stated.dimension is not unit.dimension:
        raise BadInput(
            Problem(
                "",
                f"'{typed}' is a {stated.dimension}",
                f"a {unit.dimension} belongs here, {example}",
            )
        )
    value = _number(typed, match, stated, example)
    return Quantity.of(-value if match["sign"] in {"-", "−"} else value, stated)


def _number(typed: str, match: re.Match[str], unit: Unit, example: str) -> Decimal:
    if match["number"]:
        value = Decimal(match["number"])
        exponent = value.as_tuple().exponent
        if isinstance(exponent, int) and -exponent > _FINEST:
            raise BadInput(
                Problem("", f"'{typed}' has more decimals than can be measured", f"write {example}")
            )
        if value >= _LARGEST:
            raise BadInput(
                Problem("", f"'{typed}' is larger than anything measured", f"write {example}")
            )
        return value
    under = int(match["under"])
    if under == 0 or under & (under - 1) or under > 1024 or unit.dimension is not Dimension.LENGTH:
        raise BadInput(
            Problem(
                "", f"'{typed}' is no fraction of a rule", "use halves to 1024ths, such as 11/16 in"
            )
        )
    return Decimal(match["whole"] or 0) + Decimal(int(match["over"])) / Decimal(under)


def _example(unit: Unit | None) -> str:
    if unit is None:
        return "1.6872 in"
    return {"in": "1.6872", "mm": "42.850"}.get(unit.symbol, f"12.5 {unit.symbol}")


def _advice(typed: str, example: str) -> str:
    if re.fullmatch(r"[+\-−]?\d+,\d+.*", typed):
        return f"use a point for the decimals: {typed.replace(',', '.', 1)}"
    if typed.count(".") > 1:
        return f"only one decimal point, {example}"
    if re.fullmatch(r"[-–—−.?/]+", typed):
        return "leave the cell empty where nothing was measured"
    if re.search(r"\de[+\-]?\d", typed, re.IGNORECASE):
        return f"write the number in full, {example}"
    return f"write the number read off the instrument, {example}; words go in the notes"
