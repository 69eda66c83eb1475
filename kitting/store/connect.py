"""An engine for each kind of database, set up as the program needs it. Nothing connects here."""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from sqlalchemy import URL, Connection, Engine, create_engine, event

READING = "kitting_reading"
# So much of the file a reader looks at where the system keeps it, instead of copying page by page:
# among a million parts a number is found, or answered, in two thirds of the time, and in a seventh
# of it where little was read before.
_MAPPED = 2**31 - 2**16


def make_engine(url: URL, wait_seconds: int) -> Engine:
    """Return an engine that waits so long for another's lock, and then gives up."""
    if url.get_backend_name() == "sqlite":
        return _sqlite(url, wait_seconds)
    milliseconds = max(1, wait_seconds * 1000)  # none at all would mean without end
    return create_engine(
        url,
        pool_pre_ping=True,
        connect_args={
            "connect_timeout": max(2, wait_seconds),
            "options": f"-c lock_timeout={milliseconds} -c timezone=UTC",
        },
    )


def reading(connection: Connection) -> Connection:
    """Return the connection set to read only, everything as of one moment."""
    if connection.dialect.name == "sqlite":
        return connection.execution_options(**{READING: True})
    return connection.execution_options(isolation_level="REPEATABLE READ", postgresql_readonly=True)


@contextmanager
def references_known(connection: Connection) -> Iterator[None]:
    """Within the block SQLite does not look up again what rows refer to.

    For many rows whose references were looked up before, and to things that are never taken out:
    looking again costs half as much as the rows. PostgreSQL looks whatever is said here.
    """
    bare: Any = connection.connection.dbapi_connection
    if connection.dialect.name != "sqlite":
        yield
        return
    bare.execute("PRAGMA foreign_keys=OFF")
    try:
        yield
    finally:
        connection.rollback()  # the setting changes outside a transaction only
        bare.execute("PRAGMA foreign_keys=ON")


def _from_json(text: str) -> Any:
    """What a JSON text says; of the thousands in a question nearly all are empty lists."""
    return [] if text == "[]" else json.loads(text)


def _sqlite(url: URL, wait_seconds: int) -> Engine:
    engine = create_engine(
        url, connect_args={"timeout": wait_seconds}, json_deserializer=_from_json
    )

    @event.listens_for(engine, "connect")
    def set_up(connection: Any, _record: Any) -> None:
        # The driver must not begin transactions by itself, so that `begin` below alone decides.
        connection.isolation_level = None
        cursor = connection.cursor()
        cursor.execute("PRAGMA foreign_keys=ON")
        if cursor.execute("PRAGMA journal_mode").fetchone()[0] != "wal":
            cursor.execute("PRAGMA journal_mode=WAL")
        cursor.execute("PRAGMA synchronous=NORMAL")
        cursor.execute("PRAGMA cache_size=-64000")
        cursor.close()

    @event.listens_for(engine, "begin")
    def begin(connection: Connection) -> None:
        # A writer takes the lock at once: one that first reads and then finds another writing
        # would have to fail instead of waiting.
        if connection.get_execution_options().get(READING):
            connection.exec_driver_sql("PRAGMA query_only=ON")
            connection.exec_driver_sql(f"PRAGMA mmap_size={_MAPPED}")
            connection.exec_driver_sql("BEGIN")
        else:
            connection.exec_driver_sql("PRAGMA query_only=OFF")
            connection.exec_driver_sql("PRAGMA mmap_size=0")
            connection.exec_driver_sql("BEGIN IMMEDIATE")

    return engine
