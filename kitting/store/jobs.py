"""Jobs in the database: opened once, then only added to."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import Any, TypeVar

from sqlalchemy import Connection, insert, select
from sqlalchemy.exc import IntegrityError

from kitting.errors import BadInput, NotFound, Problem
from kitting.job.findings import (
    Approval,
    Bench,
    Finding,
    Fitted,
    Job,
    Override,
    Reading,
    Seen,
    SizeDecision,
)
from kitting.store.holding import hold_job, job_not_found, next_line
from kitting.store.parts import table_of
from kitting.store.rows import RowMap, insert_rows
from kitting.store.tables import jobs as tables
from kitting.store.tables.building import ApprovalRow, ClosingRow
from kitting.store.tables.catalogue import EditionRow

T = TypeVar("T", Finding, Override)


@dataclass(frozen=True, slots=True)
class _FittedAttribute:
    attribute: str
    value: str


@dataclass(frozen=True, slots=True)
class _Stripped:
    assembly: str


_FINDINGS = RowMap(
    Finding,
    tables.FindingRow,
    named={"when": "on_day"},
    apart=("readings", "seen", "fitted"),
)
_READINGS = RowMap(Reading, tables.ReadingRow)
_SEEN = RowMap(Seen, tables.SeenRow)
_FITTED = RowMap(_FittedAttribute, tables.FittedAttributeRow)
_OVERRIDES = RowMap(Override, tables.OverrideRow, named={"when": "on_day"})
_SIZES = RowMap(
    SizeDecision, tables.SizeDecisionRow, named={"when": "on_day", "table": "size_table"}
)
_APPROVALS = RowMap(Approval, ApprovalRow, named={"when": "on_day"})
_STRIPPED = RowMap(_Stripped, tables.StrippedRow)
_JOBS = table_of(tables.JobRow)
_EDITIONS = table_of(EditionRow)
_CLOSINGS = table_of(ClosingRow)


@dataclass(frozen=True, slots=True)
class Added:
    """How many findings and stripped assemblies were new."""

    findings: int
    stripped: int


class Jobs:
    """Reads and writes jobs within one unit of work."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def open_job(self, job: Job) -> None:
        """Add a job.

        Raises:
            BadInput: the number is taken.
            NotFound: the catalogue has not that family or that edition of it.
        """
        edition_id = self._connection.execute(
            select(_EDITIONS.c.id).where(
                _EDITIONS.c.family == job.family, _EDITIONS.c.edition == job.edition
            )
        ).scalar()
        if edition_id is None:
            raise NotFound("edition of an engine family", f"{job.family} {job.edition}")
        taken = BadInput(
            Problem("", f"job '{job.number}' is there already", "give this one another number")
        )
        if self._exists(job.number):
            raise taken
        row = insert(_JOBS).values(
            number=job.number,
            edition_id=edition_id,
            variant=job.variant,
            engine_number=job.engine_number,
            customer=job.customer,
            opened=job.opened,
            note=job.note,
            entered_at=datetime.now(UTC),
        )
        try:
            with self._connection.begin_nested():
                self._connection.execute(row)
        except IntegrityError as error:  # another bench took the number in the same moment
            raise taken from error

    def jobs(self) -> tuple[Job, ...]:
        """Return every job, by the day it was opened, then by number."""
        query = self._select().order_by(_JOBS.c.opened, _JOBS.c.number)
        return tuple(_job(row) for row in self._connection.execute(query))

    def job(self, number: str) -> Job:
        """Return a job by its number, or raise NotFound."""
        row = self._connection.execute(self._select().where(_JOBS.c.number == number)).first()
        if row is None:
            raise job_not_found(self._connection, number)
        return _job(row)

    def bench(self, number: str) -> Bench:
        """Return a job with what holds: of each position and table the last word."""
        whole = self.bench_history(number)
        return replace(
            whole,
            findings=_last_of_each(whole.findings),
            overrides=_last_of_each(whole.overrides),
            size_decisions=tuple({each.table: each for each in whole.size_decisions}.values()),
        )

    def bench_history(self, number: str) -> Bench:
        """Return a job with every finding and decision that was ever entered, in that order."""
        job = self.job(number)
        stripped = _STRIPPED.all(self._connection, _STRIPPED.table.c.job == number)
        return Bench(
            job,
            tuple(each.assembly for each in stripped),
            self._findings(number),
            _OVERRIDES.all(self._connection, _OVERRIDES.table.c.job == number),
            _SIZES.all(self._connection, _SIZES.table.c.job == number),
            _APPROVALS.all(self._connection, _APPROVALS.table.c.job == number),
        )

    def add_findings(
        self, number: str, findings: Iterable[Finding], stripped: Iterable[str] = ()
    ) -> Added:
        """Add what the bench said; what it said before in the same words is not added again.

        A finding takes the place of an earlier one of its position; both are kept.
        """
        hold_job(self._connection, number)
        before = self.bench(number)
        holding = {finding.position: finding for finding in before.findings}
        plain = (_as_kept(each) for each in findings)
        fresh = [each for each in plain if holding.get(each.position) != each]
        assemblies = [each for each in dict.fromkeys(stripped) if each not in before.stripped]
        now = datetime.now(UTC)
        with self._connection.begin_nested():
            _STRIPPED.insert(
                self._connection,
                [_Stripped(assembly) for assembly in assemblies],
                first=len(before.stripped) + 1,
                job=number,
                entered_at=now,
            )
            self._insert_findings(number, fresh, now)
        return Added(len(fresh), len(assemblies))

    def add_override(self, number: str, override: Override) -> None:
        """Add a named person's decision; it takes the place of an earlier one, which is kept."""
        hold_job(self._connection, number)
        _OVERRIDES.insert(
            self._connection,
            [override],
            first=next_line(self._connection, _OVERRIDES.table, number),
            job=number,
            entered_at=datetime.now(UTC),
        )

    def add_size_decision(self, number: str, decision: SizeDecision) -> None:
        """Add a named person's choice of a size; it takes the place of an earlier one."""
        hold_job(self._connection, number)
        _SIZES.insert(
            self._connection,
            [decision],
            first=next_line(self._connection, _SIZES.table, number),
            job=number,
            entered_at=datetime.now(UTC),
        )

    def hold(self, *numbers: str) -> None:
        """Lock jobs until the end of the unit of work, before what is added depends on a look.

        Raises:
            NotFound: no such job.
            BadInput: a job is closed.
        """
        # In one order, so that of two who want the same jobs neither waits for the other.
        for number in sorted(set(numbers)):
            hold_job(self._connection, number)

    def add_approvals(self, number: str, approvals: Sequence[Approval]) -> None:
        """Add the customer's word on some lines; it takes the place of an earlier one."""
        hold_job(self._connection, number)
        _APPROVALS.insert(
            self._connection,
            approvals,
            first=next_line(self._connection, _APPROVALS.table, number),
            job=number,
            entered_at=datetime.now(UTC),
        )

    def _insert_findings(self, number: str, findings: Sequence[Finding], now: datetime) -> None:
        first = next_line(self._connection, _FINDINGS.table, number)
        rows = _FINDINGS.rows(findings, first=first, job=number, entered_at=now)
        for row, finding in zip(rows, findings, strict=True):
            row["fitted_number"] = finding.fitted.number if finding.fitted else None
        insert_rows(self._connection, _FINDINGS.table, rows)
        under: tuple[tuple[RowMap[Any], list[Iterable[Any]]], ...] = (
            (_READINGS, [finding.readings for finding in findings]),
            (_SEEN, [finding.seen for finding in findings]),
            (_FITTED, [_attributes(finding.fitted) for finding in findings]),
        )
        for table, groups in under:
            table.insert_under(self._connection, groups, first=first, job=number)

    def _findings(self, number: str) -> tuple[Finding, ...]:
        readings = _READINGS.under(self._connection, _READINGS.table.c.job == number)
        seen = _SEEN.under(self._connection, _SEEN.table.c.job == number)
        fitted = _FITTED.under(self._connection, _FITTED.table.c.job == number)
        rows = _FINDINGS.select(
            self._connection,
            _FINDINGS.table.c.job == number,
            keys=("line", "fitted_number"),
        )
        return tuple(
            _FINDINGS.read(
                row[2:],
                readings=tuple(readings.get(row[0], ())),
                seen=tuple(seen.get(row[0], ())),
                fitted=_fitted(row[1], fitted.get(row[0], ())),
            )
            for row in rows
        )

    def _exists(self, number: str) -> bool:
        query = select(_JOBS.c.number).where(_JOBS.c.number == number)
        return self._connection.execute(query).first() is not None

    def _select(self) -> Any:
        columns = (_JOBS, _EDITIONS.c.family, _EDITIONS.c.edition)
        closed = (_CLOSINGS.c.on_day.label("closed"), _CLOSINGS.c.who.label("closed_by"))
        return (
            select(*columns, *closed)
            .join(_EDITIONS, _EDITIONS.c.id == _JOBS.c.edition_id)
            .outerjoin(_CLOSINGS, _CLOSINGS.c.job == _JOBS.c.number)
        )


