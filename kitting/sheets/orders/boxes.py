"""What makes a sheet one that comes back: keys, open boxes, lists, and a lock on the rest."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

from openpyxl.styles import Protection
from openpyxl.worksheet.datavalidation import DataValidation

from kitting.sheets.style import BOX_FILL, PLAIN, put_text

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from kitting.sheets.orders.keys import OrderKey
    from kitting.sheets.page import Page

_OPEN = Protection(locked=False)


Kind = Literal["whole", "decimal", "date", "list"]


@dataclass(frozen=True, slots=True)
class Rule:
    """What a spreadsheet program lets into a box: a list of words, or a kind of figure.

    `low` and `high` are formulas, the first row's number in the place of `{row}`: further rows
    count on from it. `says` is the sentence with which anything else is turned away.
    """

    kind: Kind
    low: str
    high: str = ""
    says: str = ""

    def written(self, first: int) -> DataValidation:
        """The rule for the boxes from the first row on."""
        bounds: Literal["between", "greaterThanOrEqual"]
        bounds = "between" if self.high else "greaterThanOrEqual"
        return DataValidation(
            type=self.kind,
            operator=None if self.kind == "list" else bounds,
            formula1=self.low.format(row=first),
            formula2=self.high.format(row=first) or None,
            allow_blank=True,
            showErrorMessage=True,
            errorTitle="Please look again",
            error=self.says,
        )


def words(*offered: str) -> Rule:
    """A list to choose from."""
    return Rule("list", f'"{",".join(offered)}"', says=f"Choose one of: {', '.join(offered)}.")


def whole(most: str, says: str) -> Rule:
    """A whole number from nought to what a formula says."""
    return Rule("whole", "0", most, says)


def put_keys(page: Page, key: OrderKey, columns: Mapping[int, str]) -> None:
    """Write the hidden row: which order the sheet is of, and what each column holds.

    The order's key stands in the first column that has none of its own.
    """
    where = next(at for at in range(len(page.columns)) if at not in columns)
    contents = {**columns, where: str(key)}
    page.put_some(tuple(contents.get(at) for at in range(len(page.columns))))
    page.sheet.row_dimensions[page.row].hidden = True


def put_field(page: Page, name: str) -> None:
    """A line with a name and an open box beside it, three columns wide."""
    page.put_some((name, "", None, None))
    put_text(page.cell(0), name, replace(PLAIN, size=8.5))
    look = replace(page.columns[1].look, fill=BOX_FILL, size=10)
    for at in (1, 2, 3):
        look.dress(page.cell(at))
        page.cell(at).protection = _OPEN
    page.sheet.row_dimensions[page.row].height = 16
    page.sheet.merge_cells(start_row=page.row, end_row=page.row, start_column=2, end_column=4)


def open_boxes(page: Page, rows: Sequence[int], rules: Mapping[int, Rule | None]) -> None:
    """Open the cells of some columns in some rows to whoever fills the sheet in."""
    for at, rule in rules.items():
        made = rule.written(rows[0]) if rule and rows else None
        if made is not None:
            page.sheet.add_data_validation(made)
        for row in rows:
            cell = page.cell(at, row)
            replace(page.columns[at].look, fill=BOX_FILL).dress(cell)
            cell.protection = _OPEN
            if made is not None:
                made.add(cell)


def lock(page: Page) -> None:
    """Lock every cell that is no box, without a password; sorting and widths stay free."""
    protection = page.sheet.protection
    protection.sheet = True
    protection.formatColumns = protection.formatRows = False
    protection.sort = protection.autoFilter = False
