"""Which assembly stage waits for a line, and until when, if it comes on another day or not here."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping
    from datetime import date

    from kitting.buying.orders import LineFor
    from kitting.buying.standing import LineStanding, OrderRecord
    from kitting.catalog.family import Family


@dataclass(frozen=True, slots=True)
class StageWait:
    """How long a stage of a job waits for parts on order: as asked, and as it would be.

    `until` is None where nothing says when the pieces come. `waits_for` is what comes last then.
    """

    job: str
    stage: str
    asked: date
    until: date | None
    waits_for: str

    @property
    def days(self) -> int:
        """By how many days it waits longer; none where another line is later anyway."""
        return (self.until - self.asked).days if self.until is not None else 0

    @property
    def sentence(self) -> str:
        """In one line."""
        stage = f"stage '{self.stage}' of job {self.job}"
        if self.until is None:
            return f"{stage} cannot start: nobody can say when {self.waits_for} comes"
        if not self.days:
            return f"{stage} waits for {self.waits_for} until {self.until:%d %b %Y} anyway"
        days = "1 day" if self.days == 1 else f"{self.days} days"
        return f"{stage} waits for {self.waits_for} until {self.until:%d %b %Y}, {days} longer"


def stages_waiting(
    line: LineStanding,
    needs: Iterable[LineFor],
    comes: date | None,
    families: Mapping[str, Family],
    records: Iterable[OrderRecord],
) -> tuple[StageWait, ...]:
    """Return the stages that a line's coming on `comes` keeps waiting; none if it is no later.

    Args:
        line: the line, as it stands.
        needs: those of its needs that have not all their pieces here.
        comes: when all its pieces are there; None when nobody can say.
        families: the edition of each job's family, by job number.
        records: every order that anything of those jobs is in.
    """
    if comes is not None and comes <= line.due:
        return ()
    coming = tuple(_coming(records))
    waits = []
    for job, stage in sorted(set(_stages(needs, families))):
        due = [
            (each.due, each.line.name)
            for each in coming
            if (job, stage) in set(_stages(each.line.needed_by, families))
        ]
        asked, last = max([*due, (line.due, line.line.name)])
        if comes is None or comes > asked:
            waits.append(StageWait(job, stage, asked, comes, line.line.name))
        else:
            waits.append(StageWait(job, stage, asked, asked, last))
    return tuple(waits)


def _coming(records: Iterable[OrderRecord]) -> Iterator[LineStanding]:
    for record in records:
        if not record.cancelled:
            yield from (each for each in record.lines if each.coming)


def _stages(needs: Iterable[LineFor], families: Mapping[str, Family]) -> Iterator[tuple[str, str]]:
    """The stages, each with its job, that the needs' positions are built in."""
    for need in needs:
        family = families.get(need.job)
        for key in need.positions if family is not None else ():
            position = family.position_by_key.get(key) if family is not None else None
            if family is not None and position is not None:
                yield need.job, family.assembly_by_key[position.assembly].stage
