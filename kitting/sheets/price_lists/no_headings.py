"""A row that was tried as headings and is a row of the list: the list then has none.

A list without headings has its columns named by their letters, as a person tells them or as they
are remembered. Its first row is a part like every other, and must not be lost as headings.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from kitting.catalog.model import normal_number
from kitting.sheets.price_lists.content import looks_like_money
from kitting.sheets.price_lists.fields import Field, place_of
from kitting.sheets.price_lists.kinds import names_money
from kitting.sheets.price_lists.likeness import is_heading
from kitting.sheets.price_lists.money import MoneyReader
from kitting.sheets.price_lists.nones import headings_in

if TYPE_CHECKING:
    from kitting.sheets.price_lists.fields import Column
    from kitting.sheets.price_lists.fields import Mapping as Columns
    from kitting.sheets.price_lists.take import Asked

_DECIMALS = re.compile(r"\d[.,]\d")


def is_row_of_list(found: Columns, asked: Asked) -> bool:
    """Whether what was tried as headings reads as a part and its price in the columns taken."""
    number = found.column(Field.NUMBER) or found.column(Field.PART)
    price = found.column(Field.PRICE)
    if number is None or price is None or _told_in_words(found, asked):
        return False
    exact = _DECIMALS.search(price.heading) is not None  # '£ 1' may head a price, '£1.00' does not
    if looks_like_money(price.heading) and (exact or not is_heading(number.heading)):
        return True
    figure = any(mark.isdigit() for mark in number.heading)
    if all("content" in column.how for column in found.columns):
        return figure or _gives_none(price.heading)
    if figure and asked.known({normal_number(number.heading.rpartition(":")[2])}):
        return True
    return not _heads(number, price) and _reads_so(number, price, asked, figure=figure)


def _reads_so(number: Column, price: Column, asked: Asked, *, figure: bool) -> bool:
    """Whether cells that are like no heading of ours are of a part that nobody knows yet."""
    placed = _by_place(number, asked) and _by_place(price, asked)
    if MoneyReader(".")(price.heading).price or _gives_none(price.heading):
        return figure or bool(number.heading and placed)
    named = number.heading or price.heading
    return bool(named) and placed and (figure or _had_none(asked))


def _gives_none(priced: str) -> bool:
    """Whether a cell says that the list gives no price."""
    return bool(priced and MoneyReader(".")(priced).none)


def _heads(number: Column, price: Column) -> bool:
    """Whether one of two cells is like a heading."""
    return is_heading(number.heading) or is_heading(price.heading) or names_money(price.heading)


def _told_in_words(found: Columns, asked: Asked) -> bool:
    """Whether a person named a column by its heading, so that the row is one of headings."""
    return any(
        column.how.startswith("given") and place_of(asked.told.get(column.field, "")) is None
        for column in found.columns
    )


def _by_place(column: Column, asked: Asked) -> bool:
    """Whether a column was taken for what it holds or for where it stands, whatever heads it."""
    if "guess" in column.how:
        return "content" in column.how
    return place_of(asked.wanted.get(column.field, "")) is not None


def _had_none(asked: Asked) -> bool:
    """Whether the supplier's last list had no headings over its numbers and prices."""
    last = headings_in(asked.remembered)
    texts = [last.get(Field.NUMBER) or last.get(Field.PART, ""), last.get(Field.PRICE, "")]
    return all(place_of(text) is not None for text in texts)
