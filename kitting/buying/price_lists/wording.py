"""How many of a part words speak of: 'stud per 100', 'shells (pair)', 'All prices per 100'.

Such words are never taken for what a price is for: a column says that, or a person. They are told,
so that a hundred are not priced as one, nor one as a hundred, without anybody knowing.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterator, Sequence
from itertools import accumulate

from kitting.months import MONTH

_COUNTS = {
    2: "pair|pairs|pr|prs|paar|paire|paires|paia|par",
    12: "dozen|dozens|doz|dutzend|douzaine|dozzina|docena|dozijn",
    100: "hundred|hundert|cent",
    144: "gross",
    1000: "thousand|tausend|mille",
}
_BY_WORD = {word: many for many, words in _COUNTS.items() for word in words.split("|")}
_WORDS = "|".join(_BY_WORD)


# 'For 30 days', 'für 14 Werktage', 'for 30 (thirty) calendar days', 'for 30 to 60 days'.
_TIME = (
    r"(?:(?:-|–|\s(?:to|or|bis|oder)\s)\d+)?(?:\s?\([^)]*\))?[\s-]*"
    r"(?:(?:calendar|working|business|trading|full|clear|consecutive|more|further|volle|weitere)\s+)*"
    r"(?:days?|weeks?|wks?|months?|mths?|quarters?|years?|yrs?|minutes?|(?:werk|kalender|arbeits)?tagen?"
    r"|wochen?|monaten?|quartalen?|jahren?|jours?|semaines?|mois|ans|années?|giorn[io]"
    r"|settiman[ae]|mes[ei]|ann[io]|días?|semanas?|mes(?:es)?|años?|dagen|dag(?:ar|e)?|wek?en|maand(?:en)?"
    r"|jaar|veckor|uger|uker|månader|måneder|år|dni|tygodni|miesięcy|dias?|anos?)\b"
)


# 'For 15 January', 'al 31 de marzo'; a set is no September.
_DAY = rf"(?:st|nd|rd|th|er|[º°.])?\s*(?:de\s)?(?!(?:set|out)\b(?!\.?\s*\d)){MONTH}"


def _many(name: str) -> str:
    """A count, which is no size, weight, time, day or part of a number."""
    measures = "mm|cm|m|g|kg|ml|l|km|thou|hours?|%"
    return rf"(?P<{name}>\d{{1,6}}|{_WORDS})(?![^\W_]|[.,/]\d|\s?(?:{measures})\b|{_TIME}|{_DAY})"


_PACK = (
    r"(?:packs?|packets?|packages?|pkts?|pk|box(?:es)?|bags?|cartons?|bundles?|lots?|packung"
    r"|packungen|beutel|boîtes?|paquets?|confezion[ei]|cajas?)"
)
_DESCRIBED = re.compile(
    rf"\b(?:per|je|pro)\s+{_many('per')}"
    rf"|\b{_PACK}\s*(?:of|à|x|von|de|da|with|mit)\s*{_many('pack')}"
    r"|\b(?P<off>\d{1,6})\s?(?:pcs|pieces|stück|stk|pièces|off)\b"
    rf"|\((?:sold (?:as|in) )?(?:a )?(?P<lot>{_WORDS})\.?\)"
    r"|\b(?:in|by the)\s+(?P<sold>pairs?|dozens?|hundreds?)\b"
    r"|,\s*(?P<last>pairs?|pr|paar|paire|dozen|doz)\.?$",
    re.IGNORECASE,
)
# One of these stands in every such description: looking for them is quick, in any number of texts.
_HINTS = (
    "per ", "je ", "pro ", "pcs", "pieces", "stück", "stk", "pièces", "off", "pair", "(pr", " pr",
    ",pr", "paar", "doz", "dutz", "docena", "douz", "hundre", "hundert", "thousand", "tausend",
    "mille", "gross", "(cent", " cent", "paia", "(par", " par", "pack", "pkt", "pk", "box", "bag",
    "carton", "bundle", "lot", "beutel", "boîte", "paquet", "confezion", "caja",
)  # fmt: skip
_PRICES = re.compile(
    r"\b(?:prices?|pricing|priced|preis(?:e|einheit)?|prix|prezz[oi]|precios?|preços?|prijs|prijzen|pris|priser"
    r"|cen[ay])\b|[£€]",
    re.IGNORECASE,
)
_FOR = re.compile(
    rf"(?:\b(?:per|je|pro|par|for|für|pour|por|à|al|basis:?|unit:?)|preiseinheit:?"
    rf"|(?<!\d)(?<!\d )/)\s*{_many('many')}",
    re.IGNORECASE,
)
_FOR_ALONE = re.compile(
    rf"\W*(?:per|je|pro|par|pour)\s+{_many('many')}\s*(?:pieces?|pcs|off|stück|stk)?\W*",
    re.IGNORECASE,
)


def many_described(text: str) -> int:
    """How many a description speaks of; 0 where it does not say, or says one.

    >>> [many_described(each) for each in ("Stud per 100", "shells (pair)", "pkt of 10", "kit")]
    [100, 2, 10, 0]
    """
    found = _DESCRIBED.search(text)
    return _count(next(filter(None, found.groups()))) if found else 0


def described(texts: Sequence[str]) -> dict[int, int]:
    """How many each of some descriptions speaks of, by its place; those that do not are left out.

    >>> described(["stud", "stud per 100"])
    {1: 100}
    """
    folded = [text.casefold() for text in texts]
    every = "\n".join(folded)
    hints = [hint for hint in _HINTS if hint in every]
    if not hints:
        return {}
    ends = [*accumulate(len(text) + 1 for text in folded)]
    hinted = {bisect_right(ends, at) for hint in hints for at in _places(hint, every)}
    many = {at: many_described(texts[at]) for at in sorted(hinted)}
    return {at: count for at, count in many.items() if count}


def _places(hint: str, text: str) -> Iterator[int]:
    """Where a hint stands in a text."""
    at = text.find(hint)
    while at >= 0:
        yield at
        at = text.find(hint, at + 1)


def many_priced(line: str) -> int:
    """For how many a line of a list says that its prices are; 0 where it does not say.

    >>> many_priced("All prices per 100"), many_priced("Preise je 100 Stück"), many_priced("per 10")
    (100, 100, 10)
    >>> many_priced("Carriage per 100 kg"), many_priced("Price for 2027")
    (0, 0)
    >>> many_priced("Prices held for 30 days"), many_priced("Held for 30 days, prices per 100")
    (0, 100)
    >>> many_priced("All prices per 10 sets"), many_priced("Prices per 100 marked studs")
    (10, 100)
    >>> many_priced("Precios al 15 de diciembre de 2026"), many_priced("Prices for 15 January 2027")
    (0, 0)
    >>> [many_priced(text) for text in ("Prices from 1/12/26", "Prices for 12/2026", "£/100")]
    [0, 0, 100]
    """
    found = _FOR_ALONE.fullmatch(line)
    if not found:
        priced = _PRICES.search(line)
        found = _FOR.search(line, priced.start()) if priced else None
    many = _count(found["many"]) if found else 0
    return 0 if 1900 <= many <= 2100 else many


# Words for one after a word for prices; 'each month' and 'per unit of sale' are none.
_EACH = re.compile(
    r"\b(?:prices?|priced|preise?|prix|prezz[oi]|precios?|preços?|prijs|prijzen|pris|priser|cen[ay])\b"
    r".*?(?:\b(?<!of )(?:each|ea)\b(?=\W*$|[^\w\s]|\s+(?:ex\w*|net\w*|plus|in|unless|and)\b)"
    r"|\b(?:per|je|pro|par|por|al|à la|la|za|a)\s+(?:piece|unit|item|stück|stk|st|stuks?|styck"
    r"|pièce|unité|pezzo|pz|unidad|pieza|kus|ks|szt\w*)\b(?!\s+(?:of|de|di)\b)"
    r"|\bl['’]unité\b|\b(?:cadauno|cadun[oa]|unitaires?|unitari[oa]?s?)\b)"
    r"|\b(?:unit prices|(?:einzel|stück)preise|stuksprijzen|styckpriser|stykpriser)\b",
    re.IGNORECASE,
)


def priced_each(line: str) -> bool:
    """Whether a line of a list says that its prices are each for one.

    >>> [priced_each(text) for text in ("All prices each", "Alle Preise je Stück, netto")]
    [True, True]
    >>> [priced_each(text) for text in ("Prices change each month", "All prices per 100")]
    [False, False]
    """
    return _EACH.search(line) is not None


def _count(word: str) -> int:
    plain = word.casefold()
    many = int(plain) if plain.isdigit() else _BY_WORD.get(plain) or _BY_WORD[plain.rstrip("s")]
    return many if many > 1 else 0
