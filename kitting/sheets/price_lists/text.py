"""A price list as a text file: any encoding, any separator, row by row in little memory."""

from __future__ import annotations

import codecs
import csv
import io
import math
import re
from collections import Counter
from typing import TYPE_CHECKING

from kitting.errors import BadInput, Problem
from kitting.sheets.price_lists.marks import MOST_COLUMNS, Table
from kitting.sheets.price_lists.quotes import rows_of

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from kitting.sheets.price_lists.marks import NumberedRows

_MEGABYTE = 1_000_000
_LONGEST_LINE = _MEGABYTE
_SAMPLE = 64_000
_SEPARATORS = (";", "\t", ",", "|")
_BOMS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)
# 'é' and 'ü' of a Mac are Ž and Ÿ elsewhere, its 'è' and 'ê' nothing at all.
_MAC = re.compile(rb"[a-z][\x8a\x8e\x9f]|[A-Za-z][\x8d\x8f\x90]")
_PAGES = ("<!doctype html", "<html", "<table", "<?xml")


def read_text(path: Path) -> Table:
    """Return the rows of a text file, its encoding and separator found out.

    Raises:
        BadInput: it is no text, or no list.
    """
    encoding = _encoding(path)
    sample = _sample(path, encoding)
    if sample.lstrip("\ufeff \r\n\t").lower().startswith(_PAGES):
        raise BadInput(
            Problem(
                path.name,
                "this is a web page, not a list",
                "open it in a spreadsheet program and save it as .xlsx or .csv",
            )
        )
    return Table("", _rows(path, encoding, _separator(sample)))


def _rows(path: Path, encoding: str, separator: str) -> NumberedRows:
    with path.open(encoding=encoding, errors="replace", newline="") as stream:
        for row, cells in enumerate(rows_of(stream, separator), 1):
            yield row, cells if len(cells) <= MOST_COLUMNS else cells[:MOST_COLUMNS]


def _encoding(path: Path) -> str:
    """How the file is encoded; UTF-8 only when all of it is."""
    decoder = codecs.getincrementaldecoder("utf-8")()
    utf8, run, first = True, 0, b""
    with path.open("rb") as stream:
        while some := stream.read(_MEGABYTE):
            first = first or some[:_SAMPLE]
            run = _line_run(path, run, some)
            try:
                utf8 = utf8 and decoder.decode(some) is not None
            except UnicodeDecodeError:
                utf8 = False
    for mark, name in _BOMS:
        if first.startswith(mark):
            return name if utf8 or name == "utf-16" else "cp1252"
    wide = _wide(path, first)
    return wide or ("utf-8" if utf8 else "mac_roman" if _of_a_mac(first) else "cp1252")


def _of_a_mac(text: bytes) -> bool:
    """Whether text is in the old encoding of Macintoshes: else it has capitals within words."""
    return _MAC.search(text) is not None


def _line_run(path: Path, run: int, some: bytes) -> int:
    """How long the line is that a piece of the file ends in; refuses one without end."""
    end = max(some.rfind(b"\n"), some.rfind(b"\r"))
    run = run + len(some) if end < 0 else len(some) - end
    if run > _LONGEST_LINE:
        raise BadInput(
            Problem(path.name, "a line has over a million characters", "this is no price list")
        )
    return run


def _wide(path: Path, first: bytes) -> str:
    """Two-byte text without its mark; empty for plain text.

    Raises:
        BadInput: it is neither.
    """
    if b"\x00" not in first:
        strange = sum(first.count(code) for code in range(9))
        if strange * 20 > len(first):
            raise BadInput(_no_text(path))
        return ""
    even, odd = first[::2].count(0), first[1::2].count(0)
    if odd * 4 > len(first) and even * 20 < len(first):
        return "utf-16-le"
    if even * 4 > len(first) and odd * 20 < len(first):
        return "utf-16-be"
    raise BadInput(_no_text(path))


def _no_text(path: Path) -> Problem:
    return Problem(
        path.name, "this is neither text nor a workbook", "give the list as .csv, .xlsx or .ods"
    )


def _sample(path: Path, encoding: str) -> str:
    with path.open(encoding=encoding, errors="replace", newline="") as stream:
        return stream.read(_SAMPLE)


def _separator(sample: str) -> str:
    """The separator that splits the most rows into the same number of cells."""
    return max(_SEPARATORS, key=lambda separator: _evenness(sample, separator))


def _evenness(sample: str, separator: str) -> float:
    lines = io.StringIO(sample.rpartition("\n")[0] or sample, newline="")
    try:
        counts = Counter(len(cells) for cells in _some(csv.reader(lines, delimiter=separator)))
    except csv.Error:
        return 0
    split = {width: count for width, count in counts.items() if width > 1}
    if not split:
        return 0
    width, often = max(split.items(), key=lambda each: (each[1], each[0]))
    return math.sqrt(width - 1) * often / counts.total()


def _some(rows: Iterator[list[str]]) -> Iterator[list[str]]:
    """The first rows that hold anything."""
    filled = (cells for cells in rows if any(cells))
    for _, cells in zip(range(200), filled, strict=False):
        yield cells
