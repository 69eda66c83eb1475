"""The whole tree of supersession and interchange about a part, with what became of each number.

Every number that any link joins to the part stands in it once, and every link once, whichever way
it points and whether it holds or not. Pure, and flat: a row names the row that it hangs from.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from kitting.catalog.links_in_force import LinksInForce
from kitting.catalog.model import LinkKind
from kitting.catalog.resolver import resolve
from kitting.catalog.rings import one_way_rings

if TYPE_CHECKING:
    from datetime import date

    from kitting.catalog.model import Link, PartNumber
    from kitting.catalog.ways import Need, Resolution, Subgraph, Way
    from kitting.errors import Problem

_NONE = -1
_AHEAD = {
    LinkKind.SUPERSEDED: "is superseded by",
    LinkKind.EITHER_WAY: "may be changed for, either way,",
    LinkKind.ONE_WAY: "may be changed for, and not the reverse,",
    LinkKind.FULL_SET: "may be changed for, as a full set,",
    LinkKind.WITH_WORK: "may be changed for, with work,",
}
_BACK = {
    LinkKind.SUPERSEDED: "supersedes",
    LinkKind.EITHER_WAY: "may be changed for, either way,",
    LinkKind.ONE_WAY: "may stand for, and not the reverse,",
    LinkKind.FULL_SET: "may stand for, as a full set,",
    LinkKind.WITH_WORK: "may stand for, with work,",
}


@dataclass(frozen=True, slots=True)
class TraceRow:
    """One number of the tree and the link by which it hangs there; rows come parents first.

    `at` counts the rows from 0; `parent` is the row it hangs from, -1 at the part asked for.
    `backwards` says that the link is seen from its new number; `why_not` why the link does not
    hold here, '' when it does; `circle` that it is part of one. `again` is the row where the number
    stands already with all that hangs from it, -1 when it is this one. `place` is where the number
    stands among the ways, 1 for today's answer, 0 for none; `not_taken` is then why.
    """

    at: int
    part: PartNumber
    parent: int = _NONE
    link: Link | None = None
    backwards: bool = False
    why_not: str = ""
    circle: bool = False
    again: int = _NONE
    place: int = 0
    not_taken: tuple[str, ...] = ()

    @property
    def is_again(self) -> bool:
        """Whether the number stands in another row, and only the link is shown here."""
        return self.again != _NONE

    @property
    def joined(self) -> str:
        """How the number above stands to this one, to be read on with this one's number."""
        if self.link is None:
            return ""
        return (_BACK if self.backwards else _AHEAD)[self.link.kind]


@dataclass(frozen=True, slots=True)
class Trace:
    """A part's tree as of a day; `problems` are the loops and contradictions anywhere in it.

    `odd` is what is followed and yet should be looked at: one-way interchange that leads in a ring.
    """

    need: Need
    day: date
    rows: tuple[TraceRow, ...]
    resolution: Resolution
    problems: tuple[Problem, ...]
    odd: tuple[Problem, ...] = ()

    @property
    def answer(self) -> Way | None:
        """Today's answer, or None where nothing answers."""
        return self.resolution.best

    def children(self) -> dict[int, list[TraceRow]]:
        """The rows that hang from each row that any hang from."""
        found: dict[int, list[TraceRow]] = {}
        for row in self.rows[1:]:
            found.setdefault(row.parent, []).append(row)
        return found


def trace(need: Need, subgraph: Subgraph, on_day: date) -> Trace:
    """Return the tree about the part of `need`, and what the resolver makes of it on a day.

    Args:
        need: the part, and the engine, position and grade that it is wanted for.
        subgraph: every link that can be reached from the part, as for `resolve`.
        on_day: the day that the links must hold on.
    """
    resolution = resolve(need, subgraph, on_day)
    drawing = _Drawing(LinksInForce(need, subgraph, on_day), resolution, subgraph.links)
    rows = drawing.rows()
    problems = dict.fromkeys(resolution.problems)
    for row in rows:
        for problem in (drawing.links.contradiction(row.part), drawing.links.circle(row.part)):
            if problem is not None:
                problems[problem] = None
    odd = tuple(ring for _, ring in one_way_rings(subgraph.links))
    return Trace(need, on_day, rows, resolution, tuple(problems), odd)


@dataclass(slots=True)
class _Branch:
    """A link from one number to another, and whether the far number hangs there."""

    link: Link
    far: PartNumber
    backwards: bool
    owns: bool = True


