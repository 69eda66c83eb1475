"""What the heading of a price says of it: net or retail, old or new, with VAT.

A price list often has several prices in a row. What the shop pays is the net one; one with VAT or
of last year is never it while there is another; and a VAT amount or a discount is no price at all.
"""

from __future__ import annotations

import re
from enum import IntEnum
from typing import NamedTuple

from kitting.sheets.price_lists.priced_for import heads_unit_price


class Kind(IntEnum):
    """What a price is, the likeliest to be what the shop pays first."""

    NET = 1
    TRADE = 2
    PRICE = 3
    LIST = 4
    UNSAID = 5
    WITH_VAT = 6
    OLD = 7


class Says(NamedTuple):
    """What a heading says: `kind` None when it names something that is no price."""

    kind: Kind | None
    new: bool = False


def _words(text: str) -> re.Pattern[str]:
    return re.compile(rf"(?<![^\W_])(?:{text})(?![^\W_])", re.IGNORECASE)


_TAX = _words(
    r"vat|v\.a\.t|tax|mwst|ust|mehrwertsteuer|umsatzsteuer|t\.?v\.?a|i\.?v\.?a|btw|moms|mva|gst|dph"
    r"|alv"
)
_BEFORE_TAX = re.compile(
    r"(?:\b(?:ex|exc|excl|excluding|exclusive|before|without|w/o|plus|net|nett|ohne|exkl|zzgl"
    r"|netto|hors|sans|sin|escl|esclusa|senza|zonder|exclusief|utan|uden|bez|ekskl)\b|\+)",
    re.IGNORECASE,
)
_WITH_TAX = _words(
    r"inc|incl|including|inclusive|with|inkl|inklusive|mit|ttc|gross|brutto\w*|con|incluido|ivato"
    r"|inclusa|inclusief|met|avec|z"
)
_OLD = _words(
    r"old|previous|prev|last|former|was|before|prior|alt|alte[rns]?|altpreis|bisher\w*|vorher\w*"
    r"|vorjahr\w*|ancien|ancienne|précédent|viejo|antiguo|anterior|vecchio|precedente|oude?|gammal"
    r"|gamle?|gammel|stara|stary|antigo"
)
_NEW = _words(
    r"new|neu|neue[rns]?|neupreis|nouveau|nouvelle|nuevo|nuovo|nieuwe?|ny|nytt|nye|nowa|nowy|novo"
    r"|now|current|aktuell\w*"
)
_NO_PRICE = _words(
    r"discount|disc|rebate|rabatt\w*|rabais|remise|sconto|descuento|korting|surcharge|deposit"
    r"|pfand\w*|core(?: charge)?|carriage|postage|fracht|margin|marge|increase|change|diff\w*"
    r"|(?:price|preis) ?(?:group|gruppe|code|class|unit|einheit|basis|list)|preisgruppe"
    r"|preiseinheit|weight|wt|kg|gewicht|poids|peso|vikt|grams?|mm|cm|inch(?:es)?|length|width"
    r"|height|länge|breite|höhe|size|bore|diameter|points|rate|factor|page|seite|row|line"
    r"|trade group"
)
# Money, and nothing said of whose: a sign or a code alone, or a word for an amount.
_MONEY = re.compile(
    r"[\W_]*(?:[£€$]|GBP|EUR|USD|CHF|tarif|tarifa|tariffa|betrag|importe?o?|montant|amount|bedrag)"
    r"(?:\W*(?:[£€$]|GBP|EUR|USD|CHF))?\W*",
    re.IGNORECASE,
)
_NUMBERED = _words(
    r"no|nos|nr|number|nummer|code|ref|group|gruppe|class|date|datum|qty|quantity|menge|bin|stock"
)
_KINDS = (
    (Kind.LIST, _words(
        r"list|listen?preis|listino|retail|rrp|srp|msrp|uvp|vk|vkp|verkaufspreis|public|conseillé"
        r"|pvp|advies\w*|consumer|catalogue price|katalogpreis"
    )),
    (Kind.NET, _words(
        r"net|nett|netto\w*|your|ihr|ek|einkaufspreis|ek-preis|inkoop\w*|votre|neto"
    )),
    (Kind.TRADE, _words(r"trade|cost|dealer|wholesale|händler\w*|ht")),
    (Kind.PRICE, re.compile(
        r"price|preis|prijs|prezzo|precio|preço|\b(?:prix|pris|cena|cene|hinta|each|ár|цена|τιμή)\b",
        re.IGNORECASE,
    )),
)  # fmt: skip


def said_by(heading: str) -> Says:
    """What a heading says of the price below it.

    >>> said_by("Price ex VAT").kind, said_by("VAT").kind, said_by("New price").new
    (<Kind.TRADE: 2>, None, True)
    """
    if _NO_PRICE.search(heading):
        return Says(None)
    new = _NEW.search(heading) is not None
    taxed = _TAX.search(heading) is not None
    before_tax = _BEFORE_TAX.search(heading) is not None
    if taxed and not before_tax:
        return Says(Kind.WITH_VAT, new) if _WITH_TAX.search(heading) else Says(None)
    if _OLD.search(heading) and not (taxed and not _old_without_tax(heading)):
        return Says(Kind.OLD)
    if re.search(r"\b(?:ttc|gross|brutto\w*)\b", heading, re.IGNORECASE):
        return Says(Kind.WITH_VAT, new)
    kind = next((kind for kind, words in _KINDS if words.search(heading)), Kind.UNSAID)
    if taxed and kind in {Kind.PRICE, Kind.UNSAID}:
        kind = Kind.TRADE
    return Says(kind, new)


def names_money(heading: str) -> bool:
    """Whether a heading that is like none of ours is of a price still, or of money alone.

    >>> [names_money(text) for text in ("Nett", "EK netto", "UVP", "£", "Dealer no", "RG")]
    [True, True, True, True, False, False]
    """
    if is_money_alone(heading) or heads_unit_price(heading):
        return True
    return said_by(heading).kind not in {None, Kind.UNSAID} and not names_a_figure(heading)


def names_a_figure(heading: str) -> bool:
    """Whether a heading is of numbers, codes or counts, whatever else it says: 'Dealer no'."""
    return _NUMBERED.search(heading) is not None


def is_money_alone(heading: str) -> bool:
    """Whether a heading names money and nothing of what it is: '£', 'Amount'."""
    return _MONEY.fullmatch(heading) is not None


def _old_without_tax(heading: str) -> bool:
    """Whether a price before tax is an old one too: 'before VAT' alone is no former price."""
    return any(found[0].casefold() != "before" for found in _OLD.finditer(heading))
