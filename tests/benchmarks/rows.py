"""One line of the table of timings, and how a time is taken."""

import time
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from statistics import median
from typing import TypeVar

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Row:
    """A figure that was measured; `limit` is what it must not exceed, or with `at_least` reach."""

    name: str
    figure: float
    unit: str
    limit: float | None = None
    note: str = ""
    at_least: bool = False

    @property
    def is_met(self) -> bool:
        """Whether the figure keeps its limit; one without a limit does."""
        if self.limit is None:
            return True
        return self.figure >= self.limit if self.at_least else self.figure <= self.limit

    @property
    def cells(self) -> tuple[str, str, str, str, str]:
        """Name, figure, limit, whether it is met, note."""
        sign = "≥" if self.at_least else "≤"
        limit = "" if self.limit is None else f"{sign} {shown(self.limit)} {self.unit}"
        met = "" if self.limit is None else "yes" if self.is_met else "NO"
        return self.name, f"{shown(self.figure)} {self.unit}", limit, met, self.note


def shown(figure: float) -> str:
    """A figure to three places that count."""
    return f"{figure:,.0f}" if abs(figure) >= 100 else f"{figure:.3g}"


def milliseconds(work: Callable[[T], object], items: Iterable[T]) -> list[float]:
    """How long some work takes on each item, least first."""
    taken = []
    for item in items:
        start = time.perf_counter()
        work(item)
        taken.append(1000 * (time.perf_counter() - start))
    return sorted(taken)


def least(work: Callable[[T], object], item: T, times: int = 5) -> float:
    """The least of several turns, in milliseconds of the processor.

    A long piece of work shares the cores with whatever else the machine does; on a machine that
    does nothing else the clock says the same.
    """
    taken = []
    for _ in range(times):
        start = time.process_time()
        work(item)
        taken.append(1000 * (time.process_time() - start))
    return min(taken)


def middle_and_tail(taken: list[float]) -> tuple[float, float]:
    """The median, and what nineteen in twenty do not exceed."""
    return median(taken), taken[min(len(taken) - 1, len(taken) * 19 // 20)]
