"""What a cell shows of the number that it holds: less of it, or with words and signs beside it."""

from __future__ import annotations

import re
from decimal import ROUND_HALF_UP, Decimal
from typing import TYPE_CHECKING, NamedTuple

from kitting.sheets.cells import figure_in, is_blank

if TYPE_CHECKING:
    from kitting.sheets.cells import AnyCell

# Of a format: quoted text, an escaped sign, a gap or a filling, a bracket, any other sign.
_TOKEN = re.compile(r'"([^"]*)"|\\(.)|[_*].|\[([^\]]*)\]|(.)', re.DOTALL)
_END_OF_SECTION = re.compile(r'((?:"[^"]*"|\\.|\[[^\]]*\]|[^;"\\\[])*)(?:;|$)', re.DOTALL)
# The figures of a format, as they stand once all else is taken out of it.
_FIGURES = re.compile(r"General|Standard|@|[0#?][0#?,. ]*(?:E[+-]0+|/ ?[0#?\d]+)?", re.IGNORECASE)
# The last digit before the point, and those behind it.
_PLACES = re.compile(r"[0#?](?:\.([0#?]+))?(?![0#?,.])")
_IN_THOUSANDS = re.compile(r"[0#?],+(?:\.|$)")


class Format(NamedTuple):
    """A number format taken apart: its figures, and what it shows before and behind them."""

    figures: str
    before: str = ""
    after: str = ""


def format_of(number_format: str) -> Format:
    """The format of a number above nothing; without figures where it shows none.

    >>> format_of('"kr" 0.00')
    Format(figures='0.00', before='kr ', after='')
    >>> format_of("[$EUR-407] 0%")
    Format(figures='0', before='EUR ', after='%')
    """
    first = _END_OF_SECTION.match(number_format or "General")
    figures, before, after = "", "", ""
    rest = first[1] if first else ""
    while rest:
        found = _FIGURES.match(rest)
        if found and not figures:
            figures, rest = found[0].strip(), rest[found.end() :]
            # Blanks behind the figures part them from what follows.
            after += " " if found[0] != found[0].rstrip() else ""
            continue
        token = _TOKEN.match(rest)
        if token is None:
            break
        quoted, escaped, bracket, sign = token.groups()
        words = quoted or escaped or sign or _named(bracket or "")
        if figures:
            after += words
        else:
            before += words
        rest = rest[token.end() :]
    return Format(figures, before, after)


def _named(bracket: str) -> str:
    """The currency that a bracket names before the language; colours and conditions show none."""
    return bracket[1:].partition("-")[0] if bracket.startswith("$") else ""


def as_shown(cell: AnyCell, figure: str) -> str:
    """A held number's figures with what its cell shows beside them; its percentage in hundredths.

    '' where the cell shows no figures, or thousands of them.
    """
    shown = format_of(cell.number_format)
    if not shown.figures or _IN_THOUSANDS.search(shown.figures):
        return ""
    percent = "%" in shown.before + shown.after
    text = f"{(Decimal(figure) * 100).normalize():f}" if percent else figure
    return f"{shown.before}{text}{shown.after}".strip()


def shown_otherwise(cell: AnyCell) -> str:
    """What a cell shows of its number where that is less than it holds, '' where it shows all."""
    if cell.data_type != "n" or is_blank(cell):
        return ""
    figures = format_of(cell.number_format).figures.replace(" ", "")
    places = _PLACES.search(figures)
    number = Decimal(figure_in(cell))
    if places is None or "/" in figures or "E" in figures.upper() or not number.is_finite():
        return ""
    shown = number.quantize(Decimal(1).scaleb(-len(places[1] or "")), ROUND_HALF_UP)
    return "" if shown == number else str(shown)
