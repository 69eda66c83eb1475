"""Asking the word index, each database's own: FTS5 on SQLite, a text search on PostgreSQL."""

from __future__ import annotations

from functools import cache
from typing import Any

from sqlalchemy import (
    Connection,
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

_FOUND = table_of(SearchPartRow)
_INDEX = table(WORD_INDEX, column("rowid"))
_SQLITE = literal_column(WORD_INDEX).op("MATCH")(bindparam("asked"))
_POSTGRESQL = text(
    "to_tsvector('simple'::regconfig, search_parts.words::text) @@ CAST(:asked AS tsquery)"
)


def answering(
    connection: Connection, columns: tuple[str, ...], expression: str, most: int
) -> tuple[Select[Any], dict[str, Any]]:
    """Select from `search_parts` what answers an expression of `search_terms`, first kept first.

    Returns the statement, to which conditions can be added, and what it is to be given. An empty
    expression is answered by every part.
    """
    dialect = connection.dialect.name
    if not expression:
        return _every(columns), {"most": most}
    asked = expression if dialect == "sqlite" else as_tsquery(expression)
    return _asked(dialect, columns), {"asked": asked, "most": most}


def has_any(connection: Connection, expression: str) -> bool:
    """Whether any part answers an expression."""
    query, given = answering(connection, ("id",), expression, 1)
    return connection.execute(query, given).first() is not None


@cache
def _every(columns: tuple[str, ...]) -> Select[Any]:
    query = select(*(_FOUND.c[name] for name in columns))
    return query.order_by(_FOUND.c.id).limit(bindparam("most"))


@cache
def _asked(dialect: str, columns: tuple[str, ...]) -> Select[Any]:
    if dialect != "sqlite":
        return _every(columns).where(_POSTGRESQL)
    query = select(*(_FOUND.c[name] for name in columns))
    joined = query.select_from(_INDEX.join(_FOUND, _FOUND.c.id == _INDEX.c.rowid))
    return joined.where(_SQLITE).order_by(_INDEX.c.rowid).limit(bindparam("most"))
