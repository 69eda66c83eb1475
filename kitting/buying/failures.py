"""Where a supplier failed with a part: what that bars, and what is only told.

Short, damaged, wrong, or refused as he offered it: the draft that replaces it for the same job goes
elsewhere, unless the shop says that he is asked again. For other jobs the part stays on offer; they
are told. In one plan over several jobs a part is bought for all of them alike, so that there the
others go elsewhere too: they are told so. What the shop itself cancels, or sends back unused, is no
failure.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Mapping, Sequence

    from kitting.buying.orders import Order
    from kitting.buying.standing import LineStanding
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
        return f"{self.name}, {self.part}: {self.what} ({self.order}, for {self._whose})"

    @property
    def briefly(self) -> str:
        """What failed, where that stands, and for whom."""
        return f"{self.what}, {self.order}, for {self._whose}"

    @property
    def _whose(self) -> str:
        return f"job {', '.join(self.jobs)}" if self.jobs else "no job"


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

    def barring(self, wanting: Mapping[PartNumber, Collection[str]]) -> tuple[Failure, ...]:
        """Those that bar a part from the jobs that want it; `wanting` are these, by part."""
        return tuple(
            each
            for each in self.every
            if each.supplier not in self.again and set(each.jobs) & set(wanting.get(each.part, ()))
        )

    def why(self, wanting: Mapping[PartNumber, Collection[str]], job: str) -> str:
        """Why parts are in no order for a job: who alone sells them and has failed; '' if nobody.

        `wanting` are the jobs that are bought for together, by the parts that they want.
        """
        mine = self.barring(wanting)
        if not mine:
            return ""
        said = "; ".join(each.sentence for each in mine)
        again = " ".join(dict.fromkeys(f"--even-from {each.supplier}" for each in mine))
        alone = "" if any(job in each.jobs for each in mine) else f"{_alone([job])}. "
        return (
            f"nobody else sells it than where it failed: {said}. {alone}To ask there again: {again}"
        )

    def told(self, bought: Collection[tuple[str, PartNumber]]) -> tuple[str, ...]:
        """What to mind where suppliers' parts are bought that failed before."""
        return tuple(
            f"it failed before: {each.sentence}"
            for each in self.every
            if (each.supplier, each.part) in bought
        )

    def passed_over(self, wanting: Mapping[PartNumber, Collection[str]]) -> tuple[str, ...]:
        """Where parts that jobs still want are not asked for again, as they failed there.

        Jobs that are bought for together avoid it together, as one pack may serve several: told.
        """
        said = []
        for each in self.barring(wanting):
            others = sorted(set(wanting[each.part]) - set(each.jobs))
            beside = f"; {_alone(others)}" if others else ""
            again = f"if it shall: --even-from {each.supplier}"
            said.append(f"not asked for there again: {each.sentence}; {again}{beside}")
        return tuple(said)


def _alone(jobs: Sequence[str]) -> str:
    """What jobs that had no failure may do."""
    named = f"job {jobs[0]} avoids" if len(jobs) == 1 else f"jobs {', '.join(jobs)} avoid"
    by = "itself" if len(jobs) == 1 else "themselves"
    return (
        f"{named} it only because one pack may serve several jobs here: planned by {by}, it is open"
    )


NO_FAILURES = Failures()


def failures_of(order: Order, each: LineStanding) -> Iterator[Failure]:
    """Where the supplier of an order failed with a line that fell short."""
    counts = {"damaged": each.damaged, "wrong": each.wrong}
    said = [f"{count} {what}" for what, count in counts.items() if count]
    if each.refused:
        said.append("his answer was refused")
    elif (short := each.short) > 0:
        said.append(f"{short} short")
    supplier, line = order.supplier, each.line
    jobs = tuple(sorted({need.job for need in line.needed_by}))
    came = Failure(
        supplier.key, supplier.name, each.part, order.number, jobs, ", ".join(said) or "short"
    )
    yield came
    if each.part != line.part:
        yield replace(came, part=line.part, what=f"he had {each.part} in its place")
