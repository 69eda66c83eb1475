"""Finding the lines of an order's workbook again, wherever they have come to stand."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from kitting.catalog.model import normal_number
from kitting.errors import BadInput, Problem, Problems
from kitting.sheets.cells import is_blank, words_in
from kitting.sheets.files import open_workbook
from kitting.sheets.orders.headings import heading_row
from kitting.sheets.orders.keys import Form, OrderKey, Told
from kitting.sheets.orders.struck import partly_struck
from kitting.sheets.style import safe_text

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping
    from enum import StrEnum
    from pathlib import Path

    from openpyxl.worksheet.worksheet import Worksheet

    from kitting.buying.orders import Order, OrderLine
    from kitting.sheets.cells import AnyCell

# A sheet has a few dozen rows; nothing is looked for further down than this.
MOST_ROWS = 5_000
_MOST_LETTERS = 500
_FRESH = "write a fresh sheet with 'kitting order sheet' and copy what was written"
_READ_BY = {Form.ORDER: "kitting order reply", Form.DELIVERY: "kitting order receive"}
_WRITTEN_BY = {Form.ORDER: "kitting order sheet", Form.DELIVERY: "kitting order delivery-sheet"}


@dataclass(frozen=True, slots=True)
class LineRow:
    """One line's row: where it stands, its boxes and the figures printed for it, by column key.

    A box whose column is gone is not there, and was told of. `extra` tells rows of a line apart.
    """

    sheet: str
    number: int
    line: str
    boxes: Mapping[str, AnyCell]
    printed: Mapping[str, AnyCell]
    extra: str = ""

    @property
    def cells(self) -> Mapping[str, AnyCell]:
        """Its boxes and its printed figures."""
        return {**self.printed, **self.boxes}

    def place(self, column: str) -> str:
        """Where a box or a printed figure stands, as a person finds it."""
        cell = self.boxes.get(column) or self.printed[column]
        return f'sheet "{self.sheet}", cell {cell.coordinate}'

    @property
    def filled(self) -> bool:
        """Whether anything stands in a box."""
        return any(not is_blank(cell) for cell in self.boxes.values())


@dataclass(frozen=True, slots=True)
class KnownSheet:
    """A sheet of the order: where each column stands by its key, and the rows of its keys and of
    its visible headings, 0 where those are gone; and what is struck of a cell's words, by cell."""

    sheet: Worksheet
    columns: Mapping[str, int]
    keys: int
    headings: int
    partly_struck: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Returned:
    """A workbook that came back: its lines, its named boxes, and what was wrong so far.

    A line has as many rows as it stands in. Whoever reads the boxes adds to `problems`, so that all
    of them come in one go. `others` are sheets that are none of ours.
    """

    rows: tuple[LineRow, ...]
    fields: Mapping[str, str]
    problems: Problems
    sheets: tuple[KnownSheet, ...] = ()
    others: tuple[Worksheet, ...] = ()


@dataclass(frozen=True, slots=True)
class Layout:
    """What a workbook of one form has: boxes, named fields, printed figures; what tells rows apart.

    A sheet that was written before its printed figures had keys goes without them.
    """

    form: Form
    boxes: tuple[StrEnum, ...]
    fields: tuple[str, ...]
    apart: StrEnum | None = None
    printed: tuple[StrEnum, ...] = ()


def key_in(path: Path) -> OrderKey:
    """Return which order a workbook is of, whatever else is wrong with it.

    Raises:
        BadInput: the file cannot be opened, or is no sheet of an order.
    """
    for sheet in open_workbook(path).worksheets:
        found = _key_of(sheet)
        if found is not None:
            return found[0]
    raise _no_key(path)


def _no_key(path: Path) -> BadInput:
    return BadInput(
        Problem(
            path.name,
            "no sheet of this workbook is of an order of ours, or its hidden keys are gone",
            _FRESH,
        )
    )


