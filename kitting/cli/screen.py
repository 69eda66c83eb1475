"""Laying things out on a terminal of 80 columns: tables, wrapped sentences, chains of reasons."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from kitting.job.because import Because

WIDTH = 80
_GAP = "  "
# A column no wider than this is never wrapped while a wider one can be.
_SHORT = 17


def table(headings: Sequence[str], rows: Iterable[Sequence[str]], *, right: str = "") -> str:
    """Lay out rows under headings so that every line fits 80 columns.

    Columns wrap, at words, until the table fits: first those that have least to say for their
    width. `right` holds the indexes of the columns set to the right, as digits.
    """
    cells = [[str(cell) for cell in row] for row in rows]
    widths = _widths(headings, cells)
    aligned = [str(index) in right for index in range(len(headings))]
    lines = [
        _line(list(headings), widths, aligned),
        _line(["─" * w for w in widths], widths, aligned),
    ]
    for row in cells:
        wrapped = [
            textwrap.wrap(cell, width) or [""] for cell, width in zip(row, widths, strict=True)
        ]
        for index in range(max(len(cell) for cell in wrapped)):
            line = [cell[index] if index < len(cell) else "" for cell in wrapped]
            lines.append(_line(line, widths, aligned))
    return "\n".join(lines)


def _widths(headings: Sequence[str], rows: list[list[str]]) -> list[int]:
    columns = range(len(headings))
    widths = [max([len(headings[c]), *(len(row[c]) for row in rows)]) for c in columns]
    least = [
        widths[c]
        if widths[c] <= _SHORT
        else max(_longest_word(headings[c], [row[c] for row in rows]), 3)
        for c in columns
    ]
    room = WIDTH - len(_GAP) * (len(headings) - 1)
    said = [sum(len(row[c]) for row in rows) + 1 for c in columns]
    while sum(widths) > room:
        spare = [c for c in columns if widths[c] > least[c]] or list(columns)
        widths[min(spare, key=lambda c: said[c] / widths[c])] -= 1
    return widths


def _longest_word(heading: str, cells: list[str]) -> int:
    words = [word for text in (heading, *cells) for word in text.split()]
    return min(18, max((len(word) for word in words), default=1))


def _line(cells: list[str], widths: list[int], aligned: list[bool]) -> str:
    padded = (
        cell.rjust(width) if to_right else cell.ljust(width)
        for cell, width, to_right in zip(cells, widths, aligned, strict=True)
    )
    return _GAP.join(padded).rstrip()


def paragraph(text: str, indent: int = 0, hang: int = 0) -> str:
    """Wrap a text to the width, indented, further lines by `hang` more."""
    return textwrap.fill(
        text,
        WIDTH,
        initial_indent=" " * indent,
        subsequent_indent=" " * (indent + hang),
        break_on_hyphens=False,
    )


def chain(reasons: Iterable[Because], indent: int = 2) -> str:
    """A chain of reasons, each step under the one that it explains."""
    lines = []
    for reason in reasons:
        for depth, step in reason.steps():
            lead = "because " if depth else "• "
            rule = f" [rule {step.rule}]" if step.rule else ""
            lines.append(paragraph(f"{lead}{step}{rule}", indent + 2 * depth, hang=2))
    return "\n".join(lines)


def heading(text: str) -> str:
    """A heading with a rule under it."""
    return f"{text}\n{'─' * min(WIDTH, len(text))}"


def show(*parts: str) -> None:
    """Print parts with an empty line between them."""
    click.echo("\n\n".join(part for part in parts if part))
