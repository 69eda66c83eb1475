"""Formulas of a sheet that came back, held against those that it went out with.

Rows put in or sorted, and columns moved, change what a formula names and not what it reckons.
"""

from __future__ import annotations

import re
from decimal import Decimal
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

# A cell or whole text that stands for itself, a figure, a blank.
_TOKEN = re.compile(
    r'(?P<text>"[^"]*")|(?<![A-Z0-9_.!])\$?(?P<column>[A-Z]{1,3})\$?(?P<row>\d+)(?![\w(.!])'
    r"|(?<![A-Z_\d.])(?P<figure>\d+(?:\.\d+)?)(?![\w.])|(?P<blank>\s+)",
)


def shape_of(formula: str, columns: Mapping[str, str]) -> str:
    """A formula with the names of its columns in the place of its cells.

    >>> shape_of("=ROUND(E7*$G$7, 2.0)", {"E": "Packs", "G": "Price"})
    '=ROUND({Packs}*{Price},2)'
    """

    def put(found: re.Match[str]) -> str:
        if found["column"]:
            return f"{{{columns.get(found['column'], found['column'])}}}"
        if found["figure"]:
            return f"{Decimal(found['figure']).normalize():f}"
        return found["text"] or ""

    return _TOKEN.sub(put, formula)


def rows_in(formula: str) -> frozenset[str]:
    """The rows of the cells that a formula names."""
    return frozenset(found["row"] for found in _TOKEN.finditer(formula) if found["row"])
