"""The sheet that goes to a supplier: his numbers first, since he picks by them.

It holds what an `Order` holds and the shop's name: nothing of the customer, of what the customer
pays, or of another supplier. Numbers stand in text cells, so that none becomes a date.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.buying.orders import Order
from kitting.sheets.cautions import SUPPLIER
from kitting.sheets.files import save_workbook
from kitting.sheets.money import added, money_format, places_of, price_format, times
from kitting.sheets.outgoing import Formula, OutgoingWorkbook
from kitting.sheets.page import Column, Kind, Page, strong_line
from kitting.sheets.style import BAND_FILL
from kitting.sheets.words import day_text

if TYPE_CHECKING:
    from decimal import Decimal
    from pathlib import Path

    from kitting.catalog.trade import Shop

_PACKS, _PRICE, _NET = "D", "F", "G"


def write_supplier_order(order: Order, shop: Shop, file: Path) -> None:
    """Write the order for its supplier, over any that is there.

    Raises:
        BadInput: the file cannot be written.
    """
    title = f"{'Draft of order' if order.draft else 'Order'} {order.reference}"
    book = OutgoingWorkbook(title, shop.name, order.day)
    page = Page(book, "Order", _columns(order.currency), landscape=True)
    _head(page, order, shop, title)
    page.headings()
    first = page.row + 1
    for line in order.lines:
        row, values = page.row + 1, (line.packs, line.pack_price)
        net = times(f"{_PACKS}{row}", f"{_PRICE}{row}", values, order.currency)
        page.put(
            (
                line.offer.their_number,
                str(line.offer.part),
                line.name,
                line.packs,
                line.offer.pack,
                line.pack_price,
                Formula(net, line.net),
                line.offer.days,
                line.offer.valid_until,
                line.remark,
            )
        )
        page.cell(5).number_format = price_format(order.currency, line.pack_price)
    _totals(page, order, first)
    _held(page, order)
    page.cautions(SUPPLIER)
    page.finish(f"{shop.name} · {title} · {day_text(order.day)}")
    save_workbook(book, file, replace=True)


def _columns(currency: str) -> tuple[Column, ...]:
    money = money_format(currency)
    return (
        Column("Your number", 19, Kind.NUMBER),
        Column("Our number", 19, Kind.NUMBER),
        Column("Part", 38),
        Column("Packs", 7, Kind.COUNT),
        Column("Pieces in a pack", 8, Kind.COUNT),
        Column("Price of a pack", 11, Kind.AMOUNT, money),
        Column("Line", 12, Kind.AMOUNT, money),
        Column("Days to send", 8, Kind.COUNT),
        Column("Your price holds until", 12, Kind.DAY),
        Column("Remark", 28),
    )


def _head(page: Page, order: Order, shop: Shop, title: str) -> None:
    page.title(title, f"{shop.name}, {shop.address}")
    if order.draft:
        strong_line(page, "NOT AN ORDER YET: please send nothing against this sheet.", good=False)
    page.facts(
        (
            ("To", f"{order.supplier.name}, {order.supplier.address}"),
            ("Date", day_text(order.day)),
            ("Please quote", order.reference),
            ("Prices", f"in {order.currency}, without VAT, as you gave them"),
        )
    )
    page.gap()


def _totals(page: Page, order: Order, first: int) -> None:
    goods = page.row + 1
    currency = order.currency
    _total(page, "Goods", Formula(added(f"{_NET}{first}:{_NET}{page.row}", currency), order.goods))
    _total(page, "Carriage, by your terms", _carriage(order, f"{_NET}{goods}"))
    formula = Formula(added(f"{_NET}{goods}:{_NET}{page.row}", currency), order.total)
    _total(page, f"Total in {currency}, without VAT", formula, strong=True)
    if order.short_by:
        least = f"{order.supplier.least_order:.{places_of(currency)}f} {currency}"
        page.line(
            f"These goods are {order.short_by:.{places_of(currency)}f} {currency} below your least "
            f"order of {least}: please tell us before you send them."
        )


def _carriage(order: Order, goods: str) -> Formula | Decimal:
    """The supplier's carriage, following the goods where it is free from some value on."""
    supplier = order.supplier
    if supplier.free_over is None:
        return order.carriage
    return Formula(f"=IF({goods}>={supplier.free_over},0,{supplier.carriage})", order.carriage)


def _total(page: Page, name: str, amount: Formula | Decimal, *, strong: bool = False) -> None:
    contents = (None, None, name, None, None, None, amount, None, None, None)
    page.put(contents, strong=strong, fill=BAND_FILL if strong else "")


def _held(page: Page, order: Order) -> None:
    if not order.held:
        return
    page.gap()
    page.band("Not ordered yet: we shall know the size when the machining is settled")
    page.line("Please tell us which of these you have. Send none of them: we order what fits then.")
    for item in order.held:
        page.put_some((item.their_number, str(item.part), item.name))
