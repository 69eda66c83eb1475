"""Where a supplier failed with a part: what that bars, and what is only told.

Short, damaged, wrong, or refused as he offered it: the draft that replaces it for the same job goes
elsewhere, unless the shop says that he is asked again. For other jobs the part stays on offer; they
are told. What the shop itself cancels, or sends back unused, is no failure.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Collection

    from kitting.catalog.model import PartNumber


@dataclass(frozen=True, slots=True)
class Failure:
    """A supplier's part that left some jobs' line open again; `what` in a few words."""

    supplier: str
    name: str
    part: PartNumber
    order: str
    jobs: tuple[str, ...]
    what: str

    @property
    def sentence(self) -> str:
        """Who failed with what, where that stands, and for whom."""
        jobs = f"job {', '.join(self.jobs)}" if self.jobs else "no job"
        return f"{self.name}, {self.part}: {self.what} ({self.order}, for {jobs})"


@dataclass(frozen=True, slots=True)
class Failures:
    """Every failure so far; `again` are the suppliers that are asked again all the same."""

    every: tuple[Failure, ...] = ()
    again: frozenset[str] = frozenset()

    def of(self, jobs: Collection[str]) -> tuple[Failure, ...]:
        """Those that bar a supplier's part from the drafts of some jobs."""
        return tuple(
            each
            for each in self.every
            if each.supplier not in self.again and set(each.jobs) & set(jobs)
        )

    def barred(self, jobs: Collection[str]) -> frozenset[tuple[str, PartNumber]]:
        """Suppliers by key with the part that they are not asked for again."""
        return frozenset((each.supplier, each.part) for each in self.of(jobs))

    def why(self, parts: Collection[PartNumber], jobs: Collection[str]) -> str:
        """Why parts are in no order: who alone sells them and has failed; '' if nobody has."""
        mine = [each for each in self.of(jobs) if each.part in parts]
        if not mine:
            return ""
        said = "; ".join(each.sentence for each in mine)
        again = " ".join(dict.fromkeys(f"--even-from {each.supplier}" for each in mine))
        return f"nobody else sells it than where it failed: {said}. To ask there again: {again}"

    def told(self, bought: Collection[tuple[str, PartNumber]]) -> tuple[str, ...]:
        """What to mind where suppliers' parts are bought that failed before."""
        return tuple(
            f"it failed before: {each.sentence}"
            for each in self.every
            if (each.supplier, each.part) in bought
        )

    def passed_over(self, parts: Collection[PartNumber], jobs: Collection[str]) -> tuple[str, ...]:
        """Where parts that jobs still want are not asked for again, as they failed there."""
        return tuple(
            f"not asked for there again: {each.sentence}; if it shall: --even-from {each.supplier}"
            for each in self.of(jobs)
            if each.part in parts
        )


NO_FAILURES = Failures()
