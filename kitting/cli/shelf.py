"""`kitting shelf`: the shop's own stock: in, out, counted, taken for a job, given back."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

import click

from kitting.cli.amounts import AMOUNT, COUNTED, PIECES, paid, shortened, worded
from kitting.cli.answer import Answer, reads
from kitting.cli.kit_lines import line_of, named
from kitting.cli.opened import path_within, today
from kitting.cli.screen import paragraph
from kitting.cli.shelf_open import open_set
from kitting.errors import BadInput, Problem

if TYPE_CHECKING:
    from collections.abc import Callable
    from typing import Any

    from kitting.buying.drafting import Before
    from kitting.catalog.model import PartNumber
    from kitting.job.hand import InHand
    from kitting.job.kit import KitLine
    from kitting.job.path import JobPath
    from kitting.job.shelf import Signature
    from kitting.store import UnitOfWork


@click.group()
def shelf() -> None:
    """The shop's own shelf: what lies there, and every movement of it."""


shelf.add_command(open_set)


def _signed(function: Callable[..., Any]) -> Callable[..., Any]:
    function = click.option("--note", default="", help="Anything to remember with it.")(function)
    return click.option("--who", default="", help="Who did it.")(function)


def _signature(who: str, note: str) -> Signature:
    from kitting.job.shelf import Signature

    return Signature(shortened("--who", who), today(), shortened("--note", note))


@shelf.command("in")
@click.argument("part")
@click.argument("quantity", type=PIECES)
@click.option("--where", required=True, help="Where it is put, such as 'bin 4'.")
@click.option("--cost", type=AMOUNT, default=Decimal(0), help="What one cost the shop.")
@click.option("--from-order", "order", default="", help="Of what this order brought too many.")
@_signed
def put_in(
    part: str, quantity: int, where: str, cost: Decimal, order: str, who: str, note: str
) -> None:
    """Put pieces of a part on the shelf.

    What an order brought and no kit asks for is the order's no more once it is put in with
    --from-order: it is not named again before more is bought, nor does it go back.

    \b
    Examples:
      kitting shelf in C65-1190 8 --where "bin 4" --cost 1.35
      kitting shelf in C65-1190 2 --where "bin 4" --from-order P1001
    """
    from kitting.cli.from_order import take_from_order
    from kitting.store import Database

    by, place = _signature(who, note), worded("--where", where)
    with Database().work() as work:
        number = work.shelf.part(part)
        paid("--cost", cost, work.trade.trade(()).shop.currency)
        if order:
            take_from_order(work, order, number, quantity, by, place)
        work.shelf.put_in(number, quantity, place, cost, by)
        free = work.shelf.free(number)
        work.commit()
    click.echo(f"{quantity} × {number} into {place}; {free} lie free now.")


@shelf.command("out")
@click.argument("part")
@click.argument("quantity", type=PIECES)
@click.option("--where", default="", help="Out of this place only.")
@_signed
def take_out(part: str, quantity: int, where: str, who: str, note: str) -> None:
    """Take pieces off the shelf that are for no job: spoilt, sold, lent.

    \b
    Example:
      kitting shelf out C65-1190 1 --note "dropped and bent"
    """
    from kitting.store import Database

    by, place = _signature(who, note), shortened("--where", where)
    with Database().work() as work:
        number = work.shelf.part(part)
        work.shelf.take_out(number, quantity, by, place)
        free = work.shelf.free(number)
        work.commit()
    click.echo(f"{quantity} × {number} off the shelf; {free} lie free now.")


