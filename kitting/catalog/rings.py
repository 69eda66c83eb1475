"""Rings of one-way interchange: followed, since each link holds, and yet seldom what was meant."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.catalog.circles import circles
from kitting.catalog.conditions import can_hold_together
from kitting.catalog.model import LinkKind
from kitting.errors import Problem

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from kitting.catalog.model import Link, PartNumber


def one_way_rings(links: Sequence[Link]) -> Iterator[tuple[int, Problem]]:
    """Yield each ring of one-way links once: the place of one of its links, and its chain."""
    edges: dict[tuple[PartNumber, PartNumber], frozenset[int]] = {}
    for at, link in enumerate(links):
        if link.kind is LinkKind.ONE_WAY and link.old != link.new:
            step = (link.old, link.new)
            edges[step] = edges.get(step, frozenset()) | {at}

    def together(rows: tuple[int, ...]) -> bool:
        return can_hold_together(links[at] for at in rows)

    for numbers, rows in circles(edges, together):
        ring = numbers[:-1]
        least = ring.index(min(ring))
        chain = (*ring[least:], *ring[: least + 1])
        yield (
            rows[-1],
            Problem(
                str(chain[0]),
                "one-way interchange in a ring: " + " → ".join(map(str, chain)),
                "each may then stand for every other: write 'either way', or take one link out",
            ),
        )
