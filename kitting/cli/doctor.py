"""`kitting doctor`: database, migrations, catalogue, and what is missing."""

from __future__ import annotations

import click

from kitting.cli.answer import Answer, reads
from kitting.cli.screen import table


@click.command()
@reads("doctor:DoctorShape")
def doctor() -> Answer:
    """Look at the database, its migrations, the catalogue and the sheets' folder.

    \b
    Example:
      kitting doctor
    """
    raise NotImplementedError
