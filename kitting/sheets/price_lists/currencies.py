"""What money is called: by its code, its sign or a word, in headings, cells and lines of a list."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import NamedTuple

from kitting.sheets.price_lists.marks import tidy
from kitting.sheets.price_lists.money import is_pence

_CODES = (
    "GBP", "EUR", "USD", "CHF", "JPY", "CAD", "AUD", "NZD", "SEK", "NOK", "DKK", "PLN", "CZK",
    "HUF", "ZAR", "INR", "CNY", "SGD", "HKD", "MXN", "BRL", "TRY", "RON", "BGN", "ISK", "ILS",
    "KRW", "THB", "TWD",
)  # fmt: skip
_NAMED = re.compile(rf"\b({'|'.join(_CODES)})\b")
_SIGNS = (("£", "GBP"), ("€", "EUR"), ("$", "USD"))
# What each is called beside its code. The first that fits the whole of a name is meant.
_WORDS = {
    "GBP": (
        r"£|(?:british |uk )?pounds?(?: sterling)?|sterling|stg|pfund(?: sterling)?"
        r"|livres? sterling|sterline|libras? esterlinas?|pond(?: sterling)?"
    ),
    "EUR": r"€|euros?",
    "CAD": r"ca?\$|can(?:adian|\.)? ?(?:dollars?|\$)",
    "AUD": r"au?\$|aus(?:tralian)? ?(?:dollars?|\$)",
    "NZD": r"nz\$|(?:nz|new zealand) ?(?:dollars?|\$)",
    "USD": (
        r"us[- ]?\$|\$us|\$|(?:us|american)[- ]?dollars?|dollars?|dollari|dólares"
        r"(?: estadounidenses)?"
    ),
    "CHF": r"sfr\.?|(?:schweizer )?franken|swiss francs?|francs? suisses?|franchi svizzeri",
    "JPY": r"¥|yen",
    "SEK": r"svenska kronor|swedish (?:kron(?:a|or)|crowns?)|kron(?:a|or)|kr\.?",
    "NOK": r"norske kroner|norwegian (?:kroner?|crowns?)",
    "DKK": r"danske kroner|danish (?:kroner?|crowns?)|kroner?",
    "PLN": r"zł|złot(?:ych|y)|zlot(?:ych|y)",
    "CZK": r"kč",
}
_NAMES = {
    code: re.compile("|".join(filter(None, (code, _WORDS.get(code)))), re.IGNORECASE)
    for code in (*_WORDS, *(each for each in _CODES if each not in _WORDS))
}
# What a bare sign or word may mean as well.
_DOLLARS = ("USD", "CAD", "AUD", "NZD")
_CROWNS = ("SEK", "NOK", "DKK")
_ALSO = (
    (re.compile(r"\$|dollars?|dollari|dólares", re.IGNORECASE), _DOLLARS),
    (re.compile(r"kron(?:a|or)|kroner?|kr\.?", re.IGNORECASE), _CROWNS),
    (re.compile("¥"), ("JPY", "CNY")),
)
_NEARLY_ALL = 0.9

MONEY = rf"(?<![^\W_])(?:{'|'.join(names.pattern for names in _NAMES.values())})(?![^\W_])"
"""Any name of a money, as an expression for use within a longer one that heeds no case."""


class Named(NamedTuple):
    """The money that a name is taken to mean, and all that it may mean."""

    code: str
    may_be: frozenset[str]


ALIKE = {"USD": ("AUD", "CAD", "NZD"), "JPY": ("CNY",)}
"""What a sign may mean too, where a column says so."""


def money_named(name: str) -> Named | None:
    """The money that a code, sign or word names; None where it names none.

    >>> money_named("Swiss francs").code, money_named("eur").code, money_named("ton")
    ('CHF', 'EUR', None)
    >>> sorted(money_named("$").may_be), sorted(money_named("US$").may_be)
    (['AUD', 'CAD', 'NZD', 'USD'], ['USD'])
    """
    plain = tidy(name)
    code = next((code for code, names in _NAMES.items() if names.fullmatch(plain)), "")
    if not code:
        return None
    also = next((codes for names, codes in _ALSO if names.fullmatch(plain)), (code,))
    return Named(code, frozenset(also))


def all_currencies(values: Sequence[str]) -> bool:
    """Whether nearly all of some cells name the money of a price.

    >>> all_currencies(["EUR", "GBP"]), all_currencies(["£", "€", "p"]), all_currencies(["EA", "p"])
    (True, True, False)
    """
    named = sum(1 for text in values if money_named(text) or is_pence(tidy(text)))
    plainly = any(money_named(text) for text in values)
    return plainly and named >= _NEARLY_ALL * len(values)


def currency_called(code: str) -> str:
    """The currency that a cell names; the cell itself where nobody knows it.

    Crowns are of several countries: which are meant nobody knows.

    >>> currency_called("£"), currency_called("Sterling"), currency_called("eur")
    ('GBP', 'GBP', 'EUR')
    >>> currency_called("C$"), currency_called("kr")
    ('CAD', 'KR')
    """
    named = money_named(code)
    if named and named.may_be.isdisjoint(_CROWNS[1:]):
        return named.code
    return currency_in(code) or code.upper()[:10]


def currency_in(heading: str) -> str:
    """Return the currency that a heading or cell names by code or sign, '' when none.

    >>> currency_in("Net £"), currency_in("Preis (EUR)"), currency_in("Price")
    ('GBP', 'EUR', '')
    """
    named = _NAMED.search(heading)
    if named:
        return named[1]
    signs = {code for sign, code in _SIGNS if sign in heading}
    return signs.pop() if len(signs) == 1 else ""
