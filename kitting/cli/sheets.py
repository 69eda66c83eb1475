"""`kitting sheets`: the workbooks of a job."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from kitting.cli.job import readiness_text
from kitting.cli.opened import on_day, path_of

EXPORTS = Path("exports")


@click.command()
@click.argument("number")
@click.option(
    "--to",
    "folder",
    type=click.Path(path_type=Path, file_okay=False),
    default=EXPORTS,
    show_default=True,
    help="The folder to write into.",
)
@on_day
def sheets(number: str, folder: Path, day: date | None) -> None:
    """Write the workbooks of a job: estimate, orders, works sheets, pick list, the whole job.

    While the job is not ready to order, the orders are marked as drafts.

    \b
    Example:
      kitting sheets 26-041 --to exports/26-041
    """
    from kitting.sheets.jobs.papers import write_papers

    path = path_of(number, day)
    for file in write_papers(path, folder):
        click.echo(f"written: {file}")
    click.echo(readiness_text(path.kit.readiness))
