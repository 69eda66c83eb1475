"""What a price in a list means: currency signs, thousands, decimal commas, pence.

No binary float is met: a price becomes a whole number of ten-thousandths of its currency.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from decimal import ROUND_HALF_UP, Decimal
from typing import NamedTuple

from kitting.buying.price_lists.rows import PRICE_PLACES
from kitting.sheets.price_lists.cells import made_by_spreadsheet
from kitting.sheets.price_lists.marks import Figure, Mark, Marked, Otherwise, tidy

SIGNS = {"£": "GBP", "€": "EUR", "$": "USD", "¥": "JPY"}
_MOST = 10**9
_SHOWN = 38  # marks of a cell that are shown where it is no price
_POINTS = re.compile(r"\d[.,]\d{1,2}\D*$")
# A bare 'p.' within a heading may be 'per' or 'pro': only English words after it make it pence.
_PENCE = re.compile(
    r"\bpence\b|\bgbx\b|\(p\.?\)|\sp\.?\)?$|(?:^|\s)p\.?\s+(?:each|ea|ex|excl?|inc|incl|net|nett|per)\b",
    re.IGNORECASE,
)
_TITLE_PENCE = re.compile(r"\bprices?\b(?: \w+){0,3}? in pence\b|\bprices?: pence\b", re.IGNORECASE)
_POUNDS = re.compile(r"[£€$]|\bGBP\b|\bEUR\b|\b(?:pounds?|euros?(?!-?cent))\b", re.IGNORECASE)
# 'cent' alone is a hundred where prices are 'le cent'.
_CENTS = re.compile(r"\bcents\b|\b(?:preis|price)\b.*[\s(]cent\)?$|\beuro-?cents?\b", re.IGNORECASE)
# Three letters behind a figure that are no money: a word for the price, or a month.
_NO_CURRENCY = (
    r"net|jan|feb|fév|fev|mar|mär|mrz|mrt|mai|maj|mei|may|jun|jui|jul|aug|ago|aoû|sep|oct|okt|ott"
    r"|nov|dec|dez|déc|dic|gen|apr|abr|avr"
)
_AMOUNT = re.compile(
    r"(?P<before>[£€$¥]|[A-Za-z]{1,3}[£€$¥]?|SFr\.)?\s*(?P<minus>[-−–(]?)\s*(?P<sign>[£€$¥]?)\s*"
    r"(?P<figure>[.,]?\d[\d.,'’ ]*)(?P<even>[-–—]*)\)?\s*"
    rf"(?P<after>[£€$¥]|(?!(?i:{_NO_CURRENCY}))[A-Za-z]{{3}}|p|SFr\.)?"
    r"(?:\s*(?i:each|ea\.?|net|nett|\*))?",
)
_ASKED = re.compile(
    r"p\.?\s?o\.?\s?[ar]\.?|(?:price )?(?:on|upon) (?:application|request|enquiry)|ask(?: us)?|"
    r"call(?: us)?|t\.?b\.?[ac]\.?|(?:preis )?auf anfrage|a\.\s?a\.|(?:prix )?sur demande|enquire|"
    r"(?:prijs )?op aanvraag|na zapytanie|(?:precio )?a consultar|consultar|bajo pedido|"
    r"(?:prezzo )?(?:su|a) richiesta|på förfrågan|på forespørgsel",
    re.IGNORECASE,
)
_NONE = re.compile(
    r"-+|–|—|n/?a|nil|none|n\.?l\.?a\.?|discontinued|obsolete|withdrawn|no longer (?:available|"
    r"supplied|made)|deleted|entfällt|entfallen|superseded|vervallen|épuisée?|supprimée?|agotad[oa]|"
    r"esaurit[oa]|utgått|udgået|niet leverbaar|n\.\s?d\.?",
    re.IGNORECASE,
)


class Amount(NamedTuple):
    """A price as read: `price` in ten-thousandths, `currency` where a sign or code says it.

    `none` says that the list gives no price (on application, discontinued); `wrong` and `right`
    that what stands there is none. `rounded` tells that it was finer than can be kept.
    """

    price: int = 0
    currency: str = ""
    rounded: bool = False
    none: str = ""
    wrong: str = ""
    right: str = ""


def decimal_sign(texts: Iterable[str]) -> str:
    """Return '.' or ',' by the prices that can only be read one way; '' where they disagree.

    >>> decimal_sign(["1.234,50", "3,95", "1.200"])
    ','
    """
    seen = set()
    for text in texts:
        found = _POINTS.search(tidy(text))
        if found:
            seen.add(found[0][1])
    return seen.pop() if len(seen) == 1 else ""


def in_pence(heading: str) -> bool:
    """Whether a heading says that the prices below it are in pence.

    >>> in_pence("Price (pence)"), in_pence("Price p"), in_pence("Price (p)"), in_pence("P&P")
    (True, True, True, False)
    >>> in_pence("Price (p) each"), in_pence("Price GBp"), in_pence("Price £ p")
    (True, True, False)
    """
    plain = heading.replace("GBp", "GBX")
    return _PENCE.search(plain) is not None and not _POUNDS.search(plain)


def title_in_pence(title: str) -> bool:
    """Whether a line above a list says that its prices are in pence.

    >>> title_in_pence("All prices in pence"), title_in_pence("Postage 95 pence")
    (True, False)
    """
    return _TITLE_PENCE.search(title) is not None and not _POUNDS.search(title)


def in_cents(heading: str) -> bool:
    """Whether a heading says that the prices below it are in cents of whatever money.

    >>> in_cents("Preis (Cent)"), in_cents("Price in cents"), in_cents("Prix le cent")
    (True, True, False)
    """
    return _CENTS.search(heading) is not None and not _POUNDS.search(heading)


def is_pence(code: str) -> bool:
    """Whether a cell that names the money of a price names pence.

    >>> is_pence("p"), is_pence("GBX"), is_pence("GBp"), is_pence("GBP")
    (True, True, True, False)
    """
    return code == "GBp" or code.casefold().rstrip(".") in {"p", "gbx", "pence", "penny"}


class MoneyReader:
    """Reads the prices of one column; what it has read once it knows.

    `pence` says that its figures are pence, where a cell names no currency itself, and `cents`
    that they are hundredths of whatever money the list is in.
    """

    _MOST_KNOWN = 100_000

    def __init__(self, decimal: str = "", *, pence: bool = False, cents: bool = False) -> None:
        self.decimal = decimal
        self._pence = pence
        self._cents = cents
        self._known: dict[str, Amount] = {}

    def __call__(self, text: str) -> Amount:
        """Return what a cell says of the price."""
        if type(text) is not str:  # equal as text to another cell, and yet not the same
            return self._read(text)
        known = self._known.get(text)
        if known is None:
            known = self._read(text)
            if len(self._known) < self._MOST_KNOWN:
                self._known[text] = known
        return known

    def _read(self, text: str) -> Amount:
        if isinstance(text, Marked) and text.mark is not Mark.ROUNDED:
            return Amount(wrong=_marked(text), right="save the list with the figure itself there")
        plain = tidy(text)
        if plain.startswith("="):
            return self._read(Marked(plain, Mark.FORMULA))
        none = _why_none(plain)
        if none:
            return Amount(none=none)
        made = made_by_spreadsheet(plain)
        if made:
            return Amount(wrong=made[0], right=made[1])
        found = _AMOUNT.fullmatch(plain)
        if not found:
            return _no_price(plain)
        plainly = isinstance(text, Figure)
        figure = found["figure"] if plainly else self._figure(found["figure"].strip())
        return self._amount(plain, found, figure)

    def _amount(self, plain: str, found: re.Match[str], figure: str | None) -> Amount:
        if figure is None:
            return Amount(
                wrong=f"'{_short(plain)}' can be read two ways: "
                "is its mark for thousands or decimals?",
                right="say which with --decimal comma or --decimal point",
            )
        pence = found["after"] == "p" or (self._pence and not _currency(found))
        small = pence or (self._cents and not _currency(found))
        value = Decimal(figure) / 100 if small else Decimal(figure)
        if found["minus"] or (found["even"] and found["figure"][-1] not in ".,"):
            return Amount(
                wrong=f"a price below nothing: {_short(plain)}", right="give what one pack costs"
            )
        if not value:
            return Amount(wrong="a price of nothing", right="write POA where there is no price")
        if value >= _MOST:
            return Amount(wrong=f"{plain[:40]} is too much for a price", right="look at the figure")
        exact = value.scaleb(PRICE_PLACES)
        whole = exact.to_integral_value(ROUND_HALF_UP)
        currency = "GBP" if pence else _currency(found)
        if whole == 0:
            return Amount(
                wrong=f"{_short(plain)} is too fine for a price", right="give it for a pack"
            )
        return Amount(int(whole), currency, rounded=whole != exact)

    def _figure(self, text: str) -> str | None:
        """The figure with a decimal point and no thousands; None when it is not clear."""
        text = re.sub(r"[ '’](?=\d{3}(?!\d))", "", text).rstrip(".,")
        if re.search(r"[ '’]", text):
            return None
        signs = re.findall(r"[.,]", text)
        if not signs:
            return text
        last = signs[-1]
        head, _, tail = text.rpartition(last)
        if len(set(signs)) == 2:
            return _joined(head, tail) if signs.count(last) == 1 else None
        grouped = re.fullmatch(r"[1-9]\d{0,2}(?:[.,]\d{3})+", text) is not None
        if len(signs) > 1:
            return re.sub(r"[.,]", "", text) if grouped else None
        if not grouped or self.decimal == last:
            return _joined(head, tail)
        return head + tail if self.decimal else None


def _why_none(plain: str) -> str:
    """Why a cell that holds no figure need not: empty, on application, discontinued."""
    if not plain:
        return "no price"
    if _ASKED.fullmatch(plain):
        return "price on application"
    return f"no price ('{_short(plain)}')" if _NONE.fullmatch(plain) else ""


def _joined(head: str, tail: str) -> str | None:
    groups = re.split(r"[.,]", head)
    if len(groups) > 1 and not all(len(group) == 3 for group in groups[1:]):
        return None
    return f"{''.join(groups) or '0'}.{tail}"


def _currency(found: re.Match[str]) -> str:
    for name in ("before", "sign", "after"):
        said = (found[name] or "").strip()
        if said:
            return SIGNS.get(said[-1], "CHF" if said == "SFr." else said.upper())
    return ""


def _no_price(plain: str) -> Amount:
    return Amount(wrong=f"'{_short(plain)}' is no price", right="write a figure, or POA")


def _short(plain: str) -> str:
    return plain if len(plain) <= _SHOWN else f"{plain[: _SHOWN - 1]}…"


def _marked(text: Marked) -> str:
    if isinstance(text, Otherwise):
        return f"the cell holds {text[:40]} and shows it {text.shown}"
    if text.mark is Mark.FORMULA:
        return f"the cell holds the formula {text[:40]}"
    if text.mark is Mark.ERROR:
        return f"the cell holds the error {text[:40]}"
    return f"{text[:40]} ({text.mark}) stands where a price belongs"


def too_little(price: str, heading: str) -> tuple[str, str]:
    """What is wrong with a very small figure among pence or cents, and what would be right."""
    if in_cents(heading):
        return f"{price} in a column of cents: is it as little as that?", (
            "write it with its currency"
        )
    wrong = f"{price} in a column of pence: pounds, or as little as that?"
    return wrong, f"write £{price} or {price}p"
