"""A whole price list, read some thousands of rows at once and never whole in memory."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Generator, Iterator, Sequence
from dataclasses import replace
from itertools import chain, islice
from typing import TYPE_CHECKING

from kitting.errors import BadInput, Problem, Problems
from kitting.sheets.price_lists.by_sheet import check_told, refuse_worse
from kitting.sheets.price_lists.choice import agreed_lines, refuse_lost_size, refuse_rivals
from kitting.sheets.price_lists.currencies import currency_in
from kitting.sheets.price_lists.day_order import DayReader
from kitting.sheets.price_lists.doubt import Doubt
from kitting.sheets.price_lists.fields import MEANINGS, Field
from kitting.sheets.price_lists.headings import Located, locate, seen_headings
from kitting.sheets.price_lists.kinds import Kind, names_money, said_by
from kitting.sheets.price_lists.likeness import likeness_of
from kitting.sheets.price_lists.marks import Cells, Spoilt, Table, tidy
from kitting.sheets.price_lists.money import decimal_sign, title_in_pence
from kitting.sheets.price_lists.nones import as_remembered, headings_in
from kitting.sheets.price_lists.rows import RowReader
from kitting.sheets.price_lists.take import refuse_twins
from kitting.sheets.price_lists.terms import ListTerms, Tally
from kitting.sheets.price_lists.title_kinds import told_of_more
from kitting.sheets.price_lists.title_money import InMoney, MoneyLine, agreed_moneys, money_line
from kitting.sheets.price_lists.units import by_letter

if TYPE_CHECKING:
    from kitting.buying.price_lists.rows import PriceRow
    from kitting.sheets.price_lists.by_sheet import Choice, Headings
    from kitting.sheets.price_lists.fields import Column
    from kitting.sheets.price_lists.fields import Mapping as Columns
    from kitting.sheets.price_lists.file import PriceListFile

ROWS_AT_ONCE = 20_000
_FIRST = 1_000
_NUMBERS = (Field.NUMBER, Field.PART)
_GROSS = ("inc vat", "incl vat", "inkl", "brutto", "ttc")


class PriceListReader:
    """Reads one list; what it met beside the rows stands in `tally`, `sheets` and `notes`.

    `sheets` are those that were read, each with its columns.
    """

    def __init__(self, file: PriceListFile, terms: ListTerms, choice: Choice) -> None:
        self._file = file
        self._terms = terms
        self._choice = choice
        self.tally = Tally()
        self.sheets: list[tuple[str, Columns]] = []
        self.notes: list[str] = [file.note] if file.note else []
        self._days = DayReader(terms.days)
        self._moneys: list[InMoney] = []
        self._of_all: list[MoneyLine] = []

    def chunks(self) -> Generator[list[PriceRow], None, None]:
        """Yield the rows that speak of a part, some thousands at once.

        Raises:
            BadInput: no sheet has a column of numbers and one of prices, or two of one name; or its
                days have day and month in both orders.
        """
        headings: list[str] = []
        passed = []
        met = []
        for table in self._file.tables():
            met.append(table.sheet)
            if not table.shown:
                self.notes.append(f"sheet {table.sheet} is hidden, passed over; show it to have it")
                continue
            first = list(islice(self._filled(table), _FIRST))
            located = self._locate(table, first)
            if located is None:
                headings += _headings(first)
                self._of_all += self._money_lines(table, first)
                passed.append(table.sheet)
                continue
            yield from self._sheet(table, first, located)
            self.notes += _hidden_notes(table, located)
        self._choice.refuse_unknown(met)
        if not self.sheets:
            raise BadInput(self._unfound(headings))
        self.notes += self._days.told()
        for line in self._of_all:
            if not any(line.allows(money) for taken in self._moneys for money in taken.every):
                unsaid = (taken for taken in self._moneys if taken.unsaid)
                self.notes += agreed_moneys([line], next(unsaid, self._moneys[0]), self._terms)
        for sheet in filter(None, passed):
            out = "none" in self._choice.asked(sheet, ()).told.values()
            why = "left out, as --map says" if out else "no numbers and prices in it, passed over"
            self.notes.append(f"sheet {sheet}: {why}")

    @property
    def columns(self) -> Columns | None:
        """The columns of the first sheet that was read."""
        return self.sheets[0][1] if self.sheets else None

    def _locate(self, table: Table, first: Sequence[tuple[int, Cells]]) -> Located | None:
        sheet = table.sheet
        asked = replace(self._choice.asked(sheet, table.hidden.columns), per=self._terms.per)
        before = self.columns
        if before is not None or table.among:
            asked = replace(asked, of=f"@{sheet}")
        located = None
        problems = Problems()
        name = self._file.path.name
        with problems.at(f"{name}, sheet {sheet}" if before else name):
            located = locate(first, asked)
            if located is not None:
                refuse_twins(located.headings, located.columns, asked.hidden)
                check_told(located, asked.told, sheet if before else "")
                refuse_rivals(located.columns, asked.of)
                if before is None:
                    last = headings_in(asked.remembered)
                    per = self._terms.per
                    refuse_lost_size(located.columns, last, set(asked.told), per, asked.of)
                if before is not None:
                    refuse_worse(before, located.columns, sheet)
        problems.raise_if_any()
        if located is not None:
            if before is None or as_remembered(before) != as_remembered(located.columns):
                self._note_columns(located, asked.told, asked.remembered, sheet if before else "")
            self.sheets.append((sheet, located.columns))
        return located

    def _note_columns(
        self, located: Located, told: Headings, remembered: Headings, sheet: str
    ) -> None:
        where = f"sheet {sheet}: " if sheet else ""
        for field, heading in headings_in(remembered).items():
            column = located.columns.column(field)
            if field not in told and (column is None or column.how.startswith("guessed")):
                what = f"last time '{heading}' was {MEANINGS[field]}; it is not here"
                self.notes.append(f"{where}{what}")
        price = located.columns.column(Field.PRICE)
        if price and _more_than_paid(price.heading):
            says = f"'{price.heading}' sounds like more than what the shop pays"
            self.notes.append(f"{where}{says}")
        self.notes += [f"{where}{remark}" for remark in located.columns.remarks]
        if located.row == 0:
            says = "has no headings: its columns are told by their content"
            self.notes.append(f"sheet {sheet} {says}" if sheet else f"the list {says}")

    def _sheet(
        self, table: Table, first: Sequence[tuple[int, Cells]], located: Located
    ) -> Iterator[list[PriceRow]]:
        price = located.columns.column(Field.PRICE)
        at = price.index if price else 0
        prices = [cells[at] for row, cells in first if row > located.under and len(cells) > at]
        titles = [tidy(text) for row, cells in first if row < located.row for text in cells]
        pence = next(filter(title_in_pence, titles), "")
        if pence and price and currency_in(price.heading):
            raise BadInput(
                Problem(
                    f"{self._file.path.name}, column {price.letter}",
                    f"'{pence}' stands above the list, yet this is headed '{price.heading}'",
                    "make them agree",
                )
            )
        if pence:
            self.notes.append(f"'{pence}' stands above the list: its prices are taken as pence")
        read = RowReader(
            self._file.path.name,
            table.sheet,
            located,
            self._terms,
            self.tally,
            decimal_sign(text for text in prices if type(text) is str),
            pence=bool(pence),
            doubt=Doubt(prices),
            days=self._days,
            by_letter=bool(located.columns.letters)
            or by_letter(text for _, _, text in _cells(first, located, {Field.UNIT, Field.PER})),
        )
        days = _cells(first, located, {Field.VALID_FROM, Field.VALID_UNTIL})
        self._days.look((f"{read.place(row)}, {column}", text) for row, column, text in days)
        met, met_moneys, met_more = (
            len(each) for each in (self.tally.lines, self.tally.moneys, self.tally.more)
        )
        for row, cells in first:
            if row < located.row:
                texts = [tidy(text) for text in cells]
                self.tally.title(read.place(row), texts, in_cells=bool(table.sheet))
            if isinstance(cells, Spoilt) and row <= located.under:
                self.notes.append(f"row {row}, above the list: {cells.wrong}; {cells.right}")
        below = (each for each in first if each[0] > located.under)
        columns = {column.index for column in located.columns.shown}
        every = table.hidden.merged.spread(chain(below, table.rows), columns, read.number_at)
        found = (read(row, cells) for row, cells in every)
        rows = (row for row in found if row is not None)
        while some := list(islice(rows, ROWS_AT_ONCE)):
            yield some
        if known := self._known_alone(read.alone):
            yield known
        self._moneys.append(read.in_money)
        tally = self.tally
        problems: list[Problem] = []
        for sentences in (
            agreed_lines(tally.lines[met:], located.columns, self._terms.per),
            agreed_moneys(tally.moneys[met_moneys:], read.in_money, self._terms),
        ):
            try:
                self.notes += sentences
            except BadInput as error:
                problems += error.problems
        if problems:
            raise BadInput(problems)
        self.notes += told_of_more(tally.more[met_more:], read.price_column.heading)

    def _money_lines(self, table: Table, first: Sequence[tuple[int, Cells]]) -> Iterator[MoneyLine]:
        """What a sheet without prices says of the money of the others'."""
        if "none" in self._choice.asked(table.sheet, ()).told.values():
            return  # it has prices, which are left out
        for row, cells in first:
            place = f"{self._file.path.name}, sheet {table.sheet}, row {row}"
            if line := money_line(place, [tidy(text) for text in cells]):
                yield line

    def _known_alone(self, alone: Sequence[PriceRow]) -> list[PriceRow]:
        """Of single words that were passed over as titles, the numbers that somebody knows."""
        normals = {row.normal for row in alone} - {""}
        numbers = set(self._choice.known(normals)) if normals else set()
        found = [row for row in alone if row.normal in numbers]
        self.tally.passed -= Counter({"titles and notes": len(found)})
        return found

    def _filled(self, table: Table) -> Iterator[tuple[int, Cells]]:
        for row, cells in table.rows:
            if any(cells):
                yield row, cells
            else:
                self.tally.passed["blank"] += 1

    def _unfound(self, headings: Sequence[str]) -> Problem:
        name = self._file.path.name
        if not headings:
            return Problem(name, "there is nothing in it", "give the list that was sent")
        seen = ", ".join(f"'{text}'" for text in dict.fromkeys(headings))
        numbered = any(likeness_of(text, each) for text in headings for each in _NUMBERS)
        priced = any(likeness_of(text, Field.PRICE) or names_money(text) for text in headings)
        lacking = "no column of numbers and none of prices were found"
        if numbered != priced:
            lacking = f"no column of {'prices' if numbered else 'numbers'} was found"
        return Problem(
            name,
            f"{lacking}; seen: {seen}",
            'say which they are, such as --map "number=Code, price=Net"',
        )


