"""The tree of supersession and interchange about a part as an SVG picture.

Text stays text, so that a number can be selected and found. No colour carries a meaning: what a
number is worth stands in its box, what a link is stands on its arrow, and the strokes differ.
"""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING
from xml.sax.saxutils import escape

from kitting.catalog.links_in_force import condition_words
from kitting.catalog.model import LinkKind
from kitting.sheets.files import save_bytes
from kitting.sheets.trace_layout import (
    BOX_WIDTH,
    GAP,
    LINE,
    TITLE_LINE,
    TRUNK,
    Box,
    lay_out,
    runs_down,
    width_of,
)

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from kitting.catalog.family import Family
    from kitting.catalog.trace import Trace, TraceRow
    from kitting.catalog.ways import Way

_MARGIN, _ELBOW, _NARROWEST = 24, 14, 640
_FOOT_LINE, _LETTER = 15, 6
_STROKES = {
    LinkKind.SUPERSEDED: "",
    LinkKind.EITHER_WAY: "8 4",
    LinkKind.ONE_WAY: "2 4",
    LinkKind.FULL_SET: "10 3 2 3",
    LinkKind.WITH_WORK: "5 3 1 3 1 3",
}
_STYLE = (
    "text{font-family:Arial,'Liberation Sans','DejaVu Sans',sans-serif;font-size:11px;"
    "fill:#1f2933}"
    ".t{font-size:17px;font-weight:bold}.n{font-size:13px;font-weight:bold}"
    ".s{font-size:10px}.b{font-weight:bold}"
    "rect{fill:#fff;stroke:#1f2933}path{fill:none;stroke:#1f2933;stroke-width:1.4}"
)


def write_picture(family: Family, found: Trace, path: Path) -> None:
    """Write the picture, whole or not at all; a picture that is there already is replaced.

    Raises:
        BadInput: it cannot be written there.
    """
    save_bytes(picture(family, found).encode(), path)


def picture(family: Family, found: Trace) -> str:
    """Return the picture as SVG."""
    texts = {row.at: _texts(family, found, row) for row in found.rows}
    width = max(width_of(found, _MARGIN), _NARROWEST)
    head, top = _head(family, found, width - 2 * _MARGIN)
    boxes, bottom = lay_out(found, texts, top, _MARGIN)
    foot, height = _foot(found, bottom, (width - 2 * _MARGIN) // _LETTER)
    title = f"{found.need.part}: what answers for it as of {found.day}"
    parts = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}" '
        f'viewBox="0 0 {width} {height}" role="img" aria-labelledby="title">',
        f'<title id="title">{escape(title)}</title>',
        f"<style>{_STYLE}</style>",
        '<defs><marker id="tip" viewBox="0 0 8 8" refX="7.5" refY="4" markerWidth="8" '
        'markerHeight="8" markerUnits="userSpaceOnUse" orient="auto-start-reverse">'
        '<path d="M0 0L8 4L0 8z" style="fill:#1f2933;stroke:none"/></marker></defs>',
        f'<rect width="{width}" height="{height}" style="stroke:none"/>',
        *head,
    ]
    by_row = {box.row.at: box for box in boxes}
    arrow = _arrow_down if runs_down(found) else _arrow
    for box in boxes:
        if box.row.link is not None:
            parts += arrow(by_row[box.row.parent], box)
    for box in boxes:
        parts += _drawn(box)
    return "\n".join((*parts, *foot, "</svg>", ""))


def _texts(family: Family, found: Trace, row: TraceRow) -> tuple[str, str, str]:
    """The number, what stands under it in its box, and what stands on its arrow."""
    if row.is_again:
        return str(row.part), "stands elsewhere in this picture", _label(row)
    part = family.part_by_number.get(row.part)
    name = part.name if part else "not in the parts list"
    asked = "" if row.link else "ASKED FOR\n"
    return str(row.part), f"{name}\n{asked}{_worth(found, row)}", _label(row)


def _worth(found: Trace, row: TraceRow) -> str:
    if row.place:
        way = found.resolution.ways[row.place - 1]
        count = dict(way.parts)[row.part]
        others = ", with the others" if len(way.parts) > 1 else ""
        return f"{'TODAY: ' if row.place == 1 else f'WAY {row.place}: '}buy {count}{others}"
    reasons = [why for why in row.not_taken if why != row.why_not] or list(row.not_taken)
    return f"Not taken: {'; '.join(reasons)}"


def _label(row: TraceRow) -> str:
    link = row.link
    if link is None:
        return ""
    words = [str(link.kind)]
    if (link.old_quantity, link.new_quantity) != (1, 1):
        words[0] += f", {link.old_quantity} → {link.new_quantity}"
    words += condition_words(link)
    if link.operation:
        words.append(link.operation)
    if link.needs:
        words.append(f"with {', '.join(map(str, link.needs))}")
    if row.circle:
        words.append("PART OF A CIRCLE")
    if row.why_not:
        words.append("DOES NOT HOLD HERE")
    return "\n".join(words)


