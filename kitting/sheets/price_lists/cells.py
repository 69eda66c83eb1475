"""What the lesser cells of a price list mean: packs, days, stock, quality, part numbers."""

from __future__ import annotations

import re

from kitting.catalog.trade import Quality
from kitting.months import MONTH
from kitting.sheets.price_lists.marks import Mark, Marked, Otherwise, tidy
from kitting.sheets.price_lists.units import unit_of

LONGEST_NUMBER = 60
"""Characters of a part number; what is longer is something else."""

_MADE_DATE = re.compile(
    r"\d{1,2}[-/ ](?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*(?:[-/ ]\d{2,4})?"
    r"|(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*[-/ ]\d{2,4}"
    r"|\d{1,2}/\d{1,2}/\d{4}(?: 0?0:00(?::00)?)?|\d{4}-\d{2}-\d{2}(?:[ T]00:00:00)?",
    re.IGNORECASE,
)
_MADE_ABROAD = re.compile(rf"\d{{1,2}}\.?[-/ .]{MONTH}\.?(?:[-/ .]\d{{2,4}})?", re.IGNORECASE)
_MADE_NUMBER = re.compile(r"\d(?:[.,]\d+)?E\+\d{2,3}|\d[.,]\d+E-\d{2,3}", re.IGNORECASE)
_AS_WRITTEN = re.compile(r'="([^"]+)"|\'([^=].*)')
_POWER = re.compile(r"\d+(?:[.,]\d+)?E[+-]?\d{1,3}", re.IGNORECASE)
_PRICES_AS_TEXT = "ask for the list with its prices as text"
_AS_TEXT = "ask for the list with its numbers as text"
_SPOILT = (
    (re.compile(r"=.*"), "is a formula: the number itself is not there"),
    (_MADE_DATE, "is a date: a spreadsheet has made it of what was typed"),
    (_MADE_NUMBER, "was shortened by a spreadsheet, and its digits are lost"),
    (re.compile(".*\ufffd.*"), "has a mark that could not be read: save the list as UTF-8"),
)
_SUSPECT = re.compile(r"=|\d{1,4}[-/ .,eE]|[jfmasond][aepuco][nbrylgptvc]", re.IGNORECASE)
_PACKS = {"": 1, "each": 1, "ea": 1, "single": 1, "pair": 2, "pr": 2, "dozen": 12, "doz": 12}
_PACK = re.compile(
    r"(?:pack(?:s|et)? of|box of|per|bag of|x|à)?\s*(\d{1,6})(?:[.,]0+)?\s*"
    r"(?:x|off|pcs?|pieces?|each|ea|stk|stück|st|per pack|pack)?"
)
_DAYS_WORD = re.compile(r"(?:\d+\s*(?:-|–|to|bis)\s*)?(\d{1,4})(?:[.,]0+)?\s*([a-zäöü]*)\.?", re.I)
_UNITS = {"": 1, "d": 1, "day": 1, "days": 1, "tag": 1, "tage": 1, "w": 7, "wk": 7, "wks": 7,
          "week": 7, "weeks": 7, "woche": 7, "wochen": 7, "month": 30, "months": 30}  # fmt: skip
_STOCK = re.compile(r"[>~]?\s*(\d{1,9})(?:[.,]0+)?\s*(?:\+|off|pcs|stk|in stock)?", re.IGNORECASE)
_QUALITIES = {
    Quality.UNSAID: "|-|–|—|n/a|na|new|neu|neuf|neuve|not known|unknown",
    Quality.MAKERS_OWN: "maker's own|makers own|own|genuine|genuine part|original|original part|oe"
    "|oem|original equipment|originalteil|d'origine|origine",
    Quality.OLD_STOCK: "new old stock|nos|n.o.s|old stock|unused old stock|genuine old stock"
    "|altbestand|lagerfund|vieux stock",
    Quality.PATTERN: "pattern|pattern part|copy|replica|repro|reproduction|remade|remake"
    "|aftermarket|after market|nachbau|nachfertigung|reproduktion|refabrication|copie",
    Quality.USED: "used|second hand|second-hand|secondhand|2nd hand|s/h|worn|reconditioned"
    "|refurbished|recon|gebraucht|überholt|occasion|d'occasion|usagé",
}
_QUALITY_BY_WORD = {
    word: quality for quality, words in _QUALITIES.items() for word in words.split("|")
}
_NO_STOCK = re.compile(r"(?:out of stock|out|nil|none|no|nein|-)", re.IGNORECASE)


