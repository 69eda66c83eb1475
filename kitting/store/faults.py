"""What a database refuses, as one sentence each: by its code, never by its wording."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy import URL, Connection
from sqlalchemy.exc import DataError, IntegrityError, OperationalError, StatementError

from kitting.errors import BadInput, KittingError, Problem

_Saying = tuple[str, str]
_UNSTORABLE = ("a text holds a character that cannot be stored", "remove it from the text")

# Primary result codes of SQLite (https://www.sqlite.org/rescode.html).
_SQLITE: dict[int, _Saying] = {
    5: ("it is busy with another program's work", "try again in a moment"),
    6: ("it is busy with another program's work", "try again in a moment"),
    8: ("it is read-only", "allow writing to the file and to its folder"),
    10: ("the disk cannot be read or written", "check the disk, then restore a backup if need be"),
    11: ("the file is damaged", "restore a backup"),
    13: ("the disk is full", "make room; nothing was stored"),
    14: ("the file cannot be opened", "check that its folder exists and may be written to"),
    26: ("the file is no database", "name another file, or move this one away"),
}

# SQLSTATE codes of PostgreSQL (its manual, appendix A).
_POSTGRESQL: dict[str, _Saying] = {
    "25006": ("it is read-only", "name a server that may be written to"),
    "28000": ("it does not let this user in", "check the user's name and password"),
    "28P01": ("the password is wrong", "check the user's name and password"),
    "3D000": ("there is no such database on the server", "create it, or name another"),
    "40001": ("another bench changed the same rows", "try again"),
    "40P01": ("another bench changed the same rows", "try again"),
    "42501": ("this user may not do that", "give the user rights to the tables"),
    "53100": ("the server's disk is full", "make room; nothing was stored"),
    "53300": ("the server has too many callers", "try again in a moment"),
    "55P03": ("it is busy with another bench's work", "try again in a moment"),
    "57014": ("it took too long and was stopped", "try again in a moment"),
    "57P01": ("the server is being stopped", "try again when it runs"),
    "57P03": ("the server is starting or stopping", "try again in a moment"),
    "22021": _UNSTORABLE,
}

_POSTGRESQL_CLASSES: dict[str, _Saying] = {
    "08": ("the connection was lost", "check that the server runs, then try again"),
}


def place_of(url: URL) -> str:
    """The database in words, its password hidden."""
    if url.get_backend_name() == "sqlite":
        return f"database {url.database}"
    return f"database {url.set(drivername='postgresql').render_as_string(hide_password=True)}"


@contextmanager
def plain_faults(url: URL) -> Iterator[None]:
    """Turn what the database or a column type refuses into the project's own errors."""
    try:
        yield
    except StatementError as error:
        refused = error.orig
        if isinstance(refused, KittingError | TypeError):
            raise refused from None
        saying = _saying(error)
        if saying is None:
            raise
        raise BadInput(Problem(place_of(url), *saying)) from error
    except UnicodeEncodeError as error:
        raise BadInput(Problem(place_of(url), *_UNSTORABLE)) from error


@contextmanager
def whole_or_not(connection: Connection, place: str) -> Iterator[None]:
    """Store what the block stores whole, or nothing of it even if the caller goes on."""
    try:
        with connection.begin_nested():
            yield
    except IntegrityError as error:
        raise BadInput(
            Problem(
                place,
                "a row refers to something that is not there, or a key stands twice",
                "`kitting catalog check` names the row",
            )
        ) from error


def _saying(error: StatementError) -> _Saying | None:
    refused = error.orig
    code = getattr(refused, "sqlite_errorcode", None)
    if isinstance(code, int):
        return _SQLITE.get(code & 0xFF)
    state = getattr(refused, "sqlstate", None)
    if isinstance(state, str):
        return _POSTGRESQL.get(state) or _POSTGRESQL_CLASSES.get(state[:2])
    if isinstance(error, DataError):
        return _UNSTORABLE  # the driver itself refuses a null character, without a code
    if isinstance(error, OperationalError):
        # No code: the server was never reached, or hung up; its own last line says most.
        said = str(refused).strip().splitlines()[-1:] or ["no answer"]
        return (
            f"it cannot be reached ({said[0].strip()})",
            "check that the server runs and that user, password and host are right",
        )
    return None
