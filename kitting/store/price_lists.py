"""Suppliers' price lists of any length: the list that holds, its columns, storing a new one whole.

Rows go straight to the driver, some thousands at once: by `executemany` into SQLite, by COPY into
PostgreSQL. Prices arrive as the whole numbers that are kept.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from sqlalchemy import Connection, Table, delete, func, insert, select
from sqlalchemy.exc import OperationalError

from kitting.buying.price_lists.report import Supersession
from kitting.errors import BadInput, Problem
from kitting.store.offers import begin_list
from kitting.store.parts import insert_missing, table_of
from kitting.store.price_numbers import PriceNumbers
from kitting.store.price_spool import PriceSpool
from kitting.store.tables.prices import (
    LinkProposalRow,
    PriceColumnRow,
    PriceStrayRow,
    ProposalState,
)
from kitting.store.tables.trade import OfferRow, PriceBreakRow, PriceListRow

_LISTS = table_of(PriceListRow)
_OFFERS = table_of(OfferRow)
_BREAKS = table_of(PriceBreakRow)
_COLUMNS = table_of(PriceColumnRow)
_STRAYS = table_of(PriceStrayRow)
_PROPOSALS = table_of(LinkProposalRow)
_OFFER_COLUMNS = (
    "list_id", "line", "supplier", "their_number", "their_normal", "part_maker", "part_number",
    "pack", "price", "currency", "valid_from", "valid_until", "days", "stock",
    "quality",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class KeptList:
    """One loading of a supplier's list: how many offers, and rows for a person to look at."""

    id: int
    supplier: str
    origin: str
    content: str
    loaded_at: datetime
    ended_at: datetime | None
    offers: int
    strays: int
    last_line: int


@dataclass(frozen=True, slots=True)
class NewList:
    """A list to be stored, beside its rows.

    `instead_of` is the list that it was compared with (None: the supplier had none), `days` how
    long he takes where a row does not say, `columns` the headings to be remembered by field, of a
    sheet that differs from the first by field@sheet.
    """

    supplier: str
    origin: str
    content: str
    instead_of: int | None
    days: int
    columns: Mapping[str, str]
    superseded: Sequence[Supersession] = ()


