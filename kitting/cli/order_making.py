"""Orders drafted, approved, sent and cancelled."""

from __future__ import annotations

from collections import Counter
from datetime import date
from typing import TYPE_CHECKING, Any

import click

from kitting.buying.orders import OrderState
from kitting.buying.replies import counted
from kitting.cli.amounts import shortened, worded
from kitting.cli.buying_terms import buying_terms, policy_of
from kitting.cli.opened import on_day, path_within, today
from kitting.cli.order_common import paths_of
from kitting.cli.order_plan import AIMS, asked_again, planned_for, spare_told

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator

    from kitting.buying.drafting import Before, Drafts
    from kitting.buying.orders import Order
    from kitting.buying.standing import OrderRecord, Step
    from kitting.catalog.model import PartNumber
    from kitting.cli.order_plan import Planned
    from kitting.job.path import JobPath
    from kitting.store import UnitOfWork


@click.command()
@click.argument("job")
@click.option("--plan", "aim", type=click.Choice(AIMS), help="By this buying plan.")
@click.option("--with", "others", multiple=True, help="Plan this job with it, on one order.")
@buying_terms
@on_day
def make(
    job: str,
    aim: str | None,
    others: tuple[str, ...],
    day: date | None,
    **terms: Any,
) -> None:
    """Draft orders for what a job's kit still needs, one a supplier.

    What earlier orders bring, and what was taken off the shelf for it, is left out; what lies free
    there is told, and used by --plan. A draft of the job that is
    there already is made anew as its next revision; what was approved stays as it was.

    \b
    Examples:
      kitting order make 26-041
      kitting order make 26-041 --even-from marlbeck
      kitting order make 26-041 --plan cheapest --with 26-050
    """
    from kitting.buying.drafting import drafts_of
    from kitting.buying.standing import before_of
    from kitting.store import Database

    jobs = (job, *others)
    if others and aim is None:
        raise click.UsageError("--with goes with --plan")
    with Database().work() as work:
        work.jobs.hold(*jobs)
        records = work.orders.records()
        closed = {each.number for each in work.jobs.jobs() if each.closed}
        drafts = {r.order.number: r for r in records if _is_draft_of(r, {*jobs, *closed}, jobs)}
        before = asked_again(work, before_of(records, leave_out=drafts.keys()), terms)
        if aim is None:
            paths = [path_within(work, job, day)]
            made = drafts_of(paths[0], before)
        else:
            policy = policy_of(work, terms)
            planned = planned_for(work, jobs, policy, before, day, terms["leave_out"])
            paths, made = [*planned.paths], _by_plan(planned, aim, before)
        said = _stored(work, made, drafts.values())
        approved = before_of(each for each in records if not each.order.draft)
        free = () if aim else tuple(_free_on_the_shelf(work, paths, before, approved))
        parts = {line.part for order in made.orders for line in order.lines}
        spare = spare_told(work, records, paths, parts)
        work.commit()
    for line in said:
        click.echo(line)
    for sentence in made.without:
        click.echo(f"In no order: {sentence}")
    left = [record for record in records if record.order.number not in drafts]
    for sentence in (
        *made.told, *free, *_wrong_told(paths), *spare, *_shared_with(left, jobs, closed),
    ):  # fmt: skip
        click.echo(f"Mind: {sentence}")
    for path in paths:
        if not path.kit.readiness.ready:
            sentence = path.kit.readiness.sentence
            click.echo(f"Job {path.bench.job.number}: {sentence} Nothing can be approved before.")


def _by_plan(planned: Planned, aim: str, before: Before) -> Drafts:
    from kitting.buying.drafting import Drafts
    from kitting.buying.drafting_plan import failed_before, off_the_shelf, orders_of_plan
    from kitting.buying.planning.plan import make_plan
    from kitting.buying.planning.values import Aim

    plan = make_plan(planned.problem, tuple(Aim)[AIMS.index(aim)])
    orders = orders_of_plan(plan, planned.paths)
    told = (*failed_before(before, planned.problem, (plan,)), *off_the_shelf(plan))
    return Drafts(orders, planned.left_out, told)


def _wrong_told(paths: Iterable[JobPath]) -> Iterator[str]:
    """In what the links about the numbers to be bought contradict each other, line by line."""
    for path in paths:
        for line in path.kit.bought:
            for wrong in line.wrong_in_data:
                named = f"job {path.bench.job.number}, line {line.key}"
                yield f"{named}, wrong in the catalogue: {wrong}"


def _free_on_the_shelf(
    work: UnitOfWork, paths: Iterable[JobPath], before: Before, approved: Before
) -> Iterator[str]:
    """What lies free on the shop's own shelf and would be given to lines that miss something."""
    from kitting.buying.taking import Taking

    lying: Counter[PartNumber] = Counter()
    for item in work.shelf.items():
        lying[item.part] += item.quantity
    for path in paths:
        job = path.bench.job.number
        taking = Taking(path, before, approved, lying)
        for take in taking.takes():
            line = take.line
            by = "" if take.part == line.part else f" --part '{take.part}'"
            some = "" if take.rest else f" --quantity {take.pieces}"
            yield (
                f"{take.pieces} × {take.part} free on the shelf serves line {line.key}, "
                f"{line.name}, and is left there: kitting shelf take {job} {line.key}{by}{some}, "
                "then order make again"
            )
        for each in taking.openings():
            lines = ", ".join(line.key for line in each.lines)
            yield (
                f"the set {each.number}, {lying[each.number]} free on the shelf, holds what line "
                f"{lines} of job {job} needs, and is left there: kitting shelf open "
                f"'{each.number}' {each.sets}, then take and order make again"
            )


