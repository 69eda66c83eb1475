"""Copies of the database that can be put back."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path
from typing import TYPE_CHECKING

from kitting.errors import BadInput, Problem
from kitting.store.faults import place_of

if TYPE_CHECKING:
    from kitting.store.database import Database

SERVER_ADVICE = (
    "a PostgreSQL server keeps the data: back it up with its own tools, "
    "`pg_dump --format=custom --file=kitting.dump DATABASE`, and put it back with `pg_restore`"
)


def back_up(database: Database, to: Path) -> Path:
    """Copy the whole database to a new file while others go on working; return the file.

    Raises:
        BadInput: the file is there already, its folder cannot be written to, or a server keeps
            the data and has tools of its own for this.
    """
    if database.file is None:
        raise BadInput(Problem(place_of(database.url), SERVER_ADVICE))
    if not database.file.exists():
        raise BadInput(Problem(place_of(database.url), "there is nothing to copy yet"))
    if to.is_dir():
        raise BadInput(Problem(str(to), "this is a folder", "name the file to write in it"))
    if to.exists():
        raise BadInput(Problem(str(to), "this file is there already", "name a new one"))
    copy_sqlite(database.file, to)
    return to


def copy_sqlite(source: Path, to: Path) -> None:
    """Copy a SQLite file as of one moment; the copy takes its name only when it is whole."""
    unfinished = to.with_name(f"{to.name}.part")
    try:
        unfinished.unlink(missing_ok=True)
        with (
            closing(sqlite3.connect(f"{source.absolute().as_uri()}?mode=ro", uri=True)) as there,
            closing(sqlite3.connect(unfinished)) as here,
        ):
            there.backup(here)
        unfinished.replace(to)
    except (OSError, sqlite3.Error) as error:
        unfinished.unlink(missing_ok=True)
        raise BadInput(
            Problem(str(to), f"the copy cannot be written ({error})", "name another place")
        ) from error
