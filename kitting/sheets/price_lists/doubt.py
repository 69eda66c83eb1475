"""A price that looks like pounds in a column of pence: 2.50 among 150 and 99.5.

Taken as it stands it would be a hundred times too cheap; taken for pounds, perhaps as much too
dear. Nobody can say, so a person is asked.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from decimal import Decimal

_PLAIN = re.compile(r"\s*(\d+)[.,](\d+)\s*|\s*(\d+)\s*")
_AS_POUNDS = 2  # decimals of a price in pounds
_FAR_BELOW = 20  # times below the usual price; a hundred times, and prices differ
_FEWEST = 3  # prices that show what is usual


class Doubt:
    """Knows what is usual in a column of pence, by its first prices."""

    def __init__(self, texts: Iterable[str]) -> None:
        found = [each for each in map(_read, texts) if each is not None]
        values = sorted(value for value, _ in found)
        self._usual = values[len(values) // 2] if len(values) >= _FEWEST else Decimal(0)
        with_pence = sum(1 for _, places in found if places == _AS_POUNDS)
        self._all_so = 2 * with_pence > len(found)

    def __call__(self, text: str) -> bool:
        """Whether a price may be pounds: two decimals where few have them, or a fraction far below.

        >>> doubt = Doubt(["150", "99.5", "220", "2.50"])
        >>> doubt("2.50"), doubt("2.5"), doubt("99.5"), doubt("3"), doubt("2.50p")
        (True, True, False, False, False)
        """
        read = _read(text)
        if read is None or not read[1]:
            return False
        value, places = read
        if places == _AS_POUNDS and not self._all_so:
            return True
        return value % 1 != 0 and value * _FAR_BELOW < self._usual


def _read(text: str) -> tuple[Decimal, int] | None:
    """A bare figure and its decimals; None for one with a sign, or with thousands."""
    found = _PLAIN.fullmatch(text)
    if not found or (found[2] and len(found[2]) == 3):
        return None
    if found[3]:
        return Decimal(found[3]), 0
    return Decimal(f"{found[1]}.{found[2]}"), len(found[2])
