"""What a supplier writes where the number stands that replaces another: a number, several, an end.

A list proposes a link one for one. Where it names several numbers, or so many of one, it is for a
person to say what is meant.
"""

from __future__ import annotations

import re

_ENDS = re.compile(
    r"discont(?:inued|\.)?|obsolete|withdrawn|deleted|n\.?\s?l\.?\s?a\.?|end of line|e\.?o\.?l\.?"
    r"|(?:no longer|not) (?:available|supplied|made|stocked|listed)|not replaced|run out|sold out"
    r"|(?:no|without) (?:replacement|successor|substitute)|entfällt|entfallen|supprimée?|épuisée?"
    r"|nicht mehr (?:lieferbar|erhältlich)|ohne (?:ersatz|nachfolger)|fuori produzione|agotado",
    re.IGNORECASE,
)
_LEAD = re.compile(
    r"(?:(?:please )?(?:see|use|order|try)(?: instead)?|now|new (?:no|number)\.?"
    r"|(?:is )?(?:replaced|superseded) (?:by|with)|becomes|siehe|jetzt|ersetzt durch|voir"
    r"|remplacée? par|[-=–—]*[>→])\s*:?\s+|[-=–—]*[>→]\s*|1\s*[x×]\s+",
    re.IGNORECASE,
)
_BETWEEN = re.compile(
    r"\s+/\s+|,\s+|\s*[;|]\s*|\s+(?:or|and|&|\+|oder|und|ou|et)\s+|\n", re.IGNORECASE
)
_SO_MANY = re.compile(r"(?:[2-9]|\d{2,3})\s*(?:[x×]|off)\s+\S.*", re.IGNORECASE)
_BOTH = re.compile(r"(?=[^/]*\d)(?=[^/]*[A-Za-z])[^/]{2,}")


def says_the_end(text: str) -> bool:
    """Whether words say that a number is no longer supplied and nothing replaces it.

    >>> says_the_end("NLA"), says_the_end("Discontinued."), says_the_end("NLA-4")
    (True, True, False)
    """
    return _ENDS.fullmatch(text.strip().rstrip(".!")) is not None


def number_named(text: str) -> str:
    """The number in 'see J2', 'replaced by J2', '→ J2'; any other text as it is.

    >>> number_named("see J2"), number_named("-> J2"), number_named("SEE-2"), number_named("J2")
    ('J2', 'J2', 'SEE-2', 'J2')
    """
    found = _LEAD.match(text)
    return text[found.end() :] if found and found.end() < len(text) else text


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
