"""What was measured at assembly, and that a job is closed: values that are only ever added to."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from kitting.job.findings import Reading

if TYPE_CHECKING:
    from datetime import date

    from kitting.measure import Quantity


@dataclass(frozen=True, slots=True)
class BuildFigure:
    """One figure measured at assembly, as typed and as understood, signed.

    `place` says where it was written: file, sheet and row, or the command line.
    """

    feature: str
    station: str
    direction: str
    text: str
    value: Quantity
    instrument: str
    who: str
    when: date
    uncertainty: Quantity | None = None
    place: str = ""

    @property
    def spot(self) -> tuple[str, str, str]:
        """What it is a figure of: the feature, and where along and round it."""
        return self.feature, self.station, self.direction

    @property
    def reading(self) -> Reading:
        """The figure as the rules of judging take it."""
        return Reading(
            self.feature,
            self.station,
            self.direction,
            self.text,
            self.value,
            self.instrument,
            self.uncertainty,
        )


# What the note of a job begins with that was closed without being built.
NOT_BUILT = "not built: "


@dataclass(frozen=True, slots=True)
class Closing:
    """Who closed a job, when, and what he had to say."""

    job: str
    who: str
    when: date
    note: str = ""
