"""What a customer may decline, and what he has said, as text."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from kitting.cli.job import job_heading
from kitting.cli.screen import paragraph, table
from kitting.job.approval import Item, again_key, declined_before, declined_now, items_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from kitting.job.path import JobPath


@dataclass(frozen=True, slots=True)
class Standing:
    """A job as it was when a revision was given, and as it is with the customer's words."""

    then: JobPath
    now: JobPath
    revision: int

    def rows(self) -> Iterator[tuple[Item, Decimal | None, str, str]]:
        """Each item with its price, the customer's word ('' for none yet), and who took it down."""
        prices = {line.kit_line: line.net for line in self.then.estimate.lines if line.kit_line}
        said = {each.of: each for each in self.now.bench.approvals}
        for item in items_of(self.then):
            words = {said[of].agreed for of in item.of if of in said}
            word = "" if not words else "yes" if words == {True} else "no"
            who = next((said[of].who for of in item.of if of in said), "")
            yield item, prices.get(item.key), word, who


def approval_text(standing: Standing, *, answered: bool) -> str:
    """Each line: its key, what it is, how much it is wanted, its price, and the customer's word."""
    rows = [
        (item.key, item.text, item.weight, f"{net:,}" if net is not None else "in a set", word)
        for item, net, word, _ in standing.rows()
    ]
    then, now = standing.then.estimate, standing.now.estimate
    silent = sum(1 for row in rows if not row[4])
    parts = [
        job_heading(standing.then),
        f"Estimate revision {standing.revision}",
        table(("line", "what", "wanted", "price", "said"), rows, right="3"),
        f"{silent} of {len(rows)} lines without a word.",
        declined_text(standing.now),
        _again_text(standing),
        paragraph(
            f"As given {then.currency} {then.likely.gross:,} likely with VAT; "
            f"as it stands {now.currency} {now.likely.gross:,}."
        ),
    ]
    if answered:
        parts.append(
            paragraph(
                "Kept. Give it as the next revision: "
                f"kitting estimate {standing.now.bench.job.number} --keep"
            )
        )
    return "\n\n".join(part for part in parts if part)


def _again_text(standing: Standing) -> str:
    """How what was declined under an earlier revision is agreed to after all."""
    still = {again_key(each.approval) for each in declined_now(standing.now)}
    out = [item for key, item in declined_before(standing.then).items() if key in still]
    lines = [paragraph(f"- {item.text}: --line {item.key} yes", 2, 2) for item in out]
    return "\n".join(("Declined before; if he wants it after all:", *lines)) if lines else ""


def declined_text(path: JobPath) -> str:
    """What the customer has declined, and what of it is needed all the same."""
    lines = []
    for declined in declined_now(path):
        approval = declined.approval
        name = path.family.position_by_key[approval.position].name
        said = f"- {approval.what} ({name}): told to {approval.who}, {approval.when:%d %b %Y}"
        if declined.back:
            said += f"; NEEDED all the same now: {declined.back[0]}"
        lines.append(paragraph(said, 2, 2))
    return "\n".join(("Declined by the customer:", *lines)) if lines else ""
