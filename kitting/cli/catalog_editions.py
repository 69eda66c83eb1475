"""What a loading did, which edition of a family is in force; and `kitting catalog put-back`.

One rule: the edition whose name came last is in force, whatever is loaded again, until an earlier
one is put back by name. So loading a folder once more never takes a newer edition's place.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from kitting.errors import BadInput

if TYPE_CHECKING:
    from collections.abc import Iterator

    from kitting.catalog.rows import Sources
    from kitting.store import LoadedTrade
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


def trade_words(loaded: LoadedTrade) -> Iterator[str]:
    """What a loading made of the shop's terms and of the price lists, each that ended by name."""
    lists = ", ".join((*loaded.price_lists, *map(str, loaded.taken_up)))
    if not loaded.changed:
        state = "there already, unchanged"
    elif loaded.ended and not lists:
        state = "loaded"
    else:
        state = f"loaded (price lists: {lists or 'as before'})"
    yield f"Suppliers, prices and the shop's terms: {state}"
    for each in loaded.taken_up:
        yield f"Price list of {each}: holds again, for suppliers.csv names {each.supplier} again"
    for each in loaded.replaced:
        yield (
            f"Price list of {each}: ended, for offers-{each.supplier}.csv is another than it was "
            "and holds in its place; it is kept, and holds again once it is loaded again"
        )
    for each in loaded.ended:
        yield (
            f"Price list of {each}: ended, for suppliers.csv does not name {each.supplier}; it is "
            "kept, and holds again once he is named there"
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
