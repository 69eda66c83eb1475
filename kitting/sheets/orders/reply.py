"""Reading an order's workbook back as the supplier's reply: all of it or nothing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from kitting.buying.replies import Reply, ReplyLine
from kitting.errors import BadInput, Problem
from kitting.sheets.orders.keys import ANSWERED_BY, THEIR_REFERENCE, Box, Form, Printed, Said
from kitting.sheets.orders.reply_boxes import (
    answer_in,
    coming_in,
    other_number_in,
    packs_in,
    price_in,
)
from kitting.sheets.orders.rows import Layout, raise_named, returned, short_words
from kitting.sheets.orders.written_over import PrintedFigures

if TYPE_CHECKING:
    from collections.abc import Callable
    from datetime import date
    from decimal import Decimal
    from pathlib import Path
    from typing import TypeVar

    from kitting.buying.orders import Order, OrderLine
    from kitting.errors import Problems
    from kitting.sheets.cells import AnyCell
    from kitting.sheets.orders.rows import LineRow

    T = TypeVar("T")

_LAYOUT = Layout(Form.ORDER, tuple(Box), (THEIR_REFERENCE, ANSWERED_BY), printed=tuple(Printed))


@dataclass(frozen=True, slots=True)
class FilledSheet:
    """A reply as it was read, and which printed figures the supplier has written over."""

    reply: Reply
    written_over: tuple[str, ...]


def read_reply(path: Path, order: Order, day: date) -> FilledSheet:
    """Return what the supplier answered; the file is only read.

    A figure that he wrote over ours, with nothing in his own box for it, is his figure.

    Args:
        path: the workbook.
        order: the revision that it must be of.
        day: when it is loaded.

    Raises:
        BadInput: with every problem, each with its sheet and cell and what would be right.
    """
    back = returned(path, _LAYOUT, order)
    lines = []
    written_over: list[str] = []
    for row in back.rows:
        line = order.line(row.line)
        if line is not None:
            said = _Row(row, order, line, back.problems, written_over).said()
            if said.says_something:
                lines.append(said)
    raise_named(back.problems, path)
    if not lines:
        raise BadInput(Problem(path.name, "nothing is filled in", "give the sheet that came back"))
    by_id = {said.line: said for said in lines}
    ordered = tuple(by_id[line.id] for line in order.lines if line.id in by_id)
    who, reference = (back.fields.get(name, "") for name in (ANSWERED_BY, THEIR_REFERENCE))
    reply = Reply(order.number, order.revision, ordered, day, who, reference)
    return FilledSheet(reply, tuple(written_over))


class _Row:
    """One line's boxes being read."""

    def __init__(
        self,
        row: LineRow,
        order: Order,
        line: OrderLine,
        problems: Problems,
        written_over: list[str],
    ) -> None:
        self.row = row
        self.order = order
        self.line = line
        self.problems = problems
        self.printed = PrintedFigures(row, order, line, problems, written_over)

    def said(self) -> ReplyLine:
        """What the boxes say together, and what was written over the printed figures."""
        answer = self._box(Box.ANSWER, answer_in, None)
        substitute = self._box(Box.SUBSTITUTE, other_number_in, "")
        packs = self._box(Box.PACKS, lambda cell: packs_in(cell, self.line, substitute), None)
        price = self._box(Box.PRICE, price_in, None)
        day = self._box(Box.DAY, lambda cell: coming_in(cell, self.order), None)
        remark = self._box(Box.REMARK, short_words, "")
        if answer is Said.NONE:
            if packs:
                self._clash(f"the answer is none, and {packs} packs are sent")
            return ReplyLine(self.line.id, 0, price, day, substitute, remark)
        as_asked = answer is Said.AS_ASKED
        if as_asked and self._gainsaid(packs, price, substitute):
            self._clash("the answer is 'as asked', and other figures stand beside it")
        packs, price = self.printed.packs(packs, substitute), self.printed.price(price)
        self.printed.check_pack()
        return ReplyLine(
            line=self.line.id,
            packs=self.line.packs if as_asked and packs is None else packs,
            pack_price=self.line.pack_price if as_asked and price is None else price,
            day=self.printed.day(day),
            substitute=substitute,
            remark=remark,
        )

    def _gainsaid(self, packs: int | None, price: Decimal | None, substitute: str) -> bool:
        same = packs in {None, self.line.packs} and price in {None, self.line.pack_price}
        return bool(substitute) or not same

    def _clash(self, wrong: str) -> None:
        if Box.ANSWER in self.row.boxes:
            self.problems.add(
                self.row.place(Box.ANSWER), wrong, "choose 'changed', or clear the other boxes"
            )

    def _box(self, box: Box, read: Callable[[AnyCell], T], otherwise: T) -> T:
        cell = self.row.boxes.get(box)
        if cell is None:
            return otherwise
        try:
            return read(cell)
        except BadInput as error:
            place = self.row.place(box)
            self.problems.extend(Problem(place, each.wrong, each.right) for each in error.problems)
            return otherwise
