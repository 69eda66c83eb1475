"""What jobs have off the shelf and by hand, beside what orders bring."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.job.hand import InHand
from kitting.store.rows import RowMap
from kitting.store.shelf import Shelf
from kitting.store.tables.building import InHandRow

if TYPE_CHECKING:
    from collections.abc import Iterable

    from sqlalchemy import Connection

PIECES = RowMap(InHand, InHandRow, named={"when": "on_day"}, apart=("stands",))


def aside_of(connection: Connection, jobs: Iterable[str]) -> dict[str, tuple[InHand, ...]]:
    """Return what each job has off the shelf, then by hand; below none, what went again."""
    shelf = Shelf(connection)
    return {job: (*shelf.taken(job), *by_hand(connection, job)) for job in jobs}


def by_hand(connection: Connection, job: str) -> tuple[InHand, ...]:
    """Return what was marked by hand for a job."""
    return PIECES.all(connection, PIECES.table.c.job == job, stands=None)