def returned(path: Path, layout: Layout, order: Order) -> Returned:
    """Read the lines of a workbook that came back.

    A column or a line's letters that are gone or changed, and a named box that two sheets fill in
    differently, are noted in `problems`.

    Raises:
        BadInput: it is no sheet of this form, order and revision, or has no line that can be read.
    """
    problems = Problems()
    keyed = [(sheet, _key_of(sheet)) for sheet in open_workbook(path, rich=True).worksheets]
    known = [(sheet, found) for sheet, found in keyed if found is not None]
    if not known:
        raise _no_key(path)
    rows: list[LineRow] = []
    fields: dict[str, _Field] = {}
    sheets = []
    for sheet, (key, at) in known:
        wrong = _wrong_key(key, layout.form, order)
        if wrong is not None:
            problems.add(f'sheet "{sheet.title}"', *wrong)
            continue
        columns = _columns(sheet, at, layout, problems)
        if columns is not None:
            struck = partly_struck(sheet, MOST_ROWS)
            headings = _heading_row(sheet, columns, at, layout, order)
            found = KnownSheet(sheet, columns, at, headings, struck)
            sheets.append(found)
            rows.extend(_rows(found, layout, order, problems))
            _join(fields, _fields(sheet, columns, layout.fields, problems), problems)
    if not rows:
        raise_named(problems, path)
    others = tuple(sheet for sheet, found in keyed if found is None)
    named = {name: field.text for name, field in fields.items()}
    return Returned(tuple(rows), named, problems, tuple(sheets), others)


def raise_named(problems: Problems, path: Path) -> None:
    """Raise what was found in a file, its name before each place."""
    if len(problems):
        raise BadInput(
            Problem(", ".join(filter(None, (path.name, p.place))), p.wrong, p.right)
            for p in problems
        )


def _key_of(sheet: Worksheet) -> tuple[OrderKey, int] | None:
    """The sheet's key and the row that it stands in, which a person may have moved."""
    last = min(sheet.max_row, MOST_ROWS)
    for number, row in enumerate(sheet.iter_rows(max_row=last), start=1):
        for cell in row:
            key = OrderKey.read(cell.value)
            if key is not None:
                return key, number
    return None


def _wrong_key(key: OrderKey, form: Form, order: Order) -> tuple[str, str] | None:
    """Why a sheet is not the one that is read here, and which would be; None when it is."""
    if key.form is not form:
        return (
            f"it is {key.form.named}, and {form.named} is read here",
            f"'{_READ_BY[key.form]}' reads it; '{_WRITTEN_BY[form]} {order.number}' writes the "
            "other",
        )
    if key.number != order.number:
        return (
            f"it is of order {key.number}, and this is order {order.number}",
            "load it to the order that it is of",
        )
    if key.revision != order.revision:
        return (
            f"it is of revision {key.revision}, and the order is at revision {order.revision}",
            "send out the sheet of this revision",
        )
    return None


def _columns(
    sheet: Worksheet, row: int, layout: Layout, problems: Problems
) -> Mapping[str, int] | None:
    """Where each column stands; None when one is gone without which no line is known."""
    cells = next(sheet.iter_rows(min_row=row, max_row=row))
    found = {str(cell.value): at for at, cell in enumerate(cells) if cell.value is not None}
    needed: list[StrEnum] = [*Told]
    if layout.apart is not None:
        needed.append(layout.apart)
    for key in (*needed, *layout.boxes):
        if key not in found:
            problems.add(
                f'sheet "{sheet.title}"',
                f"the column '{key.partition(':')[2]}' is gone",
                "undo the deletion, or copy what was written onto a fresh sheet",
            )
    return found if all(key in found for key in needed) else None


