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
    rf"\s*(?P<word>\b(?:to|and)\b|-|–|—)\s*(?P<high>{_FIGURE})(?:\s*(?P<unit>{_UNITS})(?!\w))?"
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
    return found.replace(dashed, dashed.replace("-", "x")) if (dashed := dashed_in(text)) else found


def dashed_in(query: str) -> str:
    """Return three figures with dashes that stand beside a word, sizes or a number; '' for none.

    >>> dashed_in("seal 30-47-7"), dashed_in("30-47-7")
    ('30-47-7', '')
    """
    text = tidy(query)
    found = _DASHED.search(text)
    return found[0] if found and any(word.isalpha() for word in text.split()) else ""


def _as_range(said: re.Match[str]) -> str:
    """A range as it is written; what may be a number, or ends below where it begins, as it is."""
    low, high = Decimal(said["low"]), Decimal(said["high"])
    units = {_WORDED.get(unit, unit) for unit in (said["first"], said["unit"]) if unit}
    between, word = said[0].startswith("between"), said["word"]
    # '20 and 62' are two sizes, '4560-4570' is a number.
    is_range = word == "to" or (word == "and" and between)
    dashed = word not in {"to", "and"} and "." in said["low"] and "." in said["high"]
    if not (is_range or dashed) or low >= high:
        return said[0]
    return said[0] if len(units) > 1 else f"{low}..{high}{''.join(units)}"
