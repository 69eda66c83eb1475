"""Which price of the list that holds a new one is compared with: the one of the same day."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from kitting.buying.price_lists.matching import Held


def held_on(held: Sequence[Held], day: str, quality: str) -> Held | None:
    """The offer that held on a day, or else the last that had; None where none had begun.

    Of several those of the quality count, and of these the one that began last, the dearest.
    """
    if len(held) == 1:
        return held[0] if held[0].since <= day else None
    of_quality = [each for each in held if each.quality == quality] or held
    begun = [each for each in of_quality if each.since <= day]
    holding = [each for each in begun if each.until >= day]
    if holding:
        return max(holding, key=lambda each: (each.since, each.price))
    return max(begun, key=lambda each: (each.until, each.price), default=None)


def in_other_pack(held: Sequence[Held], pack: int, day: str) -> Held | None:
    """Of offers of one part that hold on a day the one in the nearest other pack, or None."""
    others = [each for each in held if each.pack != pack and each.since <= day <= each.until]
    return min(others, key=lambda each: (abs(each.pack - pack), each.pack, each.line), default=None)


def no_more(held: Sequence[Held], day: str, quality: str, firsts: set[str]) -> list[Held]:
    """Prices known to begin after a day, of which a new list says nothing on their first days."""
    return [
        each
        for each in held
        if each.since > day and each.quality == quality and each.since not in firsts
    ]
