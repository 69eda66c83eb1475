"""A whole price list, read some thousands of rows at once and never whole in memory."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain, islice
from typing import TYPE_CHECKING

from kitting.catalog.nearest import did_you_mean
from kitting.errors import BadInput, Problem, Problems
from kitting.sheets.price_lists.choice import refuse_rivals
from kitting.sheets.price_lists.content import Known
from kitting.sheets.price_lists.fields import MEANINGS, Field
from kitting.sheets.price_lists.headings import Located, locate, seen_headings
from kitting.sheets.price_lists.kinds import names_money
from kitting.sheets.price_lists.marks import Cells, Spoilt, Table, tidy
from kitting.sheets.price_lists.money import decimal_sign, title_in_pence
from kitting.sheets.price_lists.rows import RowReader
from kitting.sheets.price_lists.take import Asked, likeness_of, refuse_twins
from kitting.sheets.price_lists.terms import ListTerms, Tally, currency_in

if TYPE_CHECKING:
    from kitting.buying.price_lists.rows import PriceRow
    from kitting.sheets.price_lists.fields import Mapping as Columns
    from kitting.sheets.price_lists.file import PriceListFile

ROWS_AT_ONCE = 20_000
_FIRST = 1_000
_NUMBERS = (Field.NUMBER, Field.PART)
_GROSS = ("retail", "rrp", "inc vat", "incl vat", "inkl", "brutto", "ttc", "list price")


@dataclass(frozen=True, slots=True)
class Choice:
    """How columns are taken: told, remembered from the last list, or by numbers that are known."""

    told: Mapping[Field, str]
    remembered: Mapping[Field, str]
    known: Known


class PriceListReader:
    """Reads one list; what it met beside the rows stands in `tally`, `columns` and `notes`."""

    def __init__(self, file: PriceListFile, terms: ListTerms, choice: Choice) -> None:
        self._file = file
        self._terms = terms
        self._choice = choice
        self.tally = Tally()
        self.columns: Columns | None = None
        self.notes: list[str] = [file.note] if file.note else []

    def chunks(self) -> Iterator[list[PriceRow]]:
        """Yield the rows that speak of a part, some thousands at once.

        Raises:
            BadInput: no sheet has a column of numbers and one of prices, or two of one name.
        """
        headings: list[str] = []
        passed = []
        for table in self._file.tables():
            if not table.shown:
                self.notes.append(f"sheet {table.sheet} is hidden, passed over; show it to have it")
                continue
            first = list(islice(self._filled(table), _FIRST))
            located = self._locate(first, table.hidden.columns)
            if located is None:
                headings += _headings(first)
                passed.append(table.sheet)
                continue
            yield from self._sheet(table, first, located)
            self.notes += _hidden_notes(table, located)
        if self.columns is None:
            raise BadInput(self._unfound(headings))
        for sheet in filter(None, passed):
            self.notes.append(f"sheet {sheet}: no numbers and prices in it, passed over")

    def _locate(
        self, first: Sequence[tuple[int, Cells]], hidden: Collection[int]
    ) -> Located | None:
        choice = self._choice
        located = None
        problems = Problems()
        with problems.at(self._file.path.name):
            asked = Asked(choice.told, choice.remembered, choice.known, hidden)
            located = locate(first, asked)
            if located is not None:
                refuse_twins(located.headings, located.columns, asked.hidden)
                self._check_told(located)
                refuse_rivals(located.columns)
        problems.raise_if_any()
        if located is not None and self.columns is None:
            self.columns = located.columns
            self._note_columns(located)
        return located

    def _check_told(self, located: Located) -> None:
        problems = [
            Problem(
                "--map",
                f"no column is headed '{heading}'",
                did_you_mean(heading, filter(None, located.headings)),
            )
            for field, heading in self._choice.told.items()
            if heading != "none" and located.columns.column(field) is None
        ]
        if problems:
            raise BadInput(problems)

    def _note_columns(self, located: Located) -> None:
        for field, heading in self._choice.remembered.items():
            column = located.columns.column(field)
            if field not in self._choice.told and (
                column is None or column.how.startswith("guessed")
            ):
                self.notes.append(f"last time '{heading}' was {MEANINGS[field]}; it is not here")
        price = located.columns.column(Field.PRICE)
        if price and any(word in price.heading.casefold() for word in _GROSS):
            self.notes.append(f"'{price.heading}' sounds like more than what the shop pays")
        if located.row == 0:
            self.notes.append("the list has no headings: its columns are told by their content")

    def _sheet(
        self, table: Table, first: Sequence[tuple[int, Cells]], located: Located
    ) -> Iterator[list[PriceRow]]:
        price = located.columns.column(Field.PRICE)
        at = price.index if price else 0
        prices = (cells[at] for row, cells in first if row > located.under and len(cells) > at)
        titles = (tidy(text) for row, cells in first if row < located.row for text in cells)
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
        )
        for row, cells in first:
            if isinstance(cells, Spoilt) and row <= located.under:
                self.notes.append(f"row {row}, above the list: {cells.wrong}; {cells.right}")
        below = (each for each in first if each[0] > located.under)
        found = (read(row, cells) for row, cells in chain(below, table.rows))
        rows = (row for row in found if row is not None)
        while some := list(islice(rows, ROWS_AT_ONCE)):
            yield some

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


def _headings(first: Sequence[tuple[int, Cells]]) -> list[str]:
    texts = seen_headings(first) or [
        tidy(text) for _, cells in first[:1] for text in cells if tidy(text)
    ]
    return [text[:30] for text in texts][:12]
