"""What the format of a cell makes of its number: money, pence, or something else than it holds.

A price is what whoever wrote the list saw. A format that shows pence is believed as one that shows
a currency is; of one that shows a percentage, thousands or words nothing is guessed: the cell is
told.
"""

from __future__ import annotations

import re
from decimal import Decimal
from functools import lru_cache
from typing import NamedTuple

from kitting.sheets.price_lists.currencies import currency_in
from kitting.sheets.price_lists.marks import Figure, Otherwise, sign_in

_PENCE = {"p", "pence"}
_HARMLESS = {
    "", "each", "ea", "net", "nett", "kr", "kč", "zł", "ft", "fr", "sfr", "r", "ex vat", "exc vat",
    "excl vat", "plus vat", "ht",
}  # fmt: skip
# A quoted text, an escaped mark, a gap or a filling, a bracket, the end of a section, code.
_TOKEN = re.compile(r'"([^"]*)"|\\(.)|[_*].|\[([^\]]*)\]|(;)|(.)', re.DOTALL)
_END = ("", "", "", ";", "")
_AS_IT_IS = {"general", "standard", "@"}
_IN_THOUSANDS = re.compile(r"[0#?],+(?:\.|$)")
_ZEROS = re.compile(r'0{2,}(?:(?:\\?[-/ ]|"[-/ .]")0+)*|0(?:(?:\\?[-/ ]|"[-/ .]")0+)+')
_FIRST_NUMBER = re.compile(r"(\D*)(\d[\d.,'’\s]*)(.*)", re.DOTALL)
_LAST_DIGITS = re.compile(r"[.,](\d*)\s*$")
_LETTERS = re.compile(r"[^\W\d_]+")
_WORDS = re.compile(r"[^\W_]+|%")


class Shown(NamedTuple):
    """How a number is shown: with a currency, in pence, or as `other` says.

    `zeros` are the places that it fills from the right, as 00000 or 00-000.
    """

    sign: str = ""
    pence: bool = False
    other: str = ""
    zeros: str = ""


_PLAIN = Shown()


def as_shown(text: str, shown: Shown | None) -> str:
    """A number's text as its cell shows it; any other text as it is."""
    if shown is None or type(text) is not Figure:
        return text
    if shown.other:
        return Otherwise.of(text, shown.other)
    if shown.zeros:
        return _padded(text, shown.zeros)
    return Figure(f"{text}p" if shown.pence else f"{shown.sign} {text}")


def _padded(text: str, zeros: str) -> str:
    """A whole number in the places of a format, zeros before it; a number with decimals as it is.

    >>> _padded("123", "00000"), _padded("123", "00-000"), _padded("12345", "000")
    ('00123', '00-123', '12345')
    """
    if not text.isdecimal():
        return Figure(text)
    figures = text.rjust(zeros.count("0"), "0")
    more = len(figures) - zeros.count("0")
    rest = iter(figures[more:])
    shown = figures[:more] + "".join(next(rest) if mark == "0" else mark for mark in zeros)
    return Figure(shown) if shown.isdecimal() else shown


@lru_cache(maxsize=1024)
def shown_in(number_format: str) -> Shown | None:
    """What a workbook's format makes of a number above nothing; None where it shows it as it is.

    >>> shown_in('0.00"p"'), shown_in("#,##0.00"), shown_in("0%").other
    (Shown(sign='', pence=True, other='', zeros=''), None, 'in the format 0%')
    """
    if _ZEROS.fullmatch(number_format or ""):
        return Shown(zeros=number_format.replace("\\", "").replace('"', ""))
    sections = _sections(number_format or "General")
    if not any(condition for _, _, condition in sections):
        sections = sections[:1]  # the others are for what is below nothing, nothing, and words
    found = {_of_section(code, text) for code, text, _ in sections}
    if len(found) > 1 or any(each.other for each in found):
        return Shown(other=f"in the format {number_format}")
    shown = found.pop()
    if not shown.pence:
        shown = Shown(sign_in(number_format) or shown.sign)
    return None if shown == _PLAIN else shown


def shown_by(text: str, value: str, currency: str, *, percentage: bool = False) -> Shown | None:
    """What an OpenDocument cell shows of its number, by the text that stands in it.

    >>> shown_by("150p", "150", ""), shown_by("1,50", "1.5", ""), shown_by("POA", "1", "").other
    (Shown(sign='', pence=True, other='', zeros=''), None, "as 'POA'")
    """
    plain = text.strip()
    if plain[:1] == "0" and plain.isdecimal() and value.isdecimal() and int(plain) == int(value):
        return Shown(zeros="0" * len(plain))
    found = _FIRST_NUMBER.fullmatch(plain)
    if plain and (percentage or not found or not _shows(found[2], value)):
        return Shown(other=f"as '{plain[:30]}'")
    shown = Shown(currency or sign_in(plain))
    if found and not shown.sign:
        shown = _of_words(f"{found[1]} {found[3]}")
    if shown.other:
        return Shown(other=f"as '{plain[:30]}'")
    return None if shown == _PLAIN else shown


def _shows(figures: str, value: str) -> bool:
    """Whether figures are a number as it is, rounded at most to the places that they have."""
    whole = Decimal("".join(mark for mark in figures if mark.isdigit()))
    after = _LAST_DIGITS.search(figures)
    exact = abs(Decimal(value))
    return any(
        abs(whole.scaleb(-places) - exact) <= Decimal(5).scaleb(-places - 1)
        for places in {0, len(after[1]) if after else 0}
    )


def _sections(number_format: str) -> list[tuple[str, str, bool]]:
    """The code of each section of a format, its words, and whether it has a condition."""
    sections: list[tuple[str, str, bool]] = []
    code, text, condition = "", "", False
    for quoted, escaped, bracket, end, mark in (*_TOKEN.findall(number_format), _END):
        if end:
            sections.append((code.strip(), text, condition))
            code, text, condition = "", "", False
        code += mark
        text += quoted or escaped
        condition = condition or bracket[:1] in {"<", ">", "="}
    return sections


def _of_section(code: str, text: str) -> Shown:
    if code.casefold() in _AS_IT_IS:
        return _of_words(text)
    counted = any(mark in code for mark in "0#?")
    if not counted or "%" in code or _IN_THOUSANDS.search(code):
        return Shown(other=code or text or "nothing")
    return _of_words(text + "".join(_LETTERS.findall(code)))


def _of_words(text: str) -> Shown:
    """What the words beside a number say of it."""
    words = " ".join(_WORDS.findall(text)).casefold()
    if words in _PENCE:
        return Shown(pence=True)
    code = words.upper() if currency_in(words.upper()) == words.upper() else ""
    return Shown(code) if code or words in _HARMLESS else Shown(other=text)
