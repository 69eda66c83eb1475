"""The workbook that goes to a supplier and comes back with his answer.

It holds what an `Order` holds and the shop's name: nothing of the customer, of what the customer
pays, or of another supplier. Numbers stand in text cells, so that none becomes a date. His own
boxes are open, with lists and limits where they help; all else is locked, without a password. A
draft has no boxes: it only shows what would be asked.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.buying.replies import MOST_FOR_ONE
from kitting.sheets.cautions import SUPPLIER
from kitting.sheets.files import save_workbook
from kitting.sheets.money import added, money_format, places_of, price_format, times
from kitting.sheets.orders.boxes import Rule, lock, open_boxes, put_field, put_keys, whole, words
from kitting.sheets.orders.keys import (
    ANSWERED_BY,
    THEIR_REFERENCE,
    Addresses,
    Box,
    Form,
    OrderKey,
    Printed,
    Said,
    Told,
)
from kitting.sheets.outgoing import Formula, OutgoingWorkbook
from kitting.sheets.page import Column, Kind, Page, strong_line
from kitting.sheets.style import PLAIN, STRONG
from kitting.sheets.words import day_text

if TYPE_CHECKING:
    from decimal import Decimal
    from pathlib import Path

    from kitting.buying.orders import Order, OrderLine
    from kitting.catalog.trade import Shop
    from kitting.sheets.page import Content

_PACKS, _PRICE, _NET, _OTHER = "E", "G", "H", "O"
_KEYS = {
    0: Told.LINE,
    1: Told.THEIRS,
    2: Told.OURS,
    4: Printed.PACKS,
    5: Printed.PACK,
    6: Printed.PRICE,
    8: Printed.DUE,
    10: Box.ANSWER,
    11: Box.PACKS,
    12: Box.PRICE,
    13: Box.DAY,
    14: Box.SUBSTITUTE,
    15: Box.REMARK,
}
# Where the marks of the addresses stand in the hidden row.
_MARKED = 7
# The facts at the head that are looked for again when the sheet comes back.
FACT_TO, FACT_PRICES = "To", "Prices"
# The columns that ask; those after them are the supplier's to fill in.
_ASKED = 10
_DRAFT = (
    "NOT AN ORDER YET: please send nothing against this sheet, neither goods nor the sheet. The "
    "order follows in a sheet of its own once it is approved."
)
_FILL_IN = (
    "Please fill in the yellow boxes and send this file back: choose 'as asked' where all is "
    "well; else give what you can send. Lines may be sorted; please leave the line letters as "
    "they are."
)


def write_supplier_order(order: Order, shop: Shop, file: Path) -> None:
    """Write the order for its supplier, over any that is there.

    Raises:
        BadInput: the file cannot be written.
    """
    save_workbook(supplier_book(order, shop), file, replace=True)


def supplier_book(order: Order, shop: Shop) -> OutgoingWorkbook:
    """The order as a workbook for its supplier."""
    return _book(order, shop.name, shop.address)


def printed_book(order: Order) -> OutgoingWorkbook:
    """The same without the shop's own name: what is printed of the order alone."""
    return _book(order, "", "")


def _book(order: Order, name: str, address: str) -> OutgoingWorkbook:
    title = f"{'Draft of order' if order.draft else 'Order'} {order.number}"
    book = OutgoingWorkbook(title, name, order.sent_on)
    columns = _columns(order.currency)[: _ASKED if order.draft else None]
    page = Page(book, "Order", columns, landscape=True)
    keys = {at: str(key) for at, key in _KEYS.items() if at < len(columns)}
    sender = f"{name}, {address}"
    if not order.draft:
        keys[_MARKED] = str(Addresses.of(sender, _receiver(order)))
    put_keys(page, OrderKey.of(Form.ORDER, order), keys)
    _head(page, order, sender, title)
    page.headings()
    first = page.row + 1
    for line in order.lines:
        _line(page, order, line)
    if not order.draft:
        open_boxes(page, range(first, page.row + 1), _rules(order))
    _totals(page, order, first)
    _held(page, order)
    page.cautions(SUPPLIER)
    page.finish(f"{name} · {title} · {day_text(order.sent_on)}")
    lock(page)
    return book


