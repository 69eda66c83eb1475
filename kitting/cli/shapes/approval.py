"""The shape of the customer's word on an estimate."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from kitting.cli.shapes.job import JobShape, Step, job_shape, steps_of
from kitting.job.approval import again_key, declined_now

if TYPE_CHECKING:
    from kitting.cli.approval_screens import Standing


@dataclass(frozen=True, slots=True)
class ApprovalLineShape:
    """One line: how much it is wanted (needed, advised, optional) and what the customer said.

    `net` is none where a set brings it; `said` is yes, no or none.
    """

    line: str
    what: str
    weight: str
    net: str | None
    said: str | None
    who: str
    because: list[Step]


@dataclass(frozen=True, slots=True)
class DeclinedShape:
    """Something declined; `back` says why it is needed all the same now, if it is.

    `again` is the key by which a later revision agrees to it after all.
    """

    line: str
    what: str
    position: str
    operation: str
    again: str
    back: list[Step]


@dataclass(frozen=True, slots=True)
class ApprovalShape:
    """A kept estimate's lines with the customer's word; totals as given and as they stand."""

    job: JobShape
    revision: int
    currency: str
    lines: list[ApprovalLineShape]
    declined: list[DeclinedShape]
    given_gross: str
    now_gross: str


def approval_shape(standing: Standing) -> ApprovalShape:
    """The shape of where a revision stands."""
    then, now = standing.then, standing.now
    return ApprovalShape(
        job=job_shape(then.bench.job),
        revision=standing.revision,
        currency=then.estimate.currency,
        lines=[
            ApprovalLineShape(
                line=item.key,
                what=item.text,
                weight=item.weight,
                net=str(net) if net is not None else None,
                said=word or None,
                who=who,
                because=steps_of(item.because),
            )
            for item, net, word, who in standing.rows()
        ],
        declined=[
            DeclinedShape(
                each.approval.kit_line,
                each.approval.what,
                each.approval.position,
                each.approval.operation,
                again_key(each.approval),
                steps_of(each.back),
            )
            for each in declined_now(now)
        ],
        given_gross=str(then.estimate.likely.gross),
        now_gross=str(now.estimate.likely.gross),
    )
