"""A size between two limits, both known: what sums of tolerances are made of."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from kitting.errors import BadInput, Problem

if TYPE_CHECKING:
    from kitting.measure.quantity import Quantity


@dataclass(frozen=True, slots=True)
class Band:
    """An inclusive band, least size first."""

    low: Quantity
    high: Quantity

    def __post_init__(self) -> None:
        if self.low > self.high:
            raise BadInput(
                Problem(
                    "",
                    f"the limits {self.low} to {self.high} are the wrong way round",
                    "the smaller one first",
                )
            )

    @classmethod
    def measured(cls, value: Quantity, uncertainty: Quantity) -> Band:
        """Where the true size lies when `value` was read with the expanded uncertainty given."""
        return cls(value - abs(uncertainty), value + abs(uncertainty))

    @property
    def middle(self) -> Quantity:
        """The middle of the band."""
        return (self.low + self.high).half()

    @property
    def width(self) -> Quantity:
        """How far apart the limits are."""
        return self.high - self.low

    def __contains__(self, value: Quantity) -> bool:
        return self.low <= value <= self.high

    def holds(self, other: Band) -> bool:
        """Whether all of `other` lies inside."""
        return self.low <= other.low and other.high <= self.high

    def __str__(self) -> str:
        return f"{self.low} to {self.high.to(self.low.unit)}"
