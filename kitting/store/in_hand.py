"""What came for a job: from the shelf, by deliveries, by hand; and work back from the machinist."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, datetime

from sqlalchemy import Connection

from kitting.buying.delivered import delivered_to, unproven_for
from kitting.catalog.model import PartNumber
from kitting.job.hand import Hand, InHand, WorkBack
from kitting.store.holding import hold_job, next_line
from kitting.store.orders import Orders
from kitting.store.parts import keep_parts
from kitting.store.rows import RowMap
from kitting.store.shelf import Shelf
from kitting.store.tables import building as tables

_PIECES = RowMap(InHand, tables.InHandRow, named={"when": "on_day"})
_WORKS = RowMap(WorkBack, tables.WorkBackRow, named={"when": "on_day"})


class InHandStore:
    """Reads and writes what of a job is in hand, within one unit of work."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def hand(self, job: str) -> Hand:
        """Return everything of a job that is in hand: off the shelf, delivered, marked by hand."""
        shelf = Shelf(self._connection).taken(job)
        records = Orders(self._connection).records_for(job)
        delivered = delivered_to(records, job)
        own = _PIECES.all(self._connection, _PIECES.table.c.job == job)
        works = _WORKS.all(self._connection, _WORKS.table.c.job == job)
        last = {work.operation: work for work in works}
        unproven = unproven_for(records, job)
        return Hand((*shelf, *delivered, *own), tuple(last.values()), unproven)

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
        _PIECES.insert(
            self._connection,
            came,
            first=next_line(self._connection, _PIECES.table, job),
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
