"""What holds for a whole price list, and what is counted while it is read."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from kitting.buying.price_lists.wording import many_priced, priced_each
from kitting.errors import Problem
from kitting.sheets.price_lists.dates import Order, TitleDay, days_in
from kitting.sheets.price_lists.size import Counted

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from datetime import date

MOST_PROBLEMS = 200
"""Problems of a list that are told one by one; the rest are counted."""

MOST_LINES = 10
"""Lines that say for how many prices are; further ones say nothing new."""

_NAMED = re.compile(r"\b(GBP|EUR|USD|CHF|JPY|CAD|AUD|NZD|SEK|NOK|DKK|PLN|CZK|HUF|ZAR|INR|CNY)\b")


@dataclass(frozen=True, slots=True)
class ListTerms:
    """What holds for every row that says nothing else.

    `rated` are the currencies that the shop has a rate for, `makers` the makers' keys by their
    names and keys in small letters, `decimal` the mark before decimals ('' when not told), `per`
    for how many a price is that says nothing of it (0 when not told), `days` what stands first in
    its days (None when not told).
    """

    currency: str
    valid_from: date
    valid_until: date
    rated: frozenset[str]
    makers: Mapping[str, str] = field(default_factory=dict)
    decimal: str = ""
    per: int = 0
    days: Order | None = None


class Line(NamedTuple):
    """A line beside the rows that says for how many prices are."""

    place: str
    text: str
    many: int


@dataclass(slots=True)
class Tally:
    """What was met in a list beside its offers: rows passed over by kind, problems, odd cells.

    `found` counts the problems, `faulty` the rows that have any, `counted` those whose quantities
    were taken as pieces, or as packs though pieces may be meant. `lines` say for how many all
    prices are, `since` from which day on and `until` which they hold.
    """

    rows: int = 0
    passed: Counter[str] = field(default_factory=Counter)
    problems: list[Problem] = field(default_factory=list)
    found: int = 0
    faulty: int = 0
    rounded: int = 0
    unread: Counter[str] = field(default_factory=Counter)
    counted: Counter[Counted] = field(default_factory=Counter)
    lines: list[Line] = field(default_factory=list)
    since: TitleDay | None = None
    until: TitleDay | None = None
    _last: tuple[str, int] = ("", 0)

    def title(self, place: str, texts: Sequence[str], *, in_cells: bool) -> None:
        """Note what a row of titles says of how many prices are for, and on which days they hold.

        A sentence that nobody put in quotes is in several fields of a text file.
        """
        before = len(self.lines)
        for text in texts:
            self._line(place, text)
            first, last = days_in(text)
            self.since = self.since or first
            self.until = self.until or last
        if len(self.lines) == before and not in_cells:
            self._line(place, ", ".join(filter(None, texts)))

    def _line(self, place: str, text: str) -> None:
        many = many_priced(text) or int(priced_each(text))
        if many and len(self.lines) < MOST_LINES:
            self.lines.append(Line(place, text[:60], many))

    def problem(self, row: tuple[str, int], place: str, wrong: str, right: str) -> str:
        """Note a problem of a sheet's row; returns it as the reason why that is set aside."""
        self.found += 1
        self.faulty += row != self._last
        self._last = row
        if len(self.problems) < MOST_PROBLEMS:
            self.problems.append(Problem(place, wrong, right))
        return wrong


_CALLED = {
    "pound": "GBP", "pounds": "GBP", "sterling": "GBP", "pounds sterling": "GBP", "stg": "GBP",
    "euro": "EUR", "euros": "EUR",
}  # fmt: skip


def currency_called(code: str) -> str:
    """The currency that a cell names; the cell itself where nobody knows it.

    >>> currency_called("£"), currency_called("Sterling"), currency_called("eur")
    ('GBP', 'GBP', 'EUR')
    """
    return currency_in(code) or _CALLED.get(code.casefold(), code.upper()[:10])


def currency_in(heading: str) -> str:
    """Return the currency that a heading or cell names by code or sign, '' when none.

    >>> currency_in("Net £"), currency_in("Preis (EUR)"), currency_in("Price")
    ('GBP', 'EUR', '')
    """
    named = _NAMED.search(heading)
    if named:
        return named[1]
    signs = {code for sign, code in (("£", "GBP"), ("€", "EUR"), ("$", "USD")) if sign in heading}
    return signs.pop() if len(signs) == 1 else ""
