"""What would decide a reading that its uncertainty leaves open."""

from fractions import Fraction
from math import ceil

from kitting.measure.quantity import Quantity

_MOST_REPEATS = 20


def what_would_decide(value: Quantity, uncertainty: Quantity, limit: Quantity) -> str:
    """Say what instrument, or how many repeats, would settle `value` against `limit`.

    The mean of n independent readings has the uncertainty U/√n (GUM, JCGM 100:2008, 4.2.3), for
    the part of U that varies from reading to reading; so n is the least.
    """
    distance = abs(value - limit)
    if not distance:
        return "it stands on the limit: a finer instrument must say on which side"
    repeats = ceil((Fraction(uncertainty.base) / Fraction(distance.base)) ** 2)
    instrument = f"an instrument good to {distance.to(value.unit)} (U, k = 2) would decide"
    if repeats > _MOST_REPEATS:
        return f"{instrument}; repeating the reading would not"
    return f"{instrument}, or the mean of at least {repeats} readings with this one"
