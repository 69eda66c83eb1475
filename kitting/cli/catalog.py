"""`kitting catalog`: check the files, load them, show a family, find a part."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from kitting.cli.answer import Answer, reads
from kitting.cli.screen import heading, paragraph, table
from kitting.errors import BadInput, NotFound, Problem

if TYPE_CHECKING:
    from kitting.catalog.family import Family


@click.group()
def catalog() -> None:
    """Check the catalogue's files, load them, show a family, find a part."""