def _is_draft_of(record: OrderRecord, known: Collection[str], jobs: Collection[str]) -> bool:
    """Whether a draft is for these jobs, and beside them for none but what is closed."""
    of = set(record.order.jobs)
    return record.state is OrderState.DRAFT and of <= set(known) and bool(of & set(jobs))


def _shared_with(
    records: Iterable[OrderRecord], jobs: Collection[str], closed: Collection[str]
) -> Iterator[str]:
    """That drafts which stand are for other open jobs beside these."""
    shared = [r for r in records if r.state is OrderState.DRAFT and set(jobs) & set(r.order.jobs)]
    if shared:
        numbers = ", ".join(record.order.number for record in shared)
        apart = {*jobs, *closed}
        others = sorted({job for r in shared for job in r.order.jobs if job not in apart})
        beside = " ".join(f"--with {job}" for job in others)
        yield (
            f"left as drafted, for job {' and '.join(others)} too: {numbers}. With {beside} and "
            "--plan they are made anew for all; kitting order cancel drops one"
        )


def _stored(work: UnitOfWork, made: Drafts, drafts: Iterable[OrderRecord]) -> list[str]:
    """Store the drafts, each in the place of an earlier one to the same supplier."""
    waiting = {_to(record.order): record.order for record in drafts}
    said = []
    for order in made.orders:
        earlier = waiting.pop(_to(order), None)
        if earlier is None:
            kept = work.orders.make_order(order)
        else:
            kept = work.orders.remake_order(earlier.number, order)
        unchanged = earlier is not None and kept.revision == earlier.revision
        said.append(_sentence(kept, "unchanged" if unchanged else "drafted"))
    for order in waiting.values():
        reason = _step_of(OrderState.CANCELLED, "kitting", "the kit needs nothing of it any more")
        work.orders.add_step(order.number, reason)
        said.append(f"{order.number}, a draft to {order.supplier.name}: cancelled, not needed now")
    return said or ["Nothing is left to order."]


def _step_of(state: OrderState, who: str, note: str, day: date | None = None) -> Step:
    from kitting.buying.standing import Step

    return Step(state, who, day or today(), note)


def _to(order: Order) -> tuple[str, str]:
    return order.supplier.key, order.currency


def _sentence(order: Order, what: str) -> str:
    return (
        f"{order.number}, revision {order.revision}, {what}: {order.supplier.name}, "
        f"{counted(len(order.lines), 'line')}, {order.currency} {order.total:,} without VAT"
    )


@click.command()
@click.argument("number")
@click.option("--who", required=True, help="Who approves it.")
@on_day
def approve(number: str, who: str, day: date | None) -> None:
    """Freeze a draft with its prices, by a named person, once.

    Refused while a job of it is not ready, while a part of it waits for the machinist and cannot
    go back, and when the kit has come to ask for something else.

    \b
    Example:
      kitting order approve P1001 --who "K. Ferris"
    """
    from kitting.buying.approval import check_approval
    from kitting.buying.standing import before_of
    from kitting.buying.steps import check_may_approve
    from kitting.store import Database

    name = worded("--who", who)
    with Database().work() as work:
        record = work.orders.record(number)
        check_may_approve(record)
        # Held before looking at what others bring, or two at once would approve one part twice.
        work.jobs.hold(*record.order.jobs)
        others = [r for r in work.orders.records() if r.state is not OrderState.DRAFT]
        paths = paths_of(work, record.order, day)
        check_approval(record.order, paths, before_of(others))
        parts = {line.part for line in record.order.lines}
        spare = spare_told(work, others, paths.values(), parts)
        step = _step_of(OrderState.APPROVED, name, "", day)
        done = work.orders.approve_order(number, record.order.revision, step)
        work.commit()
    click.echo(f"{_sentence(done.order, 'approved')}, by {name}.")
    lapsed = sum(line.lapsed for line in done.order.lines)
    if lapsed:
        click.echo(
            f"Past their day: {counted(lapsed, 'price')}. The sheet asks to have them confirmed."
        )
    if done.order.short_by:
        click.echo(f"The goods are {done.order.short_by} below the supplier's least order.")
    for sentence in spare:
        click.echo(f"Mind: {sentence}")
    click.echo(f"Next: kitting order sheet {number}")


@click.command()
@click.argument("number")
@click.option("--who", required=True, help="Who sent it.")
@click.option("--note", default="", help="How: by post, by mail, to whom.")
def sent(number: str, who: str, note: str) -> None:
    """Note that an approved order was sent.

    \b
    Example:
      kitting order sent P1001 --who "K. Ferris" --note "by mail"
    """
    _step(number, OrderState.SENT, who, note)


@click.command()
@click.argument("number")
@click.option("--who", required=True, help="Who cancels it.")
@click.option("--reason", required=True, help="Why, in words.")
def cancel(number: str, who: str, reason: str) -> None:
    """Cancel what of an order has not come; its lines are open again.

    \b
    Example:
      kitting order cancel P1001 --who "K. Ferris" --reason "shut for August"
    """
    _step(number, OrderState.CANCELLED, who, worded("--reason", reason))


def _step(number: str, state: OrderState, who: str, note: str) -> None:
    from kitting.store import Database

    step = _step_of(state, worded("--who", who), shortened("--note", note))
    with Database().work() as work:
        done = work.orders.add_step(number, step)
        wanted = any(work.jobs.job(job).closed is None for job in done.order.jobs)
        work.commit()
    click.echo(f"{number}: {done.state}.")
    opened = [each for each in done.lines if each.reopened]
    if opened and done.cancelled and wanted:
        click.echo(f"Open again: {counted(len(opened), 'line')}. kitting order make")