def _columns(currency: str) -> tuple[Column, ...]:
    money = money_format(currency)
    return (
        Column("Line", 12.5, Kind.MARK),
        Column("Your number", 15, Kind.NUMBER),
        Column("Our number", 16, Kind.NUMBER),
        Column("Part", 27),
        Column("Packs", 7, Kind.COUNT),
        Column("Pieces in a pack", 8, Kind.COUNT),
        Column("Price of a pack", 10, Kind.AMOUNT, money),
        Column("Line total", 11, Kind.AMOUNT, money),
        Column("Due, by your days", 11, Kind.DAY),
        Column("We note", 17),
        Column("Your answer", 10, Kind.MARK),
        Column("Packs you send", 8, Kind.COUNT),
        Column("Your price of a pack", 10, Kind.AMOUNT, "0.00##"),
        Column("Day it comes", 11, Kind.DAY),
        Column("Another number instead", 15, Kind.NUMBER),
        Column("Your remark", 18, Kind.NUMBER),
    )


def _head(page: Page, order: Order, sender: str, title: str) -> None:
    page.title(title, sender)
    if order.draft:
        strong_line(page, _DRAFT, good=False)
    approved = f"{day_text(order.sent_on)}, approved by {order.approved_by}"
    page.facts(
        (
            (FACT_TO, _receiver(order)),
            ("Date", day_text(order.day) if order.draft else approved),
            (
                "Draft" if order.draft else "Please quote",
                f"{order.number}, revision {order.revision}",
            ),
            (FACT_PRICES, f"in {order.currency}, without VAT, as you gave them"),
        )
    )
    if not order.draft:
        for name in (THEIR_REFERENCE, ANSWERED_BY):
            put_field(page, name)
        page.line(_FILL_IN)
    page.gap()


def _receiver(order: Order) -> str:
    return f"{order.supplier.name}, {order.supplier.address}"


def _rules(order: Order) -> dict[int, Rule | None]:
    """What each of the supplier's boxes lets in."""
    most = f'IF({_OTHER}{{row}}="",{_PACKS}{{row}},{_PACKS}{{row}}*{MOST_FOR_ONE})'
    earliest = f"DATE({order.day:%Y},{order.day.month},{order.day.day})"
    return {
        10: words(*Said),
        11: whole(
            most,
            "A whole number of packs, no more than are asked for unless another number comes "
            "instead: give that first.",
        ),
        12: Rule("decimal", "0", says="The price of one pack, as a number."),
        13: Rule("date", earliest, says="The day on which it will come."),
        14: None,
        15: None,
    }


def _line(page: Page, order: Order, line: OrderLine) -> None:
    row, values = page.row + 1, (line.packs, line.pack_price)
    net = times(f"{_PACKS}{row}", f"{_PRICE}{row}", values, order.currency)
    page.put_some(
        (
            line.id,
            line.their_number,
            str(line.part),
            line.name,
            line.packs,
            line.pack,
            line.pack_price,
            Formula(net, line.net),
            order.due(line),
            line.remark,
        )
    )
    page.cell(6).number_format = price_format(order.currency, line.pack_price)


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
    contents: list[Content] = [None] * len(page.columns)
    contents[3], contents[7] = name, amount
    page.loose(contents, STRONG if strong else PLAIN)


def _held(page: Page, order: Order) -> None:
    if not order.held:
        return
    page.gap()
    page.band("Not ordered yet: we shall know the size when the machining is settled")
    page.line(
        "Please say in your message which of these you have. Send none of them: we order what "
        "fits then."
    )
    for item in order.held:
        page.put_some((None, item.their_number, str(item.part), item.name))
