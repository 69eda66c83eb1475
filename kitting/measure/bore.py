"""What the readings of a cylinder bore say, beside the form that `journal` gives.

Sources: six readings after a maker's motorcycle manual (FZ1); ring gap by plain geometry, the gap
growing with the circumference (about .003 a .001, as TM 5-3805-261-34 has it).
"""

from dataclasses import dataclass
from decimal import Decimal

from kitting.errors import BadInput, Problem
from kitting.measure.quantity import Quantity

_PI = Decimal("3.141592653589793238462643383")
# the gap is cut with a file: a tenth of a micrometre is ample
_GAP_PLACES = 4


@dataclass(frozen=True, slots=True)
class SixReadings:
    """Six diameters of a bore: odd along the crank, even across it; 1, 2 at the top, 3, 4 in the
    middle, 5, 6 at the bottom."""

    readings: tuple[Quantity, Quantity, Quantity, Quantity, Quantity, Quantity]

    @property
    def bore(self) -> Quantity:
        """C = max(D1 … D6)."""
        return max(self.readings)

    @property
    def taper(self) -> Quantity:
        """T = max(D1, D2) − max(D5, D6); below zero, the bore is larger at the bottom."""
        return max(self.readings[:2]) - max(self.readings[4:])

    @property
    def out_of_round(self) -> Quantity:
        """R = max(D1, D3, D5) − min(D2, D4, D6); below zero, it is oval the other way."""
        return max(self.readings[::2]) - min(self.readings[1::2])


def wear_ridge(worn: Quantity, unworn: Quantity) -> Quantity:
    """The step at the top of ring travel, radial: half the worn less the unworn diameter.

    Raises:
        BadInput: the unworn diameter is the larger one.
    """
    if unworn > worn:
        raise BadInput(
            Problem(
                "unworn",
                f"the bore above ring travel, {unworn}, is larger than below it, {worn}",
                "measure above the ridge, and at the greatest wear under it",
            )
        )
    return (worn - unworn).half()


def ring_gap_after(gap: Quantity, growth: Quantity) -> Quantity:
    """The gap of a ring when its bore is larger by `growth`: gap + π × growth.

    Rounded half-even to 0.1 µm.
    """
    widened = (growth.to("mm") * _PI).rounded(_GAP_PLACES)
    return gap + widened
