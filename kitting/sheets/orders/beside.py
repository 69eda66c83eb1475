"""What a supplier wrote on an order's sheet outside his boxes: told, and kept.

The sheet is held against the same order printed anew: what stands on it that we never printed is
his. On a line it becomes part of his remark, elsewhere it is kept with the reply. It changes no
figure.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from kitting.sheets.cells import is_blank
from kitting.sheets.orders.keys import Box, Told
from kitting.sheets.orders.ours import (
    MOST_COLUMNS,
    OurColumns,
    Ours,
    addresses_on,
    cut,
    is_key,
    text_in,
)
from kitting.sheets.orders.rows import MOST_ROWS
from kitting.sheets.orders.supplier_sheet import FACT_PRICES, FACT_TO

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from openpyxl.worksheet.worksheet import Worksheet

    from kitting.buying.orders import Order
    from kitting.errors import Problems
    from kitting.sheets.cells import AnyCell
    from kitting.sheets.drawn import DrawnWords
    from kitting.sheets.orders.rows import KnownSheet, Returned

# Of a sheet of his own no more rows are told one by one.
_MOST_TOLD = 20
_ASK = "it changes nothing here: ask him what he means"
# What one program writes before a comment that has answers of its own.
_BEFORE_A_COMMENT = re.compile(r"\[Threaded comment\].*?Comment:\s*", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Beside:
    """Something of his that stands in no box: told in a sentence, kept as a remark on a line."""

    sentence: str
    line: str = ""
    remark: str = ""

    @property
    def kept(self) -> str:
        """What is kept of it where it belongs to no line: the sentence without its advice."""
        return self.sentence.removesuffix(f"; {_ASK}")


def beside_the_boxes(back: Returned, order: Order, fields: Iterable[str]) -> tuple[Beside, ...]:
    """Return all that stands on the sheets outside the boxes and that we have not printed.

    Prices in another currency and a box merged over several lines go to the problems: nobody could
    say what they mean. `fields` are the names that have a box beside them.
    """
    ours = Ours.of(order)
    found: list[Beside] = []
    for sheet in back.sheets:
        looked = _Looked(sheet, order, ours, frozenset(fields), back.problems)
        _refuse_merged(sheet, order, back.problems)
        found.extend(looked.found())
    for other in back.others:
        rows = [[cell for cell in row if not is_blank(cell)] for row in _rows(other)]
        told = (
            Beside(f"{_place(other.title, row)}: {_words(row)} written on a sheet of his; {_ASK}")
            for row in rows
            if row
        )
        found.extend(_bounded(other.title, list(told)))
    return tuple(found)


def laid_on(drawn: Iterable[DrawnWords]) -> tuple[Beside, ...]:
    """Return what stands in the shapes that he laid on the sheets; we lay none on ours."""
    found: dict[str, list[Beside]] = {}
    for each in drawn:
        place = f'sheet "{each.sheet}"' + (f", at cell {each.cell}" if each.cell else "")
        words = f"'{cut(each.text)}' was written in a box that he laid on the sheet"
        found.setdefault(each.sheet, []).append(Beside(f"{place}: {words}; {_ASK}"))
    return tuple(
        each for title, told in found.items() for each in _bounded(title, told, ("box", "boxes"))
    )


def _bounded(
    title: str, found: Sequence[Beside], what: tuple[str, str] = ("row", "rows")
) -> Iterator[Beside]:
    """The first of many that are no line's, and how many more there are."""
    yield from found[:_MOST_TOLD]
    more = len(found) - _MOST_TOLD
    if more > 0:
        are = f"more {what[1]} have" if more > 1 else f"more {what[0]} has"
        yield Beside(f'sheet "{title}": {more} {are} words of his that belong to no line; {_ASK}')


