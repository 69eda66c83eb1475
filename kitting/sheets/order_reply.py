"""Reading an order's workbook back as the supplier's reply: all of it or nothing."""

from __future__ import annotations

from decimal import Decimal, InvalidOperation
from typing import TYPE_CHECKING

from kitting.buying.replies import Reply, ReplyLine
from kitting.errors import BadInput, Problem, Problems
from kitting.sheets.cells import day_in, figure_in, number_in
from kitting.sheets.order_keys import ANSWERED_BY, THEIR_REFERENCE, Box, Form, Said
from kitting.sheets.order_rows import Layout, plain_words, raise_named, returned

if TYPE_CHECKING:
    from collections.abc import Callable
    from datetime import date
    from pathlib import Path
    from typing import TypeVar

    from kitting.buying.orders import Order, OrderLine
    from kitting.sheets.cells import AnyCell
    from kitting.sheets.order_rows import LineRow

    T = TypeVar("T")

_LAYOUT = Layout(Form.ORDER, tuple(Box), (THEIR_REFERENCE, ANSWERED_BY))
_MOST_LETTERS = 500
# The places that a price is kept with.
_PRICE_PLACES = 4


def read_reply(path: Path, order: Order, day: date) -> Reply:
    """Return what the supplier answered; the file is only read.

    Args:
        path: the workbook.
        order: the revision that it must be of.
        day: when it is loaded.

    Raises:
        BadInput: with every problem, each with its sheet and cell and what would be right.
    """
    back = returned(path, _LAYOUT, order)
    problems = Problems()
    lines = []
    for row in back.rows:
        line = order.line(row.line)
        if line is not None:
            said = _Row(row, line, problems).said()
            if said.says_something:
                lines.append(said)
    raise_named(problems, path)
    if not lines:
        raise BadInput(Problem(path.name, "nothing is filled in", "give the sheet that came back"))
    by_id = {said.line: said for said in lines}
    ordered = tuple(by_id[line.id] for line in order.lines if line.id in by_id)
    return Reply(
        order=order.number,
        revision=order.revision,
        lines=ordered,
        day=day,
        who=back.fields.get(ANSWERED_BY, ""),
        reference=back.fields.get(THEIR_REFERENCE, ""),
    )


class _Row:
    """One line's boxes being read."""

    def __init__(self, row: LineRow, line: OrderLine, problems: Problems) -> None:
        self.row = row
        self.line = line
        self.problems = problems

    def said(self) -> ReplyLine:
        """What the boxes say together."""
        answer = self._box(Box.ANSWER, _answer, None)
        packs = self._box(Box.PACKS, self._packs, None)
        price = self._box(Box.PRICE, _price, None)
        day = self._box(Box.DAY, day_in, None)
        substitute = self._box(Box.SUBSTITUTE, number_in, "")
        remark = self._box(Box.REMARK, _remark, "")
        if answer is Said.NONE:
            if packs:
                self._clash(f"the answer is none, and {packs} packs are sent")
            packs = 0
        if answer is Said.AS_ASKED:
            changed = packs not in {None, self.line.packs} or bool(substitute)
            if changed or price not in {None, self.line.pack_price}:
                self._clash("the answer is 'as asked', and other figures stand beside it")
            packs, price = self.line.packs, self.line.pack_price
        return ReplyLine(self.line.id, packs, price, day, substitute, remark)

    def _clash(self, wrong: str) -> None:
        self.problems.add(
            self.row.place(Box.ANSWER), wrong, "choose 'changed', or clear the other boxes"
        )

    def _packs(self, cell: AnyCell) -> int | None:
        text = figure_in(cell)
        if not text:
            return None
        if not text.isdecimal():
            right = f"a whole number from 0 to {self.line.packs}"
            raise BadInput(Problem("", f"'{text}' is no number of packs", right))
        packs = int(text)
        if packs > self.line.packs:
            raise BadInput(
                Problem(
                    "",
                    f"{packs} packs are confirmed where {self.line.packs} were asked for",
                    f"a whole number from 0 to {self.line.packs}",
                )
            )
        return packs

    def _box(self, box: Box, read: Callable[[AnyCell], T], otherwise: T) -> T:
        try:
            return read(self.row.boxes[box])
        except BadInput as error:
            place = self.row.place(box)
            self.problems.extend(Problem(place, each.wrong, each.right) for each in error.problems)
            return otherwise


def _answer(cell: AnyCell) -> Said | None:
    text = plain_words(cell).casefold()
    if not text:
        return None
    if text not in set(Said):
        raise BadInput(Problem("", f"'{text}' is none of the answers", f"one of {', '.join(Said)}"))
    return Said(text)


def _price(cell: AnyCell) -> Decimal | None:
    text = figure_in(cell)
    if not text:
        return None
    try:
        price = Decimal(text.replace(" ", ""))
    except InvalidOperation:
        price = Decimal("NaN")
    if not price.is_finite() or price < 0:
        raise BadInput(Problem("", f"'{text}' is no price", "the price of one pack, such as 12.50"))
    if -int(price.normalize().as_tuple().exponent) > _PRICE_PLACES:
        raise BadInput(
            Problem("", f"the price {text} is too fine", f"give at most {_PRICE_PLACES} decimals")
        )
    return price


def _remark(cell: AnyCell) -> str:
    text = plain_words(cell)
    if len(text) > _MOST_LETTERS:
        raise BadInput(
            Problem("", f"the remark has {len(text)} signs", f"give at most {_MOST_LETTERS}")
        )
    return text
