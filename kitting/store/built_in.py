"""What of the orders' lines is in engines that were built, kept as their jobs are closed."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from sqlalchemy import Connection, select

from kitting.buying.sharing import OfLine
from kitting.store.parts import table_of
from kitting.store.rows import insert_rows
from kitting.store.tables.building import BuiltInRow

if TYPE_CHECKING:
    from collections.abc import Mapping

_ROWS = table_of(BuiltInRow)


def keep_built_in(
    connection: Connection, job: str, built_in: Mapping[tuple[str, str, OfLine], int]
) -> None:
    """Keep what a job has of each of its needs: by order, line and need, in pieces."""
    rows = [
        {
            "job": job,
            "line": at,
            "number": number,
            "line_id": line_id,
            "positions": positions,
            "pieces": pieces,
        }
        for at, ((number, line_id, (_, positions)), pieces) in enumerate(built_in.items(), start=1)
    ]
    insert_rows(connection, _ROWS, rows)


def built_in_of(connection: Connection, number: str) -> dict[str, dict[OfLine, int]]:
    """Return what of an order is in engines that were built, by line and need."""
    found: dict[str, dict[OfLine, int]] = defaultdict(dict)
    query = select(_ROWS).where(_ROWS.c.number == number).order_by(_ROWS.c.job, _ROWS.c.line)
    for row in connection.execute(query):
        found[row.line_id][row.job, row.positions] = row.pieces
    return dict(found)