def _arrow(parent: Box, box: Box) -> Iterator[str]:
    """From the old number to the new one, whichever hangs from the other; with its words."""
    back = box.row.backwards
    start = (parent.x if back else parent.x + BOX_WIDTH, parent.y)
    end = (box.x + BOX_WIDTH if back else box.x, box.y)
    elbow = start[0] + (-_ELBOW if back else _ELBOW)
    line = f"M{start[0]} {start[1]}H{elbow}V{end[1]}H{end[0]}"
    yield _line(box, line)
    if box.row.why_not or box.row.circle:
        yield _cross((elbow + end[0]) // 2, end[1])
    middle = min(start[0], end[0]) + GAP // 2
    top = end[1] - 7 - LINE * (len(box.label) - 1)
    for at, words in enumerate(box.label):
        yield _text(middle, top + at * LINE, words, "s", middle=True)


def _arrow_down(parent: Box, box: Box) -> Iterator[str]:
    """The same down the page: straight to the box below, or off the trunk to one further in."""
    x, bottom = parent.x + TRUNK, parent.top + parent.height
    if box.x == parent.x:
        yield _line(box, f"M{x} {bottom}V{box.top}")
        middle, words_at = (x, (bottom + box.top) // 2), x + 18
    else:
        yield _line(box, f"M{x} {bottom}V{box.y}H{box.x}")
        middle, words_at = ((x + box.x) // 2, box.y), box.x
    if box.row.why_not or box.row.circle:
        yield _cross(*middle)
    for at, words in enumerate(reversed(box.label)):
        yield _text(words_at, box.top - 7 - at * LINE, words, "s")


def _line(box: Box, line: str) -> str:
    """A link's line as it is stroked, its tips at the numbers that may stand for the other."""
    link = box.row.link
    tips = {"marker-start"} if box.row.backwards else {"marker-end"}
    stroke = ""
    if link is not None:
        stroke = _STROKES[link.kind]
        if link.kind is LinkKind.EITHER_WAY:
            tips = {"marker-start", "marker-end"}
    marks = "".join(f' {tip}="url(#tip)"' for tip in sorted(tips))
    dashes = f' stroke-dasharray="{stroke}"' if stroke else ""
    return f'<path d="{line}"{dashes}{marks}/>'


def _cross(x: int, y: int) -> str:
    return f'<path d="M{x - 5} {y - 5}l10 10m0 -10l-10 10" stroke-width="2"/>'


def _drawn(box: Box) -> Iterator[str]:
    """The box: heavy for today's answer, plain for another way, broken for what is not taken."""
    top, place = box.top, box.row.place
    look = 'stroke-width="3"' if place == 1 else 'stroke-width="1.4"'
    if not place:
        look = 'stroke-width="1" stroke-dasharray="3 3"'
    yield (f'<rect x="{box.x}" y="{top}" width="{box.width}" height="{box.height}" rx="4" {look}/>')
    y = top + 20
    for line in box.number:
        yield _text(box.x + 10, y, line, "n")
        y += TITLE_LINE
    for line in box.says:
        yield _text(box.x + 10, y, line, "b" if line.startswith(("TODAY", "WAY", "ASKED")) else "")
        y += LINE


def _head(family: Family, found: Trace, width: int) -> tuple[list[str], int]:
    """The title, what was asked, the answer and the legend; and where the tree may begin."""
    need = found.need
    name = family.part_by_number[need.part].name if need.part in family.part_by_number else ""
    y, drawn = 12, []
    for words, look, leading, letter in (
        (f"{need.part} · {name}".removesuffix(" · "), "t", 22, 10),
        (_asked(family, found), "", 16, _LETTER),
        (_ANSWER + _in_words(found.answer), "b", 16, _LETTER + 1),
        (f"{_DOWN if runs_down(found) else _ACROSS} {_LEGEND}", "s", 14, _LETTER),
    ):
        for line in textwrap.wrap(words, width // letter):
            y += leading
            drawn.append(_text(_MARGIN, y, line, look))
        y += 2
    return drawn, y + 22


def _asked(family: Family, found: Trace) -> str:
    need = found.need
    words = [f"{family.name}, edition {family.edition}", f"as of {found.day}"]
    if need.variant:
        words.append(f"on {need.variant}")
    if need.running is not None:
        words.append(f"engine {need.running}")
    words.append(f"{need.quantity} for {need.position or 'any position'}")
    if need.grade:
        words.append(f"grade {need.grade}")
    if not need.variant and need.running is None:
        words.append("no engine named, so what asks for one does not hold")
    return ", ".join(words)


_ANSWER = "Today's answer: "
_ACROSS = "Older numbers stand to the left, newer ones to the right;"
_DOWN = "Each number stands under the one that it is linked with;"
_LEGEND = (
    "an arrow points at the number that may stand for the other. Box: heavy, today's answer; "
    "plain, another way; broken, not taken. A cross on an arrow: it does not hold here, or is part "
    "of a circle."
)


def _in_words(way: Way | None) -> str:
    if way is None:
        return "nothing"
    buy = " and ".join(f"{count} × {number}" for number, count in way.parts)
    beside = ", ".join(f"{count} × {number}" for number, count in way.companions)
    work = ", ".join(way.operations)
    return buy + (f", with {beside}" if beside else "") + (f"; work: {work}" if work else "")


def _foot(found: Trace, top: int, letters: int) -> tuple[list[str], int]:
    """What is wrong in the data, and where the picture ends."""
    lines: list[str] = []
    y = top
    for lead, problems in (
        ("Wrong in the data, and not followed:", found.problems),
        ("Odd in the data, though followed:", found.odd),
    ):
        if problems:
            lines.append(_text(_MARGIN, y, lead, "b"))
            y += _FOOT_LINE
        for problem in problems:
            for line in textwrap.wrap(f"• {problem}", letters, subsequent_indent="  "):
                lines.append(_text(_MARGIN, y, line))
                y += _FOOT_LINE
    return lines, y + 16


def _text(x: int, y: int, words: str, look: str = "", *, middle: bool = False) -> str:
    classes = f' class="{look}"' if look else ""
    anchor = ' text-anchor="middle"' if middle else ""
    return f'<text x="{x}" y="{y}"{classes}{anchor}>{escape(words)}</text>'
