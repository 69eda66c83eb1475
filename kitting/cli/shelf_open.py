"""`kitting shelf open`: a set off the shelf, and what was in it onto the shelf, piece by piece."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from kitting.cli.amounts import PIECES, shortened
from kitting.cli.opened import today
from kitting.errors import BadInput, Problem

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from kitting.catalog.model import PartNumber
    from kitting.job.shelf import ShelfItem, Signature
    from kitting.store import UnitOfWork


@click.command("open")
@click.argument("set_number", metavar="SET")
@click.argument("quantity", type=PIECES, default=1)
@click.option("--where", default="", help="Where what was in it is put [where the set lay].")
@click.option("--family", default="", help="Whose set it is, where families differ in it.")
@click.option("--who", default="", help="Who did it.")
@click.option("--note", default="", help="Anything to remember with it.")
def open_set(set_number: str, quantity: int, where: str, family: str, who: str, note: str) -> None:
    """Open a set that lies on the shelf, so that its parts can be taken.

    What one cost is shared evenly by its pieces, to the penny; what is left over makes the first
    of them a penny dearer. The oldest goes first.

    \b
    Example:
      kitting shelf open "AS 650 SET" --where "bin 4"
    """
    from kitting.job.shelf import Signature
    from kitting.store import Database

    by = Signature(shortened("--who", who), today(), shortened("--note", note))
    place = shortened("--where", where)
    with Database().work() as work:
        number = work.shelf.part(set_number)
        contents = _contents(work, number, family)
        free = work.shelf.free(number)
        if free < quantity:
            wrong = f"{quantity} wanted, and {free or 'none'} of it lie free"
            raise BadInput(Problem(str(number), wrong, "'kitting shelf show' says what lies there"))
        opened = work.shelf.take_out(number, quantity, by)
        put_what_was_in(work, opened, contents, place, by)
        work.commit()
    told = ", ".join(f"{pieces} × {part}" for part, pieces in contents.items())
    click.echo(f"{number} opened; of each one on the shelf now: {told}.")


def put_what_was_in(
    work: UnitOfWork,
    opened: Iterable[ShelfItem],
    contents: Mapping[PartNumber, int],
    place: str,
    by: Signature,
) -> None:
    """Lay what was in sets that were taken off the shelf in a place, or where each set lay; the
    pieces are worth together what those very sets were."""
    from kitting.job.opening import shared_cost

    currency = work.trade.trade(()).shop.currency
    for item in opened:
        for part, pieces, each in shared_cost(item.cost, contents, currency):
            work.shelf.put_in(part, pieces * item.quantity, place or item.where, each, by)


def _contents(work: UnitOfWork, number: PartNumber, family: str) -> Mapping[PartNumber, int]:
    """What is in a set, by the families in force."""
    keys = [family] if family else dict.fromkeys(kept.family for kept in work.catalogue.families())
    found = {}
    for key in keys:
        items = work.catalogue.family(key).set_items
        contents = {item.part: item.quantity for item in items if item.set == number}
        if contents:
            found[key] = contents
    if not found:
        wrong = "no family lists what is in it"
        raise BadInput(
            Problem(str(number), wrong, "'kitting shelf out' and 'shelf in' put its parts there")
        )
    first = next(iter(found.values()))
    if any(each != first for each in found.values()):
        wrong = f"{' and '.join(found)} list different parts in it"
        raise BadInput(Problem("--family", wrong, f"say whose it is: --family {next(iter(found))}"))
    return first
