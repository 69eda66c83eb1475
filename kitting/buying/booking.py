"""What a delivery puts into a job's hands, as pieces of its positions.

Worked out as a difference between how an order stood and how it stands, so that a later verdict or
a return takes pieces out again.
"""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from kitting.job.hand import InHand, Source

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
    from datetime import date

    from kitting.buying.standing import LineStanding, OrderRecord
    from kitting.catalog.model import PartNumber

    Place = tuple[str, str, PartNumber]


def booked(
    before: OrderRecord, after: OrderRecord, who: str, day: date
) -> Mapping[str, tuple[InHand, ...]]:
    """Return by job what came into its hands between two moments; below none, what went again."""
    was, now = _held_of(before), _held_of(after)
    found: dict[str, list[InHand]] = {}
    for place in (*now, *(place for place in was if place not in now)):
        job, position, part = place
        pieces, cost = now.get(place, (0, Decimal(0)))
        pieces_then, cost_then = was.get(place, (0, Decimal(0)))
        if pieces != pieces_then:
            found.setdefault(job, []).append(
                InHand(
                    position=position,
                    part=part,
                    quantity=pieces - pieces_then,
                    source=Source.DELIVERY,
                    who=who,
                    when=day,
                    cost=cost - cost_then,
                    place=f"order {after.order.number}",
                )
            )
    return {job: tuple(pieces) for job, pieces in found.items()}


def _held_of(record: OrderRecord) -> dict[Place, tuple[int, Decimal]]:
    """Pieces that are here and sound, and what they cost in the shop's money, by their place."""
    held: dict[Place, tuple[int, Decimal]] = {}
    for each in record.lines:
        for place, pieces, share in _shares(each):
            goods = each.pack_price * share / each.line.pack
            count, cost = held.get(place, (0, Decimal(0)))
            held[place] = (count + pieces, cost + record.order.at_home(goods))
    return held


def _shares(each: LineStanding) -> Iterator[tuple[Place, int, Decimal]]:
    """Whose the sound pieces of a line are, and how many of the line's own they cost."""
    left = min(each.good, each.line.quantity)
    whole = left == each.line.quantity
    for at, need in enumerate(each.line.needed_by):
        if need.in_set:
            if whole and need.brings is not None:
                # The set is paid for once, with the first of what it brings.
                yield (
                    (need.job, need.positions[0], need.brings),
                    need.pieces,
                    Decimal(left * (not at)),
                )
        elif left:
            pieces = min(need.pieces, left)
            left -= pieces
            yield (need.job, need.positions[0], each.part), pieces, Decimal(pieces)
