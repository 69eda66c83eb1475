"""What holds for a whole price list, and what is counted while it is read."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from kitting.buying.price_lists.wording import many_priced, priced_each
from kitting.errors import Problem
from kitting.sheets.price_lists.dates import Order, TitleDay, days_in
from kitting.sheets.price_lists.size import Counted
from kitting.sheets.price_lists.title_kinds import MoreLine, more_line
from kitting.sheets.price_lists.title_money import MoneyLine, money_line

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from datetime import date

MOST_PROBLEMS = 200
"""Problems of a list that are told one by one; the rest are counted."""

MOST_LINES = 10
"""Lines that say for how many prices are; further ones say nothing new."""


@dataclass(frozen=True, slots=True)
class ListTerms:
    """What holds for every row that says nothing else.

    `rated` are the currencies that the shop has a rate for, `makers` the makers' keys by their
    names and keys in small letters, `decimal` the mark before decimals ('' when not told), `per`
    for how many a price is that says nothing of it (0 when not told), `days` what stands first in
    its days (None when not told). `currency_told` says that a person named the currency.
    """

    currency: str
    valid_from: date
    valid_until: date
    rated: frozenset[str]
    makers: Mapping[str, str] = field(default_factory=dict)
    decimal: str = ""
    per: int = 0
    days: Order | None = None
    currency_told: bool = False


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
    prices are, `moneys` in which money, `more` that they are more than what is paid, `since` from
    which day on and `until` which they hold.
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
    moneys: list[MoneyLine] = field(default_factory=list)
    more: list[MoreLine] = field(default_factory=list)
    since: TitleDay | None = None
    until: TitleDay | None = None
    _last: tuple[str, int] = ("", 0)

    def title(self, place: str, texts: Sequence[str], *, in_cells: bool) -> None:
        """Note what a row of titles says of how many prices are for, of their money and days.

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
        money = money_line(place, texts)
        if money and len(self.moneys) < MOST_PROBLEMS:
            self.moneys.append(money)
        more = more_line(place, texts)
        if more and len(self.more) < MOST_LINES:
            self.more.append(more)

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
