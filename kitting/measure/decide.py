"""What a reading proves, given its uncertainty."""

from dataclasses import dataclass
from enum import StrEnum

from kitting.errors import BadInput, Problem
from kitting.measure.quantity import Quantity


class Decision(StrEnum):
    """What a reading proves of a limit."""

    GOOD = "good"
    BAD = "bad"
    UNDECIDED = "undecided"


@dataclass(frozen=True, slots=True)
class Limits:
    """An inclusive band; either side may be open."""

    low: Quantity | None = None
    high: Quantity | None = None

    def __post_init__(self) -> None:
        if self.low is not None and self.high is not None and self.low > self.high:
            raise BadInput(
                Problem(
                    "",
                    f"the limits {self.low} to {self.high} are the wrong way round",
                    "low first, then high",
                )
            )

    def __contains__(self, value: Quantity) -> bool:
        return (self.low is None or value >= self.low) and (self.high is None or value <= self.high)

    def __str__(self) -> str:
        if self.low is None and self.high is None:
            return "no limit"
        if self.low is None:
            return f"at most {self.high}"
        if self.high is None:
            return f"at least {self.low}"
        return f"{self.low} to {self.high}"


def decide(value: Quantity, uncertainty: Quantity, limits: Limits) -> Decision:
    """Return whether `value` is proven inside, proven outside, or neither.

    ISO 14253-1: conformity is proven inside both limits by at least the expanded uncertainty U
    (k = 2), nonconformity outside by at least U; between, nothing is proven. With U = 0 a reading
    on the limit is inside.
    """
    if abs(uncertainty) != uncertainty:
        raise BadInput(
            Problem("", f"the uncertainty {uncertainty} is below zero", "give it as a plain amount")
        )
    low, high = limits.low, limits.high
    inside_low = low is None or value >= low + uncertainty
    inside_high = high is None or value <= high - uncertainty
    if inside_low and inside_high:
        return Decision.GOOD
    if (low is not None and value <= low - uncertainty) or (
        high is not None and value >= high + uncertainty
    ):
        return Decision.BAD
    return Decision.UNDECIDED