class _Looked:
    """One sheet being looked over."""

    def __init__(
        self,
        known: KnownSheet,
        order: Order,
        ours: Ours,
        fields: frozenset[str],
        problems: Problems,
    ) -> None:
        self.known = known
        self.order = order
        self.ours = ours
        self.fields = fields
        self.problems = problems
        self.at = known.columns[Told.LINE]
        self.columns = OurColumns(known, ours, order)
        self.boxes = {known.columns[box] for box in Box if box in known.columns}
        self.addresses = addresses_on(known)

    def found(self) -> Iterator[Beside]:
        """All of it, from the top down."""
        before = ""
        outside: list[Beside] = []
        for cells in _rows(self.known.sheet):
            first = text_in(cells[self.at]) if self.at < len(cells) else ""
            if self.order.line(first.upper()) is not None:
                yield from self._of_line(first.upper(), cells)
            else:
                outside.extend(self._outside(before, first, cells))
                before = first or before
        yield from _bounded(self.known.sheet.title, outside)

    def _of_line(self, line: str, cells: tuple[AnyCell, ...]) -> Iterator[Beside]:
        struck = []
        for at, cell in enumerate(cells):
            yield from self._comment(cell, line)
            if is_blank(cell):
                continue
            if at in self.boxes:
                self._refuse_partly_struck(cell)
                continue
            if self._struck(cell):
                struck.append(self._struck(cell))
            if at not in self.columns.keyed:
                yield from self._written(line, at, cell)
        if struck:
            words = ", ".join(struck)
            are = "are" if len(struck) > 1 else "is"
            place = f"{self._place(cells[self.at])}, line {line}"
            sentence = f"{place}: {words} {are} struck through; kept as his remark"
            yield Beside(sentence, line, f"struck through: {words}")

    def _struck(self, cell: AnyCell) -> str:
        """What is struck of a cell's words, '' for nothing."""
        part = self.known.partly_struck.get(cell.coordinate, "")
        if part:
            return f"'{cut(part)}' of '{text_in(cell)}'"
        return f"'{text_in(cell)}'" if cell.font.strike else ""

    def _refuse_partly_struck(self, cell: AnyCell) -> None:
        if cell.coordinate in self.known.partly_struck:
            self.problems.add(
                self._place(cell),
                f"{self._struck(cell)} is struck through",
                "clear what holds no more; take the line off what holds",
            )

    def _written(self, line: str, at: int, cell: AnyCell) -> Iterator[Beside]:
        named = self.columns.by_heading.get(at, "")
        ours = self.ours.lines[line].get(named)
        if ours is not None and self.columns.is_ours(cell, ours, of_a_line=True):
            return
        text = text_in(cell)
        where = "beside the table"
        if ours is not None:
            shown = ours.text if ours.shape else f"'{ours.text}'"
            where = f"over our {shown}" if ours.text else f"in '{named}'"
        place = f"{self._place(cell)}, line {line}"
        sentence = f"{place}: '{text}' was written {where}; kept as his remark"
        yield Beside(sentence, line, f"{named}: {text}" if named else text)

    def _outside(self, before: str, first: str, cells: tuple[AnyCell, ...]) -> Iterator[Beside]:
        label = next((text_in(cell) for cell in cells if text_in(cell) in self.ours.sums), "")
        written = []
        for at, cell in enumerate(cells):
            yield from self._comment(cell, "")
            text = text_in(cell)
            if not text:
                continue
            place = self._place(cell)
            if self._struck(cell):
                yield Beside(f"{place}: {self._struck(cell)} is struck through; {_ASK}")
            elif (first in self.fields and at == self.at + 1) or (
                self._is_ours(label, at, cell) or self._is_address(before, first, at, cell)
            ):
                continue
            elif self._of_prices(first, text) and self.order.currency not in text.upper():
                self._refuse_currency(place, text)
            elif label and self.columns.holds_totals(at) and cell.data_type in {"n", "f"}:
                over = f"our {self.ours.sums[label].text} for '{label}' was written over with"
                yield Beside(f"{place}: {over} {text}; {_ASK}")
            else:
                written.append(cell)
        if written:
            place = _place(self.known.sheet.title, written)
            yield Beside(f"{place}: {_words(written)} written there; {_ASK}")

    def _is_ours(self, label: str, at: int, cell: AnyCell) -> bool:
        """Whether words are ours, or a sum is the one that we printed."""
        if is_key(cell) and cell.row == self.known.keys:
            return True
        if cell.data_type in {"n", "f"} and self.columns.holds_totals(at):
            return self.columns.is_sum(cell, label)
        return cell.data_type != "f" and text_in(cell) in self.ours.texts

    def _is_address(self, before: str, first: str, at: int, cell: AnyCell) -> bool:
        """Whether it is the shop's or the supplier's line as it was sent.

        Sheets from before these were marked are believed where the two lines stand.
        """
        if self.addresses is not None:
            return str(cell.value) in self.addresses
        titled = before == f"Order {self.order.number}" and at == self.at
        return titled or (first == FACT_TO and at == self.at + 1)

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
        text = cut(_BEFORE_A_COMMENT.sub("", str(comment.text)))
        place = self._place(cell) + (f", line {line}" if line else "")
        kept = "kept as his remark" if line else _ASK
        yield Beside(f"{place}: the comment '{text}' is pinned to it; {kept}", line, text)

    def _place(self, cell: AnyCell) -> str:
        return _place(self.known.sheet.title, (cell,))


def _place(title: str, cells: Sequence[AnyCell]) -> str:
    first, last = cells[0].coordinate, cells[-1].coordinate
    return f'sheet "{title}", ' + (f"cells {first} to {last}" if last != first else f"cell {first}")


def _words(cells: Sequence[AnyCell]) -> str:
    """What stands in some cells of a row, and the verb that goes with it."""
    each = ", ".join(f"'{text_in(cell)}'" for cell in cells)
    return f"{each} was" if len(cells) == 1 else f"{each} were"


def _refuse_merged(known: KnownSheet, order: Order, problems: Problems) -> None:
    """Refuse a box that was merged with those of other lines: it may be meant for all, or one."""
    boxes = {known.columns[box] + 1 for box in Box if box in known.columns}
    at = known.columns[Told.LINE] + 1
    for merged in known.sheet.merged_cells.ranges:
        first = known.sheet.cell(merged.min_row, merged.min_col)
        over = boxes & set(range(merged.min_col, min(merged.max_col, MOST_COLUMNS) + 1))
        if is_blank(first) or not over:
            continue
        last = min(merged.max_row, MOST_ROWS)
        ids = (text_in(known.sheet.cell(row, at)) for row in range(merged.min_row, last + 1))
        lines = [each.upper() for each in ids if order.line(each.upper()) is not None]
        if len(lines) > 1:
            problems.add(
                f'sheet "{known.sheet.title}", cell {first.coordinate}',
                f"it is merged over lines {', '.join(lines[:-1])} and {lines[-1]}",
                "unmerge it, and write beside each line what holds of it",
            )


def _rows(sheet: Worksheet) -> Iterator[tuple[AnyCell, ...]]:
    last, broad = min(sheet.max_row, MOST_ROWS), min(sheet.max_column, MOST_COLUMNS)
    yield from sheet.iter_rows(max_row=last, max_col=broad)
