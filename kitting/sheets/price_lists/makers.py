"""The words by which a column of makers' numbers is headed, beside the supplier's own.

There are too many to list: 'Mfr. part no', 'Hersteller-Teilenr.', 'Réf. d'origine'. What they have
in common is a word for who made the part and a word for a number.
"""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

_WHO = frozenset(
    re.findall(
        r"\w+",
        "maker makers mfr mfrs mfg manuf manufr manufacturer manufacturers man manf mnfr brand"
        " factory genuine original originals orig oe oem hersteller herstellers herst werks"
        " fabricant fabricants fabr fab constructeur constructeurs constr origine usine fabrikant"
        " fabrikanten fabrikants fabriek fabrieks origineel originele costruttore costruttori"
        " produttore produttori fabbricante fabbricanti madre originale originali fabricante"
        " fabricantes constructor originales tillverkare tillverkarens producent producenta"
        " producentens fabrikantens oryginalny oryginalna",
    )
)
_NUMBER = frozenset(
    re.findall(
        r"\w+",
        "no nos nr nrs n num number numbers nummer nummern numero numeros numer ref refs reference"
        " references referenz referencia referencias referentie riferimento rif code codes cod"
        " codice codici codigo codigos kod part parts pn item sku article articles artikel"
        " artikelnr artikelnummer teilenr teilenummer ersatzteilnummer bestellnr bestellnummer"
        " onderdeelnr onderdeelnummer artikelnummern teilenummern varenr varenummer artikelnummers",
    )
)
_ALONE = frozenset({"oe", "oem", "mpn"})
_OTHERWISE = frozenset(
    re.findall(
        r"\w+",
        "old previous prev former formerly was superseded supersedes replaced replaces replacement"
        " new alternative alternativ alt alte altes neu neue neues ersetzt ersatz ancien ancienne"
        " nouveau nouvelle remplace oud oude nieuw nieuwe vecchio nuovo viejo antiguo nuevo our"
        " unsere notre nostro nuestro onze name drawing zeichnung serial batch tariff barcode ean"
        " order price preis prix prijs prezzo precio cost qty quantity menge stock weight gewicht"
        " vehicle engine",
    )
)
_JOINED = re.compile(
    r"(?:hersteller|herst|original|orig|oem?|werks?|fabrikante?n?|fabriks?|fabrieks?|tillverkar"
    r"|producent)(?:ens)?(?:ersatz|artikel|teile?|onderdeel|bestell|katalog|sach|vare|del)*"
    r"(?:nummer[ns]?|nrs?|no|code|ref(?:erenz)?)"
)


@lru_cache(maxsize=10_000)
def heads_makers_numbers(heading: str) -> bool:
    """Whether a heading says that makers' numbers stand below it.

    >>> [heads_makers_numbers(text) for text in ("Mfr. P/N", "Herstellernr.", "N° d'origine", "OE")]
    [True, True, True, True]
    >>> [heads_makers_numbers(text) for text in ("Maker", "Part no", "Old maker's no")]
    [False, False, False]
    """
    plain = unicodedata.normalize("NFKD", heading.casefold().replace("#", " no "))
    plain = "".join(mark for mark in plain if not unicodedata.combining(mark))
    plain = " ".join(re.findall(r"[^\W_]+", plain))
    words = set(re.sub(r"\bo e\b(?: m\b)?", "oe", plain).split())
    if words & _OTHERWISE:
        return False
    if any(_JOINED.fullmatch(word) for word in words):
        return True
    return bool(words & _WHO and words & _NUMBER) or bool(words and words <= _ALONE)
