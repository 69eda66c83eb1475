"""The lesser cells of a price list's row: pack, days, stock, quality, currency, prices for more."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from kitting.catalog.trade import Quality
from kitting.sheets.price_lists.cells import day_of, days_of, pack_of, quality_of, stock_of
from kitting.sheets.price_lists.counts import counted
from kitting.sheets.price_lists.fields import Field
from kitting.sheets.price_lists.marks import tidy
from kitting.sheets.price_lists.money import is_pence
from kitting.sheets.price_lists.nones import as_told
from kitting.sheets.price_lists.steps import quantity_of
from kitting.sheets.price_lists.terms import currency_called, currency_in
from kitting.sheets.price_lists.unit_letters import letter_in, thousand_or_metre
from kitting.sheets.price_lists.units import is_article, sized, unit_by_letter, unit_of

if TYPE_CHECKING:
    from kitting.sheets.price_lists.fields import Column
    from kitting.sheets.price_lists.marks import Cells
    from kitting.sheets.price_lists.rows import RowReader
    from kitting.sheets.price_lists.units import Unit

NOTHING = {"", "-", "–", "—", "n/a", "na", "none", "no", "0"}
"""What people write where there is nothing."""

_UNSAID = NOTHING - {"0", "no"}

LESSER = (
    Field.MAKER,
    Field.CURRENCY,
    Field.PER,
    Field.UNIT,
    Field.PACK,
    Field.QUANTITY,
    Field.BREAKS,
    Field.VALID_FROM,
    Field.VALID_UNTIL,
    Field.DAYS,
    Field.STOCK,
    Field.QUALITY,
)


class Terms(NamedTuple):
    """What the lesser cells of a row say; `pack` and `per` are 0 where they say none.

    `pence` says that the row's prices are in pence, as its cell of the currency has it.
    """

    first: str
    last: str
    maker: str = ""
    currency: str = ""
    pack: int = 0
    per: int = 0
    least: int = 1
    days: int | None = None
    stock: int | None = None
    breaks: tuple[tuple[int, int], ...] = ()
    quality: Quality = Quality.UNSAID
    why: str = ""
    pence: bool = False


class Lesser:
    """Reads the lesser cells of one row.

    `why` says what stops it from being an offer, `sure` that the same cells would read the same.
    """

    __slots__ = ("_cells", "_reader", "_row", "sure", "why")

    def __init__(self, reader: RowReader, row: int, cells: Cells) -> None:
        self._reader = reader
        self._row = row
        self._cells = cells
        self.why = ""
        self.sure = True

    def terms(self, first: str, last: str) -> Terms:
        """What they say, the days as given where they say none."""
        first, last = self._days(first, last)
        per, pack = self._size()
        currency, pence = self._currency()
        return Terms(
            first,
            last,
            self._reader.maker(tidy(self._reader.cell(Field.MAKER, self._cells)[1])),
            currency,
            pack,
            per,
            self._count(Field.QUANTITY, "quantity") or 1,
            self._soft(Field.DAYS),
            self._soft(Field.STOCK),
            self._breaks(pence=pence),
            self._quality(),
            self.why,
            pence,
        )

    def _size(self) -> tuple[int, int]:
        """For how many the price is and how many are in a pack, 0 where no cell says it."""
        pack = self._count(Field.PACK, "size of a pack")
        per = self._count(Field.PER, "count that a price is for")
        column, text = self._reader.cell(Field.UNIT, self._cells)
        if column is None or tidy(text).casefold() in NOTHING or self.why:
            return per, pack
        shown = tidy(text)[:30]
        plain = self._plain(column, text)
        if plain is None:
            return per, pack
        unit = self._by_letter(text) or unit_of(plain)
        letter = "" if self._reader.by_letter else letter_in(text)
        if letter == "M":
            self.sure = False  # by the row's words, which stand in no lesser cell
            if self._reader.may_be_a_thousand(self._cells):
                asked = thousand_or_metre(column, "")
                self._problem(column, asked.wrong, asked.right)
                return per, pack
        if unit is None:
            right = "write each, pair, set of 4, a number, or nothing"
            if letter == "C":
                told = as_told(Field.PER, "", column.heading or f"column {column.letter}")
                right += f"; where C is a hundred, say {told}"
            self._problem(column, f"'{shown}' is no unit", right)
            return per, pack
        price = self._reader.price_column
        found = sized(unit, price.heading, per or price.per, pack)
        if found.wrong:
            self._problem(
                column,
                f"'{shown}', and {found.wrong}: for how many is the price?",
                "write so many, or leave the column out with --map unit=none",
            )
        return found.per, found.pack

    def _count(self, field: Field, what: str) -> int:
        """How many a cell names, 0 when it is empty."""
        column, text = self._reader.cell(field, self._cells)
        if column is None or tidy(text).casefold() in _UNSAID:
            return 0
        letter = self._by_letter(text) if field is Field.PER else None
        if letter:
            return letter.many
        plain = self._plain(column, text)
        if plain is None:
            return 0
        count = quantity_of(plain) if field is Field.QUANTITY else pack_of(plain) or 0
        if not count and field is Field.PER and is_article(plain):
            return 1
        if not count:
            self._problem(column, f"'{tidy(text)[:30]}' is no {what}", "write a number")
        return count

    def _by_letter(self, text: str) -> Unit | None:
        return unit_by_letter(text) if self._reader.by_letter else None

    def _plain(self, column: Column, text: str) -> str | None:
        """A cell of counts without marks for thousands; None, and told, where they are unsure."""
        plain = counted(text, self._reader.decimal)
        if plain is None:
            self._problem(
                column,
                f"'{tidy(text)[:30]}' can be read two ways: is its mark for thousands or decimals?",
                "say which with --decimal comma or --decimal point",
            )
        return plain

    def _quality(self) -> Quality:
        column, text = self._reader.cell(Field.QUALITY, self._cells)
        found = quality_of(text)
        if found is None and column is not None:
            words = ", ".join(filter(None, Quality))
            self._problem(
                column, f"'{tidy(text)[:30]}' is no quality", f"one of {words}, or leave it empty"
            )
        return found or Quality.UNSAID

    def _soft(self, field: Field) -> int | None:
        column, text = self._reader.cell(field, self._cells)
        if column is None or not text:
            return None
        plain = counted(text, self._reader.decimal) or ""
        found = days_of(plain) if field is Field.DAYS else stock_of(plain)
        if found is None and tidy(text):
            self._reader.unread(column)
            self.sure = False
        return found

    def _days(self, first: str, last: str) -> tuple[str, str]:
        first, last = self._day(Field.VALID_FROM, first), self._day(Field.VALID_UNTIL, last)
        column = self._reader.cell(Field.VALID_UNTIL, self._cells)[0]
        column = column or self._reader.cell(Field.VALID_FROM, self._cells)[0]
        if first > last and column is not None:
            self._problem(
                column, f"the price ends on {last}, before it begins on {first}", "look at the days"
            )
        return first, last

    def _day(self, field: Field, otherwise: str) -> str:
        column, text = self._reader.cell(field, self._cells)
        if column is None or tidy(text).casefold() in NOTHING:
            return otherwise
        day = day_of(text)
        if day is None:
            self._problem(
                column, f"'{tidy(text)[:30]}' is no day", "write it as 2026-09-01 or 1 Sep 2026"
            )
            return otherwise
        return day.isoformat()

    def _currency(self) -> tuple[str, bool]:
        """The money that a row names, and whether its prices are in pence."""
        column, text = self._reader.cell(Field.CURRENCY, self._cells)
        code = tidy(text)
        if code.casefold() in _UNSAID:
            return "", False
        if column is None or not is_pence(code):
            return currency_called(code), False
        price = self._reader.price_column
        if currency_in(price.heading):
            self._problem(column, f"'{code}' is pence, yet {price} is not", "make them agree")
        return "GBP", True

    def _breaks(self, *, pence: bool) -> tuple[tuple[int, int], ...]:
        column, text = self._reader.cell(Field.BREAKS, self._cells)
        steps = []
        for piece in filter(None, map(str.strip, text.split("|"))):
            said, colon, price = piece.partition(":")
            packs = counted(said, self._reader.decimal) or said
            amount = self._reader.amount(price, pence=pence)
            if column and not (colon and packs.strip().isdecimal() and amount.price):
                self._problem(
                    column, f"'{piece[:30]}' is no price for more packs", "write 10: 4.20 | 50: 3.9"
                )
                return ()
            steps.append((int(packs), amount.price))
        return tuple(sorted(steps))

    def _problem(self, column: Column, wrong: str, right: str) -> None:
        self.sure = False
        self.why = self.why or self._reader.problem(self._row, column, wrong, right)
