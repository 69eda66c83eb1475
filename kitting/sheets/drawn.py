"""Words in text boxes and other shapes that somebody laid on a sheet: they stand in no cell.

The reader of workbooks passes over them, so the file's own parts are looked into.
"""

from __future__ import annotations

import zipfile
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from openpyxl.packaging.relationship import get_dependents
from openpyxl.utils import get_column_letter

from kitting.sheets.ods import (
    OFFICE,
    TABLE,
    TEXT,
    forget,
    is_foreign,
    ods_events,
    paragraph_of,
)
from kitting.sheets.ods_book import is_ods

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

_DRAW = "{urn:oasis:names:tc:opendocument:xmlns:drawing:1.0}"
# What only holds other shapes, or something that is no text.
_HOLDERS = {f"{_DRAW}{name}" for name in ("a", "frame", "g", "image", "object", "object-ole")}
# Where the workbook stands in a file that does not say so.
_BOOK = "xl/workbook.xml"


@dataclass(frozen=True, slots=True)
class DrawnWords:
    """The words of one shape; `cell` is the one that its upper left corner lies over, '' where the
    file does not say."""

    sheet: str
    cell: str
    text: str


def drawn_words(path: Path) -> tuple[DrawnWords, ...]:
    """Return the words of all shapes in a workbook (.xlsx, .ods) that was opened before."""
    with zipfile.ZipFile(path) as packed:
        if not is_ods(packed):
            return tuple(_of_package(packed))
    return tuple(_of_open_document(path))


def _of_package(packed: zipfile.ZipFile) -> Iterator[DrawnWords]:
    """Sheet by sheet: what its drawings hold."""
    parts = set(packed.namelist())
    book = next(iter(_related(packed, parts, "", "/officeDocument").values()), _BOOK)
    targets = _related(packed, parts, book, "sheet")
    for sheet in _parsed(packed, book).iter("{*}sheet"):
        key = next((value for name, value in sheet.attrib.items() if name.endswith("}id")), "")
        part = targets.get(key)
        drawings = _related(packed, parts, part, "/drawing").values() if part else ()
        for drawing in drawings:
            for cell, text in _of_drawing(_parsed(packed, drawing)):
                yield DrawnWords(sheet.get("name", ""), cell, text)


def _related(packed: zipfile.ZipFile, parts: set[str], part: str, kind: str) -> dict[str, str]:
    """The parts of a kind that a part, or '' the file, names; by the id that it names them with."""
    folder, _, name = part.rpartition("/")
    listed = f"{folder}/_rels/{name}.rels".lstrip("/")
    if listed not in parts:
        return {}
    return {
        str(each.Id): each.target.lstrip("/")
        for each in get_dependents(packed, listed)
        if each.Type.endswith(kind) and each.target.lstrip("/") in parts
    }


def _parsed(packed: zipfile.ZipFile, part: str) -> Any:
    from lxml import etree

    reader = etree.XMLParser(resolve_entities=False, no_network=True)
    return etree.fromstring(packed.read(part), reader)


def _of_drawing(root: Any) -> Iterator[tuple[str, str]]:
    """The words of each shape, and the cell that it begins at."""
    for body in root.iter("{*}txBody"):
        # What stands there for programs that do not know the first choice says the same again.
        if any(each.tag.endswith("}Fallback") for each in body.iterancestors()):
            continue
        lines = ("".join(_runs(line)) for line in body.iterchildren("{*}p"))
        text = " ".join(filter(None, (line.strip() for line in lines)))
        if text:
            yield _corner(body), text


def _runs(line: Any) -> Iterator[str]:
    for each in line.iter("{*}t", "{*}br"):
        yield " " if each.tag.endswith("}br") else each.text or ""


def _corner(body: Any) -> str:
    for anchor in body.iterancestors():
        corner = anchor.find("{*}from")
        if corner is not None:
            row, column = (int(corner.findtext(f"{{*}}{name}", "0")) for name in ("row", "col"))
            return f"{get_column_letter(column + 1)}{row + 1}"
    return ""


def _of_open_document(path: Path) -> Iterator[DrawnWords]:
    """Shape by shape; those of tables within a cell are none of a sheet's."""
    sheet, foreign = "", 0
    for event, element in ods_events(path):
        tag = element.tag
        if tag == f"{TABLE}table" and is_foreign(element):
            foreign += 1 if event == "start" else -1
        elif tag == f"{TABLE}table" and event == "start":
            sheet = element.get(f"{TABLE}name", "")
        elif event == "end" and not foreign:
            if tag.startswith(_DRAW) and tag not in _HOLDERS and not _noted(element):
                text = " ".join(paragraph_of(line).strip() for line in element.iter(f"{TEXT}p"))
                if text.strip():
                    yield DrawnWords(sheet, "", text.strip())
            elif tag == f"{TABLE}table-row":
                forget(element)


def _noted(element: Any) -> bool:
    """Whether it is part of a note that is pinned to a cell: that is read with its cell."""
    return any(each.tag == f"{OFFICE}annotation" for each in element.iterancestors())
