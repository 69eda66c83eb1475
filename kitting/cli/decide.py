"""`kitting decide`: a named person's word against the rules, with the reason, kept for good."""

from __future__ import annotations

import click

from kitting.catalog.model import Verdict
from kitting.catalog.nearest import nearest
from kitting.cli.opened import today
from kitting.errors import BadInput, NotFound, Problem


@click.group()
def decide() -> None:
    """A named person's decision against the rules, with the reason; both are kept."""


@decide.command()
@click.argument("number")
@click.argument("position")
@click.argument("verdict", type=click.Choice([str(v) for v in Verdict]))
@click.option("--who", required=True, help="Who decides.")
@click.option("--reason", required=True, help="Why, in words.")
@click.option("--operation", default="", help="What is to be done, where the verdict is rework.")
def verdict(  # the click argument gives the name
    number: str, position: str, verdict: str, who: str, reason: str, operation: str
) -> None:
    """Decide the verdict on a position.

    \b
    Example:
      kitting decide verdict 26-041 valve-exhaust-left renew \\
          --who "K. Ferris" --reason "on its limit, and cheaper than a second strip"
    """
    from kitting.job.findings import Override
    from kitting.store import Database

    said_by, why = who.strip(), reason.strip()
    if not said_by or not why:
        raise BadInput(
            Problem("--who, --reason", "one is empty", "a name, and the reason in words")
        )
    with Database().work() as work:
        job = work.jobs.job(number)
        family = work.catalogue.family(job.family, job.edition)
        if position not in family.position_by_key:
            raise NotFound("position", position, nearest(position, family.position_by_key, 3))
        if operation and operation not in work.trade.trade(()).operation_by_key:
            known = work.trade.trade(()).operation_by_key
            raise NotFound("operation", operation, nearest(operation, known, 3))
        decided = Override(position, Verdict(verdict), operation, said_by, why, today())
        work.jobs.add_override(number, decided)
        work.commit()
    name = family.position_by_key[position].name
    click.echo(
        f"{name}: {verdict}, decided by {said_by}. The rules' own verdict is kept beside it."
    )
