"""The papers of an order: the supplier's workbook, open documents, csv, the counting sheet."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from kitting.cli.opened import today
from kitting.cli.out_file import out_file

if TYPE_CHECKING:
    from kitting.buying.orders import Order

EXPORTS = Path("exports")
_TO = click.option(
    "--to",
    "target",
    type=click.Path(path_type=Path),
    default=None,
    help="The file to write, or the folder for it [exports/…].",
)


@click.command()
@click.argument("number")
@_TO
def sheet(number: str, target: Path | None) -> None:
    """Write the workbook that the supplier fills in and sends back.

    Nothing of the customer, of the job, of the shop's prices or of another supplier is in it.

    \b
    Example:
      kitting order sheet P1001 --to order-P1001.xlsx
    """
    from kitting.sheets.orders.supplier_sheet import write_supplier_order
    from kitting.store import Database

    with Database().read() as work:
        order = work.orders.record(number).order
        shop = work.trade.trade(()).shop
    file = out_file(target, _named(order, "order", "xlsx"))
    write_supplier_order(order, shop, file)
    click.echo(f"written: {file}")
    if order.draft:
        click.echo("It is a draft and says so: approve it before it goes out as an order.")


@click.command()
@click.argument("number")
@click.option(
    "--as",
    "form",
    type=click.Choice(["order-x", "ubl"]),
    required=True,
    help="Order-X (UN/CEFACT CII) or UBL 2.1.",
)
@_TO
def xml(number: str, form: str, target: Path | None) -> None:
    """Write an approved order as an open document.

    \b
    Example:
      kitting order xml P1001 --as ubl
    """
    from kitting.sheets.files import save_bytes
    from kitting.store import Database

    with Database().read() as work:
        order = work.orders.record(number).order
        shop = work.trade.trade(()).shop
    if form == "ubl":
        from kitting.sheets.orders.ubl import ubl_order as document
    else:
        from kitting.sheets.orders.order_x import order_x as document
    content = document(order, shop)
    file = out_file(target, _named(order, form, "xml"))
    save_bytes(content, file)
    click.echo(f"written: {file}")


@click.command("csv")
@click.argument("number")
@_TO
def as_csv(number: str, target: Path | None) -> None:
    """Write an order as comma-separated text in UTF-8.

    \b
    Example:
      kitting order csv P1001
    """
    from kitting.sheets.files import save_bytes
    from kitting.sheets.orders.as_csv import order_csv
    from kitting.store import Database

    with Database().read() as work:
        order = work.orders.record(number).order
    file = out_file(target, _named(order, "order", "csv"))
    save_bytes(order_csv(order).encode(), file)
    click.echo(f"written: {file}")


@click.command("delivery-sheet")
@click.argument("number")
@_TO
def delivery_sheet(number: str, target: Path | None) -> None:
    """Write the sheet to count and measure a parcel on.

    \b
    Example:
      kitting order delivery-sheet P1001
    """
    from kitting.buying.steps import check_may_receive
    from kitting.cli.order_common import checks_within, idle_within
    from kitting.sheets.orders.delivery_sheet import write_delivery_sheet
    from kitting.store import Database

    with Database().read() as work:
        record = work.orders.record(number)
        check_may_receive(record)
        checks = checks_within(work, record, idle_within(work, record))
        shop = work.trade.trade(()).shop
    file = out_file(target, _named(record.order, "delivery", "xlsx"))
    write_delivery_sheet(record, checks, shop, today(), file)
    click.echo(f"written: {file}")


def _named(order: Order, what: str, ending: str) -> Path:
    return EXPORTS / f"{what}-{order.number}.{ending}"
