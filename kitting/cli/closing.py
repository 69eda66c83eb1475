"""`kitting job close`: a job is closed when each critical figure of its build is there."""

from __future__ import annotations

import click

from kitting.cli.amounts import shortened, worded
from kitting.cli.opened import path_within, today
from kitting.errors import BadInput, Problem


@click.command()
@click.argument("number")
@click.option("--who", required=True, help="Who closes it.")
@click.option("--note", default="", help="Anything to remember with it.")
def close(number: str, who: str, note: str) -> None:
    """Close a job for good: it is only read from then on.

    Refused until each critical figure of the build is there, and none is proven bad.

    \b
    Example:
      kitting job close 26-041 --who "K. Ferris"
    """
    from kitting.cli.build import record_within
    from kitting.cli.build_screens import missing_text
    from kitting.job.build_figures import Closing
    from kitting.store import Database

    closing = Closing(number, worded("--who", who), today(), shortened("--note", note))
    with Database().work() as work:
        work.jobs.hold(number)
        record = record_within(work, path_within(work, number))
        problems = [
            Problem(
                f"{line.planned.feature.key} (critical)",
                f"{line.planned.feature.name}: {missing_text(line)} is not measured",
                f"kitting build add {number} {line.planned.feature.key} FIGURE --who NAME",
            )
            for line in record.wanting
        ]
        problems += [
            Problem(line.planned.feature.key, str(test.because()), "put it right and measure again")
            for line in record.bad
            for test in line.tests
            if test.decision == "bad"
        ]
        if problems:
            raise BadInput(problems)
        work.building.close(closing)
        work.commit()
    doubts = sum(1 for line in record.lines if not line.is_complete)
    click.echo(f"Job {number} closed by {closing.who}. {record.sentence}")
    if doubts:
        click.echo(f"{doubts} figures that are not critical were never measured.")
