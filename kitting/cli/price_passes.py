"""Going through a list: once, and once more where numbers stand in it several times.

Which of several rows holds is known only when all were seen. Most lists have none such, and need
not pay for it; one that has is read a second time, those rows kept back until its end.
"""

from __future__ import annotations

from collections.abc import Callable
from contextlib import closing
from typing import TYPE_CHECKING

from kitting.buying.price_lists.changes import Comparison
from kitting.sheets.price_lists.beside import reader_of
from kitting.store.price_spool import HeldRows

if TYPE_CHECKING:
    from datetime import date
    from decimal import Decimal

    from kitting.sheets.price_lists.by_sheet import Choice
    from kitting.sheets.price_lists.file import PriceListFile
    from kitting.sheets.price_lists.list_in import PriceListReader
    from kitting.sheets.price_lists.terms import ListTerms
    from kitting.store.price_numbers import PriceNumbers
    from kitting.store.price_spool import PriceSpool


class Passes:
    """Reads a list, compares it with the one that holds and puts its rows on the spool."""

    def __init__(
        self,
        file: PriceListFile,
        terms: ListTerms,
        choice: Choice,
        numbers: PriceNumbers,
        spool: PriceSpool,
    ) -> None:
        self._file = file
        self._terms = terms
        self._choice = choice
        self._numbers = numbers
        self._spool = spool

    def go(
        self,
        dearer_by: Decimal,
        most: int,
        last_line: int,
        day: date,
        advance: Callable[[int], None],
    ) -> tuple[PriceListReader, Comparison]:
        """Go through it; returns what the reader met and what the comparison for a day found.

        Raises:
            BadInput: it cannot be read as a list.
        """
        on = day.isoformat()
        reader, comparison = self._once(Comparison(dearer_by, most, last_line, on), advance)
        if comparison.doubles:
            self._spool.clear()
            again = Comparison(dearer_by, most, last_line, on, comparison.doubles)
            reader, comparison = self._once(again, advance)
        return reader, comparison

    def _once(
        self, comparison: Comparison, advance: Callable[[int], None]
    ) -> tuple[PriceListReader, Comparison]:
        reader = reader_of(self._file, self._terms, self._choice)
        with HeldRows() as held, closing(reader.chunks()) as chunks:
            for rows in chunks:
                self._spool.add(*comparison.add(rows, self._numbers.known(rows)))
                held.add(comparison.take_kept_back())
                advance(len(rows))
            for groups in held.groups():
                known = self._numbers.known([row for _, _, rows in groups for row in rows])
                self._spool.add(*comparison.together(groups, known))
        return reader, comparison
