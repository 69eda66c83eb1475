"""Which edition of a family is in force, in words; and `kitting catalog put-back`.

One rule: the edition whose name came last is in force, whatever is loaded again, until an earlier
one is put back by name. So loading a folder once more never takes a newer edition's place.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from kitting.errors import BadInput

if TYPE_CHECKING:
    from kitting.catalog.rows import Sources
    from kitting.store.catalogue import Loaded


def loaded_words(loaded: Loaded, key: str) -> str:
    """What a loading did, and which edition is in force after it."""
    did = "loaded" if loaded.changed else "there already, unchanged"
    if loaded.in_force == loaded.edition:
        return f"{did}; it is in force"
    return (
        f"{did}; edition {loaded.in_force} stays in force "
        f"(this one takes its place with: kitting catalog put-back {key} {loaded.edition})"
    )


@click.command("put-back")
@click.argument("family")
@click.argument("edition")
def put_back(family: str, edition: str) -> None:
    """Put an earlier edition of a family in force again.

    FAMILY and EDITION are as `kitting catalog show` lists them. Jobs keep the edition that they
    were opened under; new ones, and every question about parts, take the one in force.

    \b
    Example:
      kitting catalog put-back corvane-650 1970-4
    """
    from kitting.cli.circles_told import circles_told
    from kitting.store import Database

    with Database().work() as work:
        before = work.catalogue.family(family).edition
        done = work.catalogue.put_back(family, edition)
        now = work.catalogue.family(family)
        sources: Sources = {}
        circles = tuple(circles_told(work, {family: (now, sources)})) if done.changed else ()
        if circles:
            raise BadInput(problem for _, problem in circles)
        work.commit()
    instead = f", in place of edition {before}" if done.changed else " already"
    click.echo(f"{now.name}, edition {now.edition}: in force{instead}.")
