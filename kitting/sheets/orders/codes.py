"""The codes that order documents speak in: units, VAT categories, amounts as text."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from kitting.errors import BadInput, Problem, Problems
from kitting.sheets.money import places_of

if TYPE_CHECKING:
    from decimal import Decimal

    from kitting.buying.orders import Order, OrderLine

# UNECE Recommendation 20.
PIECE, PAIR, SET = "C62", "PR", "SET"
# UNCL 5305, as far as EN 16931 uses it.
_VAT = frozenset({"S", "Z", "E", "AE", "K", "G", "O", "L", "M"})
_WHY_NO_VAT = {
    "G": "Bought from abroad: VAT is charged when the goods come in",
    "E": "Exempt from VAT",
}
ORDER_TYPE = "220"  # UNCL 1001: order
CARRIAGE_CODE = "FC"  # UNCL 7161: freight


def unit_code(line: OrderLine) -> str:
    """What one of a line's pieces is: a set, a pair, or one."""
    words = set(re.findall(r"[a-z]+", f"{line.kind} {line.name}".lower()))
    if "set" in words or line.kind == "set":
        return SET
    return PAIR if "pair" in words else PIECE


def why_no_vat(category: str) -> str:
    """The reason that goes with a category which charges no VAT, '' where none is due."""
    return _WHY_NO_VAT.get(category, "")


def amount_text(amount: Decimal, currency: str) -> str:
    """An amount with its currency's decimals (BR-DEC: two at most for most currencies)."""
    return f"{amount:.{places_of(currency)}f}"


def number_text(number: Decimal) -> str:
    """A price or a percentage with no more decimals than it has."""
    text = format(number, "f")
    return text.rstrip("0").rstrip(".") if "." in text else text


def price_text(price: Decimal, currency: str) -> str:
    """A price with the currency's decimals, and with more where it has them."""
    text, amount = number_text(price), amount_text(price, currency)
    return amount if len(amount) >= len(text) else text


def check_documentable(order: Order) -> None:
    """Refuse what cannot stand in an order document.

    Raises:
        BadInput: it is a draft, has no lines, or a VAT category is none of the standard's.
    """
    place = f"order {order.number}"
    if order.draft:
        wrong = "it is a draft, and a document would be taken for an order"
        raise BadInput(Problem(place, wrong, "approve it first"))
    problems = Problems()
    if not order.lines:
        problems.add(place, "it has no lines", "order something")
    used = {line.vat for line in order.lines} | ({order.carriage_vat} if order.carriage else set())
    for category in sorted(used - _VAT):
        problems.add(place, f"'{category}' is no VAT category", f"one of {', '.join(sorted(_VAT))}")
    problems.raise_if_any()
