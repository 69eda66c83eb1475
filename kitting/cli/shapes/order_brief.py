"""The shape of an order in a line, as a list shows it."""

from dataclasses import dataclass
from datetime import date

from kitting.buying.standing import OrderRecord
from kitting.cli.order_common import Beside


@dataclass(frozen=True, slots=True)
class OrderBriefShape:
    """An order in a line; money in its currency without VAT, `home` in the shop's.

    `unanswered` are the lines that no reply says anything of, once there is one. Of the `reopened`
    pieces `to_order_again` lines still wait; the others are in later orders.
    `idle_lines` are on sale or return and go back unused: nothing of them is measured.
    `asked_for_no_more` counts the pieces, here or to come, that no kit asks for; nothing that is
    here once its jobs were built and closed.
    """

    order: str
    revision: int
    state: str
    supplier: str
    day: date
    approved_by: str | None
    approved_on: date | None
    currency: str
    total: str
    agreed: str
    home_currency: str
    home: str
    lines: int
    questions: int
    unanswered: list[str]
    coming: int
    reopened: int
    to_order_again: int
    bought_again_in: list[str]
    drafted_again_in: list[str]
    to_measure: int
    to_measure_again: int
    idle_lines: list[str]
    asked_for_no_more: int
    jobs: list[str]


def brief_shape(record: OrderRecord, beside: Beside) -> OrderBriefShape:
    """The shape of an order in a line, with what follows for it from others and from its jobs."""
    order = record.order
    return OrderBriefShape(
        order=order.number,
        revision=order.revision,
        state=record.state,
        supplier=order.supplier.name,
        day=order.day,
        approved_by=order.approved_by or None,
        approved_on=order.approved_on,
        currency=order.currency,
        total=str(order.total),
        agreed=str(record.agreed),
        home_currency=order.home_currency,
        home=str(order.home),
        lines=len(order.lines),
        questions=len(record.questions),
        unanswered=[line.id for line in record.unanswered],
        coming=sum(each.coming for each in record.lines),
        reopened=sum(each.reopened for each in record.lines),
        to_order_again=beside.again.lines,
        bought_again_in=list(beside.again.bought),
        drafted_again_in=list(beside.again.drafts),
        to_measure=sum(e.unmeasured for e in record.lines if e.line.id not in beside.idle),
        to_measure_again=sum(e.doubtful for e in record.lines if e.line.id not in beside.idle),
        idle_lines=sorted(beside.idle),
        asked_for_no_more=sum(beside.unwanted.values()),
        jobs=list(order.jobs),
    )
