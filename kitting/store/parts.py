"""Parts by their numbers: one row a maker's number, whichever edition or price list names it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from sqlalchemy import Connection, Table
from sqlalchemy.dialects import postgresql, sqlite

from kitting.catalog.model import PartNumber
from kitting.store.tables.parts import PartRow

_AT_ONCE = 5000


def keep_parts(connection: Connection, parts: Iterable[PartNumber]) -> None:
    """Add the parts that are not there yet; in order, so that two benches never wait in a ring."""
    rows = [
        {"part_maker": part.maker, "part_number": part.number, "normal": part.normal}
        for part in sorted(set(parts))
    ]
    insert_missing(connection, table_of(PartRow), rows)


def insert_missing(connection: Connection, table: Table, rows: Sequence[dict[str, Any]]) -> None:
    """Insert the rows whose key is not there yet."""
    make = sqlite.insert if connection.dialect.name == "sqlite" else postgresql.insert
    statement = make(table).on_conflict_do_nothing()
    for start in range(0, len(rows), _AT_ONCE):
        connection.execute(statement, rows[start : start + _AT_ONCE])


def table_of(mapped: Any) -> Table:
    """Return a mapped class's table, as a table."""
    table = mapped.__table__
    if not isinstance(table, Table):
        raise TypeError(f"{mapped!r} is no table")
    return table
