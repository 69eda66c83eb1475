"""The keys of the workbooks that go out with an order and come back filled.

A hidden row says of every column what it holds, and of the sheet which order and revision it is
of; every line carries its id where all can see it. So lines may be sorted, rows inserted, columns
moved and sheets renamed, by any spreadsheet program, and every cell is still known for what it is.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from kitting.sheets.style import safe_text

if TYPE_CHECKING:
    from kitting.buying.orders import Order

_BETWEEN = "|"
_FORMAT = "1"
_ADDRESSES = "told:addresses"


class Form(StrEnum):
    """Which workbook it is."""

    ORDER = "order-sheet"
    DELIVERY = "delivery-sheet"

    @property
    def named(self) -> str:
        """In words, with its article."""
        return "an order sheet" if self is Form.ORDER else "a delivery sheet"


@dataclass(frozen=True, slots=True)
class OrderKey:
    """Which order and revision a sheet is of."""

    form: Form
    number: str
    revision: int

    @classmethod
    def of(cls, form: Form, order: Order) -> OrderKey:
        """The key of an order's sheet."""
        return cls(form, order.number, order.revision)

    @property
    def stored(self) -> bool:
        """Whether it was stored as an order: a draft that is only shown has no revision."""
        return self.revision > 0

    def __str__(self) -> str:
        return _BETWEEN.join((self.form, _FORMAT, self.number, str(self.revision)))

    @classmethod
    def read(cls, text: object) -> OrderKey | None:
        """Return the key that `text` is, or None."""
        parts = str(text or "").strip().split(_BETWEEN)
        if len(parts) != 4 or parts[0] not in set(Form) or parts[1] != _FORMAT:
            return None
        if not parts[3].isdecimal():
            return None
        return cls(Form(parts[0]), parts[2], int(parts[3]))


@dataclass(frozen=True, slots=True)
class Addresses:
    """What the sheet was sent with as its two addresses, as marks that know them again.

    Shop and supplier may have moved since, so the sheet cannot be held against what they are now.
    """

    marks: frozenset[str]

    @classmethod
    def of(cls, *texts: str) -> Addresses:
        """The marks of some texts."""
        return cls(frozenset(_mark(text) for text in texts))

    def __contains__(self, text: str) -> bool:
        return _mark(text) in self.marks

    def __str__(self) -> str:
        return _BETWEEN.join((_ADDRESSES, *sorted(self.marks)))

    @classmethod
    def read(cls, text: object) -> Addresses | None:
        """Return the addresses that `text` marks, or None."""
        first, *marks = str(text or "").strip().split(_BETWEEN)
        return cls(frozenset(marks)) if first == _ADDRESSES else None


def _mark(text: str) -> str:
    plain = " ".join(safe_text(text).split())
    return hashlib.sha256(plain.encode()).hexdigest()[:12]


class Told(StrEnum):
    """The columns that the shop fills and locks."""

    LINE = "told:line"
    THEIRS = "told:their number"
    OURS = "told:our number"


class Printed(StrEnum):
    """Figures that the shop prints and locks; held against the order, where the key stands."""

    PACKS = "told:packs"
    PACK = "told:pieces in a pack"
    PRICE = "told:price"
    DUE = "told:due"


class Apart(StrEnum):
    """The column that tells several rows of one line apart: what is measured, and where."""

    WHAT = "told:what is measured"


class Box(StrEnum):
    """The columns that the supplier fills."""

    ANSWER = "reply:answer"
    PACKS = "reply:packs"
    PRICE = "reply:price"
    DAY = "reply:day"
    SUBSTITUTE = "reply:substitute"
    REMARK = "reply:remark"


class Count(StrEnum):
    """The columns that whoever unpacks fills."""

    GOOD = "came:good"
    DAMAGED = "came:damaged"
    WRONG = "came:wrong"
    FOLLOWS = "came:follows"
    FIGURE = "came:figure"
    NOTE = "came:note"


class Said(StrEnum):
    """The answers of the drop-down."""

    AS_ASKED = "as asked"
    CHANGED = "changed"
    NONE = "none"


# Names before a box of its own, in the line's column; the box is the cell to the right of it.
THEIR_REFERENCE = "Your reference"
ANSWERED_BY = "Answered by"
DELIVERY_NOTE = "Their delivery note"
COUNTED_BY = "Counted by"