def _cells(
    first: Sequence[tuple[int, Cells]], located: Located, fields: Collection[Field]
) -> Iterator[tuple[int, Column, str]]:
    """The cells below the headings in the columns that were taken for some fields."""
    for column in located.columns.columns:
        if column.field in fields:
            for row, cells in first:
                if row > located.under and len(cells) > column.index:
                    yield row, column, cells[column.index]


def _more_than_paid(heading: str) -> bool:
    """Whether a price is by its heading one that customers pay, or one with VAT."""
    dearer = said_by(heading).kind in {Kind.LIST, Kind.WITH_VAT}
    return dearer or any(word in heading.casefold() for word in _GROSS)


def _hidden_notes(table: Table, located: Located) -> Iterator[str]:
    """What a sheet hides and what became of it."""
    where = f"sheet {table.sheet}, " if table.sheet else ""
    if located.columns.hidden:
        columns = ", ".join(located.columns.hidden)
        yield f"{where}hidden columns, left alone unless --map names them: {columns}"
    if table.hidden.passed:
        yield (
            f"{where}hidden rows, passed over: {table.hidden.passed:,}, the first of them row "
            f"{table.hidden.first}; show them in the workbook to have them"
        )
    if merged := table.hidden.merged.used:
        what = "cell is merged" if merged == 1 else "cells are merged"
        yield (
            f"{where}{merged:,} {what} over several rows, the first of them "
            f"{table.hidden.merged.first}: what stands there counts for every row it covers"
        )


def _headings(first: Sequence[tuple[int, Cells]]) -> list[str]:
    texts = seen_headings(first) or [
        tidy(text) for _, cells in first[:1] for text in cells if tidy(text)
    ]
    return [text[:30] for text in texts][:12]
