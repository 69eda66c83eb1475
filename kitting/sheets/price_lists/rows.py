"""A row of a price list to what it means: an offer to be, a row set aside, or nothing at all."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from kitting.buying.price_lists.rows import PriceRow, plain_number
from kitting.buying.price_lists.succession import Said, successor_in
from kitting.sheets.price_lists.cells import number_fault, written_as_text
from kitting.sheets.price_lists.currencies import ALIKE, currency_in
from kitting.sheets.price_lists.day_order import DayReader
from kitting.sheets.price_lists.fields import Field
from kitting.sheets.price_lists.lesser import LESSER, Lesser, Terms
from kitting.sheets.price_lists.likeness import are_the_headings
from kitting.sheets.price_lists.marks import Figure, Marked, Spoilt, tidy
from kitting.sheets.price_lists.money import (
    Amount,
    MoneyReader,
    in_cents,
    in_pence,
    too_little,
)
from kitting.sheets.price_lists.pairs import packs_in
from kitting.sheets.price_lists.size import Counted, Size
from kitting.sheets.price_lists.steps import counted_in
from kitting.sheets.price_lists.title_money import InMoney
from kitting.sheets.price_lists.totals import Sums, is_foot
from kitting.sheets.price_lists.unit_letters import sold_by_length
from kitting.sheets.price_lists.units import of_a_unit

if TYPE_CHECKING:
    from collections.abc import Sequence

    from kitting.sheets.price_lists.doubt import Doubt
    from kitting.sheets.price_lists.fields import Column
    from kitting.sheets.price_lists.headings import Located
    from kitting.sheets.price_lists.marks import Cells
    from kitting.sheets.price_lists.terms import ListTerms, Tally

_TEXT_KEPT = 200
_SURELY_SHORT = 60
_MOST_MET = 50_000
_NOTHING_SAID = Said()
# Alone on its row it is a part without a price, no title: a figure in it, and no words beside.
_NUMBER_ALONE = re.compile(r"(?=\S*\d)[^\s:]+")
_MOST_ALONE = 5_000
_NO_STEP = frozenset({"", "0", "-"})


class RowReader:
    """Reads the rows of one sheet, its columns known.

    `alone` are single words that were passed over as titles: one may be a number without a figure.
    `by_letter` says that its units are C and M, for a hundred and a thousand.
    """

    def __init__(
        self,
        file: str,
        sheet: str,
        located: Located,
        terms: ListTerms,
        tally: Tally,
        decimal: str,
        *,
        pence: bool = False,
        doubt: Doubt | None = None,
        days: DayReader | None = None,
        by_letter: bool = False,
    ) -> None:
        self._file = file
        self._sheet = sheet
        self._terms = terms
        self._tally = tally
        self._columns = {column.field: column for column in located.columns.columns}
        self._headings = tuple(text.casefold() for text in located.headings)
        self._steps = located.columns.steps
        quantities = [step.counted or step.column for step in self._steps] or [
            column for column in located.columns.columns if column.field is Field.QUANTITY
        ]
        said = {counted_in(column.heading) for column in quantities}
        self._counted = said.pop() if len(said) == 1 else Counted.UNSAID
        self._width = 1 + max(column.index for column in located.columns.shown)
        price = self._columns[Field.PRICE]
        decimal = terms.decimal or decimal
        pence, cents = pence or in_pence(price.heading), in_cents(price.heading)
        self._money = MoneyReader(decimal, pence=pence, cents=cents)
        self.by_letter = by_letter
        self._letters = located.columns.letters
        self.days = days or DayReader(terms.days)
        self._doubt = doubt if pence or cents else None
        self._pence = MoneyReader(decimal, pence=True)
        self._price = price.index
        # Of a row that says nothing else, and its pack where it names none.
        self._per = price.per or terms.per
        self._sized = bool(self._per) or bool({Field.PER, Field.UNIT} & self._columns.keys())
        self._number = (self._columns.get(Field.NUMBER) or self._columns[Field.PART]).index
        self._numbered = self._columns.get(Field.NUMBER) or self._columns[Field.PART]
        self._currency = currency_in(price.heading) or terms.currency
        self._from = terms.valid_from.isoformat()
        self._until = terms.valid_until.isoformat()
        self._common = Terms(self._from, self._until)
        self._text = self._columns[Field.TEXT].index if Field.TEXT in self._columns else None
        self._own = located.columns.own
        self._part = self._columns.get(Field.PART)
        self._after = self._columns.get(Field.SUPERSEDED_BY)
        self._lesser = [self._columns[each].index for each in LESSER if each in self._columns]
        self._met: dict[tuple[str, ...], Terms] = {}
        self._sums = Sums()
        self._said: set[str] = set()
        self._sound: set[tuple[str, str]] = set()
        self.alone: list[PriceRow] = []

    def __call__(self, row: int, cells: Cells) -> PriceRow | None:
        """Return what a row says; None for one that says nothing of a part."""
        self._tally.rows += 1
        if type(cells) is not list:
            return self._spoilt(row, cells)
        if len(cells) < self._width:
            cells = cells + [""] * (self._width - len(cells))
        amount = self._money(cells[self._price])
        number = cells[self._number]
        if number.isprintable():
            number = number.strip() if type(number) is str else number
        elif type(number) is str:
            number = tidy(number)
        if number and number[0] in "='":
            number = written_as_text(number)
        why = ""
        if not amount.price or not number or self._sums.has_total(number, amount.price):
            if self._says_nothing(row, number, amount, cells):
                return None
            why = self._why_no_offer(row, number, amount)
        elif not number.isalnum() or len(number) > _SURELY_SHORT or type(number) is not str:
            why = self._fault(row, number)
        if self._doubt and amount.price and not why and self._doubt(cells[self._price]):
            why = self._pence_or_pounds(row, tidy(cells[self._price]))
        self._sums.add(amount.price)
        normal = plain_number(number)
        if not (normal or why):
            why = self._no_mark(row, number)
        return self._row(row, cells, number, normal, amount, why)

    def _spoilt(self, row: int, cells: Cells) -> PriceRow:
        """A row that could not be read as written, with what it seems to say."""
        wrong, right = (cells.wrong, cells.right) if isinstance(cells, Spoilt) else ("", "")
        why = self._tally.problem((self._sheet, row), self.place(row), wrong, right)
        texts = [tidy(text)[:_TEXT_KEPT] for text in cells]
        number = texts[self._number] if len(texts) > self._number else ""
        return PriceRow(
            self._sheet, row, number, plain_number(number)[:_SURELY_SHORT], "", "", 0,
            self._currency, 1, (), self._from, self._until, None, None, "",
            " ".join(texts)[:_TEXT_KEPT], why,
        )  # fmt: skip

    def _row(
        self, row: int, cells: Cells, number: str, normal: str, amount: Amount, why: str
    ) -> PriceRow:
        part, said = "", _NOTHING_SAID
        text = "" if self._text is None else cells[self._text].strip()
        if self._part or self._after:
            part, said, wrong = self._names(row, cells)
            why = wrong if said.ended else why or wrong
        terms = self._terms_of(row, cells) if self._lesser else self._common
        if terms.pence and amount.price:
            amount = self._pence(cells[self._price])
            if amount.wrong and not why:
                why = self.problem(row, self.price_column, amount.wrong, amount.right)
        why = why or terms.why
        currency = terms.currency or amount.currency or self._currency
        if not why and amount.price and (terms.currency, amount.currency) not in self._sound:
            why = self._money_fault(row, terms.currency, amount.currency, currency)
        price, pack, least, breaks = amount.price, terms.pack or 1, terms.least, terms.breaks
        rounded = amount.rounded
        if self._sized and not why:
            size = Size(terms.per or self._per, terms.pack)
            price, inexact = size.of_pack(price)
            rounded = rounded or inexact
            pack = size.pack
            if least > 1:
                least = self._in_packs(size, (least,), self._counted, fewest=1)[0]
            if breaks:
                counts = self._in_packs(size, [packs for packs, _ in breaks])
                costs = [size.of_pack(each)[0] for _, each in breaks]
                breaks = tuple(dict(zip(counts, costs, strict=True)).items())
        if self._steps and not why:
            breaks, why = self._step_prices(row, cells, currency, terms)
        if rounded:
            self._tally.rounded += 1
        if not text.isprintable() or len(text) > _TEXT_KEPT:
            text = tidy(text)[:_TEXT_KEPT]
        if why:
            number = tidy(number)[:_TEXT_KEPT]
            normal = "" if len(normal) > _SURELY_SHORT else normal
        return PriceRow(
            self._sheet, row, number, normal, part, terms.maker, price, currency, pack,
            breaks, terms.first, terms.last, terms.days, terms.stock, said.after, text, why, least,
            terms.quality, said.before, self._own and not part,
        )  # fmt: skip

    def _money_fault(self, row: int, told: str, shown: str, currency: str) -> str:
        """What is wrong with the money of a price, told at the cell that says it."""
        self._said.add(told or shown)
        column = self._columns[Field.PRICE]
        other = self._columns.get(Field.CURRENCY, column)
        if told and shown and told != shown and told not in ALIKE.get(shown, ()):
            wrong = f"the price is in {shown}, yet {other} says {told}"
            return self.problem(row, column, wrong, "make them agree")
        if currency in self._terms.rated:
            self._sound.add((told, shown))
            return ""
        wrong = f"there is no exchange rate for '{currency}'"
        right = "add it to the shop's rates.csv and load that"
        return self.problem(row, other if told else column, wrong, right)

    def _step_prices(
        self, row: int, cells: Cells, currency: str, terms: Terms
    ) -> tuple[tuple[tuple[int, int], ...], str]:
        """The prices for more packs that have a column each, and what is wrong with them."""
        found: list[tuple[int, int]] = []
        for step in self._steps:
            column = step.column
            amount = self.amount(cells[column.index], pence=terms.pence)
            if step.counted and not amount.price and tidy(cells[step.counted.index]) in _NO_STEP:
                continue
            if amount.wrong:
                return (), self.problem(row, column, amount.wrong, amount.right)
            if amount.currency not in {"", currency}:
                says = f"{tidy(cells[column.index])} is not in {currency}, as the row's price is"
                return (), self.problem(row, column, says, "give all prices of a row in one money")
            if amount.price:
                pack = terms.pack or terms.per or self._per
                size = Size(column.per or terms.per or self._per, pack)
                packs = -(-column.per // size.pack) if column.per else step.packs
                if step.counted:
                    packs = packs_in(cells[step.counted.index], self.decimal)
                    fewer = found[-1][0] if found else terms.least
                    if packs <= fewer:
                        says = tidy(cells[step.counted.index])[:30] or "nothing"
                        wrong = f"'{column.heading}' holds from {says} on, and another from {fewer}"
                        return (), self.problem(row, step.counted, wrong, "write a greater number")
                if packs > 1:
                    found.append((packs, size.of_pack(amount.price)[0]))
        if not found or self._steps[0].column.per:  # 'per 10' says of how many itself
            return tuple(found), ""
        size = Size(terms.per or self._per, terms.pack)
        counts = self._in_packs(size, [packs for packs, _ in found], self._counted)
        # Of 22 and of 28 pieces in packs of ten both are three packs: the price for more holds.
        return tuple(dict(zip(counts, [price for _, price in found], strict=True)).items()), ""

    def _in_packs(
        self, size: Size, quantities: Sequence[int], said: Counted = Counted.UNSAID, fewest: int = 2
    ) -> tuple[int, ...]:
        """Quantities as packs; where that had to be decided it is counted, to be told."""
        packs, counted = size.in_packs(quantities, said, fewest)
        if counted is not Counted.PACKS:
            self._tally.counted[counted] += 1
        return packs

    def _terms_of(self, row: int, cells: Cells) -> Terms:
        """The lesser cells of a row; most rows have the same as some row before."""
        key = tuple([cells[index] for index in self._lesser])
        terms = self._met.get(key)
        if terms is None:
            lesser = Lesser(self, row, cells)
            terms = lesser.terms(self._from, self._until)
            if lesser.sure and len(self._met) < _MOST_MET:
                self._met[key] = terms
        return terms

    def _names(self, row: int, cells: Cells) -> tuple[str, Said, str]:
        """The maker's number, what is said of a successor, and why the row is no offer for it."""
        part, wrong = self._further(row, self._part, cells)
        after, wrong_too = self._further(row, self._after, cells)
        said = successor_in(after) if after else _NOTHING_SAID
        if said.ended:
            return part, said, f"no longer supplied ('{after[:20]}')"
        return part, said, wrong or wrong_too

    def _further(self, row: int, column: Column | None, cells: Cells) -> tuple[str, str]:
        """A further part number of a row, and what is wrong with it."""
        text = cells[column.index] if column else ""
        if column is None or not text or type(text) is Figure:
            return text, ""
        if not (text.isprintable() and text[0] != " " and text[-1] != " "):
            text = text if isinstance(text, Marked) else tidy(text)
        fault = number_fault(text)
        return ("", self.problem(row, column, *fault)) if fault else (text, "")

    @property
    def number_at(self) -> int:
        """The place of the column of the numbers, from 0."""
        return self._number

    @property
    def in_money(self) -> InMoney:
        """The money that prices were taken in so far."""
        unsaid = self._currency if "" in self._said else ""
        return InMoney(self.price_column, unsaid, frozenset(self._said - {""}))

    @property
    def decimal(self) -> str:
        """The list's mark before decimals, '' where it is not known."""
        return self._money.decimal

    @property
    def price_column(self) -> Column:
        """The column of the price."""
        return self._columns[Field.PRICE]

    def amount(self, text: str, *, pence: bool) -> Amount:
        """What a further price of a row comes to."""
        return self._pence(text) if pence else self._money(text)

    def problem(self, row: int, column: Column, wrong: str, right: str) -> str:
        """Note a problem of a cell; returns what is wrong."""
        place = f"{self.place(row)}, {column}"
        return self._tally.problem((self._sheet, row), place, wrong, right)

    def place(self, row: int) -> str:
        """Where a row stands."""
        sheet = f"sheet {self._sheet}, " if self._sheet else ""
        return f"{self._file}, {sheet}row {row}"

    def cell(self, field: Field, cells: Cells) -> tuple[Column | None, str]:
        """The column of a field and a row's text in it."""
        column = self._columns.get(field)
        return column, cells[column.index] if column else ""

    def maker(self, name: str) -> str:
        """A maker's key by his name; empty when nobody knows him."""
        return self._terms.makers.get(name.casefold(), "")

    def may_be_a_thousand(self, cells: Cells) -> bool:
        """Whether an M is perhaps no metre: no person says that it is, nor do the row's words."""
        price = self.price_column
        if self._letters is not None or (price.per and not of_a_unit(price.heading)):
            return False
        words = "" if self._text is None else cells[self._text].strip()
        return bool(words) and not sold_by_length(words)

    def unread(self, column: Column) -> None:
        """Count a cell whose text is passed over."""
        self._tally.unread[str(column)] += 1

    def _fault(self, row: int, number: str) -> str:
        fault = number_fault(number) if type(number) is not Figure else None
        return self.problem(row, self._numbered, *fault) if fault else ""

    def _pence_or_pounds(self, row: int, price: str) -> str:
        column = self.price_column
        return self.problem(row, column, *too_little(price, column.heading))

    def _no_mark(self, row: int, number: str) -> str:
        return self.problem(
            row, self._numbered, f"the number '{number[:20]}' has no letter or figure", "look at it"
        )

    def _why_no_offer(self, row: int, number: str, amount: Amount) -> str:
        if not number:
            return "a price without a number"
        fault = self._fault(row, number)
        if fault:
            return fault
        if amount.wrong:
            return self.problem(row, self._columns[Field.PRICE], amount.wrong, amount.right)
        return amount.none

    def _says_nothing(self, row: int, number: str, amount: Amount, cells: Cells) -> bool:
        """Whether a row without number or price is a blank, a title, a heading again, a total."""
        filled = [text for text in map(tidy, cells) if text]
        if not filled:
            kind = "blank"
        elif are_the_headings(cells, self._headings):
            kind = "headings again"
        elif (first := filled[0]) == (tidy(number) or first) and self._sums.has_total(
            first, amount.price
        ):
            kind = "totals"
            self._sums.total()
        elif is_foot(filled[0]) and not amount.price:
            kind = "titles and notes"
        elif not amount.price and (
            not number or (len(filled) == 1 and not _NUMBER_ALONE.fullmatch(tidy(number)))
        ):
            kind = "titles and notes"
            self._sums.title()
            if number and " " not in number and len(self.alone) < _MOST_ALONE:
                normal = plain_number(number)
                self.alone.append(self._row(row, cells, number, normal, amount, amount.none))
        else:
            return False
        if kind == "titles and notes":
            self._tally.title(self.place(row), filled, in_cells=bool(self._sheet))
        self._tally.passed[kind] += 1
        return True
