"""One row of a supplier's price list as it was read: an offer to be, or why it can be none.

A list may have a million rows, so a row is a plain tuple with names, its price a whole number of
ten-thousandths of the currency (what the database keeps): exact, and quick.
"""

from __future__ import annotations

from decimal import Decimal
from typing import NamedTuple

from kitting.catalog.model import normal_number

PRICE_PLACES = 4
"""Decimals of a price that are kept."""

_PLAIN: dict[int, str | None] = dict.fromkeys(range(128))
_PLAIN |= {ord(mark): mark.upper() for mark in "0123456789abcdefghijklmnopqrstuvwxyz"}
_PLAIN |= {ord(mark): mark for mark in "ABCDEFGHIJKLMNOPQRSTUVWXYZ"}


class PriceRow(NamedTuple):
    """A row of a price list.

    `number` is what the supplier calls the part, `normal` the same as compared; `part` is a maker's
    number or maker:number where a column has it, `maker` the maker's key where one is named. Days
    are ISO 8601, empty where the row has none; `days` (to deliver), `stock` None likewise. `breaks`
    are (packs, price). `why` says why the row is no offer; empty for one that is. `least` is from
    how many packs on the price holds, where a list has a row for each quantity. `quality` is one
    of `Quality`'s words. `supersedes` is a number whose place this one takes, where the list says
    it that way round. `unsaid` marks a row without a maker's number in a list that has them beside
    numbers of the supplier's own.
    """

    sheet: str
    row: int
    number: str
    normal: str
    part: str
    maker: str
    price: int
    currency: str
    pack: int
    breaks: tuple[tuple[int, int], ...]
    valid_from: str
    valid_until: str
    days: int | None
    stock: int | None
    superseded_by: str
    text: str
    why: str = ""
    least: int = 1
    quality: str = ""
    supersedes: str = ""
    unsaid: bool = False

    @property
    def place(self) -> str:
        """Where it stands."""
        return f"{self.sheet}, row {self.row}" if self.sheet else f"row {self.row}"


def money_of(price: int) -> Decimal:
    """Return a price as an amount of money with at least two decimals.

    >>> money_of(123400)
    Decimal('12.34')
    """
    places = PRICE_PLACES
    while places > 2 and price % 10 == 0:
        price //= 10
        places -= 1
    return Decimal(price).scaleb(-places)


def plain_number(text: str) -> str:
    """Return `normal_number(text)`, some times as quickly."""
    return text.translate(_PLAIN) if text.isascii() else normal_number(text)
