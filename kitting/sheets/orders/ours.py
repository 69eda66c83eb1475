"""What we print on an order's sheet, for one that came back to be held against.

Columns are called by their headings, whatever stands above them by now.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from openpyxl.utils import get_column_letter

from kitting.sheets.cells import is_blank, words_in
from kitting.sheets.orders.formulas import rows_in, shape_of
from kitting.sheets.orders.keys import Addresses, OrderKey, Printed, Told
from kitting.sheets.orders.supplier_sheet import printed_book

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
    from typing import Self

    from kitting.buying.orders import Order
    from kitting.sheets.cells import AnyCell
    from kitting.sheets.orders.rows import KnownSheet

MOST_COLUMNS = 200
"""Columns that are looked at; ours are sixteen."""

TOTAL = "Line total"
"""The heading of the column that the sums stand in."""

_PART, _TOTAL = 3, 7
# Far more than anybody reads out of a reply; what is longer is cut where it is told.
_MOST_LETTERS = 300


@dataclass(frozen=True, slots=True)
class PrintedCell:
    """What a cell of ours shows: text, or what its formula comes to, and that formula's shape."""

    text: str
    shape: str = ""


@dataclass(frozen=True, slots=True)
class Ours:
    """The sheet as it went out: its words outside the lines, its sums by name, the cells of each
    line by heading, and the headings of the columns that have a key."""

    texts: frozenset[str]
    sums: Mapping[str, PrintedCell]
    lines: Mapping[str, Mapping[str, PrintedCell]]
    called: Mapping[str, str]

    @classmethod
    def of(cls, order: Order) -> Self:
        """Print it anew and look."""
        book = printed_book(order)
        sheet = book.worksheets[0]
        rows = tuple(sheet.iter_rows())
        keys = [str(cell.value or "") for cell in rows[0]]
        headings = next(
            [text_in(cell) for cell in row] for row in rows if str(row[0].value or "") == "Line"
        )
        letters = {get_column_letter(at + 1): name for at, name in enumerate(headings)}

        def printed(cell: AnyCell) -> PrintedCell:
            if cell.data_type != "f":
                return PrintedCell(text_in(cell))
            result = book.results[sheet.title, cell.coordinate]
            return PrintedCell(str(result), shape_of(text_in(cell), letters))

        told = {str(key) for kind in (Told, Printed) for key in kind}
        ours = [at for at, key in enumerate(keys) if not key.startswith("reply:")]
        texts: set[str] = set()
        sums, lines = {}, {}
        for row in rows:
            line = order.line(str(row[0].value or ""))
            if line is not None:
                lines[line.id] = {headings[at]: printed(row[at]) for at in ours}
                continue
            texts.update(text_in(cell) for cell in row if cell.data_type == "s")
            if not is_blank(row[_PART]) and row[_TOTAL].data_type in {"n", "f"}:
                sums[text_in(row[_PART])] = printed(row[_TOTAL])
        called = {key: headings[at] for at, key in enumerate(keys) if key in told}
        return cls(frozenset(texts) - {""}, sums, lines, called)


class OurColumns:
    """Which columns of a sheet that came back are ours, though they may have been moved."""

    def __init__(self, known: KnownSheet, ours: Ours, order: Order) -> None:
        self.ours = ours
        self.keyed = {
            at: ours.called[key] for key, at in known.columns.items() if key in ours.called
        }
        self.by_heading = {at: name for at, name in self._headed(known) if at not in self.keyed}
        missing = {name for line in ours.lines.values() for name in line}
        missing -= {*self.keyed.values(), *self.by_heading.values()}
        boxes = {at for key, at in known.columns.items() if key.startswith("reply:")}
        if missing:
            self._find(known, order, missing, boxes)

    @property
    def letters(self) -> Mapping[str, str]:
        """The headings by the columns' letters."""
        named = {**self.keyed, **self.by_heading}
        return {get_column_letter(at + 1): name for at, name in named.items()}

    def is_ours(self, cell: AnyCell, printed: PrintedCell, *, of_a_line: bool) -> bool:
        """Whether a cell still holds what we printed: the text, the formula, what it came to."""
        text = text_in(cell)
        if cell.data_type == "f":
            one_row = not of_a_line or len(rows_in(text)) == 1
            return bool(printed.shape) and one_row and self._shape(text) == printed.shape
        if cell.data_type == "n" and text and printed.shape:
            return round(Decimal(text), 6) == Decimal(printed.text)
        return text == printed.text

    def holds_totals(self, at: int) -> bool:
        """Whether a column is that of the sums, as far as that is still known."""
        return TOTAL not in self.by_heading.values() or self.by_heading.get(at) == TOTAL

    def is_sum(self, cell: AnyCell, label: str) -> bool:
        """Whether a cell still holds the sum of that name; any of ours where that is gone."""
        sums = [self.ours.sums[label]] if label else self.ours.sums.values()
        return any(self.is_ours(cell, each, of_a_line=False) for each in sums)

    def _shape(self, formula: str) -> str:
        return shape_of(formula, self.letters)

    def _headed(self, known: KnownSheet) -> Iterator[tuple[int, str]]:
        names = {name for line in self.ours.lines.values() for name in line}
        if not known.headings:
            return
        for at, cell in enumerate(known.sheet[known.headings][:MOST_COLUMNS]):
            if text_in(cell) in names:
                yield at, text_in(cell)

    def _find(self, known: KnownSheet, order: Order, missing: set[str], boxes: set[int]) -> None:
        """Find columns without heading and key by what they show beside most of the lines."""
        free = [at for at in range(min(known.sheet.max_column, MOST_COLUMNS)) if at not in boxes]
        free = [at for at in free if at not in self.keyed and at not in self.by_heading]
        first = known.columns[Told.LINE]
        rows = []
        for row in known.sheet.iter_rows(max_col=MOST_COLUMNS):
            line = order.line(text_in(row[first]).upper()) if first < len(row) else None
            if line is not None:
                rows.append((self.ours.lines[line.id], row))
        for name in sorted(missing):
            shown = [(line[name], row) for line, row in rows if line[name].text]
            for at in free:
                same = sum(self.is_ours(row[at], each, of_a_line=True) for each, row in shown)
                if 2 * same > len(shown):
                    self.by_heading[at] = name


def text_in(cell: AnyCell) -> str:
    """What stands in a cell, on one line and of bearable length."""
    if is_blank(cell):
        return ""
    if cell.data_type == "n":
        return format(Decimal(words_in(cell)).normalize(), "f")
    return cut(str(cell.value) if cell.data_type == "e" else words_in(cell))


def cut(text: str) -> str:
    """A text on one line and of bearable length."""
    plain = " ".join(text.split())
    return plain if len(plain) <= _MOST_LETTERS else f"{plain[: _MOST_LETTERS - 1]}\u2026"


def is_key(cell: AnyCell) -> bool:
    """Whether a cell of the hidden row holds a mark of ours that no other sheet has."""
    return OrderKey.read(cell.value) is not None or Addresses.read(cell.value) is not None


def addresses_on(known: KnownSheet) -> Addresses | None:
    """The marks of the sheet's addresses; None on one from before it had them."""
    marks = (Addresses.read(cell.value) for cell in known.sheet[known.keys])
    return next((each for each in marks if each is not None), None)
