"""Reading an order's workbook back as the supplier's reply: all of it or nothing."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from kitting.buying.replies import Reply, ReplyLine
from kitting.catalog.model import normal_number
from kitting.errors import BadInput, Problem, Problems
from kitting.sheets.cells import is_blank
from kitting.sheets.drawn import drawn_words
from kitting.sheets.orders.beside import beside_the_boxes, laid_on
from kitting.sheets.orders.keys import ANSWERED_BY, THEIR_REFERENCE, Box, Form, Printed, Said
from kitting.sheets.orders.ours import text_in
from kitting.sheets.orders.reply_boxes import (
    answer_in,
    coming_in,
    other_number_in,
    packs_in,
    price_in,
)
from kitting.sheets.orders.rows import Layout, raise_named, returned, short_words
from kitting.sheets.orders.twice import Singled, in_boxes
from kitting.sheets.orders.written_over import PrintedFigures

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Mapping
    from datetime import date
    from decimal import Decimal
    from enum import StrEnum
    from pathlib import Path
    from typing import TypeVar

    from kitting.buying.orders import Order, OrderLine
    from kitting.sheets.cells import AnyCell
    from kitting.sheets.orders.rows import LineRow

    T = TypeVar("T")

_LAYOUT = Layout(Form.ORDER, tuple(Box), (THEIR_REFERENCE, ANSWERED_BY), printed=tuple(Printed))


@dataclass(frozen=True, slots=True)
class FilledSheet:
    """A reply as it was read, and in sentences what the supplier wrote outside his boxes.

    Printed figures that he has written over, words beside the table or in a text box laid on it,
    comments, what he struck out. `gone` are the lines whose rows stand on his sheet no more.
    """

    reply: Reply
    written_over: tuple[str, ...]
    gone: frozenset[str] = frozenset()


def read_reply(path: Path, order: Order, day: date) -> FilledSheet:
    """Return what the supplier answered; the file is only read.

    A figure that he wrote over ours, with nothing in his own box for it, is his figure. Words that
    stand on a line outside his boxes are part of his remark.

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
    beside = (*beside_the_boxes(back, order, _LAYOUT.fields), *laid_on(drawn_words(path)))
    rows, doubled = Singled(partial(_speaking, order), back.problems, copies=True).of(back.rows)
    for row in rows:
        line = order.line(row.line)
        if line is not None:
            # A copy of the sheet has the same words beside the same line.
            remarks = tuple(dict.fromkeys(e.remark for e in beside if e.line == row.line))
            said = _Row(row, order, line, back.problems, written_over).said(remarks)
            if said.says_something:
                lines.append(said)
    raise_named(back.problems, path)
    written_over.extend(doubled)
    written_over.extend(each.sentence for each in beside)
    if not lines:
        raise BadInput(_nothing_in(path, written_over))
    by_id = {said.line: said for said in lines}
    ordered = tuple(by_id[line.id] for line in order.lines if line.id in by_id)
    who, reference = (back.fields.get(name, "") for name in (ANSWERED_BY, THEIR_REFERENCE))
    kept = tuple(dict.fromkeys(each.kept for each in beside if not each.line))
    reply = Reply(order.number, order.revision, ordered, day, who, reference, kept)
    gone = frozenset(line.id for line in order.lines) - {row.line for row in rows}
    return FilledSheet(reply, tuple(written_over), gone)


def _speaking(order: Order, row: LineRow) -> Mapping[str, AnyCell]:
    """What a row says: in his boxes, and over what we printed in it."""
    line = order.line(row.line)
    over = PrintedFigures(row, order, line, Problems(), []).changed() if line is not None else {}
    return {**in_boxes(row), **over}


def _nothing_in(path: Path, told: Iterable[str]) -> Iterator[Problem]:
    """That no line is answered, and what was written all the same."""
    yield Problem(path.name, "nothing is filled in", "give the sheet that came back")
    for sentence in told:
        place, _, words = sentence.partition(": ")
        yield Problem(f"{path.name}, {place}", *words.rsplit("; ", 1))


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
        self.told = written_over
        self.printed = PrintedFigures(row, order, line, problems, written_over)

    def said(self, beside: tuple[str, ...]) -> ReplyLine:
        """What the boxes say together, and what was written over the printed figures.

        `beside` are his words on the line that stand in no box.
        """
        self.printed.tell_cleared()
        answer = self._box(Box.ANSWER, answer_in, None)
        substitute, own = self._other_number()
        packs = self._box(Box.PACKS, lambda cell: packs_in(cell, self.line, substitute), None)
        price = self._box(Box.PRICE, lambda cell: price_in(cell, self.order.currency), None)
        day = self._box(Box.DAY, lambda cell: coming_in(cell, self.order), None)
        remark = "; ".join(filter(None, (self._box(Box.REMARK, short_words, ""), *beside)))
        if answer is Said.NONE:
            if packs:
                self._clash(f"the answer is none, and {packs} packs are sent")
            return ReplyLine(self.line.id, 0, price, day, substitute, remark)
        as_asked = answer is Said.AS_ASKED or own
        if answer is Said.AS_ASKED and self._gainsaid(packs, price, substitute):
            self._clash("the answer is 'as asked', and other figures stand beside it")
        packs, price = self.printed.packs(packs, substitute), self.printed.price(price)
        self.printed.check_pack()
        said = ReplyLine(
            line=self.line.id,
            packs=self.line.packs if as_asked and packs is None else packs,
            pack_price=self.line.pack_price if as_asked and price is None else price,
            day=self.printed.day(day),
            substitute=substitute,
            remark=remark,
        )
        self._check_price(said)
        if answer is Said.CHANGED and not said.says_something:
            self.told.append(
                f"{self.row.place(Box.ANSWER)}, line {self.line.id}: 'changed' is chosen, and "
                "nothing beside it says what changes; ask him what he means"
            )
        return said

    def _other_number(self) -> tuple[str, bool]:
        """Another number in the place of ours; that of the line itself is none, and is told."""
        number = self._box(Box.SUBSTITUTE, other_number_in, "")
        line = self.line
        asked = (line.their_number, line.part.number, str(line.part))
        if not number or normal_number(number) not in {normal_number(each) for each in asked}:
            return number, False
        self.told.append(
            f"{self.row.place(Box.SUBSTITUTE)}, line {line.id}: '{number}' is the number that we "
            "asked for; taken as that"
        )
        return "", True

    def _check_price(self, said: ReplyLine) -> None:
        """Refuse a price of nothing where something comes and was to cost something."""
        if said.pack_price != 0 or said.packs == 0 or self.line.pack_price == 0:
            return
        own = self.row.boxes.get(Box.PRICE)
        where: StrEnum = Printed.PRICE if own is None or is_blank(own) else Box.PRICE
        self.problems.add(
            self.row.place(where),
            f"the price is 0, and our order has {self.line.pack_price}",
            "clear it where our price holds; choose 'none' where nothing comes; give the price of "
            "one pack if it is another",
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
        if cell.font.strike and not is_blank(cell):
            self.problems.add(
                self.row.place(box),
                f"'{text_in(cell)[:40]}' is struck through",
                "clear it if it holds no more; take the line off it if it holds",
            )
            return otherwise
        try:
            return read(cell)
        except BadInput as error:
            place = self.row.place(box)
            self.problems.extend(Problem(place, each.wrong, each.right) for each in error.problems)
            return otherwise
