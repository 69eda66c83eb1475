"""A query's words as ranges and sizes are written; tried where it finds nothing as it stands."""

from __future__ import annotations

import re
from decimal import Decimal

from kitting.catalog.attributes import tidy
from kitting.measure import UNITS

_WORDED = {
    "inch": "in", "inches": "in", "ins": "in", '"': "in", "″": "in", "”": "in",
    "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
}  # fmt: skip
_FIGURE = r"(?:\d+(?:\.\d+)?|\.\d+)"
_UNITS = "|".join(map(re.escape, sorted({*_WORDED, *map(str.casefold, UNITS)}, reverse=True)))
_BETWEEN = re.compile(
    rf"(?<![\w./-])(?:between\s+|from\s+)?(?P<low>{_FIGURE})(?:\s*(?P<first>{_UNITS})(?!\w))?"
    rf"\s*(?:\b(?:to|and)\b|-|–|—)\s*(?P<high>{_FIGURE})(?:\s*(?P<unit>{_UNITS})(?!\w))?"
    r"(?![\w./-])"
)
_DASHED = re.compile(r"(?<![\w./-])\d{1,3}(?:\.\d+)?(?:-\d{1,3}(?:\.\d+)?){2}(?![\w./-])")


def plainer(query: str) -> str:
    """Return a query with its worded ranges as ranges, and three figures with dashes as sizes.

    >>> plainer("bush 0.740 to 0.750 inches"), plainer("bush .740-.750in"), plainer("seal 30-47-7")
    ('bush 0.740..0.750in', 'bush 0.740..0.750in', 'seal 30x47x7')
    >>> plainer("4560-045"), plainer("30-47-7"), plainer("pin 4560-4570")
    ('4560-045', '30-47-7', 'pin 4560-4570')
    """
    text = tidy(query)
    found = _BETWEEN.sub(_as_range, text)
    if any(word.isalpha() for word in text.split()):
        found = _DASHED.sub(lambda sizes: sizes[0].replace("-", "x"), found)
    return found


def _as_range(said: re.Match[str]) -> str:
    """A range as it is written; what may be a number, or ends below where it begins, as it is."""
    low, high = Decimal(said["low"]), Decimal(said["high"])
    units = {_WORDED.get(unit, unit) for unit in (said["first"], said["unit"]) if unit}
    worded = any(word in said[0] for word in ("to", "and"))
    if not (worded or ("." in said["low"] and "." in said["high"])) or low >= high:
        return said[0]
    return said[0] if len(units) > 1 else f"{low}..{high}{''.join(units)}"
