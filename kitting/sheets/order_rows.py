"""Finding the lines of an order's workbook again, wherever they have come to stand."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from kitting.catalog.model import normal_number
from kitting.errors import BadInput, Problem, Problems
from kitting.sheets.cells import is_blank, words_in
from kitting.sheets.files import open_workbook
from kitting.sheets.order_keys import OrderKey, Told
from kitting.sheets.style import safe_text

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping
    from enum import StrEnum
    from pathlib import Path

    from openpyxl.worksheet.worksheet import Worksheet

    from kitting.buying.orders import Order
    from kitting.sheets.cells import AnyCell
    from kitting.sheets.order_keys import Form

# A sheet has a few dozen rows; nothing is looked for further down than this.
_MOST_ROWS = 5_000
_FRESH = "write a fresh sheet with 'kitting order sheet' and copy what was written"


@dataclass(frozen=True, slots=True)
class LineRow:
    """One line's row: where it stands, and its boxes by column key; `extra` tells rows apart."""

    sheet: str
    line: str
    boxes: Mapping[str, AnyCell]
    extra: str = ""

    def place(self, box: StrEnum) -> str:
        """Where a box stands, as a person finds it."""
        return f'sheet "{self.sheet}", cell {self.boxes[box].coordinate}'

    @property
    def filled(self) -> bool:
        """Whether anything stands in a box."""
        return any(not is_blank(cell) for cell in self.boxes.values())


@dataclass(frozen=True, slots=True)
class Returned:
    """A workbook that came back: its key, its lines, and its named boxes."""

    key: OrderKey
    rows: tuple[LineRow, ...]
    fields: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Layout:
    """What a workbook of one form has: its boxes, its named fields, and what tells rows apart."""

    form: Form
    boxes: tuple[StrEnum, ...]
    fields: tuple[str, ...]
    apart: StrEnum | None = None


def key_in(path: Path) -> OrderKey:
    """Return which order a workbook is of, whatever else is wrong with it.

    Raises:
        BadInput: the file cannot be opened, or is no sheet of an order.
    """
    for sheet in open_workbook(path).worksheets:
        found = _key_of(sheet)
        if found is not None:
            return found[0]
    raise BadInput(
        Problem(
            path.name,
            "no sheet of this workbook is of an order of ours, or its hidden keys are gone",
            _FRESH,
        )
    )


def returned(path: Path, layout: Layout, order: Order) -> Returned:
    """Read the lines of a workbook that came back.

    Raises:
        BadInput: it is of another order, a column or a line's letters are gone or changed, or a
            line stands twice with something in both.
    """
    problems = Problems()
    key = key_in(path)
    rows: list[LineRow] = []
    fields: dict[str, str] = {}
    for sheet in open_workbook(path).worksheets:
        found = _key_of(sheet)
        if found is None:
            continue
        _check_key(found[0], layout.form, order, sheet.title, problems)
        columns = _columns(sheet, found[1], layout, problems)
        if columns is not None:
            rows.extend(_rows(sheet, columns, layout, order, problems))
            fields.update(_fields(sheet, columns, layout.fields, problems))
    _raise(problems, path)
    single = _single(rows, problems)
    _raise(problems, path)
    return Returned(key, single, fields)


def _raise(problems: Problems, path: Path) -> None:
    """Raise what was found, the file's name before each place."""
    if len(problems):
        raise BadInput(
            Problem(", ".join(filter(None, (path.name, p.place))), p.wrong, p.right)
            for p in problems
        )


def raise_named(problems: Problems, path: Path) -> None:
    """Raise what was found in a file, with its name."""
    _raise(problems, path)


def _key_of(sheet: Worksheet) -> tuple[OrderKey, int] | None:
    """The sheet's key and the row that it stands in, which a person may have moved."""
    last = min(sheet.max_row, _MOST_ROWS)
    for number, row in enumerate(sheet.iter_rows(max_row=last), start=1):
        for cell in row:
            key = OrderKey.read(cell.value)
            if key is not None:
                return key, number
    return None


def _check_key(key: OrderKey, form: Form, order: Order, title: str, problems: Problems) -> None:
    place = f'sheet "{title}"'
    if key.form is not form:
        problems.add(place, f"it is a {key.form.replace('-', ' ')}", f"give the {form}")
    elif key.number != order.number:
        problems.add(
            place,
            f"it is of order {key.number}, and this is order {order.number}",
            "load it to the order that it is of",
        )
    elif key.revision != order.revision:
        problems.add(
            place,
            f"it is of revision {key.revision}, and the order is at revision {order.revision}",
            "send out the sheet of this revision",
        )


