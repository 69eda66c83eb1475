"""Lines beside the rows that say that prices are more than what the shop pays.

'Prices include VAT', 'All prices are retail', 'Prices less 30%': such a line is told, as a price
headed so is.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from enum import StrEnum
from typing import NamedTuple

from kitting.sheets.price_lists.kinds import Kind, said_by

_PRICES = re.compile(
    r"\b(?:prices?|priced|pricing|\w*preis\w*|prix|tarifs?|prezz[oi]|listino|precios?|tarifas?"
    r"|preços?|\w*prij[sz]\w*|\w*pris(?:er|erna|lista|liste)?|cen[ay]|cennik|list|liste)\b"
    r"|\b(?:rrp|uvp)\b",
    re.IGNORECASE,
)
_TAX = (
    r"\b(?:vat|v\.a\.t\.?|tax|mwst|ust|mehrwertsteuer|umsatzsteuer|t\.?v\.?a|i\.?v\.?a|btw|moms|mva"
    r"|gst|dph|alv)\b\.?"
)
_RATE = r"(?:(?:\d{1,2}(?:[.,]\d+)?\s?%|the|of|at|der|die|gesetzliche\w*|la|l['’]|de|di|el)\s*)*"
_WITH = (
    r"\b(?:inc|incl|including|inclusive|include|includes|includ(?:ed|ing)|with|inkl|inklusive"
    r"|einschl|einschließlich|mit|enthalten|ttc|avec|comprennent|comprensiv[oi]|inclusief|con|incluyen|includono|met|med|z)\b"
)
_WITH_TAX = re.compile(
    rf"{_WITH}\.?\s*(?:of\s+)?{_RATE}{_TAX}"
    rf"|{_TAX}\s*(?:(?:at |@ ?|of )?\(?\d{{1,2}}(?:[.,]\d+)?\s?%\)?\s*)?"
    r"(?:is |are |ist |sind )?\s*"
    r"(?:incl(?:uded|usive)?\b\.?|inkl|inbegriffen|enthalten|comprise|incluse|inclus[ao]|compres[ao]"
    r"|incluid[oa]s?|inbegrepen|inkluder\w*)"
    r"|\bt\.?t\.?c\b|\bivat[oi]\b|\bgross[\s-]?prices?\b"
    r"|\bbrutt?o[\s-]?\w*(?:preis|pris|prij[sz])\w*",
    re.IGNORECASE,
)
# 'VAT incl. carriage' after one of these is a price without it.
_WITHOUT = re.compile(
    r"(?:\b(?:ex|exc|excl|excluding|exclusive(?: of)?|net of|before|without|plus|add|subject to"
    r"|ohne|exkl|zzgl|zuzüglich|hors|sans|sin|más|escl|esclusa|più|zonder|exclusief|utan|uden)"
    rf"\b\.?|\+)\s*{_RATE}$",
    re.IGNORECASE,
)
# A line of its own need not name the prices: 'VAT included', 'All incl. VAT'.
_ALL = re.compile(
    r"\W*(?:(?:all|everything|figures|amounts|alle\w*|angaben|beträge|tout|tutto|todo)\W+"
    r"(?:(?:is|are|shown|sind|ist)\W+)*)*",
    re.IGNORECASE,
)
_NOT = re.compile(
    r"\b(?:not|no|nicht|kein\w*|ne|pas|non|niet|inte|ikke|without|ohne|sans|hors|sin|senza|zonder)\b",
    re.IGNORECASE,
)
_RETAIL = re.compile(
    r"\b(?:retail|r\.?r\.?p\.?s?|srp|msrp|uvp|pvp|vk|vkp|(?<!price )list prices?"
    r"|listenpreise?\w*|catalogue prices?|katalogpreise?|empfohlene\w*"
    r"|preisempfehlung\w*|verkaufspreise?"
    r"|(?:recommended|suggested)(?= (?:retail|selling|resale|prices?|list))"
    r"|prix publics?|conseillés?|tarifs? publics?|prezz[oi] al pubblico|prezz[oi] di listino"
    r"|consigliat[oi]|precios? de venta al público|recomendados?|adviesprij\w+|consumer prices?)\b",
    re.IGNORECASE,
)
_OFF = re.compile(
    r"(?:\b(?:less|minus|subject to|before|abzüglich|abzgl|abz|moins|meno|menos)\b\.?"
    r"|\./\.)\s*(?:(?:an?|your|ihrem|ihr|lo|the|de|un|une|uno|su|votre)\s+)*"
    r"(?:\d{1,2}(?:[.,]\d+)?\s?(?:%|percent|per cent|prozent)"
    rf"(?!\W*(?:{_TAX}|surcharge|increase|handling|aufschlag|zuschlag))"
    r"|(?:trade|dealer|usual|händler\w*)?\s*(?:discount|rabatt|remise|sconto|descuento|korting)\b)",
    re.IGNORECASE,
)
_DISCOUNT = (
    r"(?:discount\w*|\w*rabatt\w*|rebate|remise|rabais|scont[oi]|descuento|desconto|korting"
    r"|avdrag)"
)
# 'Discount 35% off all prices', '35% Rabatt auf alle Preise', 'All prices attract 20% discount'.
_FIGURE = r"\d{1,2}(?:[.,]\d+)?\s?(?:%|percent|per cent|prozent)"
_OF_PRICES = (
    r"(?:\W+\w+){0,3}?\W+(?:prices?|list|liste\w*|\w*preis\w*|prix|tarifs?|prezz[oi]|precios?"
    r"|prijzen)\b"
)
_OFF_PRICES = re.compile(
    rf"{_FIGURE}(?:\s+\w+){{0,2}}?\s+off\b{_OF_PRICES}"
    rf"|(?:{_FIGURE}(?:\W+\w+){{0,2}}?\W+{_DISCOUNT}"
    rf"|\b{_DISCOUNT}(?:\W+\w+){{0,2}}?\W+{_FIGURE})"
    rf"(?:\W+\w+){{0,2}}?\W+(?:on|off|from|to|auf|von|sur|sui?|sobre|op|på){_OF_PRICES}"
    rf"|\b{_DISCOUNT}\W+(?:off|on|from){_OF_PRICES}(?:\W+(?:is|of))?\W+{_FIGURE}"
    r"|\b(?:attract\w*|carry|carries|earn\w*|receive\w*|qualif(?:y|ies) for)\s+(?:an?\s+)?"
    rf"{_FIGURE}(?:\s+\w+)?\s+{_DISCOUNT}",
    re.IGNORECASE,
)
_OF_SOME = re.compile(
    r"\b(?:after|nach|quantit\w+|volume|bulk|mengen\w*|over|above|selected|next|clearance"
    r"|includ(?:es?|ed|ing)|reflect\w*|additional|extra|further)\b",
    re.IGNORECASE,
)
# What is taken off for paying soon or ordering much is not taken off each price.
_OF_ORDER = re.compile(
    r"\b(?:settlement|prompt|early|cash|payment|paid|zahlung\w*|skonto|escompte|order(?:s|ed)?"
    r"|bestell\w*|already|bereits|déjà|deducted)\b",
    re.IGNORECASE,
)
_BEFORE_TAX = re.compile(
    rf"\b(?:ex|exc|excl|excluding|ohne|exkl|zzgl|plus|hors|sans|sin|escl|zonder|utan)\b.*{_TAX}"
    r"|\b(?:ht|h\.t)\b",
    re.IGNORECASE,
)


class More(StrEnum):
    """Why prices are more than what the shop pays."""

    TAX = "VAT"
    RETAIL = "retail"


class MoreLine(NamedTuple):
    """A line beside the rows that says that prices are more than what the shop pays."""

    place: str
    text: str
    why: More


def more_line(place: str, texts: Sequence[str]) -> MoreLine | None:
    """What a row of titles says of prices being with VAT or retail; None where it does not.

    A sentence that nobody put in quotes is in several fields of a text file.
    """
    whole = ", ".join(filter(None, texts))
    why = more_than_paid(whole)
    return MoreLine(place, whole[:60], why) if why else None


def more_than_paid(line: str) -> More | None:
    """Why the prices of a list are more than what is paid, as a line says; None where it does not.

    >>> [more_than_paid(each) for each in ("Preise inkl. 19% MwSt.", "Prices exclude VAT")]
    [<More.TAX: 'VAT'>, None]
    >>> [more_than_paid(each) for each in ("All prices less 30%", "Prices less 2% for cash")]
    [<More.RETAIL: 'retail'>, None]
    >>> [more_than_paid(each) for each in ("VAT included", "Prices ex. VAT incl. carriage")]
    [<More.TAX: 'VAT'>, None]
    """
    taxed = _taxed(line)
    if not _PRICES.search(line) and not (taxed and _stands_alone(line, *taxed.span())):
        return None
    if taxed and not _NOT.search(line[: taxed.end()]):
        return More.TAX
    off = _OFF.search(line) or (not _OF_SOME.search(line) and _OFF_PRICES.search(line))
    if _RETAIL.search(line) or (off and not _OF_ORDER.search(line)):
        return More.RETAIL
    return None


def _taxed(line: str) -> re.Match[str] | None:
    """Where a line speaks of VAT as being in something; 'ex. VAT incl. carriage' does not."""
    every = _WITH_TAX.finditer(line)
    return next((found for found in every if not _WITHOUT.search(line[: found.start()])), None)


def _stands_alone(line: str, start: int, end: int) -> bool:
    """Whether a line says nothing else of weight around a place."""
    return _ALL.fullmatch(line, 0, start) is not None and not re.search(r"\w", line[end:])


def told_of_more(lines: Sequence[MoreLine], heading: str) -> Iterator[str]:
    """Tell the lines that a price's own heading does not answer: 'ex VAT', 'Net', 'Trade'."""
    paid = said_by(heading).kind in {Kind.NET, Kind.TRADE}
    for place, text, why in lines:
        of_retail = _RETAIL.search(text) is not None
        answered = _BEFORE_TAX.search(heading) if why is More.TAX else paid
        if not answered and not (paid and of_retail):
            yield f"{place}: '{text}' stands there: that sounds like more than what the shop pays"
