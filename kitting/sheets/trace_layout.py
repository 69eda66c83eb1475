"""Where the numbers of a traced tree stand in its picture: older ones left, newer ones right.

Every number and every repeated mention has a row of its own as soon as it branches; a plain chain
keeps one row. What would be wider than a sheet of A4 runs down the page instead: each number under
the one that it hangs from, further in where several hang from one. Lengths are in points of the
picture, whole ones.
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
# Beyond these columns the picture runs down the page: what its boxes and arrows take there.
_MOST_COLUMNS = 3
_WIDE, _WIDE_LETTERS, _FURTHER_IN, _ARROW = 420, 66, 32, 20
TRUNK = 16


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
    width: int = BOX_WIDTH

    @property
    def top(self) -> int:
        """Where the box itself begins."""
        return self.y - self.height // 2

    @property
    def height(self) -> int:
        """How high the box itself is."""
        return 2 * _PAD + TITLE_LINE * len(self.number) + LINE * len(self.says)

    @property
    def room(self) -> int:
        """How high its row must be: the box, or the label of its arrow, half of it above."""
        return max(self.height, 2 * LINE * (len(self.label) + 1))


def runs_down(found: Trace) -> bool:
    """Whether the picture runs down the page, since it would be too wide otherwise."""
    return _columns(found) > _MOST_COLUMNS


def width_of(found: Trace, margin: int) -> int:
    """How wide the picture is."""
    if runs_down(found):
        return 2 * margin + max(_depths(found)) * _FURTHER_IN + _WIDE
    return 2 * margin + _columns(found) * BOX_WIDTH + (_columns(found) - 1) * GAP


def _columns(found: Trace) -> int:
    levels = [level for level, _ in _places(found.rows)]
    return max(levels) - min(levels) + 1


def _depths(found: Trace) -> list[int]:
    """How far in each row stands: no further than its parent where nothing hangs beside it."""
    children = found.children()
    depths = [0]
    for row in found.rows[1:]:
        depths.append(depths[row.parent] + (len(children[row.parent]) > 1))
    return depths


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
    if runs_down(found):
        return _down(found, texts, top, margin)
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


def _down(
    found: Trace, texts: Mapping[int, tuple[str, str, str]], top: int, margin: int
) -> tuple[tuple[Box, ...], int]:
    """The boxes one under another, each below the words of its arrow."""
    boxes: list[Box] = []
    for row, depth in zip(found.rows, _depths(found), strict=True):
        number, says, label = texts[row.at]
        box = Box(
            row=row,
            number=tuple(textwrap.wrap(number, _WIDE_LETTERS - 12)),
            says=_lines(says, _WIDE_LETTERS),
            label=_lines(label, _WIDE_LETTERS),
            level=depth,
            line=row.at,
            x=margin + depth * _FURTHER_IN,
            width=_WIDE,
        )
        top += LINE * len(box.label) + _ARROW if row.link else 0
        boxes.append(replace(box, y=top + box.height // 2))
        top += box.height
    return tuple(boxes), top + _BETWEEN


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
