"""What came, proven: measured later or again, or settled by a named person's word."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from kitting.buying.arrivals import SETTLE
from kitting.buying.replies import Word, counted
from kitting.cli.amounts import worded
from kitting.cli.opened import today
from kitting.cli.order_common import checks_within, judged
from kitting.cli.screen import paragraph

if TYPE_CHECKING:
    from kitting.buying.arrivals import Arrival
    from kitting.buying.standing import LineStanding

_DELIVERY = click.option(
    "--delivery",
    type=click.IntRange(1),
    default=None,
    help="Of which delivery, by its number [the first that is not proven].",
)
_TAKEN = {Word.ACCEPT: "taken as good", Word.REFUSE: "not taken: the wrong part"}


@click.command()
@click.argument("number")
@click.argument("line")
@click.argument("figures", nargs=-1, required=True)
@click.option("--who", required=True, help="Who measured.")
@_DELIVERY
def measure(
    number: str, line: str, figures: tuple[str, ...], who: str, delivery: int | None
) -> None:
    """Measure what came of a line, for the first time or again; the last figure of a place holds.

    As many figures are wanted as pieces came, up to eight. Each figure judges its own piece. While
    all eight are good the others count as good; once one is not, each of them is measured.

    \b
    Example:
      kitting order measure P1001 KQRTB "wall 1 = .0609" "wall 2 = .0608" \\
          --who "J. Marlowe"
    """
    from kitting.buying.arrivals import join_readings, readings_of
    from kitting.buying.steps import Measured, line_of, parcel_to_prove
    from kitting.store import Database

    name = worded("--who", who)
    with Database().work() as work:
        record = work.orders.record(number)
        line_id = line_of(record, line).line.id
        parcel, came = parcel_to_prove(record, line_id, delivery)
        every = checks_within(work, record)[line_id]
        checks = tuple(check.of_pieces(came.good) for check in every)
        readings = readings_of(checks, figures)
        arrival = judged(work, record.order, checks, join_readings(came.readings, readings))
        measured = Measured(parcel, came.readings, readings, arrival.by_figures, name)
        after = work.orders.add_measured(number, line_id, measured)
        work.commit()
    standing = after.by_line[line_id]
    click.echo(
        f"{line_id} {standing.line.name}, {counted(came.good, 'piece')} of delivery {parcel}"
    )
    left = arrival.kept(standing.unproven)
    say_measured(left)
    _say_left(standing)
    if left.is_open:
        say_how_to_prove(number, line_id)


@click.command()
@click.argument("number")
@click.argument("line")
@click.argument("word", type=click.Choice([str(word) for word in Word]))
@click.option("--who", required=True, help="Who takes it on himself.")
@click.option("--reason", required=True, help="Why, in words.")
@_DELIVERY
def settle(number: str, line: str, word: str, who: str, reason: str, delivery: int | None) -> None:
    """Take or refuse what came of a line and no figure proves, by a named person.

    For pieces too near their drawing to call, or that the shop cannot measure. What is accepted
    counts as good; what is refused is the wrong part, open again and free to go back. The word is
    kept for good, with the figures. Figures that prove something outrank it, now or later.

    \b
    Example:
      kitting order settle P1001 KQRTB accept --who "K. Ferris" \\
          --reason "on the limit; the housing is at its smallest"
    """
    from kitting.buying.proven import Settled, left_open
    from kitting.buying.steps import line_of, parcel_to_prove
    from kitting.store import Database

    name, why = worded("--who", who), worded("--reason", reason)
    with Database().work() as work:
        record = work.orders.record(number)
        line_id = line_of(record, line).line.id
        parcel, came = parcel_to_prove(record, line_id, delivery)
        said = Settled(line_id, parcel, Word(word), name, today(), why)
        after = work.orders.add_settled(number, said)
        work.commit()
    standing = after.by_line[line_id]
    pieces = f"{counted(left_open(came), 'piece')} of delivery {parcel}"
    said_of = f"{line_id} {standing.line.name}, {pieces}: {_TAKEN[said.word]}, by {name}."
    click.echo(paragraph(said_of, hang=2))
    _say_left(standing)


def say_measured(arrival: Arrival) -> None:
    """Say what the figures of a line prove, and what is not measured of it."""
    if arrival.telling:
        click.echo(f"  measured: {arrival.word}")
    for test in arrival.telling:
        click.echo(f"    {test.because()}")
    for name in arrival.missing:
        click.echo(f"    {name}: not measured yet")


def say_how_to_prove(number: str, line_id: str) -> None:
    """Say what proves a line, or settles it."""
    click.echo(f"Measure: kitting order measure {number} {line_id} FIGURE… --who NAME")
    click.echo(f"or: {SETTLE} {number} {line_id} accept|refuse --who NAME --reason WHY")


def _say_left(standing: LineStanding) -> None:
    if standing.unproven:
        click.echo(f"Here and not proven: {counted(standing.unproven, 'piece')}.")
    if standing.reopened:
        click.echo(f"Open again: {counted(standing.reopened, 'piece')}. kitting order make")