@shelf.command()
@click.argument("part")
@click.argument("quantity", type=COUNTED)
@click.option("--where", default="", help="The place that was counted.")
@click.option("--cost", type=AMOUNT, default=None, help="What one of those over cost.")
@_signed
def count(part: str, quantity: int, where: str, cost: Decimal | None, who: str, note: str) -> None:
    """Say how many were counted; the ledger is brought to it, and the difference kept.

    \b
    Example:
      kitting shelf count C65-1190 7 --where "bin 4" --who "J. Marlowe"
    """
    from kitting.store import Database

    by, place = _signature(who, note), shortened("--where", where)
    with Database().work() as work:
        number = work.shelf.part(part)
        if cost is not None:
            paid("--cost", cost, work.trade.trade(()).shop.currency)
        off = work.shelf.count(number, quantity, by, place, cost)
        work.commit()
    was = "as the ledger had it" if off == 0 else f"{abs(off)} {'more' if off > 0 else 'fewer'}"
    click.echo(f"{number}: {quantity} counted, {was}.")


@shelf.command()
@click.argument("job")
@click.argument("line")
@click.option("--part", "typed", default="", help="Another number that serves there as well.")
@click.option("--quantity", type=PIECES, default=None, help="How many [all that is missing].")
@_signed
def take(job: str, line: str, typed: str, quantity: int | None, who: str, note: str) -> None:
    """Take the parts of a kit line off the shelf for a job; nobody else can have them then.

    \b
    Example:
      kitting shelf take 26-041 2.03 --who "J. Marlowe"
    """
    from kitting.store import Database

    by = _signature(who, note)
    with Database().work() as work:
        work.jobs.hold(job)
        path = path_within(work, job)
        wanted = line_of(path, line)
        part = _part_for(work, wanted, typed)
        count = _wanted(path, wanted, part, quantity)
        _check_alike(path, wanted, part, count, _coming(work, path))
        work.shelf.take(job, wanted.positions[0], part, count, by)
        free = work.shelf.free(part)
        # What comes may be another's now, who misses it.
        hand = work.in_hand.hand(job)
        work.commit()
    click.echo(f"{count} × {part} taken for {named(wanted)}; {free} lie free still.")
    if wanted.hold:
        click.echo(
            f"The line is HELD until {wanted.hold_until}: it may become {wanted.worst_grade}. "
            "Fit nothing yet, and give the parts back if it does."
        )
    for each in hand.too_many(wanted):
        told = f"{each.place} brings {each.quantity} × {each.part} for it too, which nobody needs "
        click.echo(paragraph(f"LOOK: {told}now: cancel or change that in time.", 0, 2))


def _part_for(work: UnitOfWork, line: KitLine, typed: str) -> PartNumber:
    """The part to take: the one named, else the line's own.

    Raises:
        BadInput: it does not serve there; the shelf has none, and something else that would serve.
    """
    if typed:
        part = work.shelf.part(typed)
        if part != line.part and part not in line.serves:
            raise BadInput(
                Problem(
                    "--part", f"{part} does not serve in {named(line)}", f"it takes {line.part}"
                )
            )
        return part
    if line.part is None:
        raise BadInput(Problem(named(line), f"no part is named for it: {line.problem}"))
    others = [item.part for item in work.shelf.items(line.serves) if item.part != line.part]
    if not work.shelf.free(line.part) and others:
        raise BadInput(
            Problem(
                named(line),
                f"the shelf has no {line.part}, but it has {', '.join(map(str, others))}, which "
                "serves there as well",
                f"say so if you want it: --part {others[0]}",
            )
        )
    return line.part


def _wanted(path: JobPath, line: KitLine, part: PartNumber, quantity: int | None) -> int:
    """How many of a part to take: those named, else all that the line still misses."""
    from kitting.job.counting import Lot

    missing = path.hand.made(line).wanted(Lot(part, 0))
    if not missing:
        raise BadInput(
            Problem(named(line), f"its {line.quantity} are in hand already", "take no more of it")
        )
    if quantity is not None and quantity > missing:
        raise BadInput(
            Problem("--quantity", f"{named(line)} misses only {missing}, not {quantity}")
        )
    return quantity or missing


def _coming(work: UnitOfWork, path: JobPath) -> Before:
    """What the orders that were approved bring to a job."""
    from kitting.buying.standing import before_of

    records = work.orders.records_for(path.bench.job.number)
    return before_of(record for record in records if not record.order.draft)


