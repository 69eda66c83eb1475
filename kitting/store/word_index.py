"""Asking the word index, each database's own: FTS5 on SQLite, a text search on PostgreSQL."""

from __future__ import annotations

from typing import Any

from sqlalchemy import (
    Column,
    ColumnElement,
    Connection,
    FromClause,
    Select,
    bindparam,
    column,
    literal_column,
    select,
    table,
    text,
)

from kitting.store.parts import table_of
from kitting.store.search_terms import as_tsquery
from kitting.store.tables.search import WORD_INDEX, SearchPartRow

FOUND = table_of(SearchPartRow)
_INDEX = table(WORD_INDEX, column("rowid"))
_SQLITE = literal_column(WORD_INDEX).op("MATCH")(bindparam("asked"))
_POSTGRESQL = text(
    "to_tsvector('simple'::regconfig, search_parts.words::text) @@ CAST(:asked AS tsquery)"
)


def answering(
    connection: Connection, columns: list[Column[Any]], expression: str
) -> tuple[Select[Any], dict[str, str]]:
    """Select from `search_parts` what answers an expression of `search_terms`, first kept first.

    Returns the statement, to which conditions and a limit can be added, and what it is to be given.
    """
    if not expression:
        return select(*columns).order_by(FOUND.c.id), {}
    if connection.dialect.name == "sqlite":
        source: FromClause = _INDEX.join(FOUND, FOUND.c.id == _INDEX.c.rowid)
        query = select(*columns).select_from(source).where(_SQLITE).order_by(_INDEX.c.rowid)
        return query, {"asked": expression}
    return select(*columns).where(_POSTGRESQL).order_by(FOUND.c.id), {
        "asked": as_tsquery(expression)
    }


def has_any(connection: Connection, expression: str, *where: ColumnElement[bool]) -> bool:
    """Whether any part answers an expression."""
    query, given = answering(connection, [FOUND.c.id], expression)
    return connection.execute(query.where(*where).limit(1), given).first() is not None
