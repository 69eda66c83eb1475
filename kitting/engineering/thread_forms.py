"""The shapes of thread on a vintage engine: flank angle and depths, each with its source."""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum


@dataclass(frozen=True, slots=True)
class _Shape:
    angle: Decimal
    effective: Decimal
    minor_bolt: Decimal
    minor_nut: Decimal
    source: str


class Form(StrEnum):
    """A thread form. Diameters follow from the major and the pitch by fixed factors."""

    WHITWORTH = "Whitworth"
    CYCLE = "cycle"
    BA = "British Association"
    UNIFIED = "unified"
    METRIC = "metric"

    @property
    def angle(self) -> Decimal:
        """The angle between the flanks, degrees."""
        return _SHAPES[self].angle

    @property
    def effective_factor(self) -> Decimal:
        """Major less effective (pitch) diameter, in pitches."""
        return _SHAPES[self].effective

    @property
    def minor_factor(self) -> Decimal:
        """Major less the minor diameter of a bolt, in pitches."""
        return _SHAPES[self].minor_bolt

    @property
    def bore_factor(self) -> Decimal:
        """Major less the minor diameter (bore) of a nut, in pitches."""
        return _SHAPES[self].minor_nut

    @property
    def source(self) -> str:
        """The standard that gives the form."""
        return _SHAPES[self].source


def _round_form(angle: str, depth: str, source: str) -> _Shape:
    """A form whose bolt and nut share one depth."""
    deep = Decimal(depth)
    return _Shape(Decimal(angle), deep, 2 * deep, 2 * deep, source)


# Sixty-degree flat form, H = 0.866025 p: effective D − 0.649519 p, nut bore D − 1.082532 p and
# rounded bolt root D − 1.226869 p (17/12 H).
def _flat_form(source: str) -> _Shape:
    return _Shape(
        Decimal(60), Decimal("0.649519"), Decimal("1.226869"), Decimal("1.082532"), source
    )


_SHAPES = {
    Form.WHITWORTH: _round_form("55", "0.640327", "BS 84"),
    Form.CYCLE: _round_form("60", "0.5327", "BS 811"),
    Form.BA: _round_form("47.5", "0.6", "BS 93"),
    Form.UNIFIED: _flat_form("ASME B1.1"),
    Form.METRIC: _flat_form("ISO 68-1, ISO 724"),
}


class Hand(StrEnum):
    """Which way a thread winds."""

    RIGHT = "right hand"
    LEFT = "left hand"