def _rows(
    known_sheet: KnownSheet, layout: Layout, order: Order, problems: Problems
) -> Iterator[LineRow]:
    """Every row of a line, wherever it stands; one that shows a line's numbers without its letters
    is refused, and so is one below the headings with something in a box and no line of ours."""
    sheet, columns = known_sheet.sheet, known_sheet.columns
    for number, cells in _numbered(sheet):
        if number in {known_sheet.keys, known_sheet.headings}:
            continue
        boxes = {str(box): cells[columns[box]] for box in layout.boxes if box in columns}
        at = cells[columns[Told.LINE]]
        line = _letters(cells, columns)
        filled = any(not is_blank(cell) for cell in boxes.values())
        known = order.line(line)
        place = f'sheet "{sheet.title}", cell {at.coordinate}'
        if known is not None:
            _check_numbers(known, cells, columns, sheet.title, problems)
            printed = {str(key): cells[columns[key]] for key in layout.printed if key in columns}
            extra = _extra(layout, cells, columns)
            yield LineRow(sheet.title, number, line, boxes, printed, extra)
        elif (filled and number > known_sheet.headings) or _is_line(cells, columns, order):
            problems.add(
                place,
                f"'{line}' is no line of order {order.number}" if line else "no line's letters",
                "leave each line's letters as they were; a remark goes beside its line",
            )


def _numbered(sheet: Worksheet) -> Iterator[tuple[int, tuple[AnyCell, ...]]]:
    last = min(sheet.max_row, MOST_ROWS)
    return enumerate(sheet.iter_rows(min_row=1, max_row=last), start=1)


def _letters(cells: tuple[AnyCell, ...], columns: Mapping[str, int]) -> str:
    return str(cells[columns[Told.LINE]].value or "").strip().upper()


def _check_numbers(
    line: OrderLine,
    cells: tuple[AnyCell, ...],
    columns: Mapping[str, int],
    title: str,
    problems: Problems,
) -> None:
    """The numbers beside a line's letters are still the line's own."""
    for told, number in ((Told.THEIRS, line.their_number), (Told.OURS, str(line.part))):
        cell = cells[columns[told]]
        if not _is(cell.value, number):
            problems.add(
                f'sheet "{title}", cell {cell.coordinate}',
                f"line {line.id} is {number}, and the row says {cell.value or 'nothing'}",
                "leave each line's letters and numbers as they were; another number goes into a "
                "box of the supplier's",
            )


def _heading_row(
    sheet: Worksheet, columns: Mapping[str, int], keys: int, layout: Layout, order: Order
) -> int:
    """The row of the visible headings, among those that are no line's."""
    others = (
        (number, cells)
        for number, cells in _numbered(sheet)
        if number != keys and order.line(_letters(cells, columns)) is None
    )
    return heading_row(others, columns, (*Told, *layout.printed, *layout.boxes))


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


@dataclass(frozen=True, slots=True)
class _Field:
    """What stands in a named box, and where."""

    text: str
    place: str


def _fields(
    sheet: Worksheet, columns: Mapping[str, int], names: Iterable[str], problems: Problems
) -> Iterator[tuple[str, _Field]]:
    """What stands to the right of each name."""
    at = columns[Told.LINE] + 1
    for row in range(1, min(sheet.max_row, MOST_ROWS) + 1):
        name = str(sheet.cell(row, at).value or "").strip()
        if name in names:
            cell = sheet.cell(row, at + 1)
            place = f'sheet "{sheet.title}", cell {cell.coordinate}'
            with problems.at(place):
                yield name, _Field(short_words(cell), place)


def _join(
    fields: dict[str, _Field], found: Iterable[tuple[str, _Field]], problems: Problems
) -> None:
    """Add the named boxes of a sheet: one left blank says nothing against another's."""
    for name, field in found:
        before = fields.get(name)
        if before is None or not before.text:
            fields[name] = field
        elif field.text and field.text != before.text:
            problems.add(
                field.place,
                f"'{name}' is '{field.text}' here, and '{before.text}' in {before.place}",
                "keep one of them",
            )


def short_words(cell: AnyCell) -> str:
    """What a person wrote, of bearable length.

    Raises:
        BadInput: a formula or an error of the spreadsheet, or a whole story.
    """
    text = plain_words(cell)
    if len(text) > _MOST_LETTERS:
        raise BadInput(Problem("", f"it has {len(text)} signs", f"give at most {_MOST_LETTERS}"))
    return text


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
