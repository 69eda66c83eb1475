"""What a supplier writes where the number stands that replaces another: a number, several, an end.

A list proposes a link one for one. Where it names several numbers, or so many of one, it is for a
person to say what is meant; where it names none ('TBA', 'see catalogue') there is nothing to link.
"""

from __future__ import annotations

import re
from typing import NamedTuple

_END_WORDS = (
    r"discont(?:inued|\.)?|disc(?:'d|\.)?|obs(?:olete|\.)?|withdrawn|deleted|n[./]?\s?l[./]?\s?a\.?"
    r"|end of line|e\.?o\.?l\.?|(?:no longer|not) (?:available|supplied|made|stocked|listed)"
    r"|not replaced|run out|sold out|out of production|ended|ceased"
    r"|(?:no|without) (?:replacement|successor|substitute)|entfällt|entfallen|eingestellt"
    r"|gestrichen|obsolet|nicht mehr (?:lieferbar|erhältlich)|ohne (?:ersatz|nachfolger)"
    r"|supprimée?|épuisée?|arrêtée?|obsolète|plus (?:disponible|fabriquée?)|fuori produzione"
    r"|obsolet[oa]|esaurit[oa]|agotad[oa]|descatalogad[oa]|descontinuad[oa]|vervallen"
    r"|niet meer leverbaar|utgått|udgået|utgår|udgår|wycofan[ye]"
)
_DAY = (
    r"(?:(?:\d{1,2}[./ -]){0,2}|[^\W\d_]{3,9}\.? )(?:19|20)\d\d"
    r"|(?:19|20)\d\d[-/.]\d\d(?:[-/.]\d\d)?|\d{1,2}[./]\d\d"
)
_ENDS = re.compile(
    rf"(?:{_END_WORDS})(?:[\s,:(]+(?:(?:since|in|from|as of|seit|ab|depuis|dal|desde)\s+)?"
    rf"(?:{_DAY})\)?)?",
    re.IGNORECASE,
)
_LEAD_WORDS = (
    r"(?:(?:please )?(?:see|use|order|try)(?: instead)?|now|new (?:no|number)\.?"
    r"|(?:is )?(?:replaced|superseded) (?:by|with)|becomes|siehe|jetzt|ersetzt durch|voir"
    r"|remplacée? par|[-=–—]*[>→])\s*:?\s+|[-=–—]*[>→]\s*"
)
_LEAD = re.compile(rf"{_LEAD_WORDS}|1\s*[x×]\s+", re.IGNORECASE)
# What says that there is no more of a number, and yet goes on to the one that is used instead.
_ENDS_IN = re.compile(
    rf"(?:{_END_WORDS}|n/?a)[\s,;:.()–—-]+(?:(?:so|and|but|please)\s+)?(?=(?:{_LEAD_WORDS}))",
    re.IGNORECASE,
)
_BEFORE = re.compile(
    r"(?:was|formerly|previously|prev\.?|(?-i:ex)|replaces|supersedes|replacement for"
    r"|substitute for|in place of|old (?:no|number|ref)\.?|früher|vormals|bisher|ersetzt"
    r"|ersatz für|alte nr\.?|anciennement|remplace|sostituisce|sustituye a|vervangt"
    r"|ersätter|erstatter|zastępuje)"
    r"\s*:?\s+(?=.*\d)",
    re.IGNORECASE,
)
_BETWEEN = re.compile(
    r"\s+/\s+|,\s+|\s*[;|]\s*|\s+(?:or|and|&|\+|oder|und|ou|et)\s+|\n", re.IGNORECASE
)
_SO_MANY = re.compile(r"(?:[2-9]|\d{2,3})\s*(?:[x×]|off)\s+\S.*", re.IGNORECASE)
_BOTH = re.compile(r"(?=[^/]*\d)(?=[^/]*[A-Za-z])[^/]{2,}")
_WORD = re.compile(r"(?<!\S)[^\W\d_A-Z]{3,}(?!\S)|\bpp?\.? \d+$|\bpp?\.\d")
_ELSEWHERE = re.compile(
    r"\b(?:catalog(?:ue)?|katalog|catálogo|pages?|seite|list|liste|note|tel|phone|sales|www)\b",
    re.IGNORECASE,
)
_NONE = {
    "", "-", "–", "—", "n/a", "na", "n", "none", "no", "0", "nil", "not applicable", "keine",
    "keiner", "kein", "nein", "aucun", "aucune", "non", "nessuno", "ninguno", "geen", "ingen",
    "brak",
}  # fmt: skip


class Said(NamedTuple):
    """What a cell says of a number's successor.

    `after` is the number that takes its place, or words that may name one; `before` one whose
    place it takes itself; `ended` that it is no longer supplied and nothing takes its place.
    """

    after: str = ""
    before: str = ""
    ended: bool = False


def successor_in(text: str) -> Said:
    """What a cell says where the number stands that replaces another.

    >>> successor_in("NLA - see J2").after, successor_in("was J0").before, successor_in("OBS").ended
    ('J2', 'J0', True)
    >>> successor_in("n/a"), successor_in("J2").after
    (Said(after='', before='', ended=False), 'J2')
    """
    if text.casefold().rstrip(".") in _NONE:
        return Said()
    if says_the_end(text):
        return Said(ended=True)
    led = _LEAD.match(text)
    before = None if led else _BEFORE.match(text)
    if before:
        return Said(before=text[before.end() :])
    return Said(number_named(text))


def says_the_end(text: str) -> bool:
    """Whether words say that a number is no longer supplied and nothing replaces it.

    >>> says_the_end("NLA"), says_the_end("Withdrawn 3/2024."), says_the_end("NLA-4")
    (True, True, False)
    """
    return _ENDS.fullmatch(text.strip().strip("()").rstrip(".!")) is not None


def number_named(text: str) -> str:
    """The number in 'see J2', 'NLA, use J2', '→ J2'; any other text as it is.

    >>> number_named("see J2"), number_named("NLA use J2"), number_named("SEE-2")
    ('J2', 'J2', 'SEE-2')
    """
    ends = _ENDS_IN.match(text)
    rest = text[ends.end() :] if ends else text
    found = _LEAD.match(rest)
    return rest[found.end() :] if found and found.end() < len(rest) else text


def names_no_number(text: str) -> bool:
    """Whether a text that is no known number is words: 'TBA', 'see catalogue', 'page 12'.

    >>> names_no_number("TBA"), names_no_number("catalogue p. 12"), names_no_number("OBS 1")
    (True, True, False)
    """
    if several_in(text):
        return False
    figured = any(mark.isdigit() for mark in text)
    return not figured or bool(_WORD.search(text) or _ELSEWHERE.search(text))


def several_in(text: str) -> tuple[str, ...]:
    """The numbers that a text names, where it names several; so many of one are the text itself.

    >>> several_in("C2 / C3"), several_in("C2, C3 or C4"), several_in("2 x C3"), several_in("31/46")
    (('C2', 'C3'), ('C2', 'C3', 'C4'), ('2 x C3',), ())
    """
    if _SO_MANY.fullmatch(text):
        return (text,)
    pieces = [piece.strip() for piece in _BETWEEN.split(text)]
    if len(pieces) == 1:
        pieces = text.split("/")
        if not all(map(_BOTH.fullmatch, pieces)):
            return ()
    figured = all(any(mark.isdigit() for mark in piece) for piece in pieces)
    return tuple(pieces) if len(pieces) > 1 and figured else ()