def _check_alike(
    path: JobPath, line: KitLine, part: PartNumber, count: int, before: Before
) -> None:
    """Refuse another maker's beside what is matched, and a part of a line by another number."""
    from kitting.buying.taking import makes_whole, matched_with
    from kitting.job.counting import Lot

    matched = (each for fellow in matched_with(path, line) for each in path.hand.of(fellow))
    others = sorted({each.part for each in matched if each.part and each.part.maker != part.maker})
    if others:
        raise BadInput(
            Problem(
                named(line),
                f"{', '.join(map(str, others))} is in hand for what it is matched with, and these "
                "are of one maker",
                "give that back first, or take the same maker's",
            )
        )
    if part != line.part and not makes_whole(path, line, Lot(part, count), before):
        here = dict.fromkeys(lot.part for lot in path.hand.lots(line) if lot.part != part)
        beside = ", ".join(f"what is here of {other}" for other in here)
        raise BadInput(
            Problem(
                named(line),
                f"it takes {line.part}; {part} may stand for it only as a whole, all "
                f"{line.whole_of(part)}{f' less {beside}' if here else ''}",
            )
        )


@shelf.command("give-back")
@click.argument("job")
@click.argument("what")
@click.option("--quantity", type=PIECES, default=None, help="How many [all that were taken].")
@_signed
def give_back(job: str, what: str, quantity: int | None, who: str, note: str) -> None:
    """Put back on the shelf what was taken for a job: WHAT is a kit line or a part number.

    A part number is for what the kit no longer asks for.

    \b
    Example:
      kitting shelf give-back 26-041 2.03
    """
    from kitting.store import Database

    by = _signature(who, note)
    with Database().work() as work:
        work.jobs.hold(job)
        taken = _taken(work, path_within(work, job), what)
        total = sum(taken.values())
        if not total or (quantity or 0) > total:
            raise BadInput(
                Problem(what, f"job {job} has {total or 'none'} of it from the shelf", "look at "
                        f"`kitting bags {job}`")
            )  # fmt: skip
        left = quantity or total
        for (position, part), count in taken.items():
            back = min(left, count)
            if back > 0:
                work.shelf.give_back(job, position, part, back, by)
                left -= back
        work.commit()
    click.echo(f"{quantity or total} given back to the shelf.")


def _taken(work: UnitOfWork, path: JobPath, what: str) -> dict[tuple[str, PartNumber], int]:
    """What the job has from the shelf of a line or a part, by position and part."""
    from kitting.job.hand import Source

    pieces: tuple[InHand, ...]
    if what in path.kit.by_key:
        pieces = path.hand.of(path.kit.by_key[what], Source.SHELF)
    else:
        number = work.shelf.part(what)
        taken = (each for each in path.hand.pieces if each.source is Source.SHELF)
        pieces = tuple(each for each in taken if each.part == number)
    totals: dict[tuple[str, PartNumber], int] = {}
    for each in pieces:
        if each.part is not None:
            key = (each.position, each.part)
            totals[key] = totals.get(key, 0) + each.quantity
    return totals


@shelf.command()
@click.option("--find", "words", default="", help="Only rows with this in any column.")
@click.option("--ledger", is_flag=True, help="Every movement, oldest first.")
@reads("shelf:ShelfShape")
def show(words: str, ledger: bool) -> Answer:
    """Show what lies free, what the jobs have taken, or every movement.

    \b
    Examples:
      kitting shelf show --find "bin 4"
      kitting shelf show --ledger --find C65-1190
    """
    from kitting.cli.shelf_screens import ledger_text, look, shelf_text

    seen = look(words)

    def shape() -> object:
        from kitting.cli.shapes.shelf import shelf_shape

        return shelf_shape(seen)

    return shape, lambda: ledger_text(seen) if ledger else shelf_text(seen)
