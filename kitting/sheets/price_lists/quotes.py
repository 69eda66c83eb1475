"""Rows of a text file, no row lost in a cell whose quote somebody forgot to close.

A quote that is never closed takes every row below it into its cell, up to the next quote. Such a
row is given as `Spoilt`, and the lines that it would have taken are read as the rows that they are.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable, Iterator

from kitting.sheets.price_lists.marks import Spoilt

_MOST_LINES = 30  # of a cell with line breaks in it; above that a quote was never closed
_PRICE = re.compile(r"[£€$¥]?\s*\d{1,3}(?:[.,' ]?\d{3})*(?:[.,]\d{1,4})?\s*[£€$¥]?")
_WRONG = 'a cell begins with " and does not end: what follows would be lost in it'
_RIGHT = 'close the quote, or take the " away'


def rows_of(lines: Iterable[str], separator: str) -> Iterator[list[str]]:
    """Yield the cells of each row.

    >>> [*rows_of(['A,"one', 'two"', '"B,1.50', 'C,2.50'], ",")]
    [['A', 'onetwo'], ['B', '1.50'], ['C', '2.50']]
    """
    source = _Lines(lines)
    while not source.ended:
        reader = csv.reader(source.feed(), delimiter=separator)
        taken = source.taken
        try:
            for cells in reader:
                several = len(taken) > 1 or source.cut
                if several and _swallows(taken, cells, separator, source.cut):
                    yield _spoilt(taken[0], separator)
                    source.give_back()
                    break
                taken.clear()
                yield cells
        except csv.Error:  # a cell of more characters than a cell may have
            yield _spoilt(taken[0], separator)
            source.give_back()


class _Lines:
    """Lines one after another; those of the row being read are kept until it is known to be one.

    `cut` says that the lines ended, or were too many, in the middle of a row.
    """

    def __init__(self, lines: Iterable[str]) -> None:
        self._lines = iter(lines)
        self._back: list[str] = []
        self.taken: list[str] = []
        self.cut = False
        self.ended = False

    def feed(self) -> Iterator[str]:
        """Yield lines for the reader, first those that were given back."""
        taken = self.taken
        while self._back:
            if len(taken) >= _MOST_LINES:
                self.cut = True
                return
            taken.append(self._back.pop())
            yield taken[-1]
        for line in self._lines:
            taken.append(line)
            yield line
            if len(taken) >= _MOST_LINES:
                self.cut = True
                return
        self.cut = bool(taken)
        self.ended = not taken

    def give_back(self) -> None:
        """Read all but the first line of the row again."""
        self._back.extend(reversed(self.taken[1:]))
        self.taken.clear()
        self.cut = self.ended = False


def _swallows(taken: list[str], cells: list[str], separator: str, cut: bool) -> bool:
    """Whether a row of several lines has others in it: read strictly, or by what they look like."""
    if cut:
        return True
    try:
        list(csv.reader(taken, delimiter=separator, strict=True))
    except csv.Error:
        return True
    first, last = (_split(line, separator) for line in (taken[0], taken[-1]))
    if min(len(first), len(last)) < max(2, len(cells)):
        return False  # too few cells to be rows of their own
    return any(
        _PRICE.fullmatch(here) and _PRICE.fullmatch(there)
        for here, there in zip(first[1:], last[1:], strict=False)
    )


def _spoilt(line: str, separator: str) -> Spoilt:
    if '"' not in line:
        most = f"{csv.field_size_limit():,}"
        return Spoilt(_split(line, separator), f"a cell has over {most} characters", "look at it")
    return Spoilt(_split(line, separator), _WRONG, _RIGHT)


def _split(line: str, separator: str) -> list[str]:
    return [text.strip().replace('"', "") for text in line.split(separator)]
