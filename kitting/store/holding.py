"""Holding a job for a unit of work, so that what two benches add to it comes in an order."""

from __future__ import annotations

from sqlalchemy import Connection, Table, func, select

from kitting.errors import BadInput, NotFound, Problem
from kitting.store.parts import table_of
from kitting.store.tables.building import ClosingRow
from kitting.store.tables.jobs import JobRow

_JOBS = table_of(JobRow)
_CLOSINGS = table_of(ClosingRow)


def hold_job(connection: Connection, number: str) -> None:
    """Lock a job's row until the end of the unit of work, to add something to the job.

    Raises:
        NotFound: no such job.
        BadInput: the job is closed, and so only read.
    """
    hold_even_closed(connection, number)
    closed = connection.execute(select(_CLOSINGS).where(_CLOSINGS.c.job == number)).first()
    if closed is not None:
        raise BadInput(
            Problem(
                f"job {number}",
                f"it was closed by {closed.who} on {closed.on_day:%d %b %Y} and is only read",
                "open a new job for further work on the engine",
            )
        )


def hold_even_closed(connection: Connection, number: str) -> None:
    """Lock the row of a job that may be closed, before anything depends on a look at the job.

    Raises:
        NotFound: no such job.
    """
    query = select(_JOBS.c.number).where(_JOBS.c.number == number).with_for_update()
    if connection.execute(query).first() is None:
        raise job_not_found(connection, number)


def job_not_found(connection: Connection, number: str) -> NotFound:
    """What to say of a job that is not there: near numbers are offered."""
    from rapidfuzz.process import extract

    known = connection.execute(select(_JOBS.c.number)).scalars().all()
    return NotFound("job", number, [name for name, *_ in extract(number, known, limit=3)])


def next_line(connection: Connection, table: Table, number: str) -> int:
    """The number of the next row of a job in a table; hold the job first."""
    last = connection.execute(select(func.max(table.c.line)).where(table.c.job == number)).scalar()
    return (last or 0) + 1
