"""`kitting prices`: load a supplier's list, show the lists and their history, review the rest."""

from __future__ import annotations

import sys
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from kitting.cli.answer import Answer, reads
from kitting.cli.opened import Day, today
from kitting.errors import BadInput, NotFound, Problem

if TYPE_CHECKING:
    from datetime import date

    from kitting.catalog.answers import AnswerChange
    from kitting.cli.price_loading import Look
    from kitting.store.database import UnitOfWork
    from kitting.store.price_review import Proposal


class Percent(click.ParamType[Decimal]):
    """A percentage, written 5 or 2.5."""

    name = "percent"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """Read it exactly, or say how it is written."""
        try:
            percent = Decimal(str(value).strip().removesuffix("%").strip())
        except InvalidOperation:
            percent = Decimal(-1)
        if not percent.is_finite() or not 0 <= percent <= 10_000:
            self.fail(f"'{value}' is no percentage; write one such as 5 or 2.5", param, ctx)
        return percent


@click.group()
def prices() -> None:
    """Load suppliers' price lists, show them and their history, review what they left."""


_MOST = click.option(
    "--most", type=click.IntRange(1, 100_000), default=20, help="How many of each kind [20]."
)


@prices.command()
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--supplier", required=True, help="Whose list it is, by his key.")
@click.option("--map", "maps", multiple=True, metavar="FIELD=HEADING", help="Which column is what.")
@click.option("--confirm", is_flag=True, help="Columns and changes are agreed to: store it.")
@click.option("--only-look", is_flag=True, help="Show what would change, store nothing.")
@click.option("--put-aside", is_flag=True, help="Keep rows that cannot be taken for review.")
@click.option("--dearer-by", type=Percent(), default="5", help="Per cent that matter [5].")
@click.option("--currency", default="", help="Of prices that name none [the supplier's].")
@click.option("--decimal", type=click.Choice(["point", "comma"]), help="The mark before decimals.")
@click.option("--per", type=click.IntRange(1, 100_000), help="For how many prices are [a pack].")
@click.option("--valid-from", type=Day(), default=None, help="First day [today].")
@click.option("--valid-until", type=Day(), default=None, help="Last day [a year on].")
@click.option(
    "--days", type=click.Choice(["day-first", "month-first"]), help="1/9 [as its days tell]."
)
@_MOST
@reads("prices:LoadShape")
def load(
    file: Path,
    supplier: str,
    maps: tuple[str, ...],
    confirm: bool,
    only_look: bool,
    put_aside: bool,
    dearer_by: Decimal,
    currency: str,
    decimal: str | None,
    per: int | None,
    valid_from: date | None,
    valid_until: date | None,
    days: str | None,
    most: int,
) -> Answer:
    """Load a supplier's price list: .csv, .xlsx or .ods, of any size and heading.

    Which column holds what is guessed, shown, and remembered for the supplier once confirmed; with
    --map it is given: by heading, as 'column C', or 'none'; for one sheet of a workbook as
    price@Sheet=Net. What changes is shown before anything
    is stored. Without --confirm it asks, where there is a terminal. The list is stored whole or
    not at all; the one before stays in the history.

    \b
    Fields: number part maker price currency per unit pack quantity
            breaks valid_from valid_until days stock quality superseded_by text

    \b
    Examples:
      kitting prices load autumn.xlsx --supplier marlbeck --only-look
      kitting prices load autumn.xlsx --supplier marlbeck --confirm
      kitting prices load list.csv --supplier marlbeck \\
          --map "price=Net £, number=Code"
    """
    from kitting.cli.price_loading import LoadOptions, keep, look_at, progress
    from kitting.sheets.price_lists.dates import Order
    from kitting.sheets.price_lists.headings import parse_map, parse_sheet_maps
    from kitting.store import Database
    from kitting.store.price_spool import PriceSpool

    mark = {"point": ".", "comma": ",", None: ""}[decimal]
    options = LoadOptions(
        supplier, parse_map(maps), dearer_by, most, today(), currency.strip().upper(), valid_from,
        valid_until, mark, put_aside, per or 0, parse_sheet_maps(maps),
        Order(days) if days else None,
    )  # fmt: skip
    database = Database()
    with PriceSpool() as spool:
        with progress("reading") as advance:
            look = look_at(database, file, options, spool, advance)
        wanted = not (only_look or look.same)
        asked = wanted and not confirm and sys.stdin.isatty() and sys.stderr.isatty()
        stored = wanted and (confirm or (asked and _agreed(look, dearer_by)))
        if stored:
            with progress("storing", spool.offers_count) as advance:
                keep(database, look, spool, advance)

    def shape() -> object:
        from kitting.cli.shapes.prices import load_shape

        made = load_shape(look, stored)
        _leave(stored or asked or not wanted)
        return made

    def text() -> str:
        from kitting.cli.price_screens import look_text, outcome_text

        outcome = outcome_text(look, stored)
        shown = outcome if asked else f"{look_text(look, dearer_by)}\n\n{outcome}"
        _leave(stored or asked or not wanted)
        return shown

    return shape, text


def _agreed(look: Look, dearer_by: Decimal) -> bool:
    """Show a person at a terminal what would change, and ask."""
    from kitting.cli.price_screens import look_text

    click.echo(look_text(look, dearer_by), err=True)
    return click.confirm("\nAre the columns right, and shall the list be stored?", err=True)


def _leave(done: bool) -> None:
    """When all is shown, leave with the status that says whether it was done."""
    if not done:
        click.get_current_context().call_on_close(_leave_unstored)


def _leave_unstored() -> None:
    click.echo("Not stored: look at it, then run it again with --confirm.", err=True)
    raise click.exceptions.Exit(2)


