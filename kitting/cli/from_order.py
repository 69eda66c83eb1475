"""Pieces that an order brought and no kit asks for, put on the shop's own shelf."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.buying.deliveries import Return, Why
from kitting.buying.replies import counted
from kitting.cli.order_common import JobsNow
from kitting.errors import BadInput, Problem

if TYPE_CHECKING:
    from kitting.catalog.model import PartNumber
    from kitting.job.shelf import Signature
    from kitting.store import UnitOfWork


def take_from_order(
    work: UnitOfWork, number: str, part: PartNumber, quantity: int, by: Signature, where: str
) -> None:
    """Take pieces off what an order brought beside what its jobs ask for; they are its no more.

    Raises:
        NotFound: no such order.
        BadInput: so many of that part do not lie here of it for nobody, or they are not proven.
    """
    # Held before looking at what is idle, or two at once would take what another job needs.
    record = work.orders.hold(number)
    place = f"--from-order {number}"
    lines = [each for each in record.lines if each.part == part]
    if not lines:
        wrong = f"it brings no {part} by itself"
        right = "what came in a set, or from elsewhere, is put in without --from-order"
        raise BadInput(Problem(place, wrong, right))
    now = JobsNow(work, work.orders.records_for(*record.order.jobs))
    left = quantity
    for each in lines:
        key, unused = each.line.id, now.idle_here(record, each.line.id)
        count = min(left, each.may_go[Why.SURPLUS] + unused)
        if count and each.unproven:
            wrong = f"{counted(each.unproven, 'piece')} of line {key} must be measured first"
            raise BadInput(Problem(place, wrong, f"kitting order measure {number} {key}"))
        if count:
            note = "; ".join(filter(None, (f"onto the shelf, {where}", by.note)))
            back = Return(key, count, Why.SURPLUS, by.who, by.when, note)
            work.orders.add_return(number, back, unused, now.unused(record, key))
            left -= count
    if left:
        raise BadInput(
            Problem(
                place,
                f"of {part} it brought {quantity - left} more than its jobs ask for, not "
                f"{quantity}, that lie here still",
                "put in no more than that; what a job wants no more is told by "
                f"`kitting order show {number}`",
            )
        )
