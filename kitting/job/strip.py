"""The strip stage: what a sheet reported joins what the bench has already said of the job.

Nothing is overwritten in silence. Where two people differ beyond what their instruments allow, or
one calls sound what the other found damaged, the difference is a question, and the report is
refused until somebody says whose word holds.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from kitting.errors import BadInput, Problem
from kitting.job.strip_differences import Disagreement, differences, pooled, same_hand

if TYPE_CHECKING:
    from collections.abc import Mapping

    from kitting.catalog.family import Family
    from kitting.job.findings import Bench, Finding
    from kitting.measure import Quantity

EARLIER = "earlier"
LATER = "later"


@dataclass(frozen=True, slots=True)
class StripReport:
    """What one filled strip sheet says: findings in strip order, and the assemblies apart.

    `notes` belong to the whole engine; `warnings` are what the reader took with a doubt.
    """

    findings: tuple[Finding, ...]
    stripped: tuple[str, ...]
    who: str = ""
    notes: str = ""
    warnings: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class MergeResult:
    """What a report makes of the bench: the positions that it alters, and what stays a question.

    `added` were not spoken of before; of `altered` more, or something else, is now said;
    `stripped` are the assemblies newly apart. The bench with all of it comes from `accepted`.
    """

    bench: Bench
    added: tuple[str, ...]
    altered: tuple[str, ...]
    stripped: tuple[str, ...]
    questions: tuple[Disagreement, ...]

    @property
    def changes_nothing(self) -> bool:
        """Whether the bench is as it was, with nothing to ask."""
        return not (self.added or self.altered or self.stripped or self.questions)

    def accepted(self) -> Bench:
        """Return the bench with the report in it.

        Raises:
            BadInput: with every open question, each with both names, places and values.
        """
        if self.questions:
            raise BadInput(
                Problem(
                    f"{question.position}, {question.what}",
                    question.sentence,
                    "measure it again together, or say whose word holds: "
                    + " or ".join(f"'{name}'" for name in question.names),
                )
                for question in self.questions
            )
        return self.bench


def merge_findings(
    bench: Bench,
    report: StripReport,
    family: Family,
    *,
    take: str = "",
    uncertainty: Mapping[str, Quantity] | None = None,
) -> MergeResult:
    """Return what `report` makes of `bench`; loading the same report twice changes nothing.

    A person's later sheet corrects what the same person said before. What different people said
    of one position is pooled wherever it does not contradict.

    Args:
        bench: the job with what was found before. The last finding of a position holds.
        report: what a sheet says.
        family: tells which grade of an observation means nothing amiss.
        take: whose word holds where two differ: a person's name, 'earlier' (the bench as it is)
            or 'later' (the report).
        uncertainty: expanded U (k = 2) by instrument; readings that differ by no more than the sum
            of both agree, and the earlier one stays.
    """
    held = {finding.position: finding for finding in bench.findings}
    added: list[str] = []
    altered: list[str] = []
    questions: list[Disagreement] = []
    fresh: list[Finding] = []
    for new in report.findings:
        old = held.get(new.position)
        if old is None:
            added.append(new.position)
            fresh.append(new)
            continue
        open_ones = differences(old, new, family, uncertainty or {})
        winner = new if same_hand(old, new) else _chosen(old, new, take)
        if open_ones and winner is None:
            questions.extend(open_ones)
            continue
        result = pooled(old, new, family, new_wins=winner is new)
        if result is not old:
            altered.append(new.position)
            fresh.append(result)
    newly = tuple(key for key in dict.fromkeys(report.stripped) if key not in bench.stripped)
    merged = replace(
        bench,
        stripped=(*bench.stripped, *newly),
        findings=(*bench.findings, *fresh),
    )
    return MergeResult(merged, tuple(added), tuple(altered), newly, tuple(questions))


def _chosen(old: Finding, new: Finding, take: str) -> Finding | None:
    """Whose word holds where the two differ, or None when nobody has said."""
    name = take.strip().casefold()
    if not name:
        return None
    if name in {LATER, new.who.casefold()}:
        return new
    return old if name in {EARLIER, old.who.casefold()} else None
