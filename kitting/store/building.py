"""The build in the database: figures measured at assembly, and that a job is closed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import UTC, datetime
from types import MappingProxyType

from sqlalchemy import Connection, insert

from kitting.buying.sharing import OfLine
from kitting.job.build_figures import BuildFigure, Closing
from kitting.store.built_in import keep_built_in
from kitting.store.holding import hold_job, next_line
from kitting.store.rows import RowMap
from kitting.store.tables import building as tables

_FIGURES = RowMap(BuildFigure, tables.BuildFigureRow, named={"when": "on_day"})
_CLOSINGS = RowMap(Closing, tables.ClosingRow, named={"when": "on_day"})
_NOTHING: Mapping[tuple[str, str, OfLine], int] = MappingProxyType({})


class Building:
    """Reads and writes the build records of jobs within one unit of work."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def figures(self, job: str) -> tuple[BuildFigure, ...]:
        """Return the figures of a job that hold: the last of each place."""
        return tuple({each.spot: each for each in self.history(job)}.values())

    def history(self, job: str) -> tuple[BuildFigure, ...]:
        """Return every figure that a job ever had, in the order in which they came."""
        return _FIGURES.all(self._connection, _FIGURES.table.c.job == job)

    def add_figures(self, job: str, figures: Sequence[BuildFigure]) -> tuple[BuildFigure, ...]:
        """Add figures, and return those that were new: the same again is not added.

        A figure takes the place of an earlier one; both are kept.

        Raises:
            NotFound: no such job.
            BadInput: the job is closed, or a figure cannot be kept exactly.
        """
        hold_job(self._connection, job)
        holding = {figure.spot: replace(figure, place="") for figure in self.figures(job)}
        fresh = tuple(each for each in figures if holding.get(each.spot) != replace(each, place=""))
        _FIGURES.insert(
            self._connection,
            fresh,
            first=next_line(self._connection, _FIGURES.table, job),
            job=job,
            entered_at=datetime.now(UTC),
        )
        return fresh

    def closing(self, job: str) -> Closing | None:
        """Return who closed a job, or None while it is open."""
        rows = _CLOSINGS.select(self._connection, _CLOSINGS.table.c.job == job, keys=())
        return _CLOSINGS.read(rows[0]) if rows else None

    def close(
        self, closing: Closing, built_in: Mapping[tuple[str, str, OfLine], int] = _NOTHING
    ) -> None:
        """Close a job for good.

        Args:
            closing: who closes it, when, and why.
            built_in: what the engine has in it of what was ordered, by order, line and need.

        Raises:
            NotFound: no such job.
            BadInput: it is closed already.
        """
        hold_job(self._connection, closing.job)
        row = _CLOSINGS.row(closing, entered_at=datetime.now(UTC))
        self._connection.execute(insert(_CLOSINGS.table).values(row))
        keep_built_in(self._connection, closing.job, built_in)