@dataclass(slots=True)
class _Drawing:
    links: LinksInForce
    resolution: Resolution
    _every: tuple[Link, ...]
    _touching: dict[PartNumber, list[_Branch]] = field(default_factory=dict)

    def rows(self) -> tuple[TraceRow, ...]:
        """The rows, parents first, each number as near to the part as it can stand."""
        for link in self._every:
            self._touching.setdefault(link.old, []).append(_Branch(link, link.new, False))
        for link in self._every:
            self._touching.setdefault(link.new, []).append(_Branch(link, link.old, True))
        branches = self._branches()
        made: list[TraceRow] = []
        at_row: dict[PartNumber, int] = {}
        waiting: list[tuple[int, _Branch | None]] = [(_NONE, None)]
        while waiting:
            parent, branch = waiting.pop()
            part = self.resolution.need.part if branch is None else branch.far
            made.append(self._row(len(made), made, parent, branch))
            if branch is None or branch.owns:
                at_row[part] = made[-1].at
                waiting += [(made[-1].at, each) for each in reversed(branches.get(part, []))]
        return tuple(self._pointed(row, at_row) for row in made)

    def _branches(self) -> dict[PartNumber, list[_Branch]]:
        """What hangs from each number: breadth first, so that the shortest chain is shown."""
        hung: dict[PartNumber, list[_Branch]] = {}
        seen, shown = {self.resolution.need.part}, set[int]()
        waiting = deque(seen)
        while waiting:
            here = waiting.popleft()
            for branch in self._touching.get(here, ()):
                if id(branch.link) in shown:
                    continue
                shown.add(id(branch.link))
                branch.owns = branch.far not in seen
                hung.setdefault(here, []).append(branch)
                if branch.owns:
                    seen.add(branch.far)
                    waiting.append(branch.far)
        return hung

    def _row(self, at: int, made: list[TraceRow], parent: int, branch: _Branch | None) -> TraceRow:
        if branch is None:
            part = self.resolution.need.part
            return TraceRow(at, part, place=self._place(part), not_taken=self._reasons(part))
        row = TraceRow(
            at,
            branch.far,
            parent,
            branch.link,
            branch.backwards,
            self.links.why_not(branch.link),
            self._in_circle(branch.link),
            again=_NONE if branch.owns else 0,
        )
        if not branch.owns:
            return row
        place = self._place(branch.far)
        reasons = self._reasons(branch.far)
        if not (place or reasons):
            reasons = (self._why_torn(branch) or _beyond(row, made[parent]),)
        return replace(row, place=place, not_taken=reasons)

    def _why_torn(self, branch: _Branch) -> str:
        """That the number lies beyond a fault of the data."""
        link = branch.link
        if link.kind is LinkKind.SUPERSEDED and not branch.backwards:
            if self.links.contradiction(link.old) is not None:
                return f"two changes supersede {link.old} at once, and neither is followed"
            if self.links.loop(branch.far):
                return "supersessions in a circle, which nobody can follow"
        return ""

    def _pointed(self, row: TraceRow, at_row: dict[PartNumber, int]) -> TraceRow:
        return replace(row, again=at_row[row.part]) if row.is_again else row

    def _place(self, part: PartNumber) -> int:
        ways = enumerate(self.resolution.ways, start=1)
        return next((at for at, way in ways if part in dict(way.parts)), 0)

    def _reasons(self, part: PartNumber) -> tuple[str, ...]:
        if self._place(part):
            return ()
        told = [each for each in self.resolution.not_taken if each.part == part]
        own = [each for each in told if not each.barred]
        return tuple(dict.fromkeys(each.why for each in own or told))

    def _in_circle(self, link: Link) -> bool:
        loop = self.links.loop(link.old) if link.kind is LinkKind.SUPERSEDED else ()
        return link.new in loop and not self.links.why_not(link)


def _beyond(row: TraceRow, parent: TraceRow) -> str:
    """Why a number was not come to at all."""
    if row.link is not None and row.backwards:
        if row.link.kind is LinkKind.SUPERSEDED:
            return f"an older number: {parent.part} answers for it, not the reverse"
        if row.link.kind is not LinkKind.EITHER_WAY:
            return f"one way only: {parent.part} may stand for it, not the reverse"
    return f"only by way of {parent.part}, and the way does not lead there"
