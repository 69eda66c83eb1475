"""Drawing the cover of a strip sheet and its sheet of sizes."""

from __future__ import annotations

import textwrap
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from openpyxl.worksheet.hyperlink import Hyperlink

from kitting.sheets import style
from kitting.sheets.strip.cover import (
    CAUTIONS,
    HOW_TO,
    SIZE_HEADINGS,
    cautions_of,
    entries,
    size_rows,
)
from kitting.sheets.strip.keys import HEADING, Column, Field, Role, RowKey, RowKind, SheetKey

if TYPE_CHECKING:
    from collections.abc import Iterable

    from openpyxl.worksheet.worksheet import Worksheet

    from kitting.catalog.family import Family
    from kitting.catalog.model import Variant
    from kitting.job.findings import Job

_LINE = 13.5
_LETTERS_ACROSS = 125


@dataclass(frozen=True, slots=True)
class Common:
    """What every sheet of one workbook has in common."""

    family: Family
    variant: Variant
    job: Job | None

    def key(self, role: Role, assembly: str = "") -> SheetKey:
        """The hidden key of one sheet."""
        return SheetKey(self.family.key, self.family.edition, self.variant.key, role, assembly)

    @property
    def beside(self) -> str:
        """What stands small in every heading and footer."""
        job = f"job {self.job.number}, engine {self.job.engine_number}, " if self.job else ""
        return f"{job}{self.variant.name}, edition {self.family.edition}"


def draw_cover(sheet: Worksheet, common: Common, contents: Iterable[tuple[str, str]]) -> None:
    """Draw the cover; `contents` are the other sheets, each its title and what to say of it."""
    family, variant = common.family, common.variant
    style.put_text(sheet["A1"], str(common.key(Role.COVER)))
    style.put_text(sheet["B1"], Column.WHAT)
    style.put_text(sheet["C1"], Column.LIMITS)
    sheet.row_dimensions[1].hidden = True
    style.set_widths(sheet, {"A": 0, "B": 30, "C": 44, "D": 40})
    style.put_text(sheet["B2"], f"Strip sheet: {family.name}", style.TITLE)
    sheet.row_dimensions[2].height = 28
    style.put_text(
        sheet["B3"],
        f"{family.maker}, {family.years}; {variant.name}, {variant.years}; "
        f"catalogue edition {family.edition}",
        style.FAINT,
    )
    row = _draw_entries(sheet, common, 5)
    row = _draw_list(sheet, row + 1, "Cautions", CAUTIONS, style.CAUTION)
    row = _draw_list(sheet, row + 1, "How to fill it in", HOW_TO, style.PLAIN)
    row = _draw_contents(sheet, row + 1, contents)
    told = tuple(cautions_of(family, variant))
    if told:
        row = _draw_list(sheet, row + 1, "Cautions of this engine", told, style.CAUTION)
    for at in range(2, row + 1):
        if sheet[f"A{at}"].value is None:
            style.put_text(sheet[f"A{at}"], str(HEADING))
    style.set_up_page(sheet, footer=common.beside)
    sheet.print_area = f"B1:D{row}"


def _draw_entries(sheet: Worksheet, common: Common, row: int) -> int:
    for entry in entries(common.variant, common.job):
        style.put_text(sheet[f"A{row}"], str(RowKey(RowKind.FIELD, entry.field)))
        style.put_text(sheet[f"B{row}"], entry.label, style.STRONG)
        day = entry.field is Field.WHEN
        long = entry.field is Field.NOTES
        box = style.BOX_DAY if day else replace(style.BOX, wrap=long)
        if entry.text:
            style.put_text(sheet[f"C{row}"], entry.text, box)
        else:
            box.dress(sheet[f"C{row}"])
        style.put_text(sheet[f"D{row}"], entry.hint, replace(style.FAINT, indent=1))
        sheet.row_dimensions[row].height = 48 if long else 22
        row += 1
    return row


def _draw_list(
    sheet: Worksheet, row: int, heading: str, texts: Iterable[str], look: style.Style
) -> int:
    for column in "BCD":
        style.BAND.dress(sheet[f"{column}{row}"])
    style.put_text(sheet[f"B{row}"], heading, style.BAND)
    row += 1
    for text in texts:
        for at, line in enumerate(textwrap.wrap(text, _LETTERS_ACROSS)):
            shown = f"•  {line}" if at == 0 else f"    {line}"
            style.put_text(sheet[f"B{row}"], shown, replace(look, size=9.5))
            sheet.row_dimensions[row].height = _LINE
            row += 1
    return row


def _draw_contents(sheet: Worksheet, row: int, contents: Iterable[tuple[str, str]]) -> int:
    for column in "BCD":
        style.BAND.dress(sheet[f"{column}{row}"])
    style.put_text(sheet[f"B{row}"], "The sheets, in the order in which it comes apart", style.BAND)
    row += 1
    for title, text in contents:
        place = title.replace("'", "''")
        style.put_text(sheet[f"B{row}"], text, style.LINK)
        sheet[f"B{row}"].hyperlink = Hyperlink(f"B{row}", location=f"'{place}'!B2")
        row += 1
    return row


def draw_sizes(sheet: Worksheet, common: Common) -> None:
    """Draw every size table: what each grade measures, to tell the present one by."""
    style.put_text(sheet["A1"], str(common.key(Role.SIZES)))
    sheet.row_dimensions[1].hidden = True
    style.set_widths(sheet, {"A": 0, "B": 30, "C": 26, "D": 20, "E": 22, "F": 16})
    style.put_text(sheet["B2"], "Sizes", style.TITLE)
    sheet.row_dimensions[2].height = 26
    row = 3
    for table in common.family.size_tables:
        style.put_text(sheet[f"B{row}"], f"{table.name}, in {table.unit}", style.STRONG)
        sheet.row_dimensions[row].height = 24
        rows = (SIZE_HEADINGS, *size_rows(table))
        for at, texts in enumerate(rows):
            row += 1
            for column, text in zip("BCDEF", texts, strict=True):
                look = style.PLAIN if at else style.HEADING
                style.put_text(sheet[f"{column}{row}"], text, replace(look, edges=style.ALL_ROUND))
        if table.finish_note:
            row += 1
            style.put_text(sheet[f"B{row}"], table.finish_note, style.FAINT)
        row += 1
    style.set_up_page(sheet, footer=common.beside)
    sheet.print_area = f"B1:F{row}"
