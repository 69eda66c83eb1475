"""Bringing a database's tables to the version that this program knows, by Alembic."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from sqlalchemy import Connection, Engine, column, inspect, select, table

import kitting

if TYPE_CHECKING:
    from alembic.config import Config

# Alembic's own table, as it makes it.
_VERSION = table("alembic_version", column("version_num"))


def scripts() -> Path:
    """Return the folder of the migrations: inside an installed package, or beside the sources."""
    package = Path(kitting.__file__).parent
    installed = package / "_data" / "migrations"
    return installed if installed.is_dir() else package.parent / "migrations"


def config(connection: Connection | None = None) -> Config:
    """Return Alembic's settings, made here, so that no settings file need be found."""
    from alembic.config import Config

    settings = Config()
    settings.set_main_option("script_location", str(scripts()).replace("%", "%%"))
    settings.attributes["connection"] = connection
    return settings


def newest() -> str:
    """Return the newest revision that this program has."""
    from alembic.script import ScriptDirectory

    head = ScriptDirectory.from_config(config()).get_current_head()
    if head is None:
        raise RuntimeError(f"there is no migration in {scripts()}")
    return head


def upgrade(engine: Engine, revision: str = "head") -> None:
    """Bring the tables up to a revision, whole or not at all; up to the newest, search rows too."""
    from alembic import command

    from kitting.store.search_rows import rebuild_where_missing

    with _rebuilding(engine) as connection:
        command.upgrade(config(connection), revision)
        if revision == "head":
            rebuild_where_missing(connection)


def downgrade(engine: Engine, revision: str) -> None:
    """Take the tables back to a revision, whole or not at all; later tables go with their data."""
    from alembic import command

    with _rebuilding(engine) as connection:
        command.downgrade(config(connection), revision)


def current(connection: Connection) -> str | None:
    """Return the revision of the tables, or None where there are none yet."""
    if not inspect(connection).has_table(_VERSION.name):
        return None
    found = connection.execute(select(_VERSION.c.version_num)).scalar()
    return None if found is None else str(found)


@contextmanager
def _rebuilding(engine: Engine) -> Iterator[Connection]:
    """One transaction for the whole of a migration.

    SQLite changes a table by building it anew, with foreign keys off meanwhile, which it only
    allows outside a transaction; so all of them are checked before the transaction ends.
    """
    with engine.connect() as connection:
        if engine.dialect.name != "sqlite":
            with connection.begin():
                yield connection
            return
        _pragma(connection, "foreign_keys=OFF")
        try:
            with connection.begin():
                yield connection
                orphan = connection.exec_driver_sql("PRAGMA foreign_key_check").first()
                if orphan is not None:
                    raise RuntimeError(f"the migration left a row without its owner: {orphan}")
        finally:
            _pragma(connection, "foreign_keys=ON")


def _pragma(connection: Connection, setting: str) -> None:
    """Set a pragma on the bare connection, where no transaction begins by itself."""
    bare = connection.connection.dbapi_connection
    if bare is None:
        raise RuntimeError("the connection was closed during a migration")
    bare.cursor().execute(f"PRAGMA {setting}")
