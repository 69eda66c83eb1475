"""Where the numbers of a traced tree stand in its picture: older ones left, newer ones right.

Every number and every repeated mention has a row of its own as soon as it branches; a plain chain
keeps one row. Lengths are in points of the picture, whole ones.
"""

from __future__ import annotations

import textwrap
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from kitting.catalog.trace import Trace, TraceRow

BOX_WIDTH, GAP = 210, 190
LINE, TITLE_LINE = 13, 16
_PAD, _BETWEEN = 9, 22
# Letters to a line: of 11 points within a box, of 10 within a gap, less what the arrows take.
BOX_LETTERS, LABEL_LETTERS = 32, 27


@dataclass(frozen=True, slots=True)
class Box:
    """One number as it is drawn: its texts, and where; `y` is the middle of its row."""

    row: TraceRow
    number: tuple[str, ...]
    says: tuple[str, ...]
    label: tuple[str, ...]
    level: int
    line: int
    x: int = 0
    y: int = 0

    @property
    def height(self) -> int:
        """How high the box itself is."""
        return 2 * _PAD + TITLE_LINE * len(self.number) + LINE * len(self.says)

    @property
    def room(self) -> int:
        """How high its row must be: the box, or the label of its arrow, half of it above."""
        return max(self.height, 2 * LINE * (len(self.label) + 1))


def width_of(found: Trace, margin: int) -> int:
    """How wide the picture is."""
    levels = [level for level, _ in _places(found.rows)]
    columns = max(levels) - min(levels) + 1
    return 2 * margin + columns * BOX_WIDTH + (columns - 1) * GAP


def lay_out(
    found: Trace,
    texts: Mapping[int, tuple[str, str, str]],
    top: int,
    margin: int,
) -> tuple[tuple[Box, ...], int]:
    """Return every box with its place, and where the lowest row ends.

    Args:
        found: the trace.
        texts: by row, what stands in its box (number, then the rest) and on its arrow.
        top: where the first row begins.
        margin: what is left clear at either side.
    """
    places = _places(found.rows)
    leftmost = min(level for level, _ in places)
    boxes = [
        Box(
            row=row,
            number=tuple(textwrap.wrap(texts[row.at][0], BOX_LETTERS - 6)),
            says=_lines(texts[row.at][1], BOX_LETTERS),
            label=_lines(texts[row.at][2], LABEL_LETTERS),
            level=level - leftmost,
            line=line,
        )
        for row, (level, line) in zip(found.rows, places, strict=True)
    ]
    tops = _tops(boxes, top)
    return tuple(_at(box, tops, margin) for box in boxes), tops[-1]


def _places(rows: Sequence[TraceRow]) -> list[tuple[int, int]]:
    """The level (newer is higher) and the line of each row."""
    places: list[tuple[int, int]] = [(0, 0)]
    used = 0
    went_on: set[tuple[int, bool]] = set()
    for row in rows[1:]:
        parent = rows[row.parent]
        level, line = places[row.parent]
        turns = parent.link is not None and parent.backwards != row.backwards
        if turns or (row.parent, row.backwards) in went_on:
            used += 1
            line = used
        went_on.add((row.parent, row.backwards))
        places.append((level + (-1 if row.backwards else 1), line))
    return places


def _tops(boxes: Sequence[Box], top: int) -> list[int]:
    """Where each line begins, and at last where the lowest one ends."""
    lines = max(box.line for box in boxes) + 1
    rooms = [max(box.room for box in boxes if box.line == line) for line in range(lines)]
    tops = [top]
    for room in rooms:
        tops.append(tops[-1] + room + _BETWEEN)
    return tops


def _at(box: Box, tops: Sequence[int], margin: int) -> Box:
    middle = (tops[box.line] + tops[box.line + 1] - _BETWEEN) // 2
    return replace(box, x=margin + box.level * (BOX_WIDTH + GAP), y=middle)


def _lines(text: str, letters: int) -> tuple[str, ...]:
    return tuple(
        line
        for part in text.split("\n")
        for line in textwrap.wrap(part, letters, break_on_hyphens=False)
    )