def written_as_text(number: str) -> str:
    """Return a number without the marks by which people keep a spreadsheet from reckoning with it.

    >>> written_as_text('="0123"'), written_as_text("'0123"), written_as_text("=A2")
    ('0123', '0123', '=A2')
    """
    found = _AS_WRITTEN.fullmatch(number) if type(number) is str else None
    return (found[1] or found[2]).strip() if found else number


def number_fault(text: str) -> tuple[str, str] | None:
    """Return what is wrong with a part number and what would be right, or None."""
    if isinstance(text, Marked):
        return _marked_fault(text)
    if not _SUSPECT.match(text) and len(text) <= LONGEST_NUMBER and text.isascii():
        return None
    if len(text) > LONGEST_NUMBER:
        return (
            f"a number of {len(text):,} characters: '{text[:20]}…'",
            f"a part number has at most {LONGEST_NUMBER}",
        )
    wrong = next((says for pattern, says in _SPOILT if pattern.fullmatch(text)), "")
    return (f"the number '{text}' {wrong}", _AS_TEXT) if wrong else None


def made_by_spreadsheet(text: str) -> tuple[str, str] | None:
    """What a spreadsheet made of a price that was typed, and what to ask for; None when nothing.

    >>> made_by_spreadsheet("3-Jan")[0]
    "'3-Jan' is a date: a spreadsheet has made it of a price"
    """
    if _MADE_DATE.fullmatch(text) or _MADE_ABROAD.fullmatch(text):
        return f"'{text}' is a date: a spreadsheet has made it of a price", _PRICES_AS_TEXT
    if _MADE_NUMBER.fullmatch(text) or _POWER.fullmatch(text):
        return f"'{text}' was shortened by a spreadsheet: its digits may be lost", _PRICES_AS_TEXT
    return None


def _marked_fault(text: Marked) -> tuple[str, str]:
    shown = text[:40]
    if text.mark is Mark.FORMULA:
        return f"the cell holds the formula {shown}", "save the list with the number itself there"
    if text.mark is Mark.DATE:
        return (
            f"the date {shown} stands where a number belongs: a spreadsheet has made it of what "
            "was typed",
            _AS_TEXT,
        )
    if isinstance(text, Otherwise):
        return f"the cell holds {shown} and shows it {text.shown}", _AS_TEXT
    if text.mark is Mark.ROUNDED:
        return f"the number {shown} was shortened by a spreadsheet, its digits are lost", _AS_TEXT
    return f"{shown} ({text.mark}) stands where a number belongs", _AS_TEXT


def pack_of(text: str) -> int | None:
    """Return how many are in a pack; None when the cell does not say.

    >>> pack_of("pack of 10"), pack_of("Paar"), pack_of("box/25"), pack_of("PK"), pack_of("some")
    (10, 2, 25, None, None)
    """
    plain = tidy(text).casefold().rstrip(".")
    if plain in _PACKS:
        return _PACKS[plain]
    found = _PACK.fullmatch(plain)
    if found:
        return int(found[1]) or None
    unit = unit_of(plain)
    return unit.many or None if unit else None


def days_of(text: str) -> int | None:
    """Return the days that a cell speaks of; None when it speaks of none.

    >>> days_of("2-3 weeks"), days_of("5"), days_of("soon")
    (21, 5, None)
    """
    found = _DAYS_WORD.fullmatch(tidy(text).casefold())
    if not found or found[2] not in _UNITS:
        return None
    return int(found[1]) * _UNITS[found[2]]


def stock_of(text: str) -> int | None:
    """Return the packs in stock; None when the cell names no number.

    >>> stock_of("20+"), stock_of("out of stock"), stock_of("yes")
    (20, 0, None)
    """
    plain = tidy(text)
    found = _STOCK.fullmatch(plain)
    if found:
        return int(found[1])
    return 0 if plain and _NO_STOCK.fullmatch(plain) else None


def quality_of(text: str) -> Quality | None:
    """Return what a cell says of a part's origin; None for a word that nobody knows.

    That a part is new does not say who made it.

    >>> quality_of("N.O.S."), quality_of("Reproduction"), quality_of("New"), quality_of("good")
    (<Quality.OLD_STOCK: 'new old stock'>, <Quality.PATTERN: 'pattern'>, <Quality.UNSAID: ''>, None)
    """
    plain = tidy(text).casefold().replace("’", "'").rstrip(".")
    return _QUALITY_BY_WORD.get(plain)
