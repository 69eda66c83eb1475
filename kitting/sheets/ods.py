"""An OpenDocument sheet (ISO/IEC 26300) row by row, in little memory, for who makes cells of it.

Rows and cells that are said to repeat are counted, not built: a few bytes can claim a thousand
million of them.
"""

from __future__ import annotations

import zipfile
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

TABLE = "{urn:oasis:names:tc:opendocument:xmlns:table:1.0}"
OFFICE = "{urn:oasis:names:tc:opendocument:xmlns:office:1.0}"
TEXT = "{urn:oasis:names:tc:opendocument:xmlns:text:1.0}"
_STYLE = "{urn:oasis:names:tc:opendocument:xmlns:style:1.0}"
_GAPS = {f"{TEXT}s", f"{TEXT}tab", f"{TEXT}line-break"}
_CELLS = {f"{TABLE}table-cell", f"{TABLE}covered-table-cell"}


def ods_rows(path: Path) -> Iterator[tuple[str, int, int, Any]]:
    """Yield each row: its sheet, its number, how often it stands there, and the element.

    An element is emptied once the next row is asked for.

    Raises:
        ValueError: it is damaged; the message says how.
    """
    sheet, row, foreign = "", 0, 0
    for event, element in ods_events(path):
        if element.tag == f"{TABLE}table":
            if is_foreign(element):
                foreign += 1 if event == "start" else -1
            elif event == "start":
                sheet, row = element.get(f"{TABLE}name", ""), 0
        elif event == "end" and element.tag == f"{TABLE}table-row" and not foreign:
            again = repeated(element, "number-rows-repeated")
            yield sheet, row + 1, again, element
            row += again
            forget(element)


def ods_events(path: Path) -> Iterator[tuple[str, Any]]:
    """Yield the start and end of each element of the content, as lxml gives them.

    Raises:
        ValueError: it is damaged; the message says how.
    """
    from lxml import etree

    try:
        with zipfile.ZipFile(path) as packed, packed.open("content.xml") as stream:
            yield from etree.iterparse(
                stream, events=("start", "end"), resolve_entities=False, no_network=True
            )
    except (etree.XMLSyntaxError, zipfile.BadZipFile, KeyError) as error:
        raise ValueError(type(error).__name__) from None


def is_foreign(table: Any) -> bool:
    """Whether a table is none of the sheets: within a cell, or kept of another file."""
    return bool(table.getparent().tag != f"{OFFICE}spreadsheet")


def cells_of(row: Any) -> Iterator[tuple[Any, int]]:
    """Yield the cells of a row, each with how often it stands there."""
    for cell in row:
        if cell.tag in _CELLS:
            yield cell, repeated(cell, "number-columns-repeated")


def words_of(cell: Any) -> str:
    """What a cell shows, a line a paragraph; notes pinned to it are none of it."""
    return "\n".join(paragraph_of(each) for each in cell if each.tag == f"{TEXT}p")


def words_and_struck(cell: Any, struck: frozenset[str]) -> list[tuple[str, bool]]:
    """What a cell shows in parts, each with whether a look of its own strikes it through."""
    parts: list[tuple[str, bool]] = []
    for paragraph in (each for each in cell if each.tag == f"{TEXT}p"):
        if parts:
            parts.append(("\n", False))
        parts.extend(_parts(paragraph, struck, inside=False))
    return [part for part in parts if part[0]]


def _parts(element: Any, struck: frozenset[str], *, inside: bool) -> Iterator[tuple[str, bool]]:
    """The texts of an element and those within it; what follows it is its parent's."""
    within = inside or element.get(f"{TEXT}style-name", "") in struck
    gap = " " if element.tag in _GAPS else ""
    yield gap + (element.text or ""), within
    for each in element:
        yield from _parts(each, struck, inside=within)
        yield each.tail or "", within


def note_of(cell: Any) -> str:
    """The note that is pinned to a cell, '' for none."""
    return "\n".join(words_of(each) for each in cell if each.tag == f"{OFFICE}annotation")


def struck_styles(path: Path) -> frozenset[str]:
    """The names of the looks in which a cell's words are struck through."""
    found = set()
    for event, element in ods_events(path):
        if element.tag == f"{OFFICE}body":
            break
        if event == "end" and element.tag == f"{_STYLE}style":
            lines = (
                each.get(f"{_STYLE}text-line-through-{name}", "none")
                for each in element.iter(f"{_STYLE}text-properties")
                for name in ("style", "type")
            )
            if any(line != "none" for line in lines):
                found.add(element.get(f"{_STYLE}name", ""))
    return frozenset(found)


def forget(element: Any) -> None:
    """Let go of a row that was read, and of what stood before it."""
    element.clear()
    while element.getprevious() is not None:
        del element.getparent()[0]


def repeated(element: Any, name: str) -> int:
    """How often an element stands there, by the attribute that says so."""
    return max(1, int(element.get(f"{TABLE}{name}", "1")))


def paragraph_of(paragraph: Any) -> str:
    """The text of one paragraph, whatever looks its parts have."""
    return "".join(text for text, _ in _parts(paragraph, frozenset(), inside=False))
