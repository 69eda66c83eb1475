"""The estimate of a job as text, for the office: with what the shop pays."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.cli.approval_screens import declined_text
from kitting.cli.job import job_heading, readiness_text
from kitting.cli.screen import paragraph, table
from kitting.job.estimate import LineKind

if TYPE_CHECKING:
    from kitting.job.estimate import Estimate, EstimateLine
    from kitting.job.path import JobPath

_GROUPS = (
    ("Parts", (LineKind.PART, LineKind.SET)),
    ("Outside work", (LineKind.WORK,)),
    ("Labour and carriage", (LineKind.LABOUR, LineKind.CARRIAGE)),
)


def estimate_text(path: JobPath, revision: int | None = None) -> str:
    """The priced lines by sort, the totals, and what must be said with them."""
    estimate = path.estimate
    groups = [_group(title, estimate.of(*kinds)) for title, kinds in _GROUPS]
    kept = f"Kept as revision {revision}." if revision is not None else ""
    parts = [
        job_heading(path),
        paragraph(
            f"Prices as of {estimate.day:%d %b %Y}, in {estimate.currency}, without VAT unless "
            "said."
        ),
        *groups,
        totals_text(estimate),
        "\n".join(paragraph(f"- {says}", indent=2, hang=2) for says in estimate.warnings),
        readiness_text(path.kit.readiness),
        declined_text(path),
        kept,
    ]
    return "\n\n".join(part for part in parts if part)


def _group(title: str, lines: tuple[EstimateLine, ...]) -> str:
    if not lines:
        return ""
    rows = [
        (
            line.part.number if line.part else "",
            _text(line),
            f"{line.quantity.normalize():f}",
            f"{line.unit_net:,}",
            f"{line.net:,}",
            f"{line.worst_net:,}",
        )
        for line in lines
    ]
    return f"{title}\n" + table(
        ("part", "what", "qty", "price", "likely", "worst"), rows, right="2345"
    )


def _text(line: EstimateLine) -> str:
    said = [line.text, line.supplier] if line.supplier else [line.text]
    flags = f" ({'; '.join(line.flags)})" if line.flags else ""
    return " ".join(said) + flags


def totals_text(estimate: Estimate) -> str:
    """Likely and worst totals side by side."""
    worst_vat = {line.category: line for line in estimate.worst.vat}
    rows = [("Without VAT", f"{estimate.likely.net:,}", f"{estimate.worst.net:,}")]
    rows += [
        (
            f"VAT {line.category} {line.rate:f} % on {line.base:,}",
            f"{line.amount:,}",
            f"{worst_vat[line.category].amount:,}",
        )
        for line in estimate.likely.vat
    ]
    rows.append(("To pay", f"{estimate.likely.gross:,}", f"{estimate.worst.gross:,}"))
    return table((f"Totals, {estimate.currency}", "likely", "worst case"), rows, right="12")
