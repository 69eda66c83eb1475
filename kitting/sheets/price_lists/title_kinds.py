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
    r"|preços?|\w*prij[sz]\w*|pris|priser|prislista|cen[ay]|cennik|list|liste)\b|\b(?:rrp|uvp)\b",
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
    rf"|{_TAX}\s*(?:\(?\d{{1,2}}(?:[.,]\d+)?\s?%\)?\s*)?(?:is |are |ist |sind )?\s*"
    r"(?:incl(?:uded|usive)?\b\.?|inkl|inbegriffen|enthalten|comprise|incluse|inclus[ao]|compres[ao]"
    r"|incluid[oa]s?|inbegrepen|inkluder\w*)"
    r"|\bt\.?t\.?c\b|\bivat[oi]\b|\b(?:brutto|gross)[\s-]?(?:preise?|prices?|priser)\b",
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
    """
    if not _PRICES.search(line):
        return None
    taxed = _WITH_TAX.search(line)
    if taxed and not _NOT.search(line[: taxed.end()]):
        return More.TAX
    off = _OFF.search(line)
    if _RETAIL.search(line) or (off and not _OF_ORDER.search(line)):
        return More.RETAIL
    return None


def told_of_more(lines: Sequence[MoreLine], heading: str) -> Iterator[str]:
    """Tell the lines that a price's own heading does not answer: 'ex VAT', 'Net', 'Trade'."""
    paid = said_by(heading).kind in {Kind.NET, Kind.TRADE}
    for place, text, why in lines:
        of_retail = _RETAIL.search(text) is not None
        answered = _BEFORE_TAX.search(heading) if why is More.TAX else paid
        if not answered and not (paid and of_retail):
            yield f"{place}: '{text}' stands there: that sounds like more than what the shop pays"
