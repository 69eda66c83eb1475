"""What the shop has settled: how sure its instruments are, how to lean when nothing is proven."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from kitting.errors import BadInput, Problem
from kitting.measure import Quantity

if TYPE_CHECKING:
    from collections.abc import Mapping

    from kitting.catalog.model import Feature
    from kitting.catalog.trade import Shop
    from kitting.job.findings import Reading


class Lean(StrEnum):
    """What becomes of a reading too near its limit to call."""

    RECHECK = "recheck"
    REUSE = "reuse"
    RENEW = "renew"


@dataclass(frozen=True, slots=True)
class Settings:
    """Expanded uncertainty U (k = 2) by instrument, and the policy near a limit.

    `decide_with` is the command that takes a named person's word where nothing is proven.
    """

    uncertainty: Mapping[str, Quantity]
    lean: Lean = Lean.RECHECK
    decide_with: str = "kitting decide"

    @classmethod
    def of_shop(cls, shop: Shop) -> Settings:
        """Take the settings from the shop's own terms."""
        try:
            return cls(shop.uncertainty, Lean(shop.lean))
        except ValueError:
            raise BadInput(
                Problem("shop.csv, lean", f"'{shop.lean}' is no policy", "recheck, reuse or renew")
            ) from None

    def uncertainty_of(self, reading: Reading, feature: Feature) -> Quantity:
        """U of one reading: its own when stated, else its instrument's, else none, in its unit.

        An instrument that measures two kinds of thing has a setting for each, named with the
        kind: `spring rig stiffness`.
        """
        if reading.uncertainty is not None:
            return reading.uncertainty
        named = (reading.instrument or feature.instrument).strip().lower()
        for name in (f"{named} {feature.unit.dimension}", named):
            stated = self.uncertainty.get(name)
            if stated is not None and stated.unit.dimension is feature.unit.dimension:
                return stated.to(feature.unit)
        return Quantity.of(0, feature.unit)
