"""A workbook that goes out: the same job gives the same bytes, and its sums show at once.

openpyxl stamps a file with the clock and leaves formulas without their results, so that a reader
that does not reckon (a telephone, a preview) shows nothing. Here the clock is the day of the job,
and each formula carries the result that our own sums gave; any spreadsheet works it out again.
"""

from __future__ import annotations

import re
import zipfile
from dataclasses import dataclass
from datetime import UTC, datetime, time
from io import BytesIO
from os import PathLike
from pathlib import Path
from typing import TYPE_CHECKING

from lxml import etree
from openpyxl import Workbook
from openpyxl.styles import Font
from openpyxl.workbook.properties import CalcProperties

from kitting.sheets.style import FONT

if TYPE_CHECKING:
    from datetime import date
    from decimal import Decimal
    from typing import IO

    from _typeshed import StrPath, SupportsWrite

_CELL = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
_MODIFIED = re.compile(rb"(<dcterms:modified[^>]*>)[^<]*")
# The earliest moment that a packed file can name.
_NO_TIME = (1980, 1, 1, 0, 0, 0)


@dataclass(frozen=True, slots=True)
class Formula:
    """A formula of ours, and the result that our own sums gave."""

    text: str
    result: Decimal


class OutgoingWorkbook(Workbook):
    """A workbook with `results` for its formulas by (sheet, cell), stamped with a day."""

    def __init__(self, title: str, author: str, day: date) -> None:
        super().__init__()
        self.remove(self.worksheets[0])
        self.results: dict[tuple[str, str], Decimal] = {}
        self.day = day
        self.properties.title = title
        self.properties.creator = author
        self.properties.created = datetime.combine(day, time(), UTC).replace(tzinfo=None)
        self.calculation = CalcProperties(fullCalcOnLoad=True)
        # Columns are counted in digits of this font: the one that the sheets are written in.
        vars(self)["_fonts"][0] = Font(name=FONT, size=10)

    def save(self, filename: StrPath | IO[bytes] | SupportsWrite[bytes]) -> None:
        """Write the file, with a fixed clock and the formulas' results."""
        packed = self._packed()
        if isinstance(filename, str | PathLike):
            Path(filename).write_bytes(packed)
        else:
            filename.write(packed)

    def _packed(self) -> bytes:
        as_written, again = BytesIO(), BytesIO()
        super().save(as_written)
        sheets = {
            f"xl/worksheets/sheet{number}.xml": sheet.title
            for number, sheet in enumerate(self.worksheets, start=1)
        }
        with zipfile.ZipFile(as_written) as old, zipfile.ZipFile(again, "w") as new:
            for name in old.namelist():
                content = old.read(name)
                if name in sheets:
                    content = self._with_results(sheets[name], content)
                elif name == "docProps/core.xml":
                    stamp = f"{self.day.isoformat()}T00:00:00Z".encode()
                    content = _MODIFIED.sub(rb"\g<1>" + stamp, content)
                entry = zipfile.ZipInfo(name, _NO_TIME)
                entry.compress_type = zipfile.ZIP_DEFLATED
                new.writestr(entry, content)
        return again.getvalue()

    def _with_results(self, sheet: str, content: bytes) -> bytes:
        results = {cell: result for (where, cell), result in self.results.items() if where == sheet}
        if not results:
            return content
        tree = etree.fromstring(content)
        for cell in tree.iter(f"{_CELL}c"):
            if cell.find(f"{_CELL}f") is not None and cell.get("r") in results:
                shown = cell.find(f"{_CELL}v")
                if shown is None:
                    shown = etree.SubElement(cell, f"{_CELL}v")
                shown.text = format(results[cell.get("r")], "f")
        return bytes(etree.tostring(tree, xml_declaration=True, encoding="UTF-8"))