def _job(row: Any) -> Job:
    return Job(
        number=row.number,
        family=row.family,
        edition=row.edition,
        variant=row.variant,
        engine_number=row.engine_number,
        customer=row.customer,
        opened=row.opened,
        note=row.note,
        closed=row.closed,
        closed_by=row.closed_by or "",
    )


def _as_kept(finding: Finding) -> Finding:
    """The finding as it will be read again: no attributes measured is none, not an empty list."""
    if finding.fitted is None or finding.fitted.attributes:
        return finding
    return replace(finding, fitted=Fitted(finding.fitted.number))


def _attributes(fitted: Fitted | None) -> list[_FittedAttribute]:
    if fitted is None or fitted.attributes is None:
        return []
    return [_FittedAttribute(*pair) for pair in fitted.attributes.items()]


def _fitted(number: str | None, attributes: Sequence[_FittedAttribute]) -> Fitted | None:
    if number is None:
        return None
    held: Mapping[str, str] = {each.attribute: each.value for each in attributes}
    return Fitted(number, held or None)


def _last_of_each(said: Iterable[T]) -> tuple[T, ...]:
    """The last word on each position, in the order in which the positions were last spoken of."""
    last: dict[str, T] = {}
    for each in said:
        last.pop(each.position, None)
        last[each.position] = each
    return tuple(last.values())
