"""Whether the day or the month stands first in a list's days: one that leaves no choice tells it.

Read the wrong way round a price holds from months too early or too late. Where nothing tells, the
day stands first, and that is said; where days tell both, a person is asked.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from kitting.errors import BadInput, Problem
from kitting.sheets.price_lists.dates import Order, is_two_days, readings
from kitting.sheets.price_lists.marks import tidy

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import date


class _Met(NamedTuple):
    place: str
    text: str


class DayReader:
    """Reads the days of a list, in the order that was told or that the list's own days tell."""

    def __init__(self, told: Order | None) -> None:
        self._told = told
        self._order = told
        self._only: dict[Order, _Met] = {}
        self._taken: _Met | None = None  # the first that could be read the other way round

    def look(self, cells: Iterable[tuple[str, str]]) -> None:
        """Learn the order from days that will be read, each with the place of its cell."""
        for place, text in cells:
            if only := readings(text).only:
                self._only.setdefault(only, _Met(place, tidy(text)))
        if self._order is None and self._taken is None and len(self._only) == 1:
            self._order = next(iter(self._only))

    def __call__(self, place: str, text: str) -> date | None:
        """The day that a cell names; None when it names none."""
        found = readings(text)
        if self._told:
            return found.by(self._told)
        if found.only:
            self.look([(place, text)])
            return found.by(found.only)
        if self._order is None and is_two_days(text):
            self._taken = self._taken or _Met(place, tidy(text))
        return found.by(self._order or Order.DAY_FIRST)

    def told(self) -> list[str]:
        """What is to be said of the order in which days were read.

        Raises:
            BadInput: the list has days of both orders.
        """
        day, month = self._only.get(Order.DAY_FIRST), self._only.get(Order.MONTH_FIRST)
        if self._told:
            return []
        other = day or self._taken
        if month and other:
            right = "make them agree, or say --days day-first or --days month-first"
            says = "can only have its day first" if day else "was taken with its day first"
            raise BadInput(
                [
                    Problem(month.place, f"'{month.text}' can only have its month first", right),
                    Problem(other.place, f"'{other.text}' {says}", right),
                ]
            )
        if month:
            return [f"{month.place}: '{month.text}' has its month first; all days are read so"]
        if day or self._taken is None:
            return []
        place, text = self._taken
        return [
            f"{place}: '{text}' is read as {readings(text).day_first}, its day first as in all of "
            "this list; where the month stands first, say --days month-first"
        ]
