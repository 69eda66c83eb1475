"""The boxes of a reply, each read from its cell: a value, None or '' when blank, or a refusal."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import TYPE_CHECKING

from kitting.buying.replies import right_packs, wrong_day, wrong_packs, wrong_price
from kitting.errors import BadInput, Problem
from kitting.sheets.cells import day_in, figure_in, number_in
from kitting.sheets.orders.keys import Said
from kitting.sheets.orders.rows import plain_words
from kitting.sheets.orders.shown import as_shown
from kitting.sheets.price_lists.currencies import currency_in

if TYPE_CHECKING:
    from datetime import date

    from kitting.buying.orders import Order, OrderLine
    from kitting.sheets.cells import AnyCell

_MOST_OF_A_NUMBER = 60
_MOST_DIGITS = 9
_RIGHT_PRICE = "the price of one pack with a decimal point, such as 12.50"
_WHOLE = re.compile(r"^(\d+)\.0+$")
_SIGNS = ("£", "€", "$")
# A plain number; blanks may part its thousands.
_PRICE = re.compile(r"[+-]?(?:\d{1,3}(?: \d{3})+(?:\.\d*)?|\d+\.?\d*|\.\d+)", re.ASCII)


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
    typed = _figure(cell, right)
    if not typed:
        return None
    shown = as_shown(cell, typed) if _held(cell) else typed
    if shown != typed:
        _refuse_shown(typed, shown, right)
    text = _WHOLE.sub(r"\1", typed)
    if not text.isdecimal() or len(text) > _MOST_DIGITS:
        shown = text if len(text) <= 2 * _MOST_DIGITS else f"{text[:_MOST_DIGITS]}…"
        raise BadInput(Problem("", f"'{shown}' is no number of packs", right))
    return int(text)


def price_in(cell: AnyCell, currency: str) -> Decimal | None:
    """The price of one pack in the order's currency, which may stand beside it.

    A number is what its cell shows: with a sign or words of its format it is read as text would be.
    """
    typed = _figure(cell, _RIGHT_PRICE)
    if not typed:
        return None
    shown = as_shown(cell, typed) if _held(cell) else typed
    named = currency_in(shown)
    # A dollar sign alone is the sign of more than one currency.
    if named and named != currency and not ("$" in shown and currency.endswith("D")):
        wrong = f"'{shown[:40]}' is in {named}, and the order is in {currency}"
        raise BadInput(Problem("", wrong, f"give the price of one pack in {currency}"))
    text = shown.strip()
    for mark in (currency, *_SIGNS):
        text = text.removeprefix(mark).removesuffix(mark).strip()
    if _held(cell) and text != typed:
        _refuse_shown(typed, shown, _RIGHT_PRICE)
    price = Decimal(text.replace(" ", "")) if _PRICE.fullmatch(text) else Decimal("NaN")
    if not price.is_finite() or price < 0:
        raise BadInput(Problem("", f"'{typed[:40]}' is no price", _RIGHT_PRICE))
    _refuse(wrong_price(price))
    return price


def _refuse_shown(typed: str, shown: str, right: str) -> None:
    """Refuse a number that its cell shows as something else."""
    shows = f"shows it as '{shown[:40]}'" if shown else "does not show it so"
    wrong = f"the cell holds {typed[:40]} and {shows}"
    raise BadInput(Problem("", wrong, f"{right}, in a cell that shows it as it is"))


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


def _held(cell: AnyCell) -> bool:
    """Whether a cell holds a number, and no text."""
    return cell.data_type == "n"


def _figure(cell: AnyCell, right: str) -> str:
    """The figure in a cell as text; a yes or no, or a date, is refused with what is right here."""
    if isinstance(cell.value, bool):
        raise BadInput(Problem("", f"'{str(cell.value).upper()}' is a yes or no", right))
    return figure_in(cell)


def _refuse(wrong: tuple[str, str] | None) -> None:
    if wrong is not None:
        raise BadInput(Problem("", *wrong))
