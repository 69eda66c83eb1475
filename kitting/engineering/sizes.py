"""Comparing two parts: the same, larger or smaller, in which dimension; and what else differs."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from kitting.measure import Quantity


class Size(StrEnum):
    """How one dimension stands to another."""

    SAME = "the same"
    LARGER = "larger"
    SMALLER = "smaller"


@dataclass(frozen=True, slots=True)
class SizeComparison:
    """One dimension of a part against the one wanted; `by` is the amount, never below zero."""

    what: str
    size: Size
    by: Quantity

    def __str__(self) -> str:
        if self.size is Size.SAME:
            return f"{self.what} the same"
        return f"{self.what} {self.size} by {self.by}"


def compare_sizes(
    part: Mapping[str, Quantity], wanted: Mapping[str, Quantity], within: Quantity
) -> tuple[SizeComparison, ...]:
    """Return each dimension of `part` against `wanted`; differences up to `within` are none.

    Only the dimensions that both have are compared, in the order of `wanted`.
    """
    return tuple(
        _compared(what, part[what], size, within) for what, size in wanted.items() if what in part
    )


def _compared(what: str, part: Quantity, wanted: Quantity, within: Quantity) -> SizeComparison:
    by = part - wanted
    if abs(by) <= within:
        return SizeComparison(what, Size.SAME, abs(by))
    return SizeComparison(what, Size.LARGER if by.base > 0 else Size.SMALLER, abs(by))


def all_same(found: tuple[SizeComparison, ...]) -> bool:
    """Whether no dimension differs."""
    return all(one.size is Size.SAME for one in found)


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing in which two threads (or two parts) differ."""

    what: str
    left: str
    right: str

    def __str__(self) -> str:
        return f"{self.what}: {self.left} against {self.right}"
