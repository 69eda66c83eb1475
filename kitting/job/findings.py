"""What the bench said: the values that the strip stage hands on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import date

    from kitting.catalog.model import Verdict
    from kitting.measure import Quantity


@dataclass(frozen=True, slots=True)
class Reading:
    """One number off an instrument, as typed and as understood.

    `uncertainty` is the reading's own expanded U when the bench stated one, else None and the
    shop's setting for the instrument holds.
    """

    feature: str
    station: str
    direction: str
    text: str
    value: Quantity
    instrument: str = ""
    uncertainty: Quantity | None = None


@dataclass(frozen=True, slots=True)
class Seen:
    """An observation in its grade; `amount` holds a depth of score and the like where given."""

    observation: str
    grade: str
    amount: Quantity | None = None


@dataclass(frozen=True, slots=True)
class Fitted:
    """What was found in the position: a number stamped on it, or attributes measured off it."""

    number: str = ""
    attributes: Mapping[str, str] | None = None


@dataclass(frozen=True, slots=True)
class Finding:
    """Everything the bench said of one position of one job.

    `place` says where it was written (file, sheet and rows), `sound` that the bench looked and
    found nothing amiss without writing a figure.
    """

    position: str
    readings: tuple[Reading, ...] = ()
    seen: tuple[Seen, ...] = ()
    fitted: Fitted | None = None
    sound: bool = False
    note: str = ""
    who: str = ""
    when: date | None = None
    place: str = ""

    @property
    def says_something(self) -> bool:
        """Whether the bench looked at the position at all."""
        return bool(self.readings or self.seen or self.fitted or self.sound)


@dataclass(frozen=True, slots=True)
class Override:
    """A named person's decision against the rules, with the reason; kept for good."""

    position: str
    verdict: Verdict
    operation: str
    who: str
    reason: str
    when: date


@dataclass(frozen=True, slots=True)
class SizeDecision:
    """A named person's choice of the grade of a size table, with the reason; kept for good."""

    table: str
    grade: str
    who: str
    reason: str
    when: date


@dataclass(frozen=True, slots=True)
class Approval:
    """The customer's word on one renewal or operation of a position, under one revision.

    `operation` is empty for a renewal. `kit_line` and `what` say how it stood in that revision's
    kit; `who` took the customer's word down.
    """

    revision: int
    kit_line: str
    position: str
    operation: str
    what: str
    agreed: bool
    who: str
    when: date

    @property
    def of(self) -> tuple[str, str]:
        """What it speaks of: position and operation."""
        return self.position, self.operation


@dataclass(frozen=True, slots=True)
class Job:
    """One customer's engine on the bench: which engine, which edition of the catalogue.

    `closed` is the day on which `closed_by` closed it: from then on it is only read.
    """

    number: str
    family: str
    edition: str
    variant: str
    engine_number: str
    customer: str
    opened: date
    note: str = ""
    closed: date | None = None
    closed_by: str = ""


@dataclass(frozen=True, slots=True)
class Bench:
    """A job with all its findings and decisions: what the stages take.

    `stripped` are the assemblies that were taken apart. The last finding or decision of
    a position or table holds, and so does the customer's last word on each line.
    """

    job: Job
    stripped: tuple[str, ...]
    findings: tuple[Finding, ...]
    overrides: tuple[Override, ...] = ()
    size_decisions: tuple[SizeDecision, ...] = ()
    approvals: tuple[Approval, ...] = ()

    @property
    def declined(self) -> frozenset[tuple[str, str]]:
        """What the customer will not have: position, and operation (empty for a renewal)."""
        last = {approval.of: approval for approval in self.approvals}
        return frozenset(of for of, approval in last.items() if not approval.agreed)
