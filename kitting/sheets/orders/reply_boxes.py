"""The boxes of a reply, each read from its cell: a value, None or '' when blank, or a refusal."""

from __future__ import annotations

from decimal import Decimal, InvalidOperation
from typing import TYPE_CHECKING

from kitting.buying.replies import right_packs, wrong_day, wrong_packs, wrong_price
from kitting.errors import BadInput, Problem
from kitting.sheets.cells import day_in, figure_in, number_in
from kitting.sheets.orders.keys import Said
from kitting.sheets.orders.rows import plain_words

if TYPE_CHECKING:
    from datetime import date

    from kitting.buying.orders import Order, OrderLine
    from kitting.sheets.cells import AnyCell

_MOST_OF_A_NUMBER = 60
_MOST_DIGITS = 9


def answer_in(cell: AnyCell) -> Said | None:
    """One of the answers that the list offers."""
    text = plain_words(cell).casefold()
    if not text:
        return None
    if text not in set(Said):
        raise BadInput(Problem("", f"'{text}' is none of the answers", f"one of {', '.join(Said)}"))
    return Said(text)


def packs_in(cell: AnyCell, line: OrderLine, substitute: str = "") -> int | None:
    """So many packs, no more than were asked for unless they are of another number."""
    packs = whole_in(cell, right_packs(line, substitute))
    _refuse(wrong_packs(line, packs, substitute))
    return packs


def whole_in(cell: AnyCell, right: str) -> int | None:
    """A whole number of packs or pieces."""
    text = figure_in(cell)
    if not text:
        return None
    if not text.isdecimal() or len(text) > _MOST_DIGITS:
        shown = text if len(text) <= 2 * _MOST_DIGITS else f"{text[:_MOST_DIGITS]}…"
        raise BadInput(Problem("", f"'{shown}' is no number of packs", right))
    return int(text)


def price_in(cell: AnyCell) -> Decimal | None:
    """The price of one pack."""
    text = figure_in(cell)
    if not text:
        return None
    try:
        price = Decimal(text.replace(" ", ""))
    except InvalidOperation:
        price = Decimal("NaN")
    if not price.is_finite() or price < 0:
        raise BadInput(
            Problem(
                "",
                f"'{text[:40]}' is no price",
                "the price of one pack with a decimal point, such as 12.50",
            )
        )
    _refuse(wrong_price(price))
    return price


def coming_in(cell: AnyCell, order: Order) -> date | None:
    """The day on which it comes, which an order of that day can have."""
    day = day_in(cell)
    _refuse(wrong_day(order, day))
    return day


def other_number_in(cell: AnyCell) -> str:
    """A part number in the place of the one asked for."""
    text = number_in(cell)
    if len(text) > _MOST_OF_A_NUMBER:
        right = f"a number has at most {_MOST_OF_A_NUMBER}; words go into the remark"
        raise BadInput(Problem("", f"the number has {len(text)} signs", right))
    return text


def _refuse(wrong: tuple[str, str] | None) -> None:
    if wrong is not None:
        raise BadInput(Problem("", *wrong))
