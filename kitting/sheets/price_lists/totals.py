"""Rows of a price list that are no parts: totals, averages, VAT, pages carried forward.

Words that say nothing else are enough. Words that may also name a part, 'Total studs' or 'Sum
gasket', are a total only where the figure is the sum of the prices above it.
"""

from __future__ import annotations

import re

_OF_SOME = r"(?:(?:sub|sous|grand|page|section|group|chapter|zwischen)[ -]?)+"
_TAX = r"(?:vat|v\.a\.t\.?|mwst|ust|tva|iva|btw|moms|mva|gst)\.?"
_PERCENT = r"\d{1,2}(?:[.,]\d+)? ?%"
_SAYS_NO_MORE = (
    r"(?:\s+(?:gbp|eur|usd|net|nett|gross|brutto|netto|value|list value|list price|price|amount"
    r"|goods|carried forward|brought forward|c/f|b/f|this page|to date|for (?:the )?(?:list|page)"
    rf"|(?:(?:ex|exc|excl|inc|incl|with|without|plus)\.? )?{_TAX}))*"
    r"(?:\s*\([^)]*\))?[\s:=.£€$]*"
)
_SURELY = re.compile(
    rf"(?:{_OF_SOME}(?:totals?|summen?|tot\.)(?:[\s:(].*)?"
    r"|(?:(?:net|gross|overall|final|running|list) )?totals?(?: (?:for|of)\s.+)?"
    rf"{_SAYS_NO_MORE}"
    r"|(?:sum|sums|summe|summa|suma|somme|totale?|gesamt(?:summe|preis|betrag|wert)?|übertrag|saldo"
    r"|(?:carried|brought)[ -](?:forward|over)|[cb]/f|averages?|mean|mittelwert|durchschnitt"
    rf"|moyenne|media|promedio|gemiddelde){_SAYS_NO_MORE}"
    rf"|(?:plus |add |\+ ?)?{_TAX}(?: total| amount)? ?(?:@|at|\()? ?{_PERCENT}\)?"
    rf"|{_PERCENT} {_TAX}"
    rf"|(?:plus |add |\+ ?){_TAX}|{_TAX} (?:total|amount)|vat|v\.a\.t\.|mwst\.?)",
    re.IGNORECASE,
)
_FOOT = re.compile(
    r"end of list|(?:page|seite) \d+(?: ?(?:of|von|/) ?\d+)?|(?:page|seite)", re.IGNORECASE
)
_PERHAPS = re.compile(
    r"(?:totals?|sum(?:me|ma)?|sum of|somme|gesamt\w*|averages?)[\s:].*", re.IGNORECASE
)
_FEWEST = 2  # of one price alone everything is the sum


def surely_a_total(text: str) -> bool:
    """Whether words say that a row is a total, an average or the tax, and name no part.

    >>> surely_a_total("Section total studs"), surely_a_total("VAT 20%"), surely_a_total("C/F kit")
    (True, True, False)
    """
    return _SURELY.fullmatch(text) is not None


def is_foot(text: str) -> bool:
    """Whether words are the foot of a page, or of the list."""
    return _FOOT.fullmatch(text) is not None


def perhaps_a_total(text: str) -> bool:
    """Whether words may be a total's as well as a part's."""
    return _PERHAPS.fullmatch(text) is not None


def ends_as_a_number(text: str) -> bool:
    """Whether one word ends in a figure, as most part numbers and no total does: quick to see.

    >>> ends_as_a_number("SU-17"), ends_as_a_number("Total 17"), ends_as_a_number("Total:17")
    (True, False, False)
    """
    return text[-1:].isdigit() and not (" " in text or ":" in text or "(" in text)


class Sums:
    """The prices so far: of all, since the last title and since the last total."""

    __slots__ = ("_all", "_count", "_since_title", "_since_total")

    def __init__(self) -> None:
        self._all = self._count = self._since_title = self._since_total = 0

    def add(self, price: int) -> None:
        """Take in the price of a row."""
        self._all += price
        self._since_title += price
        self._since_total += price
        self._count += 1

    def title(self) -> None:
        """A title stands here."""
        self._since_title = 0

    def total(self) -> None:
        """A total stands here."""
        self._since_title = self._since_total = 0

    def has_total(self, words: str, price: int) -> bool:
        """Whether words are a total's, or may be and stand beside the sum of the prices above."""
        if ends_as_a_number(words):
            return False
        return surely_a_total(words) or (perhaps_a_total(words) and self._reached(price))

    def _reached(self, price: int) -> bool:
        sums = (self._all, self._since_title, self._since_total)
        return self._count >= _FEWEST and price in sums
