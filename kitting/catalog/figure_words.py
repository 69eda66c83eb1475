"""Figures among the words: `.020`, `0.020` and `20 thou` are one size, and `20` asks for it too."""

from __future__ import annotations

import re
from decimal import Decimal
from functools import lru_cache
from typing import TYPE_CHECKING

from kitting.measure import UNITS

if TYPE_CHECKING:
    from collections.abc import Sequence

THOU, INCH = "thou", "in"
_FIGURE = re.compile(r"\d*\.?\d+")
_WITH_UNIT = re.compile(r"(?P<figure>\d*\.?\d+)(?P<unit>[a-zµ]+)")
_UNITS = frozenset(symbol.casefold() for symbol in UNITS)
# An inch written to the thousandth; 0.5 is half a millimetre as well as half an inch.
_THOUSANDTHS = re.compile(r"0?\.\d{3,}")


def is_figure(word: str) -> bool:
    """Whether a word is a figure and nothing else."""
    return _FIGURE.fullmatch(word) is not None


def is_unit(word: str) -> bool:
    """Whether a word is a unit's symbol."""
    return word in _UNITS


@lru_cache(maxsize=8192)
def plain_figure(word: str) -> str:
    """A figure without the noughts that say nothing: 0.020 is 0.02; '' for any other word."""
    if not is_figure(word):
        return ""
    whole, _, part = word.partition(".")
    whole, part = whole.lstrip("0") or "0", part.rstrip("0")
    return f"{whole}.{part}" if part else whole


@lru_cache(maxsize=8192)
def apart(word: str) -> tuple[str, ...]:
    """The figure and the unit of `20mm`; nothing of any other word."""
    found = _WITH_UNIT.fullmatch(word)
    return (found["figure"], found["unit"]) if found and is_unit(found["unit"]) else ()


def as_asked(words: Sequence[str]) -> tuple[str, ...]:
    """The words of a query, its figures as parts state them.

    `20mm` is two words, `20 thou` is .020, and whoever says `.020 in` asks for a .020.
    """
    split = [piece for word in words for piece in (apart(word) or (word,))]
    found: list[str] = []
    for word in split:
        before = found[-1] if found else ""
        if word == THOU and is_figure(before):
            found[-1] = _of_thou(before)
        elif word != INCH or not _THOUSANDTHS.fullmatch(before):
            found.append(word)
    return tuple(found)


def also_said(words: Sequence[str]) -> list[str]:
    """Every other word by which the figures among a part's words may be asked for."""
    found: list[str] = []
    for word, after in zip(words, (*words[1:], ""), strict=False):
        figure, *unit = apart(word) or (word,)
        found += (figure, *unit) if unit else ()
        if not is_figure(figure):
            continue
        found.append(plain_figure(figure))
        if THOU in {after, *unit}:
            found.append(plain_figure(_of_thou(figure)))
        if _THOUSANDTHS.fullmatch(figure):
            thou, less = figure.partition(".")[2][:3], figure.partition(".")[2][3:]
            found += [plain_figure(thou)] if int(thou) and not less.strip("0") else ()
    return found


def _of_thou(figure: str) -> str:
    return format(Decimal(figure).scaleb(-3), "f")
