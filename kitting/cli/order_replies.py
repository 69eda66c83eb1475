"""Suppliers' replies read, and answered by a named person."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from kitting.buying.replies import Word, counted
from kitting.cli.amounts import shortened, worded
from kitting.cli.opened import today
from kitting.cli.order_common import (
    Effects,
    JobsNow,
    checks_within,
    effects_of,
    families_of,
    others_of,
    paths_of,
)
from kitting.cli.order_said import PAST
from kitting.cli.screen import paragraph
from kitting.errors import BadInput, NotFound, Problem

if TYPE_CHECKING:
    from collections.abc import Iterable

    from kitting.buying.replies import Reply, ReplyLine
    from kitting.buying.standing import OrderRecord
    from kitting.buying.substitutes import FitEffect
    from kitting.sheets.orders.keys import OrderKey
    from kitting.store import UnitOfWork


@click.command()
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--only-look", is_flag=True, help="Say what it says and store nothing.")
def reply(file: Path, only_look: bool) -> None:
    """Read the workbook (.xlsx, .ods) that a supplier filled in, and say what it changes.

    A dearer price, a short quantity, a later day or another number is a question that a named
    person answers. His last word counts: a reply that says what the last one said changes nothing,
    and one that goes back to what he said before is asked about anew.

    \b
    Examples:
      kitting order reply order-P1001.xlsx --only-look
      kitting order reply order-P1001.xlsx
    """
    from kitting.buying.steps import check_may_answer
    from kitting.cli.order_screens import order_text
    from kitting.sheets.orders.reply import read_reply
    from kitting.sheets.orders.rows import key_in
    from kitting.store import Database

    key = key_in(file)
    with Database().work() as work:
        record = _asked(work, file, key)
        check_may_answer(record)
        sheet = read_reply(file, record.order, today())
        said = _with_parts(work, record, sheet.reply)
        number = work.orders.add_reply(said)
        after = work.orders.record(key.number)
        effects = effects_of(work, after, today())
        now = JobsNow(work, work.orders.records_for(*after.order.jobs))
        others = replace(now.beside(after), unwanted=now.unwanted(after))
        checks = checks_within(work, after, others.idle)
        uses = now.uses(after)
        if not only_look:
            work.commit()
    if not number:
        click.echo(f"Nothing new: it says what the last reply to {key.number} said.")
        _look(file, sheet.written_over)
        return
    questions = counted(len(after.questions), "question")
    click.echo(f"{key.number}: {counted(len(said.lines), 'line')} answered, {questions}.")
    told = sum(1 for each in after.lines if each.told is not None)
    if told:
        click.echo(
            f"Of what is here already it speaks too: {counted(told, 'line')}; nothing asked."
        )
    click.echo("Only looked at; nothing was stored." if only_look else f"Kept as reply {number}.")
    _look(file, sheet.written_over)
    click.echo("")
    click.echo(order_text(after, effects, checks, uses, others))


def _look(file: Path, sentences: Iterable[str]) -> None:
    """Tell what was written outside the boxes."""
    for sentence in sentences:
        click.echo(paragraph(f"LOOK: {file.name}, {sentence}.", 0, 2))


def _asked(work: UnitOfWork, file: Path, key: OrderKey) -> OrderRecord:
    """The order that a sheet is of; what is none of this shop's orders is told with its file."""
    if key.stored:
        try:
            return work.orders.record(key.number)
        except NotFound:
            wrong = f"it is of order {key.number}, and no such order is in this database"
            right = "'kitting order list' shows those that are; KITTING_DATABASE names another"
    else:
        wrong = f"{key.number} is a draft that was only shown and never stored as an order"
        right = (
            "'kitting order make JOB' stores it; the sheet of the approved order is the one that "
            "comes back"
        )
    raise BadInput(Problem(file.name, wrong, right))


def _with_parts(work: UnitOfWork, record: OrderRecord, said: Reply) -> Reply:
    """The reply with the part that each substitute is found to be, and what its pieces make."""
    found = (_with_part(work, record, line) for line in said.lines)
    return replace(said, lines=tuple(_measured(work, record, line) for line in found))


