"""Estimates as they were given: with the prices of that day, whatever the price lists say later."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from decimal import Decimal
from typing import Any

from sqlalchemy import ColumnElement, Connection, func, insert, select

from kitting.catalog.model import PartNumber
from kitting.errors import NotFound
from kitting.store.holding import hold_job
from kitting.store.parts import keep_parts
from kitting.store.rows import RowMap
from kitting.store.tables import estimates as tables


@dataclass(frozen=True, slots=True)
class KeptLine:
    """One line as it was given.

    `kind` says what it charges for (part, set, outside work, labour, carriage), `kit_line` which
    line of the kit it prices. `supplier` to `lapsed` are the offer as it stood: packs of so many
    pieces at `pack_price` in `currency`, good until `price_until`. `cost` is what the shop pays,
    `net` and `worst_net` what the customer was asked without VAT, all in the shop's money.
    `because` is any JSON value.
    """

    kind: str
    stage: str
    text: str
    quantity: Decimal
    unit: str
    cost: Decimal
    unit_net: Decimal
    net: Decimal
    worst_net: Decimal
    vat: str
    kit_line: str = ""
    part: PartNumber | None = None
    supplier: str = ""
    their_number: str = ""
    pack: int | None = None
    packs: int | None = None
    pack_price: Decimal | None = None
    currency: str = ""
    price_until: date | None = None
    lapsed: bool = False
    flags: tuple[str, ...] = ()
    because: Any = None


@dataclass(frozen=True, slots=True)
class KeptTotal:
    """The total of one VAT category in one outcome (likely, worst)."""

    outcome: str
    vat: str
    percent: Decimal
    net: Decimal
    tax: Decimal


@dataclass(frozen=True, slots=True)
class KeptEstimate:
    """One revision of a job's estimate; revision 0 is one that has not been kept yet."""

    job: str
    given: date
    currency: str
    lines: tuple[KeptLine, ...]
    totals: tuple[KeptTotal, ...] = ()
    warnings: tuple[str, ...] = ()
    who: str = ""
    note: str = ""
    revision: int = 0


_HEADS = RowMap(KeptEstimate, tables.EstimateRow, apart=("lines", "totals"))
_LINES = RowMap(KeptLine, tables.EstimateLineRow)
_TOTALS = RowMap(KeptTotal, tables.EstimateTotalRow)


class Estimates:
    """Reads and writes estimates within one unit of work."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def keep_estimate(self, estimate: KeptEstimate) -> int:
        """Store an estimate as the job's next revision, and return its number.

        Raises:
            NotFound: no such job.
            BadInput: the job is closed, or an amount cannot be kept exactly.
        """
        hold_job(self._connection, estimate.job)
        heads = _HEADS.table
        last = self._connection.execute(
            select(func.max(heads.c.revision)).where(heads.c.job == estimate.job)
        ).scalar()
        revision = (last or 0) + 1
        with self._connection.begin_nested():
            self._insert(replace(estimate, revision=revision))
        return revision

    def estimate(self, number: str, revision: int | None = None) -> KeptEstimate:
        """Return a job's estimate, the last one when no revision is given.

        Raises:
            NotFound: the job has no estimate, or not that revision.
        """
        heads = _HEADS.table.c
        where = [heads.job == number]
        if revision is not None:
            where.append(heads.revision == revision)
        found = self._heads(*where)
        if not found:
            asked = number if revision is None else f"{number} revision {revision}"
            raise NotFound("estimate of job", asked)
        return self._whole(found[-1])

    def estimates(self, number: str) -> tuple[KeptEstimate, ...]:
        """Return every estimate that a job was ever given, the first one first."""
        return tuple(self._whole(head) for head in self._heads(_HEADS.table.c.job == number))

    def _insert(self, estimate: KeptEstimate) -> None:
        keep_parts(self._connection, (line.part for line in estimate.lines if line.part))
        row = _HEADS.row(estimate, entered_at=datetime.now(UTC))
        self._connection.execute(insert(_HEADS.table).values(row))
        owner: dict[str, Any] = {"job": estimate.job, "revision": estimate.revision}
        _LINES.insert(self._connection, estimate.lines, **owner)
        _TOTALS.insert(self._connection, estimate.totals, **owner)

    def _heads(self, *where: ColumnElement[bool]) -> list[KeptEstimate]:
        rows = _HEADS.select(self._connection, *where, keys=("revision",))
        return [_HEADS.read(row[1:], lines=(), totals=()) for row in rows]

    def _whole(self, head: KeptEstimate) -> KeptEstimate:
        lines, totals = _LINES.table.c, _TOTALS.table.c
        return replace(
            head,
            lines=_LINES.all(
                self._connection, lines.job == head.job, lines.revision == head.revision
            ),
            totals=_TOTALS.all(
                self._connection, totals.job == head.job, totals.revision == head.revision
            ),
        )
