"""Lines beside the rows that say in which money the prices are: 'All prices in EUR'.

A line that merely mentions a sum, as 'carriage £8.50', says nothing of the prices.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, NamedTuple

from kitting.errors import BadInput, Problem
from kitting.sheets.price_lists.currencies import MONEY, Named, currency_in, money_named

if TYPE_CHECKING:
    from kitting.sheets.price_lists.fields import Column
    from kitting.sheets.price_lists.terms import ListTerms

_PRICES = (
    r"\b(?:prices?|pricing|\w*preis(?:e|en|liste)?|prix|tarifs?|prezz[oi]|listin[oi]|precios?"
    r"|tarifas?|preços?|prijs(?:lijst)?|prijzen|pris(?:er|erna|lista|liste)?|cen[ay]|cennik"
    r"|amounts?|figures|beträge|montants|importi|importes|bedragen|quotation|quoted|angebot|offre"
    r"|offerta|(?:alle|sämtliche) angaben|values)\b"
)
_LIST = r"(?:[\s-]+(?:list|lists|liste))?"
_NO_SUM = r"(?!\s?-?\d)(?!\s*\d+[.,]\d)"  # 'EUR 200' is a sum
_YEAR = r"(?:19|20)\d\d(?:\s?/\s?\d+)?"
# '2026 EUR' is a sum but below a word for prices, where it is a year.
_NO_FIGURE = r"(?:(?<!\d)(?<!\d )|(?<=\b20[2-4]\d )|(?<=\b20[2-4]\d-\d\d-\d\d ))"
_NAME = rf"{_NO_FIGURE}{MONEY}(?:(?=\s+{_YEAR}\b(?![.,]\d))|{_NO_SUM})"
_NAMES = rf"(?P<names>{_NAME}(?:\s*(?:and|und|et|e|y|en|og|och|or|oder|/|&|\+|,)\s*{_NAME})*)"
# What may stand between the prices and the money that they are in.
_MONTH = (
    r"(?:jan|feb|fév|mar|mär|mrz|apr|avr|abr|may|mai|mei|mag|jun|juin|giu|jul|juil|lug|aug|août|ago"
    r"|sep|set|oct|okt|ott|nov|dec|déc|dez|dic)[^\W\d_]{0,7}"
)
_DAY = (
    r"(?:\d{1,2}[./-]\d{1,2}[./-](?:20)?\d\d|20\d\d-\d\d-\d\d"
    rf"|(?:\d{{1,2}}(?:st|nd|rd|th)?\.?\s)?{_MONTH}|q[1-4]|spring|summer|autumn|winter"
    r"|(?:valid |gültig )?(?:from|ab|as of|à partir du|dal|desde|vanaf))"
)
_PLACE = r"(?:ex[\s-]?works|exw|f\.?o\.?b|fca|cif|dap|ddp|ab werk|départ usine|franco|delivered)"
_NO_TAX = r"(?:ex|exc|excl|excluding|ohne|zzgl|hors|plus|iva esclusa|vat|mwst|tva|iva|btw|moms|tax)"
_BETWEEN = (
    rf"(?:\W+(?:{_YEAR}|{_DAY}|{_PLACE}|{_NO_TAX}|net\w*|nett|ht|are|is|sind|all|trade|list|quoted"
    r"|shown|verstehen sich|s['’]entendent|si intendono|se entienden))*\W+"
)
_WORDS = r"(?:(?!\b(?:carriage|fracht|versand|porto?|delivery|shipping|postage|orders?)\b)[^;!?])"
_IN = r"\b(?:in|en|w|i|em|as)\s+"
_AREA = r"(?![\s-]*(?:zone|area|raum|land|countries|pal\w*|norm\w*|cents?)\b)"
# The surest first: what a line says so is not looked for again in another way.
_SAYS = tuple(
    re.compile(text, re.IGNORECASE)
    for text in (
        r"\b(?:currency|währung|devise|monnaie|valuta|moneda|divisa|waluta|moeda)\W+"
        rf"(?:(?:is|ist|est|of prices)\W+)?{_NAMES}",
        rf"{_PRICES}{_LIST}{_WORDS}{{0,60}}?{_IN}{_NAMES}{_AREA}",
        rf"{_PRICES}{_LIST}{_BETWEEN}{_NAMES}{_AREA}",
        rf"{_NAMES}[\s-]+(?:(?:net\w*|trade|retail|list|dealer|export)\s+)?"
        rf"(?:{_PRICES}|lists?\b)",
        rf"^{_WORDS}*?\b(?:invoic(?:ed?|es|ing)|billed|fakturi\w+|facturé?e?s?|facturad[oa]s?"
        rf"|fatturat[oi]|gefactureerd)\b{_WORDS}{{0,30}}?{_IN}{_NAMES}{_AREA}",
        # At the end of a title, set off: 'Export list UK - Sterling'.
        rf"^{_WORDS}{{0,40}}?(?:{_PRICES}|\blist[ea]?\b)"
        rf"(?:(?!\brates?\b|\bkurs){_WORDS}){{0,40}}?(?:\s[-–—]|[,(:|])\s*{_NAMES}\W*$",
    )
)
_ALONE = re.compile(rf"\W*(?:(?:(?:all|alle|alles) )?in\s+)?{_NAMES}\W*", re.IGNORECASE)
_NAMED = re.compile(MONEY, re.IGNORECASE)
# Of prices that can be had in another money besides.
_ELSEWHERE = re.compile(
    r"[^,;.!?(–]{0,30}\b(?:on (?:request|application)|available|auf (?:anfrage|wunsch)|sur demande"
    r"|(?:su|a) richiesta|a consultar|op aanvraag)\b",
    re.IGNORECASE,
)


class MoneyLine(NamedTuple):
    """A line beside the rows that says in which money prices are; several where it names them."""

    place: str
    text: str
    named: tuple[Named, ...]

    @property
    def codes(self) -> tuple[str, ...]:
        """The currencies that it is taken to name."""
        return tuple(dict.fromkeys(each.code for each in self.named))

    def allows(self, currency: str) -> bool:
        """Whether it may mean a currency: '$' may be that of several countries."""
        return any(currency in each.may_be for each in self.named)


class InMoney(NamedTuple):
    """The money that a sheet's prices were taken in.

    `unsaid` is that of the rows that name none themselves, '' where there are none such; `said`
    are those that rows name.
    """

    price: Column
    unsaid: str
    said: frozenset[str]

    @property
    def every(self) -> frozenset[str]:
        """All of them."""
        return self.said.union(filter(None, [self.unsaid]))


def money_line(place: str, texts: Sequence[str]) -> MoneyLine | None:
    """What a row of titles says of the money of the prices; None where it says nothing.

    What is said in two cells, as 'Currency' and 'EUR' beside it, is heard too.
    """
    for text in texts:
        if named := moneys_of_prices(text):
            others = (each for other in texts if other != text for each in moneys_of_prices(other))
            return MoneyLine(place, text[:60], (*named, *others))
    filled = [text for text in texts if text]
    whole = " ".join(filled)
    named = moneys_of_prices(whole)
    if not named and len(filled) == 1 and (alone := _ALONE.fullmatch(_plain(whole))):
        named = _moneys(alone["names"])
    return MoneyLine(place, whole[:60], named) if named else None


def moneys_of_prices(line: str) -> tuple[Named, ...]:
    """The moneys in which a line says that prices are.

    >>> [each.code for each in moneys_of_prices("Alle Preise in CHF zzgl. MwSt.")]
    ['CHF']
    >>> [each.code for each in moneys_of_prices("Price list December 2026 EUR")]
    ['EUR']
    >>> [moneys_of_prices(each) for each in ("Carriage £8.50", "Prices for orders over EUR 200")]
    [(), ()]
    """
    plain = _plain(line)
    for says in _SAYS:
        found = [
            money
            for match in says.finditer(plain)
            if not _ELSEWHERE.match(plain, match.end())
            for money in _moneys(match["names"])
        ]
        if found:
            return tuple(found)
    return ()


def _plain(line: str) -> str:
    return line.replace("U.S.", "US")


def _moneys(names: str) -> tuple[Named, ...]:
    return tuple(filter(None, (money_named(each[0]) for each in _NAMED.finditer(names))))


def agreed_moneys(lines: Sequence[MoneyLine], taken: InMoney, terms: ListTerms) -> Iterator[str]:
    """Say what becomes of lines that name a money; ask where prices were taken in another.

    Raises:
        BadInput: rows that name no money were taken in another than a line says, unasked.
    """
    problems = []
    met = set()
    for line in lines:
        place, text, _ = line
        silent = any(map(line.allows, [taken.unsaid] if taken.unsaid else taken.said))
        if silent or line.codes in met:
            continue
        met.add(line.codes)
        headed = currency_in(taken.price.heading)
        if not taken.unsaid:
            if taken.said:
                yield f"{place}: '{text}'; each row's own currency is taken"
        elif terms.currency_told and headed in {"", terms.currency}:
            yield f"{place}: '{text}'; prices are taken in {taken.unsaid}, as was said"
        elif headed:
            wrong = f"'{text}' stands there, yet the price is headed '{taken.price.heading}'"
            right = f"make them agree, or say --currency {headed} if they are in that"
            problems.append(Problem(place, wrong, right))
        else:
            wrong = f"'{text}' stands there, and prices are taken in {taken.unsaid}"
            others = " or ".join(f"--currency {code}" for code in line.codes)
            right = f"say {others}, or --currency {taken.unsaid} if they are in that"
            problems.append(Problem(place, wrong, right))
    if problems:
        raise BadInput(problems)
