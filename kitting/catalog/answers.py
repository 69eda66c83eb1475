"""Today's answer of many numbers at once, and what a change of the links makes of them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from kitting.catalog.resolver import resolve
from kitting.catalog.ways import Need

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import date

    from kitting.catalog.model import PartNumber
    from kitting.catalog.ways import Subgraph

Bought = tuple[tuple["PartNumber", int], ...]
"""What is bought for one of a number, and how many; empty where nothing answers."""


@dataclass(frozen=True, slots=True)
class AnswerChange:
    """What answered for a number in some families, and what answers now."""

    part: PartNumber
    families: tuple[str, ...]
    before: Bought
    after: Bought

    @property
    def is_lost(self) -> bool:
        """Whether nothing can be bought for it any more."""
        return bool(self.before and not self.after)


def answer(part: PartNumber, graph: Subgraph, day: date) -> Bought:
    """What is bought for one of a number on a day, no engine and no position named."""
    best = resolve(Need(part), graph, day).best
    return best.parts if best else ()


def changed(
    before: Mapping[tuple[str, PartNumber], Bought], after: Mapping[tuple[str, PartNumber], Bought]
) -> tuple[AnswerChange, ...]:
    """What differs, the families in which it does alike told together; what is lost comes first."""
    alike: dict[tuple[PartNumber, Bought, Bought], list[str]] = {}
    for (family, part), bought in before.items():
        now = after[family, part]
        if now != bought:
            alike.setdefault((part, bought, now), []).append(family)
    found = [
        AnswerChange(part, tuple(families), bought, now)
        for (part, bought, now), families in alike.items()
    ]
    return tuple(sorted(found, key=lambda each: (not each.is_lost, each.part, each.families)))
