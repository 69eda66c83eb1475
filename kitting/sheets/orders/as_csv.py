"""An order as plain comma-separated text: UTF-8, part numbers as text, nothing that runs."""

from __future__ import annotations

import csv
from decimal import Decimal
from io import StringIO
from typing import TYPE_CHECKING

from kitting.sheets.orders.codes import amount_text, price_text, unit_code
from kitting.sheets.style import safe_text

if TYPE_CHECKING:
    from kitting.buying.orders import Order

HEADINGS = (
    "order", "revision", "line", "your number", "our number", "part", "unit", "packs",
    "pieces in a pack", "pieces", "price of a pack", "line total", "currency", "due", "remark",
)  # fmt: skip
# What makes a spreadsheet program take a text for a formula; a tab or a return before it too.
_STARTS = ("=", "+", "-", "@", "\t", "\r")
# Read as UTF-8 by every program when it begins so.
_MARK = "\ufeff"


def order_csv(order: Order) -> str:
    """Return the order as text, a line of it a row.

    Figures stand bare and texts in quotes, so that a reader can tell a part number from a figure.
    Every text that could be taken for a formula gets an apostrophe before it,
    as a spreadsheet program writes one itself.
    """
    out = StringIO()
    writer = csv.writer(out, lineterminator="\r\n", quoting=csv.QUOTE_NONNUMERIC)
    writer.writerow(HEADINGS)
    for line in order.lines:
        writer.writerow(
            (
                order.number,
                order.revision,
                line.id,
                text_cell(line.their_number),
                text_cell(str(line.part)),
                text_cell(line.name),
                unit_code(line),
                line.packs,
                line.pack,
                line.pieces,
                Decimal(price_text(line.pack_price, order.currency)),
                Decimal(amount_text(line.net, order.currency)),
                order.currency,
                order.due(line).isoformat(),
                text_cell(line.remark),
            )
        )
    return _MARK + out.getvalue()


def text_cell(text: str) -> str:
    """A text that no spreadsheet program runs, nor makes a figure or a date of."""
    safe = safe_text(text)
    return f"'{safe}" if safe.startswith(_STARTS) else safe
