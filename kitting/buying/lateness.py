"""What a later day means for a job: when the last of its parts comes, before and after."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from datetime import date

    from kitting.buying.replies import Question
    from kitting.buying.standing import LineStanding, OrderRecord


@dataclass(frozen=True, slots=True)
class DateEffect:
    """When the last part that is on order for a job comes: as asked, and by a reply's day.

    `waits_for` names the line that comes last if the reply is accepted.
    """

    job: str
    asked: date
    offered: date
    waits_for: str

    @property
    def days(self) -> int:
        """By how many days the job's last part comes later; none when another is later anyway."""
        return (self.offered - self.asked).days

    @property
    def sentence(self) -> str:
        """In one line."""
        if not self.days:
            return (
                f"job {self.job} waits for {self.waits_for} until {self.offered:%d %b %Y} anyway: "
                "its last part comes no later"
            )
        days = "1 day" if self.days == 1 else f"{self.days} days"
        return (
            f"the last part for job {self.job} then comes on {self.offered:%d %b %Y}, {days} "
            f"later than {self.asked:%d %b %Y}"
        )


def effects_on_date(
    question: Question, number: str, records: Iterable[OrderRecord]
) -> tuple[DateEffect, ...]:
    """Return, for each job that a questioned line is for, when its last part comes.

    Args:
        question: what the reply to order `number` asks at one line.
        number: that order's number.
        records: every order that anything of those jobs is in. What is cancelled, or is here
            already, is not waited for, but for what would come after all. Of a line that is asked
            about, the day asked for counts.
    """
    if not question.later or question.said.day is None:
        return ()
    waiting = [each for record in records for each in _waited_for(record)]
    effects = []
    for job in sorted({need.job for need in question.line.needed_by}):
        mine = [each for each in waiting if each.is_for(job)]
        asked = max((each.line.due for each in mine), default=None)
        if asked is None:
            continue
        later = [
            (question.said.day if each.is_line(number, question.line.id) else each.line.due, each)
            for each in mine
        ]
        day, last = max(later, key=lambda pair: pair[0])
        effects.append(DateEffect(job, asked, day, last.line.line.name))
    return tuple(effects)


@dataclass(frozen=True, slots=True)
class _Waited:
    number: str
    line: LineStanding

    def is_for(self, job: str) -> bool:
        return any(need.job == job for need in self.line.line.needed_by)

    def is_line(self, number: str, line_id: str) -> bool:
        return (self.number, self.line.line.id) == (number, line_id)


def _waited_for(record: OrderRecord) -> Iterator[_Waited]:
    if not record.cancelled:
        for each in record.lines:
            if each.coming or (each.question is not None and each.question.after_all):
                yield _Waited(record.order.number, each)
