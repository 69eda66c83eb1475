"""What came for a job: off the shelf, by deliveries, by hand; work back; hours worked."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, datetime
from decimal import Decimal

from sqlalchemy import Connection

from kitting.buying.delivered import coming_to, delivered_to, unproven_for
from kitting.catalog.model import PartNumber
from kitting.errors import BadInput, Problem
from kitting.job.hand import Hand, InHand, WorkBack, Worked
from kitting.store.aside import PIECES, by_hand
from kitting.store.holding import hold_job, next_line
from kitting.store.orders import Orders
from kitting.store.parts import keep_parts
from kitting.store.rows import RowMap
from kitting.store.shelf import Shelf
from kitting.store.tables import building as tables

_WORKS = RowMap(WorkBack, tables.WorkBackRow, named={"when": "on_day"})
_WORKED = RowMap(Worked, tables.WorkedRow, named={"when": "on_day"})


class InHandStore:
    """Reads and writes what of a job is in hand, within one unit of work."""

    def __init__(self, connection: Connection, orders: Orders) -> None:
        self._connection = connection
        self._orders = orders

    def hand(self, job: str) -> Hand:
        """Return everything of a job that is in hand: off the shelf, delivered, marked by hand."""
        shelf = Shelf(self._connection).taken(job)
        records = self._orders.records_for(job)
        delivered = delivered_to(records, job)
        works = _WORKS.all(self._connection, _WORKS.table.c.job == job)
        last = {work.operation: work for work in works}
        worked = _WORKED.all(self._connection, _WORKED.table.c.job == job)
        return Hand(
            pieces=(*shelf, *delivered, *by_hand(self._connection, job)),
            works=tuple(last.values()),
            worked=worked,
            unproven=unproven_for(records, job),
            coming=coming_to(records, job),
        )

    def add_pieces(self, job: str, pieces: Iterable[InHand]) -> None:
        """Add pieces that came otherwise than off the shelf, or (below none) went again.

        Raises:
            NotFound: no such job.
            BadInput: the job is closed, or a cost cannot be kept exactly.
        """
        hold_job(self._connection, job)
        came = tuple(pieces)
        parts: list[PartNumber] = [each.part for each in came if each.part is not None]
        keep_parts(self._connection, parts)
        PIECES.insert(
            self._connection,
            came,
            first=next_line(self._connection, PIECES.table, job),
            job=job,
            entered_at=datetime.now(UTC),
        )

    def add_work(self, job: str, work: WorkBack) -> None:
        """Add that an operation's work is back, or is not after all; the last word holds.

        Raises:
            NotFound: no such job.
            BadInput: the job is closed, or the cost cannot be kept exactly.
        """
        hold_job(self._connection, job)
        _WORKS.insert(
            self._connection,
            [work],
            first=next_line(self._connection, _WORKS.table, job),
            job=job,
            entered_at=datetime.now(UTC),
        )

    def add_hours(self, job: str, worked: Worked) -> Decimal:
        """Add hours that were worked, or (below none) take some off; the sum of the assembly.

        Raises:
            NotFound: no such job.
            BadInput: the job is closed, or less than none would be left.
        """
        hold_job(self._connection, job)
        before = self.hand(job).hours(worked.assembly) or Decimal(0)
        if before + worked.hours < 0:
            raise BadInput(
                Problem("HOURS", f"{before} are written so far", f"take off {before} at the most")
            )
        _WORKED.insert(
            self._connection,
            [worked],
            first=next_line(self._connection, _WORKED.table, job),
            job=job,
            entered_at=datetime.now(UTC),
        )
        return before + worked.hours
