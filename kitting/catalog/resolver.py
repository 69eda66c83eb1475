"""Every way to satisfy the need of a part today, best first, each with its chain of reasons.

Pure: it works on the few links, fits and parts about the need, wherever they came from. A number is
reached by its best chain only. Loops and contradictions are told and never followed.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass, field
from fractions import Fraction
from heapq import heappop, heappush
from itertools import count, islice, product
from math import ceil, prod
from types import MappingProxyType
from typing import TYPE_CHECKING

from kitting.catalog.conditions import holds_for
from kitting.catalog.links_in_force import LinksInForce, conditions_of
from kitting.catalog.model import LinkKind
from kitting.catalog.ways import Need, NotTaken, Resolution, Step, Subgraph, Way, WayKind
from kitting.errors import Problem

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
    from datetime import date

    from kitting.catalog.family import Family
    from kitting.catalog.model import Fit, Link, PartNumber

_KINDS = (
    WayKind.AS_NAMED,
    WayKind.SUPERSEDED,
    WayKind.EITHER_WAY,
    WayKind.ONE_WAY,
    WayKind.FULL_SET,
    WayKind.WITH_WORK,
)
_RANK = {
    LinkKind.SUPERSEDED: 1,
    LinkKind.EITHER_WAY: 2,
    LinkKind.ONE_WAY: 3,
    LinkKind.FULL_SET: 4,
    LinkKind.WITH_WORK: 5,
}
# Of a split, so many ways of each part are put together, and so many combinations are given.
_OF_EACH, _COMBINATIONS = 4, 16
# Splits within splits beyond this depth are no catalogue that a person wrote.
_DEEPEST = 4


def resolve(need: Need, subgraph: Subgraph, on_day: date) -> Resolution:
    """Return every way to satisfy `need` on a day, best first.

    Current numbers come before old stock; then the simpler way: as named, superseded, interchange
    either way, one way, as a full set, with work; then less work, the shorter chain, fewer
    companions.
    """
    search = _Search(need, subgraph, on_day)
    found = search.ways(need.part, Fraction(need.quantity), frozenset())
    ways = sorted((_way(each) for each in found), key=_order)
    return Resolution(need, tuple(ways), tuple(search.not_taken), tuple(search.problems))


def links_about(family: Family, part: PartNumber) -> tuple[Link, ...]:
    """The links of a family that can be reached from a part, by either end."""
    found: dict[Link, None] = {}
    seen, waiting = {part}, deque([part])
    while waiting:
        for link in family.links_at.get(waiting.popleft(), ()):
            found[link] = None
            for number in {link.old, link.new} - seen:
                seen.add(number)
                waiting.append(number)
    return tuple(found)


def subgraph_about(family: Family, part: PartNumber, position: str = "") -> Subgraph:
    """All that a family says about a part and the numbers linked with it.

    For a need at one `position` that has any fits, the fits of the others are left aside.
    """
    fits = family.fits_of.get(position) or family.fits
    return Subgraph(links_about(family, part), fits, family.part_by_number)


_NOTHING: Mapping[PartNumber, Fraction] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class _Found:
    """A way being put together; quantities are exact until it is whole."""

    parts: Mapping[PartNumber, Fraction]
    current: bool = True
    rank: int = 0
    steps: tuple[Step, ...] = ()
    companions: Mapping[PartNumber, Fraction] = field(default_factory=dict)
    also: tuple[PartNumber, ...] = ()
    # The operations along its chain, each once.
    work: tuple[str, ...] = ()


@dataclass(slots=True)
class _Search:
    """One search: what it met that is no way, and what is wrong with the data."""

    need: Need
    subgraph: Subgraph
    on_day: date
    not_taken: list[NotTaken] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    links: LinksInForce = field(init=False)
    _fits: dict[PartNumber, list[Fit]] = field(default_factory=dict)
    _serving: frozenset[PartNumber] | None = None
    _told: set[object] = field(default_factory=set)

    def __post_init__(self) -> None:
        self.links = LinksInForce(self.need, self.subgraph, self.on_day)
        for fit in self.subgraph.fits:
            if fit.position == self.need.position:
                self._fits.setdefault(fit.part, []).append(fit)

    def ways(
        self,
        part: PartNumber,
        quantity: Fraction,
        behind: frozenset[PartNumber],
        depth: int = 0,
    ) -> list[_Found]:
        """Every way to so many of a part; the numbers `behind` it are not gone back to."""
        order = count()
        heap: list[tuple[int, int, int, int, PartNumber, Fraction, _Found]] = []
        found: list[_Found] = []
        factor: dict[PartNumber, Fraction] = {}

        def wait(number: PartNumber, amount: Fraction, so_far: _Found) -> None:
            if number in behind:
                return
            key = (so_far.rank, len(so_far.work), len(so_far.steps), next(order))
            heappush(heap, (*key, number, amount, so_far))

        wait(part, quantity, _Found(_NOTHING))
        while heap:
            *_, number, amount, so_far = heappop(heap)
            if number in factor:
                self._compare(number, factor[number], amount, so_far)
                continue
            factor[number] = amount
            ends = self._ends_here(number, amount, so_far)
            if ends is not None:
                found.append(ends)
            for link, far in self.links.interchanges(number):
                wait(far, *self._after(link, number, far, amount, so_far))
            rows = self._followed(number)
            if len(rows) == 1:
                wait(rows[0].new, *self._after(rows[0], number, rows[0].new, amount, so_far))
            elif rows and depth < _DEEPEST:
                trail = behind | {number, *(step.start for step in so_far.steps)}
                found += self._split(rows, number, amount, so_far, trail, depth + 1)
            elif rows:
                self._tell(number, "it lies in splits within splits, too deep to follow", rows[0])
            self._tell_barred(number)
        return found

    def _ends_here(self, number: PartNumber, amount: Fraction, so_far: _Found) -> _Found | None:
        """The way that ends at a number, if it can be bought and fits."""
        rows = self.links.superseding(number)
        why = self._why_unfit(number)
        if not why and rows and not all(link.use_up for link in rows):
            why = f"superseded by {', '.join(str(link.new) for link in rows)}"
        if why:
            self._tell(number, why, rows[0] if rows else None)
            return None
        return _Found(
            {number: amount},
            not rows,
            so_far.rank,
            so_far.steps,
            so_far.companions,
            so_far.also,
            so_far.work,
        )

    def _why_unfit(self, number: PartNumber) -> str:
        parts = self.subgraph.parts
        if parts is not None and number not in parts:
            return "the catalogue has no part of that number"
        need = self.need
        rows = self._fits.get(number, [])
        here = [fit for fit in rows if holds_for(fit, need.variant, need.running)]
        if rows and not here:
            return "it does not fit this engine"
        if here and need.grade and all(fit.grade not in {"", need.grade} for fit in here):
            return f"it is of grade {', '.join(sorted({fit.grade for fit in here}))}"
        if not rows and self._is_misplaced(number):
            return (
                f"it does not fit {need.position}, and no link that holds leads to it from a "
                "number that does"
            )
        return ""

    def _is_misplaced(self, number: PartNumber) -> bool:
        """Whether a number is neither listed for the position nor linked with one that is.

        What is reached from a number that is listed may stand for it; so may an older one.
        """
        if not (self.need.position and self.subgraph.fits) or self.need.part in self._fits:
            return False
        if self._serving is None:
            self._serving = self.links.standing_for(self._fits)
        return number not in self._serving

    def _followed(self, number: PartNumber) -> tuple[Link, ...]:
        """The rows by which a number is superseded, if the data say one thing about it."""
        rows = self.links.superseding(number)
        if not rows:
            return ()
        contradiction = self.links.contradiction(number)
        if contradiction is not None:
            self._report(contradiction)
            return ()
        circle = self.links.circle(number)
        if circle is not None:
            self._report(circle)
            return ()
        return rows

    def _after(
        self, link: Link, start: PartNumber, end: PartNumber, amount: Fraction, so_far: _Found
    ) -> tuple[Fraction, _Found]:
        """The quantity and the way after one more step."""
        step = Step(link, start, end)
        backwards = step.backwards
        before, after = link.old_quantity, link.new_quantity
        if backwards:
            before, after = after, before
        needed = amount if before == after else amount * Fraction(after, before)
        companions = so_far.companions
        for companion in link.needs if not backwards else ():
            companions = _with(companions, {companion: needed})
        also = self.links.merged_with(link) if link.kind is LinkKind.SUPERSEDED else ()
        is_new_work = link.operation and link.operation not in so_far.work
        return needed, _Found(
            so_far.parts,
            so_far.current,
            max(so_far.rank, _RANK[link.kind]),
            (*so_far.steps, step),
            companions,
            tuple(dict.fromkeys((*so_far.also, *also))) if also else so_far.also,
            (*so_far.work, link.operation) if is_new_work else so_far.work,
        )

    def _split(
        self,
        rows: tuple[Link, ...],
        number: PartNumber,
        amount: Fraction,
        so_far: _Found,
        behind: frozenset[PartNumber],
        depth: int,
    ) -> Iterator[_Found]:
        """One number answered by several: every part of it, by each of its best ways."""
        whole = so_far
        choices: list[list[_Found]] = []
        every = 1
        for link in rows:
            needed, whole = self._after(link, number, link.new, amount, whole)
            ways = self.ways(link.new, needed, behind, depth)
            if not ways:
                self._tell(number, f"of the split, nothing answers {link.new}", link)
            choices.append(sorted(ways, key=lambda each: _order(_way(each)))[:_OF_EACH])
            every *= len(ways)
        left_out = every - min(prod(map(len, choices)), _COMBINATIONS)
        if left_out:
            more = f"{left_out} more ways to put it together are left out"
            self._tell(number, f"of the split, {more}", rows[0])
        for chosen in islice(product(*choices), _COMBINATIONS):
            yield _together(whole, chosen)

    def _compare(
        self, number: PartNumber, first: Fraction, again: Fraction, so_far: _Found
    ) -> None:
        if first != again:
            chain = " → ".join([str(self.need.part), *(str(step.end) for step in so_far.steps)])
            self._report(
                Problem(
                    str(number),
                    f"by {chain} it takes {again} of it, by another chain {first}",
                    "the quantities of these links disagree; the shorter chain is given",
                )
            )

    def _tell_barred(self, number: PartNumber) -> None:
        for link, far, why in self.links.barred(number):
            self._tell(far, why, link, barred=True)

    def _tell(self, part: PartNumber, why: str, link: Link | None, *, barred: bool = False) -> None:
        if (part, why, link) not in self._told:
            self._told.add((part, why, link))
            self.not_taken.append(NotTaken(part, why, link, barred))

    def _report(self, problem: Problem) -> None:
        if problem not in self._told:
            self._told.add(problem)
            self.problems.append(problem)


def _together(whole: _Found, chosen: tuple[_Found, ...]) -> _Found:
    parts, companions = _NOTHING, whole.companions
    for each in chosen:
        parts = _with(parts, each.parts)
        companions = _with(companions, each.companions)
    every = (whole, *chosen)
    return _Found(
        parts=parts,
        current=all(each.current for each in chosen),
        rank=max(each.rank for each in every),
        steps=tuple(step for each in every for step in each.steps),
        companions=companions,
        also=tuple(dict.fromkeys(number for each in every for number in each.also)),
        work=tuple(dict.fromkeys(named for each in every for named in each.work)),
    )


def _with(
    some: Mapping[PartNumber, Fraction], more: Mapping[PartNumber, Fraction]
) -> Mapping[PartNumber, Fraction]:
    """Some quantities and more of them, added up."""
    if not (some and more):
        return more or some
    added = dict(some)
    for number, amount in more.items():
        added[number] = added.get(number, 0) + amount
    return added


def _way(found: _Found) -> Way:
    return Way(
        kind=_KINDS[found.rank] if found.current else WayKind.OLD_STOCK,
        parts=tuple((number, ceil(amount)) for number, amount in found.parts.items()),
        current=found.current,
        because=found.steps,
        conditions=conditions_of(step.link for step in found.steps),
        operations=found.work,
        companions=tuple((number, ceil(amount)) for number, amount in found.companions.items()),
        also_answers=found.also,
    )


def _order(way: Way) -> tuple[object, ...]:
    rank = len(_KINDS) if way.kind is WayKind.OLD_STOCK else _KINDS.index(way.kind)
    return (
        not way.current,
        rank,
        len(way.operations),
        len(way.because),
        len(way.companions),
        tuple(str(number) for number, _ in way.parts),
    )
