"""What a supplier wrote on an order's sheet outside his boxes: told, and kept with its line.

The sheet is held against the same order printed anew: what stands on it that we never printed is
his. On a line it becomes part of his remark; elsewhere it can only be told. It changes no figure.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from typing import TYPE_CHECKING

from kitting.sheets.cells import is_blank, words_in
from kitting.sheets.orders.keys import Box, Printed, Told
from kitting.sheets.orders.rows import MOST_ROWS
from kitting.sheets.orders.supplier_sheet import FACT_PRICES, FACT_TO, printed_book

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from openpyxl.worksheet.worksheet import Worksheet

    from kitting.buying.orders import Order
    from kitting.errors import Problems
    from kitting.sheets.cells import AnyCell
    from kitting.sheets.orders.rows import KnownSheet, Returned
    from kitting.sheets.outgoing import OutgoingWorkbook

# Far more than anybody reads out of a reply; what is longer is cut where it is told.
_MOST_COLUMNS = 200
_MOST_LETTERS = 300
_PART, _TOTAL, _NOTE = 3, 7, 9
_KEYED = tuple(str(key) for keys in (Told, Printed, Box) for key in keys)
_ASK = "it changes nothing here: ask him what he means"
# A formula that reckons with no cell is a figure of his; ours all name cells.
_NAMES_A_CELL = re.compile(r"[A-Z]\$?\d")
# What one program writes before a comment that has answers of its own.
_BEFORE_A_COMMENT = re.compile(r"\[Threaded comment\].*?Comment:\s*", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Beside:
    """Something of his that stands in no box: told in a sentence, kept as a remark on a line."""

    sentence: str
    line: str = ""
    remark: str = ""


def beside_the_boxes(back: Returned, order: Order, fields: Iterable[str]) -> tuple[Beside, ...]:
    """Return all that stands on the sheets outside the boxes and that we have not printed.

    Prices in another currency and a box merged over several lines go to the problems: nobody could
    say what they mean. `fields` are the names that have a box beside them.
    """
    ours = _Ours.of(order)
    found: list[Beside] = []
    for sheet in back.sheets:
        looked = _Looked(sheet, order, ours, frozenset(fields), back.problems)
        _refuse_merged(sheet, order, back.problems)
        found.extend(looked.found())
    for other in back.others:
        for cell in (cell for row in _rows(other) for cell in row if not is_blank(cell)):
            place = f'sheet "{other.title}", cell {cell.coordinate}'
            found.append(Beside(f"{place}: '{_text(cell)}' was written on a sheet of his; {_ASK}"))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class _Ours:
    """What we print on the sheet of an order: any text, the sums by name, and of each line the
    cells that have no key, by their headings, and all that its row shows."""

    texts: frozenset[str]
    sums: Mapping[str, Decimal]
    lines: Mapping[str, Mapping[str, str]]
    rows: Mapping[str, frozenset[str]]

    @classmethod
    def of(cls, order: Order) -> _Ours:
        """Print it anew and look."""
        book = printed_book(order)
        texts: set[str] = set()
        sums, lines, rows = {}, {}, {}
        for row in book.worksheets[0].iter_rows():
            line = order.line(str(row[0].value or ""))
            if line is not None:
                named = {_PART: "Part", _TOTAL: "Line total", _NOTE: "We note"}
                lines[line.id] = {name: _printed(book, row[at]) for at, name in named.items()}
                rows[line.id] = frozenset(_text(cell) for cell in row)
                continue
            texts.update(_text(cell) for cell in row if not is_blank(cell))
            if not is_blank(row[_PART]) and not is_blank(row[_TOTAL]) and _is_figure(row[_TOTAL]):
                sums[_text(row[_PART])] = Decimal(_printed(book, row[_TOTAL]))
        return cls(frozenset(texts), sums, lines, rows)


def _printed(book: OutgoingWorkbook, cell: AnyCell) -> str:
    result = book.results.get((book.worksheets[0].title, cell.coordinate))
    return _text(cell) if result is None else str(result)


class _Looked:
    """One sheet being looked over."""

    def __init__(
        self,
        known: KnownSheet,
        order: Order,
        ours: _Ours,
        fields: frozenset[str],
        problems: Problems,
    ) -> None:
        self.known = known
        self.order = order
        self.ours = ours
        self.fields = fields
        self.problems = problems
        self.at = known.columns[Told.LINE]
        self.keyed = {known.columns[key] for key in _KEYED if key in known.columns}
        self.headings: dict[int, str] = {}

    def found(self) -> Iterator[Beside]:
        """All of it, from the top down."""
        before = ""
        for number, cells in enumerate(_rows(self.known.sheet), start=1):
            if number == self.known.headings:
                self.headings = {at: _text(cell) for at, cell in enumerate(cells)}
            first = _text(cells[self.at]) if self.at < len(cells) else ""
            if number > self.known.headings and self.order.line(first.upper()) is not None:
                yield from self._of_line(first.upper(), cells)
            else:
                # The line under the title is the shop's own name, which may be another by now.
                if not _titled(before, self.order):
                    yield from self._outside(first, cells)
                before = first or before

    def _of_line(self, line: str, cells: tuple[AnyCell, ...]) -> Iterator[Beside]:
        struck = []
        for at, cell in enumerate(cells):
            yield from self._comment(cell, line)
            if is_blank(cell):
                continue
            if cell.font.strike and (at not in self.keyed or not self._is_box(at)):
                struck.append(f"'{_text(cell)}'")
            if at not in self.keyed:
                yield from self._written(line, at, cell)
        if struck:
            words = ", ".join(struck)
            are = "are" if len(struck) > 1 else "is"
            place = f"{self._place(cells[self.at])}, line {line}"
            sentence = f"{place}: {words} {are} struck through; kept as his remark"
            yield Beside(sentence, line, f"struck through: {words}")

    def _written(self, line: str, at: int, cell: AnyCell) -> Iterator[Beside]:
        ours = self.ours.lines[line]
        text = _text(cell)
        if text in self.ours.rows[line] or _is_sum(cell, Decimal(ours["Line total"])):
            return
        heading = self.headings.get(at, "")
        named = heading if heading in ours else ""
        where = "beside the table"
        if named:
            printed = ours[named]
            shown = printed if named == "Line total" else f"'{printed}'"
            where = f"over our {shown}" if printed else f"in '{named}'"
        place = f"{self._place(cell)}, line {line}"
        sentence = f"{place}: '{text}' was written {where}; kept as his remark"
        yield Beside(sentence, line, f"{named}: {text}" if named else text)

    def _outside(self, first: str, cells: tuple[AnyCell, ...]) -> Iterator[Beside]:
        label = next((_text(cell) for cell in cells if _text(cell) in self.ours.sums), "")
        for at, cell in enumerate(cells):
            yield from self._comment(cell, "")
            text = _text(cell)
            if not text or first == FACT_TO or (first in self.fields and at == self.at + 1):
                continue
            place = self._place(cell)
            if cell.font.strike:
                yield Beside(f"{place}: '{text}' is struck through; {_ASK}")
            elif text in self.ours.texts or (label and _is_sum(cell, self.ours.sums[label])):
                continue
            elif self._of_prices(first, text) and self.order.currency not in text.upper():
                self._refuse_currency(place, text)
            elif label and _is_figure(cell):
                over = f"our {self.ours.sums[label]} for '{label}' was written over with {text}"
                yield Beside(f"{place}: {over}; {_ASK}")
            else:
                yield Beside(f"{place}: '{text}' was written there; {_ASK}")

    def _of_prices(self, first: str, text: str) -> bool:
        """Whether a text stands where the currency of the prices is named."""
        totals = (name.partition(self.order.currency)[0] for name in self.ours.sums)
        begin = next((each for each in totals if each not in self.ours.sums), "")
        return first == FACT_PRICES or bool(begin and text.startswith(begin))

    def _refuse_currency(self, place: str, text: str) -> None:
        currency = self.order.currency
        self.problems.add(
            place,
            f"the order is in {currency}, and '{text}' was written there",
            f"put {currency} back and give the prices in {currency}; in another currency it is "
            "another order",
        )

    def _comment(self, cell: AnyCell, line: str) -> Iterator[Beside]:
        comment = cell.comment
        if comment is None or not str(comment.text).strip():
            return
        text = _cut(_BEFORE_A_COMMENT.sub("", str(comment.text)))
        place = self._place(cell) + (f", line {line}" if line else "")
        kept = "kept as his remark" if line else _ASK
        yield Beside(f"{place}: the comment '{text}' is pinned to it; {kept}", line, text)

    def _is_box(self, at: int) -> bool:
        return any(self.known.columns.get(box) == at for box in Box)

    def _place(self, cell: AnyCell) -> str:
        return f'sheet "{self.known.sheet.title}", cell {cell.coordinate}'


def _refuse_merged(known: KnownSheet, order: Order, problems: Problems) -> None:
    """Refuse a box that was merged with those of other lines: it may be meant for all, or one."""
    boxes = {known.columns[box] + 1 for box in Box if box in known.columns}
    at = known.columns[Told.LINE] + 1
    for merged in known.sheet.merged_cells.ranges:
        first = known.sheet.cell(merged.min_row, merged.min_col)
        over = boxes & set(range(merged.min_col, min(merged.max_col, _MOST_COLUMNS) + 1))
        if is_blank(first) or not over:
            continue
        last = min(merged.max_row, MOST_ROWS)
        ids = (_text(known.sheet.cell(row, at)) for row in range(merged.min_row, last + 1))
        lines = [each.upper() for each in ids if order.line(each.upper()) is not None]
        if len(lines) > 1:
            problems.add(
                f'sheet "{known.sheet.title}", cell {first.coordinate}',
                f"it is merged over lines {', '.join(lines[:-1])} and {lines[-1]}",
                "unmerge it, and write beside each line what holds of it",
            )


def _rows(sheet: Worksheet) -> Iterator[tuple[AnyCell, ...]]:
    last, broad = min(sheet.max_row, MOST_ROWS), min(sheet.max_column, _MOST_COLUMNS)
    yield from sheet.iter_rows(max_row=last, max_col=broad)


def _titled(text: str, order: Order) -> bool:
    return text == f"Order {order.number}"


def _text(cell: AnyCell) -> str:
    if is_blank(cell):
        return ""
    if cell.data_type == "n":
        return format(Decimal(words_in(cell)).normalize(), "f")
    return _cut(str(cell.value) if cell.data_type == "e" else words_in(cell))


def _cut(text: str) -> str:
    plain = " ".join(text.split())
    return plain if len(plain) <= _MOST_LETTERS else f"{plain[: _MOST_LETTERS - 1]}…"


def _is_figure(cell: AnyCell) -> bool:
    return cell.data_type in {"n", "f"}


def _is_sum(cell: AnyCell, ours: Decimal) -> bool:
    """Whether a cell holds a sum of ours: the formula, or what it came to."""
    if cell.data_type == "f":
        return _NAMES_A_CELL.search(_text(cell)) is not None
    try:
        return cell.data_type == "n" and round(Decimal(_text(cell)), 6) == ours
    except InvalidOperation:
        return False
