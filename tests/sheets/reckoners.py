"""Other programs that work a workbook's formulas out again, after our own results are taken off."""

import logging
from collections.abc import Callable, Sequence
from decimal import ROUND_HALF_EVEN, Decimal
from pathlib import Path

import openpyxl

from tests.libreoffice import convert_all

Figures = dict[tuple[str, str], Decimal]
Reckoner = Callable[[Sequence[Path], Path], list[Figures]]

# What binary noise may add is far below this; what a wrong penny adds is far above.
_NOISE = Decimal("0.0000001")


def our_results(file: Path) -> Figures:
    """The results that our own sums gave, as they stand in the file beside the formulas."""
    return _formula_values(file, openpyxl.load_workbook(file, data_only=True))


def _by_libreoffice(files: Sequence[Path], folder: Path) -> list[Figures]:
    bare = [_without_results(file, folder / "bare") for file in files]
    made = convert_all(bare, "xlsx", folder / "again")
    return [
        _formula_values(file, openpyxl.load_workbook(again, data_only=True))
        for file, again in zip(files, made, strict=True)
    ]


def _by_formulas(files: Sequence[Path], folder: Path) -> list[Figures]:
    import formulas

    logging.getLogger("formulas").setLevel(logging.ERROR)
    figures = []
    for file in files:
        bare = _without_results(file, folder / "bare")
        solved = formulas.ExcelModel().loads(str(bare)).finish().calculate()
        found: Figures = {}
        for sheet, cell in _formula_cells(file):
            answer = solved[f"'[{bare.name}]{sheet.upper()}'!{cell}"]
            found[(sheet, cell)] = _exact(float(answer.value[0, 0]))
        figures.append(found)
    return figures


def _without_results(file: Path, folder: Path) -> Path:
    """A copy with formulas only: openpyxl leaves the results out."""
    folder.mkdir(parents=True, exist_ok=True)
    copy = folder / file.name
    openpyxl.load_workbook(file).save(copy)
    return copy


def _formula_cells(file: Path) -> list[tuple[str, str]]:
    book = openpyxl.load_workbook(file)
    return [
        (sheet.title, cell.coordinate)
        for sheet in book.worksheets
        for row in sheet.iter_rows()
        for cell in row
        if cell.data_type == "f"
    ]


def _formula_values(file: Path, values: openpyxl.Workbook) -> Figures:
    return {
        (sheet, cell): _exact(float(str(values[sheet][cell].value)))
        for sheet, cell in _formula_cells(file)
    }


def _exact(number: float) -> Decimal:
    """The decimal that a binary result stands for."""
    return Decimal(repr(number)).quantize(_NOISE, ROUND_HALF_EVEN)


RECKONERS: dict[str, Reckoner] = {"formulas": _by_formulas, "libreoffice": _by_libreoffice}
