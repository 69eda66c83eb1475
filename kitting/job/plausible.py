"""Whether a figure can be what it says: slips of the decimal point and of the unit.

A refusal here is no verdict on the part. Whoever read the figure can confirm it with an
exclamation mark.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING

from kitting.errors import BadInput, Problem

if TYPE_CHECKING:
    from kitting.catalog.family import Family
    from kitting.catalog.model import Feature
    from kitting.measure import Quantity

# What a part measures stays near its drawing however worn it is: between half and double.
_SIZES = frozenset({"diameter", "bore", "width", "length", "height", "thickness"})
_DOUBLE = 2
# A clearance or a pressure may be anything down to nothing, but not many times its limit.
_MANY = 4
_DEEPEST = Decimal("0.05")
_TWO_SIDED = frozenset({"rate"})
_SLIPS = {
    Decimal(10): "ten times off? look at the decimal point",
    Decimal("0.1"): "ten times off? look at the decimal point",
    Decimal(100): "a hundred times off? look at the decimal point",
    Decimal("0.01"): "a hundred times off? look at the decimal point",
}
_UNIT_SLIPS = {
    ("in", Decimal("25.4")): "looks like millimetres in an inch cell",
    ("in", Decimal(1000)): "looks like thou in an inch cell",
    ("mm", Decimal(1) / Decimal("25.4")): "looks like inches in a millimetre cell",
    ("mm", Decimal(1000)): "looks like µm in a millimetre cell",
    ("thou", Decimal("0.001")): "looks like inches in a thou cell",
    ("thou", Decimal("0.0254")): "looks like millimetres in a thou cell",
}


def check_plausible(value: Quantity, feature: Feature, family: Family, *, unit_said: bool) -> None:
    """Refuse a figure that can hardly be right for the feature.

    A size must lie within half and double its drawing's; anything else below zero or above four
    times its greatest limit is refused, and a rate below a quarter too. `unit_said` tells that
    the figure had its unit with it: then no slip of units is guessed at.

    Raises:
        BadInput: with what the slip looks like.
    """
    _check_near(value, feature, usual_size(feature, family), unit_said=unit_said)


def check_near_drawing(value: Quantity, feature: Feature, *, unit_said: bool) -> None:
    """Refuse a figure that can hardly be right for a new part, by its drawing alone.

    Raises:
        BadInput: with what the slip looks like.
    """
    _check_near(value, feature, _drawn_size(feature), unit_said=unit_said)


def _check_near(
    value: Quantity, feature: Feature, usual: Quantity | None, *, unit_said: bool
) -> None:
    if usual is None or not usual.base:
        return
    if feature.scores:
        fits = value.base >= 0 and value <= usual
    elif feature.kind in _SIZES:
        fits = usual <= value * _DOUBLE and value <= usual * _DOUBLE
    else:
        least = _least_limit(feature)
        above = value.base >= 0 or (least is not None and least.base < 0)
        fits = above and value <= usual * _MANY
        if feature.kind in _TWO_SIDED:
            fits = fits and value * _MANY >= usual
    if not fits:
        raise BadInput(
            Problem(
                "",
                f"{value} where {_about(feature)} {usual} belongs",
                f"{_slip(value, usual, feature, unit_said)}; "
                "if it is right as it stands, put ! after it",
            )
        )


def usual_size(feature: Feature, family: Family) -> Quantity | None:
    """What the feature measures by its drawing: a size's middle, anything else's greatest limit.

    A feature with a size table takes the standard grade's finished size; the depth of a score is
    never more than a small part of what is scored.
    """
    if feature.scores:
        scored = usual_size(family.feature_by_key[feature.scores], family)
        return (scored * _DEEPEST).to(feature.unit) if scored is not None else None
    low, high = feature.low, feature.high
    if feature.is_in_hand and low is None and high is None:
        low, high = _in_hand(feature, family)
    if feature.size_table:
        machined = family.table_by_key[feature.size_table].machined
        if machined:
            low, high = machined[0].finish_low, machined[0].finish_high
    return _drawn_size(replace(feature, low=low, high=high))


def _drawn_size(feature: Feature) -> Quantity | None:
    low, high = feature.low, feature.high
    if feature.kind in _SIZES:
        if low is not None and high is not None:
            return (low + high).half().to(feature.unit)
        return low or high or feature.wear_low or feature.wear_high
    known = [limit for limit in (low, high, feature.wear_low, feature.wear_high) if limit]
    return max(known) if known else None


def _in_hand(feature: Feature, family: Family) -> tuple[Quantity | None, Quantity | None]:
    """What a new part measures: the standard shell's wall, or the size that it runs in."""
    served = family.feature_by_key[feature.goes_with]
    if not served.size_table:
        return None, None
    standard = family.table_by_key[served.size_table].machined[0]
    if feature.kind == "thickness":
        return standard.wall_low, standard.wall_high
    return standard.finish_low, standard.finish_high


def _about(feature: Feature) -> str:
    return "about" if feature.kind in _SIZES else "at most about"


def _least_limit(feature: Feature) -> Quantity | None:
    known = [limit for limit in (feature.low, feature.wear_low) if limit is not None]
    return min(known) if known else None


def _slip(value: Quantity, usual: Quantity, feature: Feature, unit_said: bool) -> str:
    """What mistake would explain the figure best."""
    if value.base <= 0:
        return "write the figure as read, above zero"
    off = Decimal(value.ratio(usual).numerator) / Decimal(value.ratio(usual).denominator)
    slips = dict(_SLIPS)
    if not unit_said:
        slips |= {
            times: said
            for (unit, times), said in _UNIT_SLIPS.items()
            if unit == feature.unit.symbol
        }
    # The nearest by proportion: twice too large is as far as half too small.
    best = min(slips, key=lambda times: max(off / times, times / off))
    if max(off / best, best / off) <= _MANY:
        return slips[best]
    return "ten times off, or another unit? look at the decimal point"
