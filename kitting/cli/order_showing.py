"""Orders listed and shown."""

from __future__ import annotations

from dataclasses import replace

import click

from kitting.cli.answer import Answer, reads
from kitting.cli.opened import today


@click.command("list")
@click.option("--job", default="", help="Only orders that something of this job is in.")
@click.option("--open", "only_open", is_flag=True, help="Only what needs somebody.")
@reads("order:OrdersShape")
def list_orders(job: str, only_open: bool) -> Answer:
    """The orders, how far each is, and what of it needs somebody.

    What an order left open is to be ordered again while a kit misses it; what later orders brought
    of it is said to be bought again there. What no kit asks for any more is named, and may go
    back: of what is here while one of its jobs is open, or was not built.

    \b
    Examples:
      kitting order list
      kitting order list --job 26-041 --open
    """
    from kitting.cli.order_common import JobsNow
    from kitting.cli.order_screens import needs_somebody, orders_text
    from kitting.store import Database

    with Database().read() as work:
        if job:
            work.jobs.job(job)
        records = work.orders.records_for(job) if job else work.orders.records()
        jobs = {each for record in records for each in record.order.jobs}
        now = JobsNow(work, records if jobs <= {job} or not job else work.orders.records_for(*jobs))
        found = list(zip(records, now.beside_each(records), strict=True))
    shown = [(r, b) for r, b in found if not only_open or needs_somebody(r, b.again)]

    def shape() -> object:
        from kitting.cli.shapes.order import OrdersShape
        from kitting.cli.shapes.order_brief import brief_shape

        return OrdersShape([brief_shape(*each) for each in shown])

    return shape, lambda: orders_text(shown)


@click.command("show")
@click.argument("number")
@reads("order:OrderShape")
def show_order(number: str) -> Answer:
    """One order: its lines, what a reply asks with its effect, what came, what may go back.

    \b
    Example:
      kitting order show P1001
    """
    from kitting.cli.order_common import JobsNow, checks_within, effects_of
    from kitting.cli.order_screens import order_text
    from kitting.store import Database

    with Database().read() as work:
        record = work.orders.record(number)
        effects = effects_of(work, record, today())
        now = JobsNow(work, work.orders.records_for(*record.order.jobs))
        others = replace(now.beside(record), unwanted=now.unwanted(record))
        uses = now.uses(record)
        checks = checks_within(work, record, others.idle)

    def shape() -> object:
        from kitting.cli.shapes.order import order_shape

        return order_shape(record, others, effects, checks, uses)

    return shape, lambda: order_text(record, effects, checks, uses, others)
