"""Laying out a sheet of text that fits 80 columns."""

from collections.abc import Iterable, Sequence
from textwrap import wrap

WIDTH = 80
CAUTION = (
    "Figures are aids: the maker's manual and a competent engineer come first. "
    "Crack-test what rotates."
)


def title(text: str) -> str:
    """A heading, ruled off."""
    return f"{text}\n{'─' * min(WIDTH, len(text))}"


def facts(pairs: Iterable[tuple[str, str | None]]) -> str:
    """Names and what they are, in two columns; a pair without a figure is left out."""
    known = [(name, text) for name, text in pairs if text]
    width = max((len(name) for name, _ in known), default=0) + 2
    lines: list[str] = []
    for name, text in known:
        first, *rest = wrap(text, WIDTH - width) or [""]
        lines.append(f"{name:<{width}}{first}")
        lines.extend(" " * width + line for line in rest)
    return "\n".join(lines)


def points(heading: str, sentences: Sequence[str]) -> str:
    """A heading with sentences under it, or nothing when there are none."""
    if not sentences:
        return ""
    lines = [heading]
    for sentence in sentences:
        first, *rest = wrap(sentence, WIDTH - 4) or [""]
        lines.append(f"  · {first}")
        lines.extend(f"    {line}" for line in rest)
    return "\n".join(lines)


def table(header: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    """Columns as wide as they must be; the last one is wrapped to what is left."""
    widths = [
        max(len(row[place]) for row in (header, *rows)) + 2 for place in range(len(header) - 1)
    ]
    room = max(20, WIDTH - sum(widths))
    lines: list[str] = []
    for row in (header, *rows):
        lead = "".join(f"{text:<{width}}" for text, width in zip(row, widths, strict=False))
        first, *rest = wrap(row[-1], room) or [""]
        lines.append((lead + first).rstrip())
        lines.extend(" " * sum(widths) + line for line in rest)
    return "\n".join(lines)


def page(*blocks: str) -> str:
    """Blocks with a blank line between them; empty ones are left out."""
    return "\n\n".join(block for block in blocks if block)
