"""When a link holds, and whether two can hold together."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from collections.abc import Iterable

    from kitting.catalog.model import Link


class Bounded(Protocol):
    """Whatever holds on some variants and between two running numbers, inclusive."""

    @property
    def variants(self) -> tuple[str, ...]:
        """The variants; empty means all."""

    @property
    def first(self) -> int | None:
        """The first running number."""

    @property
    def last(self) -> int | None:
        """The last running number."""


def holds_for(value: Bounded, variant: str, running: int | None) -> bool:
    """Whether a row holds for an engine.

    An unknown variant ('') or running number (None) bars only the rows that ask for one.
    """
    if value.variants and variant not in value.variants:
        return False
    if value.first is None and value.last is None:
        return True
    if running is None:
        return False
    return (value.first is None or running >= value.first) and (
        value.last is None or running <= value.last
    )


def can_hold_together(links: Iterable[Link]) -> bool:
    """Whether there is an engine, a size grade and a day for which all of the links hold."""
    every = tuple(links)
    variants = [set(link.variants) for link in every if link.variants]
    grades = {link.with_grade for link in every if link.with_grade}
    firsts = [link.first for link in every if link.first is not None]
    lasts = [link.last for link in every if link.last is not None]
    opens = [link.since for link in every if link.since is not None]
    ends = [link.until for link in every if link.until is not None]
    return (
        (not variants or bool(set.intersection(*variants)))
        and len(grades) <= 1
        and max(firsts, default=0) <= min(lasts, default=max(firsts, default=0))
        and max(opens, default=date.min) <= min(ends, default=date.max)
    )
