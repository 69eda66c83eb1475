"""`kitting estimate --against-actual`: a kept estimate against what the job came to."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from kitting.cli.job import job_heading
from kitting.cli.opened import path_within
from kitting.cli.screen import paragraph, table
from kitting.errors import BadInput, Problem

if TYPE_CHECKING:
    from kitting.cli.answer import Answer
    from kitting.job.actual import Comparison
    from kitting.job.path import JobPath


def actual_answer(number: str, revision: int | None) -> Answer:
    """The newest kept estimate, or the one named, against what came.

    Raises:
        NotFound: no such job, or no such revision.
        BadInput: no estimate of it is kept.
    """
    from kitting.buying.delivered import carriage_to, carried, made_up_for
    from kitting.job.actual import Given, against_actual
    from kitting.job.estimate import LineKind
    from kitting.store import Database

    with Database().read() as work:
        path = path_within(work, number)
        if not work.estimates.estimates(number):
            raise BadInput(
                Problem(
                    f"job {number}",
                    "no estimate of it is kept, so there is nothing to hold against",
                    f"keep one: kitting estimate {number} --keep",
                )
            )
        kept = work.estimates.estimate(number, revision)
        records = carried(work.orders.records_for(number))
    given = [
        Given(LineKind(line.kind), line.kit_line, line.text, line.part, line.cost, line.net)
        for line in kept.lines
    ]
    carriage = carriage_to(records, number) if records else None
    compared = against_actual(given, path, carriage, made_up_for(records, number))

    def shape() -> object:
        from kitting.cli.shapes.actual import actual_shape

        return actual_shape(path, kept.revision, compared)

    return shape, lambda: _text(path, kept.revision, compared)


def _text(path: JobPath, revision: int, compared: Comparison) -> str:
    rows = [
        (
            row.part.number if row.part else "",
            row.text,
            f"{row.estimated:,.2f}",
            _money(row.actual),
            _money(row.over),
            row.note,
        )
        for row in compared.rows
    ]
    unknown = len(compared.rows) - len(compared.known)
    over = compared.actual - compared.estimated_of_known
    word = "dearer" if over > 0 else "cheaper"
    return "\n\n".join(
        (
            job_heading(path),
            f"Estimate revision {revision} against what came, costs of the shop without VAT",
            table(("part", "what", "reckoned", "actual", "over", "note"), rows, right="234"),
            paragraph(
                f"Of what is known: reckoned {compared.estimated_of_known:,.2f}, came to "
                f"{compared.actual:,.2f}: {abs(over):,.2f} {word}."
                if over
                else f"Of what is known: {compared.actual:,.2f}, as reckoned."
            ),
            paragraph(
                f"{unknown} of {len(compared.rows)} rows are not known yet. The customer was asked "
                f"{compared.asked:,.2f} without VAT."
            ),
        )
    )


def _money(amount: Decimal | None) -> str:
    return "" if amount is None else f"{amount:,.2f}"
