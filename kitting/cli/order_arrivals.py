"""Parcels counted and measured as they come, and pieces sent back."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from kitting.buying.deliveries import Why
from kitting.buying.replies import counted
from kitting.cli.amounts import PIECES, shortened, worded
from kitting.cli.opened import today
from kitting.cli.order_common import (
    JobsNow,
    checks_within,
    idle_within,
    judged,
    others_of,
    paths_of,
)
from kitting.cli.order_proving import say_how_to_prove, say_measured
from kitting.cli.screen import paragraph
from kitting.errors import BadInput, Problem, Problems

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from kitting.buying.arrivals import Arrival
    from kitting.buying.deliveries import Delivery, DeliveryLine
    from kitting.buying.drawings import Check
    from kitting.buying.orders import Order
    from kitting.buying.standing import OrderRecord
    from kitting.store import UnitOfWork

_COUNT = re.compile(r"\s*(?P<line>[A-Za-z]+)\s*=\s*(?P<count>\d{1,6})\s*")
_LINES = "LINE=PIECES"


@click.command()
@click.argument("number")
@click.argument("file", type=click.Path(path_type=Path), required=False)
@click.option("--all", "everything", is_flag=True, help="All that was to come has come, sound.")
@click.option("--good", multiple=True, metavar=_LINES, help="Sound pieces of a line.")
@click.option("--damaged", multiple=True, metavar=_LINES, help="Of the right part, but spoilt.")
@click.option("--wrong", multiple=True, metavar=_LINES, help="Another part, or not asked for.")
@click.option("--to-follow", multiple=True, metavar=_LINES, help="Missing, and still to be sent.")
@click.option(
    "--read",
    "figures",
    multiple=True,
    metavar="LINE:FIGURE",
    help="Measured on arrival: 'KQRTB: wall 1 = .0609'.",
)
@click.option("--their-note", default="", help="The number of their delivery note.")
@click.option("--who", default="", help="Who counted; needed unless the sheet names somebody.")
def receive(
    number: str,
    file: Path | None,
    everything: bool,
    good: tuple[str, ...],
    damaged: tuple[str, ...],
    wrong: tuple[str, ...],
    to_follow: tuple[str, ...],
    figures: tuple[str, ...],
    their_note: str,
    who: str,
) -> None:
    """Count what came, by options or off a filled delivery sheet, and measure what must be.

    A line that is named and not complete is open again, but for what is said to follow; a piece
    that turns up after all closes it, unless it was bought elsewhere meanwhile. Parts whose size
    matters are held against their drawing: what is proven outside it is the wrong part, and what
    is not measured is here and counts for nothing yet.

    \b
    Examples:
      kitting order receive P1001 --all --who "J. Marlowe"
      kitting order receive P1001 --good KQRTB=2 --who "J. Marlowe" \\
          --read "KQRTB: wall 1 = .0609" --read "KQRTB: wall 2 = .0608"
      kitting order receive P1001 delivery-P1001.xlsx
    """
    from kitting.sheets.orders.delivery_in import read_delivery
    from kitting.store import Database

    with Database().work() as work:
        record = work.orders.record(number)
        checks = checks_within(work, record)
        if file is not None:
            if everything or good or damaged or wrong or to_follow or figures:
                raise BadInput(
                    Problem("FILE", "a sheet and counts are given", "give the one or the other")
                )
            came = read_delivery(file, record.order, checks, today(), record)
        else:
            counts = _Counts(record, everything, good, damaged, wrong, to_follow, figures)
            came = counts.delivery(checks)
        came = replace(
            came,
            who=worded("--who", who or came.who),
            their_note=shortened("--their-note", their_note) or came.their_note,
        )
        came, arrivals = _measured(work, record.order, came, checks)
        stored = work.orders.add_delivery(came)
        turned_up = _turned_up(work, record, came) if stored else ()
        after = work.orders.record(number)
        idle = idle_within(work, after)
        work.commit()
    if not stored:
        click.echo(f"Nothing new: delivery note {came.their_note} was booked before.")
        return
    _say(after, came, arrivals, idle)
    for says in turned_up:
        click.echo(paragraph(says, hang=2))


class _Counts:
    """What the options say came."""

    def __init__(
        self,
        record: OrderRecord,
        everything: bool,
        good: Iterable[str],
        damaged: Iterable[str],
        wrong: Iterable[str],
        to_follow: Iterable[str],
        figures: Iterable[str],
    ) -> None:
        self.record = record
        self.problems = Problems()
        self.counts: dict[str, dict[str, int]] = {}
        self.figures: dict[str, list[str]] = {}
        if everything:
            for each in record.lines:
                if each.coming:
                    self.counts[each.line.id] = {"good": each.coming}
        options = {"good": good, "damaged": damaged, "wrong": wrong, "to_follow": to_follow}
        for name, texts in options.items():
            for text in texts:
                self._count(name, text)
        for text in figures:
            self._figure(text)

    def delivery(self, checks: Mapping[str, tuple[Check, ...]]) -> Delivery:
        """The delivery, its figures understood.

        Raises:
            BadInput: with everything that cannot be understood.
        """
        from kitting.buying.arrivals import readings_of
        from kitting.buying.deliveries import Delivery, DeliveryLine

        lines = []
        for line, figures in self.figures.items():
            if line not in self.counts:
                wrong = f"line {line} is measured and not counted"
                self.problems.add("--read", wrong, f"--good {line}=PIECES, or --all")
            with self.problems.at(f"--read, line {line}"):
                readings_of(self._wanted(checks, line), figures)
        self.problems.raise_if_any()
        for line, counts in self.counts.items():
            readings = readings_of(self._wanted(checks, line), self.figures.get(line, ()))
            lines.append(
                DeliveryLine(
                    line=line,
                    good=counts.get("good", 0),
                    damaged=counts.get("damaged", 0),
                    wrong=counts.get("wrong", 0),
                    to_follow=counts.get("to_follow", 0),
                    readings=readings,
                )
            )
        return Delivery(self.record.order.number, today(), "", tuple(lines))

    def _wanted(self, checks: Mapping[str, tuple[Check, ...]], line: str) -> tuple[Check, ...]:
        """What is measured of the pieces of a line that came."""
        good = self.counts.get(line, {}).get("good", 0)
        return tuple(check.of_pieces(good) for check in checks[line])

    def _count(self, name: str, text: str) -> None:
        option = f"--{name.replace('_', '-')}"
        match = _COUNT.fullmatch(text)
        if match is None:
            self.problems.add(option, f"'{text}' is no count", "write it as KQRTB=2")
            return
        line = self._line(option, match["line"])
        if line:
            self.counts.setdefault(line, {})[name] = int(match["count"])

    def _figure(self, text: str) -> None:
        named, colon, figure = text.partition(":")
        if not colon:
            self.problems.add("--read", f"'{text}' names no line", "'KQRTB: wall 1 = .0609'")
            return
        line = self._line("--read", named)
        if line:
            self.figures.setdefault(line, []).append(figure.strip())

    def _line(self, option: str, typed: str) -> str:
        from kitting.buying.steps import line_of

        found = ""
        with self.problems.at(option):
            found += line_of(self.record, typed).line.id
        return found


def _measured(
    work: UnitOfWork, order: Order, came: Delivery, checks: Mapping[str, tuple[Check, ...]]
) -> tuple[Delivery, Mapping[str, Arrival]]:
    """The delivery with the verdict of each line that was measured."""
    lines: list[DeliveryLine] = []
    arrivals = {}
    for line in came.lines:
        wanted = tuple(check.of_pieces(line.good) for check in checks.get(line.line, ()))
        if wanted and line.good:
            found = judged(work, order, wanted, line.readings)
            arrivals[line.line] = found
            inside, outside, near = found.by_figures
            by_figures = replace(line, inside=inside, outside=outside, near=near)
            lines.append(replace(by_figures, to_measure=True))
        else:
            lines.append(line)
    return replace(came, lines=tuple(lines)), arrivals


def _turned_up(work: UnitOfWork, record: OrderRecord, came: Delivery) -> tuple[str, ...]:
    """What to say of pieces that had been missed before, `record` being the order before them.

    Raises:
        BadInput: they were bought again meanwhile.
    """
    from kitting.buying.turned_up import check_turned_up, drafts_that_ask, missed_before

    missed = {each.line: missed_before(record, each) for each in came.lines}
    if not any(missed.values()):
        return ()
    others = others_of(work, record.order)
    check_turned_up(record, came, paths_of(work, record.order, today()), others)
    said = []
    for line, pieces in missed.items():
        if pieces:
            words = f"{line}: {counted(pieces, 'piece')} came after all, and had been open again."
            drafts = " and ".join(drafts_that_ask(record, line, others))
            again = f" {drafts} was drafted to buy it again: kitting order make" if drafts else ""
            said.append(words + again)
    return tuple(said)


def _say(
    record: OrderRecord, came: Delivery, arrivals: Mapping[str, Arrival], idle: frozenset[str]
) -> None:
    arrivals = {
        line: found for line, found in arrivals.items() if not (found.is_open and line in idle)
    }
    for line in came.lines:
        standing = record.by_line[line.line]
        found = arrivals.get(line.line)
        words = [f"{line.good} good"]
        if found is not None:
            words = _proven(found) or words
        elif line.line in idle:
            words = [f"{line.good} here, needed by no job: back unused, and not measured"]
        words += [f"{line.damaged} damaged"] if line.damaged else []
        words += [f"{line.wrong} wrong"] if line.wrong else []
        words += [f"{standing.coming} to follow"] if standing.coming else []
        words += [f"{standing.reopened} open again"] if standing.reopened else []
        click.echo(f"{line.line} {standing.line.name}: {', '.join(words)}")
        if found:
            say_measured(found)
    if any(found.is_open for found in arrivals.values()):
        say_how_to_prove(record.order.number, "LINE")
    click.echo(f"{record.order.number}: {record.state}.")


def _proven(found: Arrival) -> list[str]:
    """How many pieces are good, are none, and are still to be proven."""
    counts = {
        "good": found.inside,
        "the wrong part": found.outside,
        "here, to be measured": found.near + found.unmeasured,
    }
    return [f"{count} {word}" for word, count in counts.items() if count]


@click.command("return")
@click.argument("number")
@click.argument("line")
@click.argument("pieces", type=PIECES)
@click.option("--why", type=click.Choice([str(why) for why in Why]), required=True)
@click.option("--who", required=True, help="Who sends them back.")
@click.option("--note", default="", help="Anything to remember with it.")
def send_back(number: str, line: str, pieces: int, why: str, who: str, note: str) -> None:
    """Send pieces back: surplus, unused sale or return, damaged or wrong.

    Surplus is what whole packs brought, and what no kit asks for any more; whether he takes that
    back is the supplier's to say.

    \b
    Example:
      kitting order return P1001 KQRTB 2 --why "sale or return" --who "J. Marlowe"
    """
    from kitting.buying.deliveries import Return
    from kitting.buying.going_back import Use
    from kitting.buying.steps import line_of
    from kitting.store import Database

    name = worded("--who", who)
    with Database().work() as work:
        # Held before looking at what is idle, or two at once would send another job's back.
        record = work.orders.hold(number)
        line_id = line_of(record, line).line.id
        back = Return(line_id, pieces, Why(why), name, today(), shortened("--note", note))
        now = JobsNow(work, work.orders.records_for(*record.order.jobs))
        uses = now.uses(record).get(line_id, {})
        unwanted = min(now.unwanted(record).get(line_id, 0), now.idle_here(record, line_id))
        work.orders.add_return(number, back, unwanted, now.unused(record, line_id))
        work.commit()
    click.echo(f"{number}, line {line_id}: {counted(pieces, 'piece')} back as {why}.")
    kept = sum(uses.values()) - uses.get(Use.UNUSED, 0)
    short = min(kept, pieces - uses.get(Use.UNUSED, 0)) if back.why is Why.SALE_OR_RETURN else 0
    if short > 0:
        click.echo(f"The kit asks for {counted(short, 'piece')} of it still: kitting order make")
