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
@click.argument("table")
@click.argument("grade")
@click.option("--who", required=True, help="Who decides.")
@click.option("--reason", required=True, help="Why, in words.")
def size(number: str, table: str, grade: str, who: str, reason: str) -> None:
    """Decide the grade of a size table: the grinder has clocked the crank, say.

    \b
    Example:
      kitting decide size 26-041 crankpin under-020 \\
          --who "K. Ferris" --reason "the grinder clocked it: all on one side"
    """
    from kitting.job.findings import SizeDecision
    from kitting.store import Database

    said_by, why = _word(who, reason)
    with Database().work() as work:
        job = work.jobs.job(number)
        family = work.catalogue.family(job.family, job.edition)
        if table not in family.table_by_key:
            raise NotFound("size table", table, nearest(table, family.table_by_key, 3))
        chosen = family.table_by_key[table].grade(grade)
        work.jobs.add_size_decision(number, SizeDecision(table, grade, said_by, why, today()))
        work.commit()
    name = family.table_by_key[table].name
    click.echo(f"{name}: {chosen.name}, decided by {said_by}. The sum's own answer is kept.")


def _word(who: str, reason: str) -> tuple[str, str]:
    """The name and the reason, neither empty."""
    if not who.strip() or not reason.strip():
        raise BadInput(
            Problem("--who, --reason", "one is empty", "a name, and the reason in words")
        )
    return who.strip(), reason.strip()


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
          --who "K. Ferris" --reason "on its limit, cheaper than a second strip"
    """
    from kitting.job.findings import Override
    from kitting.store import Database

    said_by, why = _word(who, reason)
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
