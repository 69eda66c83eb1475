"""A price list as a workbook: sheet by sheet, row by row, formulas and formats as written.

Read without ever holding a sheet whole, so that neither a stray cell in the last row nor a million
empty rows cost memory. Formulas are seen as formulas: what a program last made of one is a guess.
"""

from __future__ import annotations

import warnings
from typing import TYPE_CHECKING, Any

from kitting.errors import BadInput, Problem
from kitting.sheets.price_lists.formats import as_shown, shown_in
from kitting.sheets.price_lists.hidden import hidden_in
from kitting.sheets.price_lists.marks import (
    MOST_COLUMNS,
    MOST_ROWS,
    Hidden,
    Table,
    cell_text,
)

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from kitting.sheets.price_lists.hidden import hidden_in
from kitting.sheets.price_lists.marks import Cells, NumberedRows


def read_book(path: Path) -> Iterator[Table]:
    """Yield the sheets of a workbook that was looked into before; hidden ones have no rows.

    Raises:
        BadInput: it is damaged.
    """
    import openpyxl

    with path.open("rb") as stream, warnings.catch_warnings():
        # What other programs add to a workbook and openpyxl leaves out concerns nobody here.
        warnings.simplefilter("ignore")
        try:
            book = openpyxl.load_workbook(stream, read_only=True, keep_links=False)
            hidden = hidden_in(path)
        except BadInput as error:
            raise BadInput(
                [Problem(path.name, each.wrong, each.right) for each in error.problems]
            ) from None
        except Exception as error:  # a damaged workbook fails in as many ways as it has parts
            raise BadInput(damaged(path, error)) from None
        try:
            among = sum(1 for sheet in book.worksheets if sheet.sheet_state == "visible") > 1
            for sheet in book.worksheets:
                title = str(sheet.title)
                if sheet.sheet_state == "visible":
                    hides = hidden.get(title) or Hidden()
                    yield Table(title, _rows(path, sheet, hides), hides, among=among)
                else:
                    yield Table(title, iter(()), shown=False)
        finally:
            book.close()


def damaged(path: Path, error: Exception) -> Problem:
    """Say that a workbook cannot be read to its end."""
    return Problem(
        path.name,
        f"the workbook is damaged ({type(error).__name__})",
        "open it in a spreadsheet program, let it repair the file, and save it again",
    )


def _rows(path: Path, sheet: Any, hidden: Hidden) -> NumberedRows:
    sheet.reset_dimensions()  # what a sheet says of its own size need not be so
    rows = sheet.iter_rows()
    for row in range(1, MOST_ROWS + 1):
        try:
            cells = next(rows, None)
        except Exception as error:
            raise BadInput(damaged(path, error)) from None
        if cells is None:
            return
        if hidden.rows and hidden.rows[row]:
            hidden.pass_over(row, _texts(cells))
        else:
            yield row, _texts(cells)


def _texts(cells: tuple[Any, ...]) -> Cells:
    texts = []
    for cell in cells[:MOST_COLUMNS]:
        value = cell.value
        kind = cell.data_type if value is not None else ""
        if kind in {"s", "inlineStr"}:
            texts.append(str(value))
        elif kind == "n":
            shown = cell.number_format
            text = cell_text(value, scientific="E+" in shown.upper())
            texts.append(as_shown(text, shown_in(shown)))
        else:
            texts.append(cell_text(value, formula=kind == "f", error=kind == "e", scientific=False))
    return texts