def _columns(
    sheet: Worksheet, row: int, layout: Layout, problems: Problems
) -> Mapping[str, int] | None:
    """Where each column stands, or None when one is gone."""
    cells = next(sheet.iter_rows(min_row=row, max_row=row))
    found = {str(cell.value): at for at, cell in enumerate(cells) if cell.value is not None}
    needed: list[StrEnum] = [*Told, *layout.boxes]
    if layout.apart is not None:
        needed.append(layout.apart)
    gone = [key for key in needed if key not in found]
    for key in gone:
        problems.add(
            f'sheet "{sheet.title}"',
            f"the column '{key.partition(':')[2]}' is gone",
            "undo the deletion, or copy what was written onto a fresh sheet",
        )
    return None if gone else found


def _rows(
    sheet: Worksheet,
    columns: Mapping[str, int],
    layout: Layout,
    order: Order,
    problems: Problems,
) -> Iterator[LineRow]:
    """Every row of a line; a row with something in a box and no line of ours is refused."""
    last = min(sheet.max_row, _MOST_ROWS)
    headings = _heading_row(sheet, columns)
    for number, cells in enumerate(sheet.iter_rows(min_row=1, max_row=last), start=1):
        if number <= headings:
            continue
        boxes = {str(box): cells[columns[box]] for box in layout.boxes}
        line = str(cells[columns[Told.LINE]].value or "").strip().upper()
        filled = any(not is_blank(cell) for cell in boxes.values())
        known = order.line(line)
        extra = _extra(layout, cells, columns)
        if known is not None:
            shown = cells[columns[Told.THEIRS]].value
            if not _is(shown, known.their_number):
                problems.add(
                    f'sheet "{sheet.title}", row {number}',
                    f"line {line} is {known.their_number}, and the row says {shown or 'nothing'}",
                    "leave each line's letters and numbers as they were",
                )
            yield LineRow(sheet.title, line, boxes, extra)
        elif filled or _is_line(cells, columns, order):
            problems.add(
                f'sheet "{sheet.title}", row {number}',
                f"'{line}' is no line of order {order.number}" if line else "no line's letters",
                "leave each line's letters as they were; a remark goes beside its line",
            )


def _heading_row(sheet: Worksheet, columns: Mapping[str, int]) -> int:
    """The row of the visible headings: boxes begin below it."""
    at = columns[Told.LINE] + 1
    for row in range(1, min(sheet.max_row, _MOST_ROWS) + 1):
        if str(sheet.cell(row, at).value or "").strip() == "Line":
            return row
    return 0


def _is_line(cells: tuple[AnyCell, ...], columns: Mapping[str, int], order: Order) -> bool:
    """Whether the row shows one of the order's numbers, though its letters are none of ours."""
    shown = cells[columns[Told.THEIRS]].value
    ours = str(cells[columns[Told.OURS]].value or "")
    return any(_is(shown, line.their_number) and ours == str(line.part) for line in order.lines)


def _is(shown: object, number: str) -> bool:
    """Whether a cell still shows a number, even where a program has made a figure of it."""
    text = str(shown if shown is not None else "").strip()
    return text == safe_text(number).strip() or normal_number(text) == normal_number(number)


def _extra(layout: Layout, cells: tuple[AnyCell, ...], columns: Mapping[str, int]) -> str:
    if layout.apart is None:
        return ""
    return str(cells[columns[layout.apart]].value or "").strip()


def _fields(
    sheet: Worksheet, columns: Mapping[str, int], names: Iterable[str], problems: Problems
) -> dict[str, str]:
    """What stands to the right of each name."""
    found = {}
    at = columns[Told.LINE] + 1
    for row in range(1, min(sheet.max_row, _MOST_ROWS) + 1):
        name = str(sheet.cell(row, at).value or "").strip()
        if name in names:
            cell = sheet.cell(row, at + 1)
            with problems.at(f'sheet "{sheet.title}", cell {cell.coordinate}'):
                found[name] = plain_words(cell)
    return found


def plain_words(cell: AnyCell) -> str:
    """What a person wrote; a formula is refused.

    Raises:
        BadInput: a formula or an error of the spreadsheet.
    """
    if cell.data_type == "f":
        formula = str(getattr(cell.value, "text", cell.value))[:40]
        raise BadInput(
            Problem("", f"the cell holds the formula {formula}", "write it as plain words")
        )
    return words_in(cell)


def _single(rows: Iterable[LineRow], problems: Problems) -> tuple[LineRow, ...]:
    """One row a line; a line that stands twice is refused where both are filled in."""
    kept: dict[tuple[str, str], LineRow] = {}
    for row in rows:
        key = (row.line, row.extra)
        before = kept.get(key)
        if before is None or not before.filled:
            kept[key] = row
        elif row.filled:
            place = f'sheet "{row.sheet}", row {next(iter(row.boxes.values())).row}'
            problems.add(place, f"line {row.line} stands twice, filled in", "keep one of them")
    return tuple(kept.values())
