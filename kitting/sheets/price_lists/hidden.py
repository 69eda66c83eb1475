"""What a workbook hides: columns, rows, cells below merged ones. The library leaves it out.

Found by looking for the words in each sheet's own text, some megabytes at once: parsing it a second
time would double the reading of a long list.
"""

from __future__ import annotations

import posixpath
import re
import zipfile
from typing import TYPE_CHECKING

from kitting.sheets.price_lists.fields import index_of
from kitting.sheets.price_lists.marks import MOST_COLUMNS, Hidden

if TYPE_CHECKING:
    from pathlib import Path

_AT_ONCE = 4_000_000
_MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
_RELATION = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"
_HIDES = re.compile(rb"""<(?:\w+:)?(row|col)\s([^>]*\bhidden=["'](?:1|true)["'][^>]*)>""")
_MERGES = re.compile(
    rb"""<(?:\w+:)?mergeCell\s[^>]*\bref=["']\$?([A-Z]{1,3})\$?(\d+):\$?[A-Z]{1,3}\$?(\d+)["']"""
)
_NUMBER = re.compile(rb"""\b(r|min|max)=["'](\d+)["']""")


def hidden_in(path: Path) -> dict[str, Hidden]:
    """What each visible sheet of a workbook hides, by its title."""
    with zipfile.ZipFile(path) as packed:
        return {title: _of_sheet(packed, part) for title, part in _parts(packed).items()}


def _parts(packed: zipfile.ZipFile) -> dict[str, str]:
    """The part that holds each visible sheet, by title."""
    from lxml import etree

    parser = etree.XMLParser(resolve_entities=False, no_network=True)
    names = set(packed.namelist())
    if not {"xl/workbook.xml", "xl/_rels/workbook.xml.rels"} <= names:
        return {}
    try:
        book = etree.fromstring(packed.read("xl/workbook.xml"), parser)
        relations = etree.fromstring(packed.read("xl/_rels/workbook.xml.rels"), parser)
    except etree.XMLSyntaxError:
        return {}  # told as damaged by whoever reads it
    targets = {str(each.get("Id")): str(each.get("Target")) for each in relations}
    found = {}
    for sheet in book.iter(f"{_MAIN}sheet"):
        part = posixpath.normpath(posixpath.join("/xl", targets.get(sheet.get(_RELATION), "")))
        if part[1:] in names and sheet.get("state", "visible") == "visible":
            found[str(sheet.get("name"))] = part[1:]
    return found


def _of_sheet(packed: zipfile.ZipFile, part: str) -> Hidden:
    hidden = Hidden()
    left = b""
    with packed.open(part) as stream:
        while some := stream.read(_AT_ONCE):
            text = left + some
            if b"hidden=" in text:
                for kind, said in _HIDES.findall(text):
                    _note(hidden, kind, {name: int(at) for name, at in _NUMBER.findall(said)})
            if b"mergeCell " in text:
                for letters, row, last in _MERGES.findall(text):
                    hidden.merged.span(index_of(letters.decode()), int(row), int(last))
            left = text[max(0, text.rfind(b"<")) :][-10_000:]
    return hidden


def _note(hidden: Hidden, kind: bytes, said: dict[bytes, int]) -> None:
    if kind == b"row":
        hidden.hide_row(said.get(b"r", 0))
    else:
        first, last = said.get(b"min", 1), said.get(b"max", 0)
        hidden.columns.update(range(first - 1, min(last, MOST_COLUMNS)))
