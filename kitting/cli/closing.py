"""`kitting job close`: a job is closed when each critical figure of its build is there."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from kitting.cli.amounts import shortened, worded
from kitting.cli.opened import path_within, today
from kitting.errors import BadInput, NotFound, Problem

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator

    from kitting.job.build import BuildRecord
    from kitting.job.path import JobPath
    from kitting.store import UnitOfWork


@click.command()
@click.argument("number")
@click.option("--who", required=True, help="Who closes it.")
@click.option("--note", default="", help="Anything to remember with it.")
@click.option(
    "--accept",
    multiple=True,
    metavar="FIGURE",
    help="This critical figure will do, though too near to call; say why in --note.",
)
@click.option("--not-built", default="", help="The engine was not built, and why.")
def close(number: str, who: str, note: str, accept: tuple[str, ...], not_built: str) -> None:
    """Close a job for good: it is only read from then on.

    Refused until each critical figure of the build is there, held against a settled size, and
    proven good. What else is still open with the job is told.

    \b
    Examples:
      kitting job close 26-041 --who "K. Ferris"
      kitting job close 26-041 --who "K. Ferris" --accept main-bush-clearance \\
          --note "turns freely, no movement to be felt"
      kitting job close 26-042 --who "K. Ferris" --not-built "sold as it lay"
    """
    from kitting.buying.going_back import built_into
    from kitting.job.build_figures import NOT_BUILT, Closing
    from kitting.store import Database

    name, said = worded("--who", who), shortened("--note", note)
    reason = shortened("--not-built", not_built)
    with Database().work() as work:
        work.jobs.hold(number)
        path = path_within(work, number)
        record = _record(work, path)
        if reason:
            said = "; ".join(filter(None, (f"{NOT_BUILT}{reason}", said)))
        else:
            _check(record, number, accept, said)
            if accept:
                said = f"{said} (accepted, too near to call: {', '.join(accept)})"
        built_in = {} if reason else built_into(path, work.orders.records_for(number))
        work.building.close(Closing(number, name, today(), said), built_in)
        still_open = tuple(_still_open(work, path))
        work.commit()
    click.echo(f"Job {number} closed by {name}. {record.sentence if not reason else said}")
    doubts = sum(1 for line in record.lines if not line.is_complete)
    if doubts and not reason:
        click.echo(f"Never measured, and not critical: {doubts} of the figures.")
    for each in still_open:
        click.echo(f"Still open: {each}")


def _record(work: UnitOfWork, path: JobPath) -> BuildRecord:
    from kitting.cli.build import record_within

    return record_within(work, path)


def _check(record: BuildRecord, number: str, accept: Collection[str], note: str) -> None:
    doubtful = {line.planned.feature.key for line in record.doubtful}
    for key in accept:
        if key not in doubtful:
            raise NotFound("critical figure too near to call", key, sorted(doubtful))
    if accept and not note:
        raise BadInput(Problem("--note", "nothing says why it will do", "say why"))
    problems = list(_problems(record, number, accept))
    if problems:
        raise BadInput(problems)


def _problems(record: BuildRecord, number: str, accept: Collection[str]) -> Iterator[Problem]:
    from kitting.cli.build_screens import missing_text
    from kitting.measure import Decision

    if not record.lines:
        yield Problem(
            f"job {number}",
            "nothing is stripped, so nothing was built",
            "if it will not be built, say so: --not-built WHY",
        )
    for line in record.wanting:
        key, name = line.planned.feature.key, line.planned.feature.name
        yield Problem(
            f"{key} (critical)",
            f"{name}: {missing_text(line)} is not measured",
            f"kitting build add {number} {key} FIGURE --who NAME",
        )
    for line in record.unsettled:
        yield Problem(
            f"{line.planned.feature.key} (critical)",
            f"{line.planned.feature.name}: its size is not settled ({line.planned.basis})",
            f"kitting decide size {number} TABLE GRADE --who NAME --reason WHY",
        )
    doubtful = [line for line in record.doubtful if line.planned.feature.key not in accept]
    for lines, decision, right in (
        (record.bad, Decision.BAD, "put it right and measure again"),
        (doubtful, Decision.UNDECIDED, "measure again, or take it with --accept FIGURE --note WHY"),
    ):
        for line in lines:
            for test in line.tests:
                if test.decision is decision:
                    yield Problem(line.planned.feature.key, str(test.because()), right)


def _still_open(work: UnitOfWork, path: JobPath) -> Iterator[str]:
    """What the record says is not here: it stops nothing, and should be known."""
    from kitting.buying.again import ordered_again, still_missing
    from kitting.cli.order_screens import needs_somebody
    from kitting.job.bags import bags_of

    for bag in bags_of(path):
        if not bag.can_start:
            yield f"bag {bag.number}, {bag.stage}: {bag.sentence}"
    missing = still_missing(path, work.orders.records_for(path.bench.job.number))
    every = work.orders.records()
    for record in work.orders.records_for(path.bench.job.number):
        if needs_somebody(record, ordered_again(record, every, missing)):
            yield f"order {record.order.number} ({record.state})"
