"""For how many the price under a heading is: 'Price per 100', '(pack of 10)', '€/Stk', 'for 10'.

What a heading plainly says is read. A count that may be of something else is asked about.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

from kitting.sheets.price_lists.cells import pack_of
from kitting.sheets.price_lists.counts import as_in_headings
from kitting.sheets.price_lists.for_one import for_one

# What a piece is called where a price is for one, and behind the count where it is for more.
_PIECE = (
    r"each|ea|piece|pce|pc|unit|item|stück|stuecks?|stk|st|stuks?|styck|pièce|unité|pezzo|pz|cad\w*"
    r"|ud|uds|unidad|unidade|szt\w*|kus|ks"
)
PIECES = (
    r"off|pcs?|pces?|pieces?|units?|items?|nos|stk|stuks?|stücke?|stck|st|styck|pièces?|unités"
    r"|pz|pzas?|pezzi|piezas|uds?|unidades|unità|szt\w*|kusů|ks|db|kpl"
)
"""What pieces are called behind a count."""

_MANY = {
    **dict.fromkeys(("hundred", "hundert", "cent", "honderd", "hundra", "hundrede", "ciento"), 100),
    **dict.fromkeys(("thousand", "tausend", "mille", "duizend", "tusen"), 1000),
    "dutzend": 12,
    "douzaine": 12,
    "%": 100,
    "‰": 1000,
}
_WORDS = "dozen|doz|pair|" + "|".join(word for word in _MANY if word.isalpha())
_BEHIND = rf"(?:\s*(?:{PIECES})(?![^\W\d_]))?\.?\)?"
_AFTER = (
    r"(?:\W+(?:net\w*|ht|h\.t\.?|ex\w*\.?(?: \S+)?|zonder.*|sans.*|ohne.*|hors.*|[£€$]|GBP|EUR))?"
)
_BEFORE = r"(?:^|.*[^\W\d_][\s)]*|.*[\s(£€$])"
_PER = re.compile(
    rf"{_BEFORE}(?:"
    r"(?:\b(?:(?:per|je|pro|par|por|al|à la|à l['’]|a la|za)(?:\b|(?<=['’]))"
    r"|(?<=\s)(?:pr?\.|pr\b))\s*|/\s*)"
    rf"(?P<many>\d{{1,6}}|{_PIECE}|{_WORDS}){_BEHIND}"
    r"|\b(?:les?|au)\s+(?P<french>[15]0+|cent|mille)(?![^\W_])(?:\s*pièces?)?"
    rf"|(?P<hundred>[%‰])\s*(?:{PIECES})\.?\)?"
    rf"){_AFTER}\W*",
    re.IGNORECASE,
)
# A pack whose price it is; 'in packs of 10' may be how those are sold that are priced each.
_PACK_OF = re.compile(
    r"(?:\b(?:per|a|je|pro|par|por|al)\s+|/\s*)?(?<![^\W_])(?:pack|packet|pkt|box|bag|carton|case"
    r"|packung|beutel|karton|boîte|paquet|sachet|doos|zak|caja|bolsa|confezione|scatola|busta)\s+"
    r"(?:of|à|von|de|da|van|mit|with)\s+(?P<many>\d{1,6})(?![^\W_]|[.,/-]\d|\s*[+%])"
    rf"(?:\s*(?:{PIECES})(?![^\W\d_])\.?)?",
    re.IGNORECASE,
)
_COUNTS_TOO = re.compile(r"(?<![\d./-])(?!(?:19|20)\d\d\b)\d+(?![\d./-]|\s*%)")
_FOR = re.compile(
    rf"{_BEFORE}"
    r"(?:\b(?:for|für|fuer|pour|para|voor|för|ogni|cada|chaque)\s+|\bf\.\s*|(?<![^\W_])[x×]\s*)"
    r"(?:(?:a|one|das|een)\s+)?(?P<many>\d{1,6}|dozen|pair|hundred|hundert|thousand|tausend)"
    rf"(?!\s*[+%]){_BEHIND}{_AFTER}\W*",
    re.IGNORECASE,
)
_ONE = re.compile(
    r"(?:.*\W)?(?:each|ea\.?)(?:\W.*)?|.*\b(?:einzelpreis|stückpreis|stuksprijs|stukprijs"
    r"|styckpris|stykpris|(?:unit|single|piece|item) (?:price|cost|nett?)"
    r"|(?:price|nett?|cost) unit)\b.*"
    r"|.*\b(?:prix|prezzo|precio|preço|cena|prijs|preis|pris) (?:unit\w*|jedn\w*"
    rf"|{_PIECE})\b.*|(?:p\.? ?u\.?|e\.?p\.?){_AFTER}\W*",
    re.IGNORECASE,
)
_PU = re.compile(rf"p\.? ?u\.?{_AFTER}\W*", re.IGNORECASE)
_YEARS = range(1900, 2101)


def per_of(heading: str) -> int:
    """For how many the price under a heading is, 0 when it does not say.

    >>> [per_of(each) for each in ("Price per 100", "€/Stk", "Each", "Unit price", "Net")]
    [100, 1, 1, 1, 0]
    >>> [per_of(each) for each in ("Trade (pack of 10)", "Prix les 100", "EK % Stk", "Price 2026")]
    [10, 100, 100, 0]
    """
    plain = as_in_headings(heading)
    packed = _PACK_OF.search(plain)
    if packed:
        rest = f"{plain[: packed.start()]} {plain[packed.end() :]}"
        said = per_of(rest)
        return int(packed["many"]) if not (said or _COUNTS_TOO.search(rest)) else int(said == 1)
    found = _PER.fullmatch(plain)
    if not found:
        return int(bool(_ONE.fullmatch(heading)) or for_one(heading))
    return _count(found["many"] or found["french"] or found["hundred"])


def per_alone(index: int, headings: Sequence[str]) -> int:
    """For how many the price of a column is, 'Price for 10' too where no other is for so many.

    Beside 'Price for 1' it may be that of one when ten are bought, and is not said.

    >>> per_alone(1, ["Code", "Price for 10"]), per_alone(1, ["Price for 1", "Price for 10"])
    (10, 0)
    """
    heading = headings[index] if index < len(headings) else ""
    said = per_of(heading)
    if said or sum(1 for text in headings if _for(text)) > 1:
        return said
    return _for(heading)


def heads_unit_price(heading: str) -> bool:
    """Whether a heading is 'p.u.' or 'PU HT': the price of one, in two letters."""
    return _PU.fullmatch(heading) is not None


@lru_cache(maxsize=10_000)
def _for(heading: str) -> int:
    found = _FOR.fullmatch(as_in_headings(heading))
    many = _count(found["many"]) if found else 0
    return 0 if many in _YEARS else many


def _count(said: str) -> int:
    many = said.casefold()
    if re.fullmatch(_PIECE, many):
        return 1
    return _MANY.get(many) or pack_of(many) or 0
