"""Prices for more packs: what became of each, and those that are dearer than for fewer."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

Steps = Sequence[tuple[int, int]]
"""From how many packs on, and the price of a pack then; the fewest packs first."""


class AtQuantity(NamedTuple):
    """What a pack of so many cost and costs; `what` is dearer, cheaper, new or gone."""

    packs: int
    what: str
    before: int
    after: int


def price_at(packs: int, price: int, steps: Steps) -> int:
    """The price of a pack when so many are bought.

    >>> [price_at(packs, 150, [(10, 120), (100, 100)]) for packs in (9, 10, 250)]
    [150, 120, 100]
    """
    return next((each for least, each in reversed(steps) if least <= packs), price)


def changes_at(
    before: int, steps_before: Steps, after: int, steps_after: Steps
) -> Iterator[AtQuantity]:
    """Yield what differs at each quantity for which either list has a price of its own.

    >>> [*changes_at(150, [(10, 120), (100, 100)], 150, [(10, 150)])]
    [AtQuantity(packs=10, what='dearer', before=120, after=150), \
AtQuantity(packs=100, what='gone', before=100, after=150)]
    """
    then, now = dict(steps_before), dict(steps_after)
    for packs in sorted(then.keys() | now.keys()):
        was = price_at(packs, before, steps_before)
        is_now = price_at(packs, after, steps_after)
        if packs not in then:
            yield AtQuantity(packs, "new", was, is_now)
        elif packs not in now:
            yield AtQuantity(packs, "gone", was, is_now)
        elif was != is_now:
            yield AtQuantity(packs, "dearer" if is_now > was else "cheaper", was, is_now)


def dearer_for_more(price: int, steps: Steps) -> tuple[int, int, int] | None:
    """The first price for more packs that is above the one for fewer: packs, it, and that one.

    >>> dearer_for_more(400, [(10, 450)]), dearer_for_more(400, [(10, 400), (50, 390)])
    ((10, 450, 400), None)
    """
    fewer = price
    for packs, each in steps:
        if each > fewer:
            return packs, each, fewer
        fewer = each
    return None


def a_hundred_times(before: int, after: int) -> str:
    """What a change of about a hundred times looks like: pence for pounds, or one for a hundred.

    >>> a_hundred_times(25000, 250), a_hundred_times(150, 16000), a_hundred_times(150, 300)
    ('about a hundred times cheaper', 'about a hundred times dearer', '')
    """
    low, high = sorted((before, after))
    if not 80 * low <= high <= 125 * low:
        return ""
    return f"about a hundred times {'dearer' if after > before else 'cheaper'}"