@prices.command()
@click.argument("part", required=False)
@click.option("--supplier", default="", help="Only his lists [all].")
@reads("prices:PricesShape")
def show(part: str | None, supplier: str) -> Answer:
    """Show the price lists that hold; with PART (maker:number), what it is offered for.

    \b
    Examples:
      kitting prices show
      kitting prices show cor:C61-6110
    """
    return _shown(part, supplier, history=False)


@prices.command()
@click.argument("part", required=False)
@click.option("--supplier", default="", help="Only his lists [all].")
@reads("prices:PricesShape")
def history(part: str | None, supplier: str) -> Answer:
    """Show every price list there ever was; with PART, every price it was offered for.

    \b
    Examples:
      kitting prices history --supplier marlbeck
      kitting prices history cor:C61-6110
    """
    return _shown(part, supplier, history=True)


def _shown(part: str | None, supplier: str, history: bool) -> Answer:
    from kitting.store import Database

    with Database().read() as work:
        _need_supplier(work, supplier)
        lists = [k for k in work.prices.lists(supplier) if history or k.ended_at is None]
        number = work.price_review.part(part) if part else None
        offers = [
            past
            for past in (work.trade.offers.history(number) if number else ())
            if supplier in {"", past.offer.supplier} and (history or past.ended_at is None)
        ]

    def shape() -> object:
        from kitting.cli.shapes.prices import PricesShape, list_shapes, past_shapes

        return PricesShape(list_shapes(lists), past_shapes(offers))

    def text() -> str:
        from kitting.cli.price_screens import lists_text, offers_text

        return offers_text(str(number), offers, history) if number else lists_text(lists, history)

    return shape, text


def _need_supplier(work: UnitOfWork, supplier: str) -> None:
    if supplier and supplier not in (known := work.trade.trade(()).supplier_by_key):
        from kitting.catalog.nearest import nearest

        raise NotFound("supplier", supplier, nearest(supplier, known, 3))


@prices.command()
@click.option("--supplier", default="", help="Only his lists; needed for --match and --none.")
@click.option("--accept", type=int, multiple=True, metavar="NO", help="A proposed link is right.")
@click.option("--as", "known_as", default="", help="Which part its new number is, maker:number.")
@click.option(
    "--refuse", type=int, multiple=True, metavar="NO", help="A proposed link is wrong, or was."
)
@click.option(
    "--confirm", is_flag=True, help="Accept it though it leaves a number without an answer."
)
@click.option("--match", "matches", multiple=True, metavar="NUMBER=PART", help="It is this part.")
@click.option("--none", "nones", multiple=True, metavar="NUMBER", help="It is none of ours.")
@click.option("--who", default="", help="Whose word it is; needed for every decision.")
@click.option("--why", default="", help="For what reason.")
@_MOST
@reads("prices:ReviewShape")
def review(
    supplier: str,
    accept: tuple[int, ...],
    known_as: str,
    refuse: tuple[int, ...],
    confirm: bool,
    matches: tuple[str, ...],
    nones: tuple[str, ...],
    who: str,
    why: str,
    most: int,
) -> Answer:
    """List what price lists left for a person, and take his decisions.

    An accepted link counts from that day like one of the catalogue, in every family; which answers
    it changes is told, and one that leaves a number without any is refused until --confirm says
    that it is meant. A matched number is known when
    the supplier's list is loaded the next time; the same file will do. --refuse takes an accepted
    link back too.

    \b
    Examples:
      kitting prices review
      kitting prices review --accept 3 --accept 4 --who Joan
      kitting prices review --accept 5 --as cor:C61-6111 --who Joan
      kitting prices review --supplier marlbeck \\
          --match "31-42-1=cor:C61-6110" --who Joan
    """
    from kitting.store import Database

    database = Database()
    decided: list[Proposal] = []
    changes: list[AnswerChange] = []
    if accept or refuse or matches or nones:
        _need_name(who, supplier, bool(matches or nones), len(accept), known_as)
        with database.work() as work:
            for key in accept:
                part = work.price_review.part(known_as) if known_as else None
                accepting = work.price_accepting
                link, answers = accepting.accept(key, who, today(), part, anyhow=confirm)
                decided.append(link)
                changes += answers
            for key in refuse:
                decided.append(work.price_review.refuse(key, who, why))
            for number, name in map(_match, matches):
                part = work.price_review.part(name)
                work.price_review.decide_number(supplier, number, part, who, why)
            for number in nones:
                work.price_review.decide_number(supplier, number, None, who, why)
            work.commit()
    with database.read() as work:
        _need_supplier(work, supplier)
        strays = work.price_review.strays(supplier, most)
        links = work.price_review.proposals(supplier, most=most)

    def shape() -> object:
        from kitting.cli.shapes.prices import review_shape

        return review_shape(strays, links, decided, changes)

    def text() -> str:
        from kitting.cli.price_screens import review_text

        return review_text(strays, links, decided, changes)

    return shape, text


def _need_name(who: str, supplier: str, numbers: bool, accepted: int, known_as: str) -> None:
    problems = []
    if not who.strip():
        problems.append(Problem("--who", "nobody's name is given", "say whose decision it is"))
    if numbers and not supplier:
        problems.append(Problem("--supplier", "no supplier is named", "say whose number it is"))
    if known_as and accepted != 1:
        problems.append(Problem("--as", "it goes with one --accept", "accept them one by one"))
    if problems:
        raise BadInput(problems)


def _match(text: str) -> tuple[str, str]:
    number, equals, part = text.rpartition("=")
    if not equals or not number.strip() or not part.strip():
        raise BadInput(Problem("--match", f"'{text}' names no part", "write 31-42=cor:C61-6110"))
    return number.strip(), part.strip()
