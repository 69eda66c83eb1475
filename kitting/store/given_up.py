"""What jobs have given up of what was ordered for them: declined, or closed without being built."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sqlalchemy import select

from kitting.job.build_figures import NOT_BUILT
from kitting.store.parts import table_of
from kitting.store.tables.building import ApprovalRow, ClosingRow

if TYPE_CHECKING:
    from collections.abc import Collection

    from sqlalchemy import Connection

_APPROVALS = table_of(ApprovalRow)
_CLOSINGS = table_of(ClosingRow)


def given_up_by(connection: Connection, jobs: Collection[str]) -> frozenset[tuple[str, str]]:
    """Return the positions given up, each with its job; of a job not built an empty one, for all.

    The customer's last word on the renewal of a position holds.
    """
    words = connection.execute(
        select(_APPROVALS.c.job, _APPROVALS.c.position, _APPROVALS.c.agreed)
        .where(_APPROVALS.c.job.in_(jobs), _APPROVALS.c.operation == "")
        .order_by(_APPROVALS.c.job, _APPROVALS.c.line)
    )
    last = {(job, position): agreed for job, position, agreed in words}
    closed = connection.execute(
        select(_CLOSINGS.c.job).where(
            _CLOSINGS.c.job.in_(jobs), _CLOSINGS.c.note.startswith(NOT_BUILT, autoescape=True)
        )
    ).scalars()
    declined = {of for of, agreed in last.items() if not agreed}
    return frozenset(declined | {(job, "") for job in closed})
