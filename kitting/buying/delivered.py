"""What deliveries brought for one job, as pieces in hand with what they cost the shop.

A line of an order is shared out to those it is for, the first first, as its orders are. The cost of
the packs as agreed is shared by the needed pieces that they bring; carriage, and what was bought
only to reach a supplier's terms, by the cost of what was ordered. Shares are rounded half up so
that they add up to the whole.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING

from kitting.job.hand import InHand, Source
from kitting.job.pricing import rounded

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from kitting.buying.sharing import Share
    from kitting.buying.standing import LineStanding, OrderRecord


def delivered_to(records: Iterable[OrderRecord], job: str) -> tuple[InHand, ...]:
    """Return the sound pieces that came for a job, as bought, each with its share of the cost."""
    return tuple(
        piece
        for record in records
        for standing in record.lines
        for piece in _pieces(record, standing, job)
    )


def unproven_for(records: Iterable[OrderRecord], job: str) -> tuple[InHand, ...]:
    """Return the pieces that lie here for a job and are not proven, each with where to prove it."""
    found = []
    for record in records:
        for standing in record.lines:
            if standing.unproven:
                every = replace(standing, good=standing.good + standing.unproven)
                sound = {
                    (piece.position, piece.part): piece.quantity
                    for piece in _pieces(record, standing, job)
                }
                place = f"order {record.order.number}, line {standing.line.id}"
                for piece in _pieces(record, every, job):
                    count = piece.quantity - sound.get((piece.position, piece.part), 0)
                    if count > 0:
                        found.append(replace(piece, quantity=count, cost=None, place=place))
    return tuple(found)


def coming_to(records: Iterable[OrderRecord], job: str) -> tuple[InHand, ...]:
    """Return the pieces that are on order for a job and not here, each with its order and day.

    A draft's are too: nobody drafts them again, and its place says that it is no order yet.
    """
    found = []
    for record in records:
        word = "draft" if record.order.draft else "order"
        for standing in () if record.cancelled else record.lines:
            here = standing.good + standing.unproven
            shares = zip(
                standing.shared(here), standing.shared(here + standing.coming), strict=True
            )
            for had, then in shares:
                count = _given(then) - _given(had)
                if then.need.job == job and count:
                    lot = replace(then.agreed, pieces=count).lot(standing.part)
                    found.append(
                        InHand(
                            position=then.agreed.positions[0],
                            part=lot.part,
                            quantity=lot.pieces,
                            source=Source.DELIVERY,
                            who=record.order.approved_by,
                            when=standing.due,
                            place=f"{word} {record.order.number}",
                            stands=lot.stands,
                        )
                    )
    return tuple(found)


def _given(share: Share) -> int:
    """Pieces that a need has; all that a set brings, when it is whole."""
    if share.need.in_set:
        return share.need.pieces if share.given else 0
    return share.pieces


def carriage_to(records: Iterable[OrderRecord], job: str) -> Decimal:
    """Return a job's share of the carriage of its orders, in the shop's money."""
    mine = (_share(record, job, record.agreed_carriage) for record in carried(records))
    return sum(mine, Decimal(0))


def carried(records: Iterable[OrderRecord]) -> tuple[OrderRecord, ...]:
    """The orders whose carriage is paid: those that stand, and of those cancelled what had come."""
    placed = (record for record in records if not record.order.draft)
    return tuple(record for record in placed if record.deliveries or not record.cancelled)


def made_up_for(records: Iterable[OrderRecord], job: str) -> Decimal:
    """Return a job's share of what came only to reach a supplier's terms, in the shop's money."""
    total = Decimal(0)
    for record in records:
        came = (each for each in record.lines if each.good + each.unproven)
        spare = (each.pack_price * each.packs for each in came if not each.line.needed_by)
        total += _share(record, job, sum(spare, Decimal(0)))
    return total


def _pieces(record: OrderRecord, standing: LineStanding, job: str) -> Iterator[InHand]:
    last = record.deliveries[-1] if record.deliveries else None
    if last is None:
        return
    order = record.order
    whole = rounded(standing.pack_price * standing.packs * order.worth, order.home_currency)
    agreed = tuple(standing.shared(standing.packs * standing.line.pack, as_asked=True))
    every = sum((share.given for share in agreed), Fraction(0))
    before = Fraction(0)
    for share, all_of_it in zip(standing.shared(standing.good), agreed, strict=True):
        need, came = share.agreed, share.need.pieces if share.need.in_set else share.pieces
        if share.given and need.job == job:
            begun, done = (
                rounded(whole * part.numerator / part.denominator, order.home_currency)
                for part in (before / every, (before + share.given) / every)
            )
            lot = replace(need, pieces=came).lot(standing.part)
            yield InHand(
                position=need.positions[0],
                part=lot.part,
                quantity=lot.pieces,
                source=Source.DELIVERY,
                who=last.who,
                when=last.day,
                cost=done - begun,
                place=f"order {order.number}",
                stands=lot.stands,
            )
        before += all_of_it.given


def _share(record: OrderRecord, job: str, amount: Decimal) -> Decimal:
    """What a job bears of an amount in the order's currency: by the cost of what it ordered."""
    order = record.order
    whole = rounded(amount * order.worth, order.home_currency)
    nets = {each: Decimal(0) for each in order.jobs}
    for standing in record.lines:
        needs = standing.line.needed_by
        needed = sum(need.pieces for need in needs)
        for need in needs:
            nets[need.job] += standing.pack_price * standing.packs * need.pieces / needed
    total, before = sum(nets.values(), Decimal(0)), Decimal(0)
    for each, net in nets.items():
        begun, done = (
            rounded(whole * part / total, order.home_currency) if total else Decimal(0)
            for part in (before, before + net)
        )
        if each == job:
            return done - begun
        before += net
    return Decimal(0)
