"""Days as lists write them, the day before the month or after it, in a cell or within a title."""

from __future__ import annotations

import re
from datetime import date
from enum import StrEnum
from typing import NamedTuple

from kitting.months import IN_WORDS, day_in_words, day_made
from kitting.sheets.price_lists.marks import tidy

_FIGURES = re.compile(r"(?P<d>\d{1,2})(?P<mark>[-./ ])(?P<m>\d{1,2})[-./ ](?P<y>\d{4}|\d{2})")
_YEAR_FIRST = re.compile(r"(?P<y>\d{4})[-./](?P<m>\d{1,2})[-./](?P<d>\d{1,2})")
_DAY_WITHIN = re.compile(
    rf"\d{{4}}-\d{{2}}-\d{{2}}|\d{{1,2}}[./-]\d{{1,2}}[./-]\d{{2,4}}|(?<![\w-])(?:{IN_WORDS})",
    re.IGNORECASE,
)
_SINCE = re.compile(
    r"\b(?:valid|effective|with effect|prices? from|gültig|gueltig|preise? (?:ab|per)|valables?"
    r"|à partir|valid[oiae]|válid[oa]s?|in vigore|em vigor|dal|desde|vanaf|geldig|prij(?:s|zen) per"
    r"|gäller|giltig\w*|gælder|gjelder|gyldig\w*|pris(?:er|lista|liste)? per)\b",
    re.IGNORECASE,
)
_PRICES = re.compile(
    r"\b(?:price|preis|prijs|prix|prezz|precio|preço|pris|listino|tarif|list|valid|válid|valable"
    r"|gültig|gueltig|geldig|giltig|gyldig)",
    re.IGNORECASE,
)
# What stands before a day and says whether it is the first or the last; the nearest counts.
_TURN = re.compile(
    r"\b(?P<last>until|till?|to|through|thru|expir\w*|ends?|valid after|bis|jusqu['’]\s?au|fino al?"
    r"|hasta|até|t/m|tot|t\.?o\.?m\b)"
    r"|\b(?:from|since|as of|effective|ab|von|vom|du|dal|dès|à partir|desde|vanaf|från|fra)\b",
    re.IGNORECASE,
)
_BETWEEN = re.compile(r"\s*(?:[-–—]|au|al|a)\s*", re.IGNORECASE)  # of a first day and a last
# The last day after a first that leaves its year to it: 'du 1er janvier au 31 mars 2027'.
_FROM_TO = re.compile(r"\b(?:du|dal|del|des|desde el)\s.*\b(?:au|al|a)\s*$", re.IGNORECASE)


class Order(StrEnum):
    """What stands first in a day of figures alone."""

    DAY_FIRST = "day-first"
    MONTH_FIRST = "month-first"


class Readings(NamedTuple):
    """A text read as a day, the day before the month and the month before the day."""

    day_first: date | None
    month_first: date | None

    @property
    def only(self) -> Order | None:
        """The one order in which it is a day; None where it is one in both, or in neither."""
        if (self.day_first is None) == (self.month_first is None):
            return None
        return Order.MONTH_FIRST if self.day_first is None else Order.DAY_FIRST

    def by(self, order: Order) -> date | None:
        """The day in an order."""
        return self.month_first if order is Order.MONTH_FIRST else self.day_first


class TitleDay(NamedTuple):
    """A day that a line names; `other` is what it is with the month first, where that differs."""

    text: str
    day: date
    other: date | None

    def __str__(self) -> str:
        other = f" ({self.other} if its month stands first)" if self.other else ""
        return f"{self.day}{other}"


def day_of(text: str, order: Order = Order.DAY_FIRST) -> date | None:
    """Return the day that a text names; None when it names none in that order.

    >>> day_of("1/9/2026"), day_of("01-Sep-26"), day_of("9/1/2026", Order.MONTH_FIRST)
    (datetime.date(2026, 9, 1), datetime.date(2026, 9, 1), datetime.date(2026, 9, 1))
    """
    return readings(text).by(order)


def readings(text: str) -> Readings:
    """Return a text as a day in both orders; words for months and years in front leave but one.

    >>> readings("12/15/2026").only, readings("15/12/2026").only, readings("2026-12-15").only
    (<Order.MONTH_FIRST: 'month-first'>, <Order.DAY_FIRST: 'day-first'>, None)
    """
    plain = tidy(text).removesuffix(" 00:00:00").removesuffix(" 00:00")
    found = _FIGURES.fullmatch(plain)
    if found:
        year, first, second = found["y"], found["d"], found["m"]
        return Readings(_made(year, second, first), _made(year, first, second))
    found = _YEAR_FIRST.fullmatch(plain)
    day = _made(found["y"], found["m"], found["d"]) if found else day_in_words(plain)
    return Readings(day, day)


def is_two_days(text: str) -> bool:
    """Whether a text names one day day first and another month first, and nobody can say which.

    With points the day stands first, wherever they are written.

    >>> is_two_days("4/1/2026"), is_two_days("1/1/2026"), is_two_days("4.1.2026")
    (True, False, False)
    """
    one, other = readings(text)
    return bool(one and other and one != other) and "." not in text


def days_in(line: str) -> tuple[TitleDay | None, TitleDay | None]:
    """The first day and the last that a line says that prices hold; None where it says none.

    >>> [str(day) for day in days_in("Prices valid from 1.12.2026 to 31/12/2026")]
    ['2026-12-01', '2026-12-31']
    >>> [str(day) for day in days_in("gültig bis 31.12.2026")], days_in("Printed 1/12/2026")
    (['None', '2026-12-31'], (None, None))
    """
    since = _SINCE.search(line)
    priced = _PRICES.search(line) is not None
    first = last = None
    before = since.start() if since else 0
    for found in _DAY_WITHIN.finditer(line, since.end() if since else 0):
        words = line[before : found.start()]
        before = found.end()
        turns = list(_TURN.finditer(words))
        ends = turns[-1]["last"] is not None if turns else bool(first and _BETWEEN.fullmatch(words))
        ends = ends or _FROM_TO.search(words) is not None
        day = _title_day(line, found[0])
        if ends and (since or priced):
            last = last or day
        elif since:
            first = first or day
    return first, last


def _title_day(line: str, text: str) -> TitleDay | None:
    one, other = readings(text)
    day = one or other
    return TitleDay(line[:60], day, other if is_two_days(text) else None) if day else None


def _made(year: str, month: str, day: str) -> date | None:
    return day_made(year, int(month), day)
