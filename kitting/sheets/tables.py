"""A whole sheet that is one long table: headings frozen, a filter on each column."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from kitting.sheets.page import Column, Page, Row
from kitting.sheets.style import FAINT

if TYPE_CHECKING:
    from kitting.sheets.outgoing import OutgoingWorkbook


@dataclass(frozen=True, slots=True)
class Table:
    """A sheet's name, what it is, its columns and its rows."""

    name: str
    about: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]

    def write(self, book: OutgoingWorkbook, footer: str) -> None:
        """Add the sheet to a workbook."""
        page = Page(book, self.name, self.columns, landscape=True)
        page.line(self.about, FAINT)
        page.table(self.rows, filtered=True)
        if not self.rows:
            page.line("None.")
        page.finish(footer)
