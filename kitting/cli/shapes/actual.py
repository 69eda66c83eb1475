"""The shape of an estimate against what the job came to."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from kitting.cli.shapes.job import JobShape, job_shape
from kitting.cli.shapes.money import EstimateShape

if TYPE_CHECKING:
    from kitting.job.actual import Comparison
    from kitting.job.path import JobPath


@dataclass(frozen=True, slots=True)
class ComparedShape:
    """One row; `actual` and `over` are none where the cost is not known, and `note` says why."""

    kind: str
    text: str
    part: str | None
    estimated: str
    actual: str | None
    over: str | None
    note: str


@dataclass(frozen=True, slots=True)
class ActualShape:
    """A kept estimate against what came: costs of the shop, without VAT.

    `estimated_of_known` and `actual` add up the rows of which the actual cost is known; `asked` is
    what the customer was asked.
    """

    job: JobShape
    revision: int
    currency: str
    rows: list[ComparedShape]
    estimated: str
    estimated_of_known: str
    actual: str
    asked: str


EstimateAnswer = EstimateShape | ActualShape
"""What `kitting estimate` answers: an estimate, or with --against-actual a comparison."""


def actual_shape(path: JobPath, revision: int, compared: Comparison) -> ActualShape:
    """The shape of a comparison."""
    return ActualShape(
        job=job_shape(path.bench.job),
        revision=revision,
        currency=path.trade.shop.currency,
        rows=[
            ComparedShape(
                kind=row.kind,
                text=row.text,
                part=str(row.part) if row.part else None,
                estimated=str(row.estimated),
                actual=str(row.actual) if row.actual is not None else None,
                over=str(row.over) if row.over is not None else None,
                note=row.note,
            )
            for row in compared.rows
        ],
        estimated=str(compared.estimated),
        estimated_of_known=str(compared.estimated_of_known),
        actual=str(compared.actual),
        asked=str(compared.asked),
    )
