"""Words for one piece in a price's heading, whatever it calls the price: 'Netto cad.', 'E-Preis'.

Beside a column of packs such a price is not that of the pack. Where a word may mean a pack as well,
or a pack is named too, nobody can say and a person is asked.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TYPE_CHECKING

from kitting.errors import Problem
from kitting.sheets.price_lists.counts import as_in_headings
from kitting.sheets.price_lists.no_counts import without_no_counts
from kitting.sheets.price_lists.nones import as_told

if TYPE_CHECKING:
    from kitting.sheets.price_lists.fields import Column


def _words(text: str) -> re.Pattern[str]:
    return re.compile(rf"(?<![^\W_])(?:{text})(?![^\W_])", re.IGNORECASE)


_PRICE = r"(?:(?:preis|pris|prijs|hinta|ár|netto|brutto|ek|vk|kosten|kostnad)\w*|pr)"
_ONE = _words(
    r"unit|unitair\w*|unitari\w*|unité|unit[àa]|unid|unidade?|uds?|u\.d|c\s?/\s?u|c\.\s?u"
    r"|cada un[oa]|cad(?:auno|auna|uno|una)|(?-i:[Cc]ad)(?=\.)|ciascun[oa]|chacune?|singol[oa]"
    r"|each|ea|(?:for|per) one|singles?|singly|apiece|ppu|p\.\s?u"
    r"|piece|pièce|pieza|peça|pezzo|pza?|(?<=[\s(/.])(?:pcs?|pces?)"
    r"|stück|stueck|stuks?|styck|stykk?|szt\w*|kus|ks|kpl|db|darab\w*|kappale\w*"
    r"|enhet|enhed|eenheid|einheit|jedn\w*|yksikkö\w*|egység\w*"
    rf"|(?:einheits?|enhets?|enheds?|eenheids?|stück|stueck|stc?k?|stuks?|stycke?|stykk?)"
    rf"[\s.-]*{_PRICE}"
    rf"|einzeln?|einzel-?(?:stück|{_PRICE})|e[\s.-]*preis|e\.?[\s-]?pr(?=\.)|[áà][\s-]*pris"
)
# A letter or two that say so beside a word for the price in their own language alone.
_ONE_ABROAD = (
    re.compile(
        r"(?=.*(?:preis|pris\b|prijs|netto|brutto|inkoop|händler|tarief|kostnad|\bek\b))"
        r".*(?<![^\W_])(?:stc?k?)(?![^\W_])",
        re.IGNORECASE,
    ),
    re.compile(
        r"(?=.*(?:prezzo|netto|listino|costo|importo|tariffa)).*(?<![^\W_])(?-i:[Cc]ad)(?![^\W_])",
        re.IGNORECASE,
    ),
    re.compile(
        r"(?:.*\W)?(?:prix|px|tarif|tarifa|prezzo|precio|preço|p\.?v\.?p\.?)\W{0,2}"
        r"(?:un?|und|pu)(?![^\W_])",
        re.IGNORECASE,
    ),
)
_PERHAPS_ONE = _words(r"(?<!ex[\s-])stc?k?|p\.?p|p\.?u|a-pris|(?-i:[Cc]ad)")
# Another unit than one piece, a pack besides, or a count.
_OTHERWISE = re.compile(
    r"(?<![^\W\d_])(?:packs?|packets?|pkts?|pk|pkg|box(?:es)?|bags?|cartons?|cases?|vpe|ve"
    r"|gebinde|beutel|karton|boîte|paquet|sachet|colis\w*|cond|conditionn\w*|doos|zak|cajas?"
    r"|bolsa|envase|embal\w*|conf|confez\w*|scatola|busta|förp\w*|opak\w*|sets?|kits?|lots?"
    r"|pairs?|dozen|(?:sales?|sell(?:ing)?|order|pricing) unit"
    r"|unit of \w+|unidad de venta|unité de vente|unit[àa] di vendita)(?![^\W\d_])"
    r"|pack(?:ung|ag|ing)|verp|verkaufseinheit|bestelleinheit|(?<![^\W_])(?:qty|qté|quantity|quantité|menge|anzahl|antal"
    r"|aantal|cant|cantidad|quantità|ilość|stock|code)(?![^\W_])",
    re.IGNORECASE,
)
# Its figure is from how many on, or of how many.
_COUNTED = re.compile(
    rf"(?<![\d/])(?!(?:19|20)\d\d\b)\d+\s*(?:{_ONE.pattern}|{_PERHAPS_ONE.pattern})",
    re.IGNORECASE,
)


def for_one(heading: str) -> bool:
    """Whether a price's heading plainly says that it is for one, by whatever word for the price.

    >>> [for_one(each) for each in ("Netto cad.", "Preis (Stück)", "Prix U. HT", "Unit trade")]
    [True, True, True, True]
    >>> [for_one(each) for each in ("Net", "Price pp", "Pack unit price", "Net 10 pcs", "CAD net")]
    [False, False, False, False, False]
    """
    return _said(heading) is True


def perhaps_for_one(heading: str) -> bool:
    """Whether a price's heading may say that it is for one: 'Price pp', 'Pack price (unit)'.

    >>> [perhaps_for_one(each) for each in ("Price pp", "Net St.", "Price u. moms", "Net each")]
    [True, True, False, False]
    """
    return _said(heading) is None


@lru_cache(maxsize=10_000)
def _said(heading: str) -> bool | None:
    """Whether a price is for one; None where nobody can say."""
    whole = as_in_headings(heading)
    plain = without_no_counts(whole)
    plainly = _ONE.search(plain) or any(words.match(plain) for words in _ONE_ABROAD)
    if not plainly and not _PERHAPS_ONE.search(plain):
        return False
    counts = any(mark.isdigit() for mark in plain) or _COUNTED.search(whole)
    return True if plainly and not counts and not _OTHERWISE.search(plain) else None


def for_one_or_a_pack(price: Column, pack: Column, of: str) -> Problem:
    """Ask whether each price is for one piece, or for the pack that a column says."""
    packs = as_told("per", of, pack.heading or f"column {pack.letter}")
    return Problem(
        f"column {price.letter}",
        f"is a price below '{price.heading}' for one, or for so many as {pack} says?",
        f"say --per 1 if it is for one, or {packs} if it is for the pack",
    )
