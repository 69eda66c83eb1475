"""The few greatest of many changes, kept while a list of any length goes by."""

from __future__ import annotations

import heapq
from collections.abc import Callable
from decimal import Decimal
from typing import Generic, TypeVar

_T = TypeVar("_T")


class Greatest(Generic[_T]):
    """Keeps the greatest `most`; of two alike the one that came first."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._met = 0
        self._kept: list[tuple[Decimal, int, _T]] = []

    def offer(self, before: int, after: int, make: Callable[[], _T]) -> None:
        """Keep what is made of a change of a price, if it is among the greatest in proportion."""
        self._met += 1
        share = Decimal(abs(after - before)) / before
        if len(self._kept) < self._most:
            heapq.heappush(self._kept, (share, -self._met, make()))
        elif share > self._kept[0][0]:
            heapq.heapreplace(self._kept, (share, -self._met, make()))

    def in_order(self) -> list[_T]:
        """What was kept, the greatest first."""
        return [each[2] for each in sorted(self._kept, reverse=True)]
