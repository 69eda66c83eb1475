"""`kitting job hours`: the shop's own hours on a job, for the estimate against actual."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from kitting.cli.amounts import HOURS, shortened, worded
from kitting.cli.opened import today
from kitting.errors import NotFound

if TYPE_CHECKING:
    from collections.abc import Sequence
    from decimal import Decimal

    from kitting.catalog.model import Assembly


@click.command(context_settings={"ignore_unknown_options": True})
@click.argument("number")
@click.argument("assembly")
@click.argument("hours", type=HOURS)
@click.option("--who", required=True, help="Who worked them.")
@click.option("--note", default="", help="On what.")
def hours(number: str, assembly: str, hours: Decimal, who: str, note: str) -> None:
    """Write hours that were worked on an assembly of a job; -0.5 takes half an hour off.

    `kitting estimate JOB --against-actual` holds them, at the shop's rate, against the estimate.

    \b
    Examples:
      kitting job hours 26-041 bottom-end 3.5 --who "J. Marlowe"
      kitting job hours 26-041 "Crankshaft and rods" 2 --who "J. Marlowe" \\
          --note "rods aligned"
    """
    from kitting.job.hand import Worked
    from kitting.store import Database

    name, said = worded("--who", who), shortened("--note", note)
    with Database().work() as work:
        job = work.jobs.job(number)
        family = work.catalogue.family(job.family, job.edition, about=())
        meant = _assembly(family.assemblies, assembly, family.key)
        total = work.in_hand.add_hours(number, Worked(meant.key, hours, name, today(), said))
        work.commit()
    click.echo(f"Job {number}, {meant.name}: {total.normalize():f} h in all.")


def _assembly(known: Sequence[Assembly], typed: str, family: str) -> Assembly:
    """An assembly by its key or its name."""
    from kitting.catalog.nearest import nearest

    wanted = " ".join(typed.split()).casefold()
    for each in known:
        if wanted in {each.key.casefold(), each.name.casefold()}:
            return each
    keys = [each.key for each in known]
    raise NotFound(f"assembly of {family}", typed, nearest(wanted.replace(" ", "-"), keys, 3))
