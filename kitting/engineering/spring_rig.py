"""What a spring rig tells: rate and free length from loads at lengths. F = k (L0 − L) throughout.

Hooke's law for a spring of constant pitch, between about 30 % and 70 % of its travel (EN 13906-1
checks the rate there: the first and last coils do not work evenly).
"""

from collections.abc import Sequence
from dataclasses import dataclass

from kitting.engineering.working import amount, beside, need_kind, need_positive, worked
from kitting.errors import BadInput, Problem, Problems
from kitting.measure import Quantity


@dataclass(frozen=True, slots=True)
class RigLoad:
    """One reading of the rig: the length the spring was held at and the load it gave."""

    length: Quantity
    load: Quantity

    def __post_init__(self) -> None:
        problems = Problems()
        if need_kind(problems, "rig length", self.length, "mm"):
            need_positive(problems, "rig length", self.length)
        if need_kind(problems, "rig load", self.load, "N"):
            need_positive(problems, "rig load", self.load)
        problems.raise_if_any()


@worked
def rate_from_rig(first: RigLoad, second: RigLoad) -> Quantity:
    """Return the rate from two rig readings, k = (F2 − F1) / (L1 − L2), N/mm or lbf/in.

    Raises:
        BadInput: one length twice, or a load that falls as the spring is pressed.
    """
    short, long = sorted((first, second), key=lambda reading: reading.length)
    if short.length == long.length:
        raise BadInput(
            Problem("rig", f"both loads are at {long.length}", "load it at two lengths well apart")
        )
    if short.load <= long.load:
        raise BadInput(
            Problem(
                "rig",
                f"{short.load} at {short.length} is no more than {long.load} at {long.length}",
                "a spring pushes harder the shorter it is: check the pairs",
            )
        )
    stiffness = (short.load - long.load).value_in("N") / (long.length - short.length).value_in("mm")
    return amount(stiffness, "N/mm", beside(first.length, "N/mm", "lbf/in"))


@worked
def free_length_from_rig(reading: RigLoad, rate: Quantity) -> Quantity:
    """Return L0 = L + F / k: the free length that a rate and one rig reading imply."""
    deflection = amount(reading.load.value_in("N") / rate.value_in("N/mm"), "mm")
    return reading.length + deflection


@worked
def rate_from_free_length(free_length: Quantity, reading: RigLoad) -> Quantity:
    """Return k = F / (L0 − L) from a measured free length and one rig reading.

    Raises:
        BadInput: a load given at the free length or longer.
    """
    if reading.length >= free_length:
        raise BadInput(
            Problem(
                "rig",
                f"a load of {reading.load} at {reading.length} cannot be, the spring is loose",
                f"its free length is {free_length}",
            )
        )
    travel = (free_length - reading.length).value_in("mm")
    stiffness = reading.load.value_in("N") / travel
    return amount(stiffness, "N/mm", beside(reading.length, "N/mm", "lbf/in"))


def rate_from_readings(
    readings: Sequence[RigLoad], free_length: Quantity | None = None
) -> Quantity | None:
    """Return the rate that the readings furthest apart give, or None when they cannot give one.

    Two lengths are used alone (a free length is measured with other tools and a worn end spoils
    it); one length is used with the free length.
    """
    ordered = sorted(readings, key=lambda reading: reading.length)
    if len(ordered) > 1:
        return rate_from_rig(ordered[-1], ordered[0])
    if ordered and free_length is not None:
        return rate_from_free_length(free_length, ordered[0])
    return None