class PriceLists:
    """Reads and writes whole price lists within one unit of work."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def lists(self, supplier: str = "") -> tuple[KeptList, ...]:
        """Return every loading there ever was, the newest first; of one supplier or of all."""
        query = select(_LISTS).order_by(_LISTS.c.id.desc())
        if supplier:
            query = query.where(_LISTS.c.supplier == supplier)
        return tuple(self._kept(row) for row in self._connection.execute(query).all())

    def held(self, supplier: str) -> KeptList | None:
        """Return the supplier's list that holds."""
        query = select(_LISTS).where(_LISTS.c.supplier == supplier, _LISTS.c.ended_at.is_(None))
        row = self._connection.execute(query.order_by(_LISTS.c.id.desc())).first()
        return None if row is None else self._kept(row)

    def columns(self, supplier: str) -> dict[str, str]:
        """Return the headings of the supplier's last list by field."""
        query = select(_COLUMNS).where(_COLUMNS.c.supplier == supplier)
        rows = self._connection.execute(query.order_by(_COLUMNS.c.field))
        return {row.field: row.heading for row in rows}

    def numbers(self, supplier: str, held: KeptList | None) -> PriceNumbers:
        """Return what answers for the numbers of the supplier's new list."""
        return PriceNumbers(self._connection, supplier, held.id if held else None)

    def store(
        self, new: NewList, rows: PriceSpool, advance: Callable[[int], None] = lambda _rows: None
    ) -> int:
        """End the list that holds and store the new one; returns its key.

        `advance` is told after some thousands of rows how many more are written.

        Raises:
            NotFound: no such supplier.
            BadInput: another list of the supplier came in since the comparison.
        """
        list_id = begin_list(self._connection, new.supplier, new.content, new.origin)
        before = self._connection.execute(
            select(func.max(_LISTS.c.id)).where(
                _LISTS.c.supplier == new.supplier, _LISTS.c.id != list_id
            )
        ).scalar()
        if new.instead_of is not None and before != new.instead_of:
            raise BadInput(
                Problem(
                    new.supplier, "another list came in meanwhile", "look at the changes once more"
                )
            )
        self._insert_offers(list_id, new, rows, advance)
        self._insert(_STRAYS, tuple(_STRAYS.columns.keys()), _numbered(list_id, rows.strays()))
        self._remember(new)
        self._propose(new)
        return list_id

    def _kept(self, row: Any) -> KeptList:
        count, last = self._connection.execute(
            select(func.count(), func.max(_OFFERS.c.line)).where(_OFFERS.c.list_id == row.id)
        ).one()
        strays = self._connection.execute(
            select(func.count()).select_from(_STRAYS).where(_STRAYS.c.list_id == row.id)
        ).scalar_one()
        return KeptList(
            row.id, row.supplier, row.origin, row.content_hash, row.loaded_at, row.ended_at,
            count, strays, last or 0,
        )  # fmt: skip

    def _insert_offers(
        self, list_id: int, new: NewList, rows: PriceSpool, advance: Callable[[int], None]
    ) -> None:
        any_breaks = False

        def offers() -> Iterator[list[tuple[Any, ...]]]:
            nonlocal any_breaks
            line = 0
            for some in rows.offers():
                made = []
                for values in some:
                    line += 1
                    *plain, days, stock, quality, steps = values
                    # Figures stand as text; the column makes whole numbers of them.
                    rest = (days or new.days, stock or None, quality)
                    made.append((list_id, line, new.supplier, *plain, *rest))
                    any_breaks = any_breaks or bool(steps)
                yield made
                advance(len(made))

        self._insert(_OFFERS, _OFFER_COLUMNS, offers())
        if any_breaks:
            columns = ("list_id", "line", "rank", "packs", "price")
            self._insert(_BREAKS, columns, _breaks(list_id, rows))

    def _insert(
        self, table: Table, columns: Sequence[str], chunks: Iterator[list[tuple[Any, ...]]]
    ) -> None:
        """Insert rows whose values stand in the order of `columns`, which is the table's."""
        dialect = self._connection.dialect
        if dialect.name == "sqlite":
            statement = str(insert(table).compile(dialect=dialect, column_keys=columns))
            for some in chunks:
                self._connection.exec_driver_sql(statement, some)
        else:
            self._copy(f"COPY {table.name} ({', '.join(columns)}) FROM STDIN", chunks)

    def _copy(self, statement: str, chunks: Iterable[list[tuple[Any, ...]]]) -> None:
        import psycopg

        bare: Any = self._connection.connection.driver_connection
        try:
            with bare.cursor() as cursor, cursor.copy(statement) as copy:
                for some in chunks:
                    for row in some:
                        copy.write_row(row)
        except psycopg.Error as error:
            raise OperationalError(statement, None, error) from error

    def _remember(self, new: NewList) -> None:
        self._connection.execute(delete(_COLUMNS).where(_COLUMNS.c.supplier == new.supplier))
        rows = [
            {"supplier": new.supplier, "field": field, "heading": heading}
            for field, heading in new.columns.items()
        ]
        if rows:
            self._connection.execute(insert(_COLUMNS), rows)

    def _propose(self, new: NewList) -> None:
        """Propose the links that the list names; what was proposed before stays as it is."""
        now = datetime.now(UTC)
        rows = [
            {
                "supplier": new.supplier,
                "origin": new.origin,
                "place": each.place,
                "old_maker": each.old[0],
                "old_number": each.old[1],
                "new_said": each.new_said,
                "new_normal": each.new_normal,
                "new_maker": each.new[0] if each.new else None,
                "new_number": each.new[1] if each.new else None,
                "state": ProposalState.OPEN,
                "why": "",
                "proposed_at": now,
            }
            for each in new.superseded
        ]
        insert_missing(self._connection, _PROPOSALS, rows)


def _breaks(list_id: int, rows: PriceSpool) -> Iterator[list[tuple[Any, ...]]]:
    """The prices for more packs, read once more so that a long list's are never all in memory."""
    line = 0
    for some in rows.offers():
        made: list[tuple[Any, ...]] = []
        for *_, steps in some:
            line += 1
            if steps:
                made += [
                    (list_id, line, rank, *step) for rank, step in enumerate(json.loads(steps), 1)
                ]
        if made:
            yield made


def _numbered(list_id: int, chunks: Iterable[list[list[Any]]]) -> Iterator[list[tuple[Any, ...]]]:
    line = 0
    for some in chunks:
        yield [(list_id, at, *row) for at, row in enumerate(some, line + 1)]
        line += len(some)