def _with_part(work: UnitOfWork, record: OrderRecord, said: ReplyLine) -> ReplyLine:
    from kitting.buying.substitutes import part_named

    if not said.substitute:
        return said
    for family in families_of(work, record.order).values():
        offers = work.trade.trade(part.number for part in family.parts).offers
        found = part_named(said.substitute, record.order.supplier.key, family, offers)
        if found is not None:
            return replace(said, part=found)
    return said


def _measured(work: UnitOfWork, record: OrderRecord, said: ReplyLine) -> ReplyLine:
    from kitting.buying.substitutes import measure_of

    line = record.order.line(said.line)
    if line is None or said.part is None:
        return said
    families = families_of(work, record.order)
    each = [
        measure_of(families[n.job], work.jobs.job(n.job), n, line.part, said.part, today())
        for n in line.needed_by
    ]
    most = max((measure for measure in each if measure is not None), default=None)
    return replace(said, per=most.numerator, makes=most.denominator) if most else said


@click.command()
@click.argument("number")
@click.argument("line")
@click.argument("word", type=click.Choice([str(word) for word in Word]))
@click.option("--who", required=True, help="Who decides.")
@click.option("--reason", default="", help="Why; needed for a number that nobody knows.")
def answer(number: str, line: str, word: str, who: str, reason: str) -> None:
    """Accept or refuse what a reply changes at one line.

    What is refused, and what of an accepted line does not come, is open again. A substitute that
    does not serve where it must go cannot be accepted, nor what was given up before and is missing
    no more; to refuse that leaves all as it was agreed.

    \b
    Example:
      kitting order answer P1001 KQRTB accept --who "K. Ferris"
    """
    from kitting.buying.replies import Answer
    from kitting.buying.steps import question_at
    from kitting.buying.turned_up import check_after_all, drafts_that_ask
    from kitting.store import Database

    name, why = worded("--who", who), shortened("--reason", reason)
    drafts: tuple[str, ...] = ()
    with Database().work() as work:
        record = work.orders.record(number)
        asked = question_at(record, line)
        effect = effects_of(work, record, today()).get(asked.line.id, Effects())
        if word == Word.ACCEPT:
            _check_serves(number, asked.line.id, effect.fits, why)
            others = others_of(work, record.order)
            check_after_all(record, asked, paths_of(work, record.order, today()), others)
            if asked.after_all:
                drafts = drafts_that_ask(record, asked.line.id, others)
        said = Answer(asked.line.id, asked.reply, Word(word), name, today(), why)
        after = work.orders.add_answer(number, said)
        work.commit()
    opened = 0
    click.echo(f"{number}, line {asked.line.id}: {PAST[Word(word)]} by {name}.")
    for fit in effect.fits:
        click.echo(f"Fit: {fit.sentence}")
    for late in effect.dates if word == Word.ACCEPT else ():
        click.echo(f"Date: {late.sentence}")
    for choice in effect.choices:
        if choice.word == word:
            # What is bought by now, or wanted no more, is not ordered once more.
            opened = choice.missing
            click.echo(paragraph(f"Effect: {'; '.join(choice.sentences)}.", 0, 2))
    if opened:
        click.echo(f"Open again: {counted(opened, 'piece')}. kitting order make")
    if drafts:
        click.echo(f"{' and '.join(drafts)} was drafted to buy it again: kitting order make")
    if after.questions:
        click.echo(f"Still open: {counted(len(after.questions), 'question')}.")


def _check_serves(number: str, line: str, fits: Iterable[FitEffect], why: str) -> None:
    """Refuse a substitute that does not serve; one that nobody knows needs a reason."""
    from kitting.buying.substitutes import Serves

    place = f"order {number}, line {line}"
    for fit in fits:
        if fit.serves is Serves.NO:
            raise BadInput(Problem(place, fit.sentence, "refuse it, or ask for another"))
        if fit.serves is Serves.UNKNOWN and not why:
            raise BadInput(Problem(place, fit.sentence, "say why it will do: --reason"))
