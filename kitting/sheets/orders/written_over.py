"""What a supplier wrote over the figures that the shop had printed for him.

The cells are locked, but not against everybody. A figure written there is his word as much as one
in his own box, which goes before it; nothing of it is passed over in silence.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from typing import TYPE_CHECKING

from kitting.errors import BadInput, Problem
from kitting.sheets.cells import day_in, figure_in, is_blank
from kitting.sheets.orders.keys import Box, Printed
from kitting.sheets.orders.reply_boxes import (
    coming_in,
    packs_in,
    price_in,
    whole_in,
)
from kitting.sheets.orders.shown import shown_otherwise

if TYPE_CHECKING:
    from collections.abc import Callable
    from datetime import date
    from decimal import Decimal
    from typing import TypeVar

    from kitting.buying.orders import Order, OrderLine
    from kitting.errors import Problems
    from kitting.sheets.cells import AnyCell
    from kitting.sheets.orders.rows import LineRow

    T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class PrintedFigures:
    """One line's printed figures, held against the order; `told` gathers what was written over."""

    row: LineRow
    order: Order
    line: OrderLine
    problems: Problems
    told: list[str]

    def packs(self, own: int | None, substitute: str) -> int | None:
        """The packs of his own box, else those that he wrote over ours."""
        found = self._read(Printed.PACKS, lambda cell: packs_in(cell, self.line, substitute))
        return self._weighed(Printed.PACKS, own, found, (self.line.packs,), "the packs he sends")

    def price(self, own: Decimal | None) -> Decimal | None:
        """The price of his own box, else the one that he wrote over ours."""
        found = self._read(Printed.PRICE, lambda cell: price_in(cell, self.order.currency))
        price = self._weighed(Printed.PRICE, own, found, (self.line.pack_price,), "his price")
        if price is not None and price != self.line.pack_price:
            self._tell_hidden(Printed.PRICE if own is None else Box.PRICE)
        return price

    def day(self, own: date | None) -> date | None:
        """The day of his own box, else the one that he wrote over ours."""
        ours = self._our_days()
        found = self._read(Printed.DUE, day_in)
        if found is not None and found not in ours:
            found = self._read(Printed.DUE, lambda cell: coming_in(cell, self.order))
        return self._weighed(Printed.DUE, own, found, ours, "the day it comes")

    def check_pack(self) -> None:
        """Refuse another pack than was ordered: nobody could say how many pieces would come."""
        right = f"put {self.line.pack} back; another pack size is a matter for the remark"
        found = self._read(Printed.PACK, lambda cell: whole_in(cell, right))
        if found is not None and found != self.line.pack:
            self.problems.add(
                self.row.place(Printed.PACK),
                f"we ordered packs of {self.line.pack}, and {found} was written over it",
                right,
            )

    def tell_cleared(self) -> None:
        """Say which of our figures he cleared: it may be his way of saying that none comes."""
        ours = {
            Printed.PACKS: self.line.packs,
            Printed.PACK: self.line.pack,
            Printed.PRICE: self.line.pack_price,
            Printed.DUE: self._our_days()[0],
        }
        for key, value in ours.items():
            cell = self.row.printed.get(key)
            if cell is not None and is_blank(cell):
                self.told.append(
                    f"{self.row.place(key)}, line {self.line.id}: our {_shown(value)} was cleared; "
                    "it changes nothing here: ask him what he means"
                )

    def changed(self) -> dict[str, AnyCell]:
        """The printed figures that are no more as we printed them; one that was cleared is none."""
        line = self.line
        ours: dict[Printed, tuple[Callable[[AnyCell], object], tuple[object, ...]]] = {
            Printed.PACKS: (lambda cell: whole_in(cell, ""), (line.packs,)),
            Printed.PACK: (lambda cell: whole_in(cell, ""), (line.pack,)),
            Printed.PRICE: (lambda cell: price_in(cell, self.order.currency), (line.pack_price,)),
            Printed.DUE: (day_in, self._our_days()),
        }
        found = {}
        for key, (read, printed) in ours.items():
            cell = self.row.printed.get(key)
            if cell is None or is_blank(cell):
                continue
            try:
                same = read(cell) in printed
            except BadInput:
                same = False
            if not same:
                found[str(key)] = cell
        return found

    def _our_days(self) -> tuple[date, date]:
        """The day that we print once an order is approved, and the one that its draft showed."""
        return (self.order.due(self.line), self.order.day + timedelta(days=self.line.days))

    def _tell_hidden(self, key: Printed | Box) -> None:
        """Say where a cell shows less of a price than it holds."""
        cell = self.row.boxes[key] if isinstance(key, Box) else self.row.printed[key]
        shown = shown_otherwise(cell)
        if shown:
            self.told.append(
                f"{self.row.place(key)}, line {self.line.id}: the cell shows {shown} and holds "
                f"{figure_in(cell)}, which is taken"
            )

    def _read(self, key: Printed, read: Callable[[AnyCell], T]) -> T | None:
        cell = self.row.printed.get(key)
        if cell is None or is_blank(cell):
            return None
        try:
            return read(cell)
        except BadInput as error:
            place = self.row.place(key)
            self.problems.extend(
                Problem(place, f"written over what we printed: {each.wrong}", each.right)
                for each in error.problems
            )
            return None

    def _weighed(
        self, key: Printed, own: T | None, found: T | None, ours: tuple[T, ...], what: str
    ) -> T | None:
        if found is None or found in ours:
            return own
        taken = f"taken as {what}" if own is None else f"his own box says {_shown(own)}, and counts"
        self.told.append(
            f"{self.row.place(key)}, line {self.line.id}: our {_shown(ours[0])} was written over "
            f"with {_shown(found)}; {taken}"
        )
        return found if own is None else own


def _shown(value: object) -> str:
    return f"{value:%d %b %Y}" if hasattr(value, "isoformat") else str(value)
