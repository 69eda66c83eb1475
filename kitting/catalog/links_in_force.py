"""The links that hold for one engine, grade and day, from each number's point of view."""

from __future__ import annotations

from collections import deque
from graphlib import CycleError, TopologicalSorter
from typing import TYPE_CHECKING

from kitting.catalog.conditions import holds_for
from kitting.catalog.model import LinkKind
from kitting.errors import Problem

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence
    from datetime import date

    from kitting.catalog.model import Link, PartNumber
    from kitting.catalog.ways import Need, Subgraph


class LinksInForce:
    """Supersessions and interchanges in force; loops and contradictions are told apart."""

    def __init__(self, need: Need, subgraph: Subgraph, on_day: date) -> None:
        self._need = need
        self._day = on_day
        self._from: dict[PartNumber, list[Link]] = {}
        self._to: dict[PartNumber, list[Link]] = {}
        for link in subgraph.links:
            self._from.setdefault(link.old, []).append(link)
            self._to.setdefault(link.new, []).append(link)
        self._superseding: dict[PartNumber, tuple[Link, ...]] = {}
        self._loops: dict[PartNumber, tuple[PartNumber, ...]] = {}

    def why_not(self, link: Link) -> str:
        """Why a link does not hold for this need; empty when it does."""
        need = self._need
        if link.since is not None and self._day < link.since:
            return f"only from {link.since}"
        if link.until is not None and self._day > link.until:
            return f"only until {link.until}"
        if link.with_grade and need.grade != link.with_grade:
            return f"only at grade {link.with_grade}"
        if not holds_for(link, need.variant, need.running):
            return "; ".join(engine_words(link))
        if link.kind is LinkKind.FULL_SET and not need.whole:
            return "only when every one of the position is renewed"
        return ""

    def superseding(self, part: PartNumber) -> tuple[Link, ...]:
        """The rows in force by which a number is superseded; several are a split or disagree."""
        found = self._superseding.get(part)
        if found is None:
            found = self._superseding[part] = tuple(
                link
                for link in self._from.get(part, ())
                if link.kind is LinkKind.SUPERSEDED and not self.why_not(link)
            )
        return found

    def interchanges(self, part: PartNumber) -> tuple[tuple[Link, PartNumber], ...]:
        """The links in force by which another number may stand for this one, and that number."""
        ahead = [
            (link, link.new)
            for link in self._from.get(part, ())
            if link.kind is not LinkKind.SUPERSEDED and not self.why_not(link)
        ]
        back = [
            (link, link.old)
            for link in self._to.get(part, ())
            if link.kind is LinkKind.EITHER_WAY and not self.why_not(link)
        ]
        return tuple(ahead + back)

    def standing_for(self, parts: Iterable[PartNumber]) -> frozenset[PartNumber]:
        """The numbers that may stand for some: those that links lead to, and older ones."""
        found = set(parts)
        ahead, back = list(found), list(found)
        while ahead:
            here = ahead.pop()
            further = {link.new for link in self.superseding(here)}
            further |= {number for _, number in self.interchanges(here)}
            ahead += further - found
            found |= further
        while back:
            older = {
                link.old
                for link in self._to.get(back.pop(), ())
                if link.kind is LinkKind.SUPERSEDED and not self.why_not(link)
            }
            back += older - found
            found |= older
        return frozenset(found)

    def barred(self, part: PartNumber) -> tuple[tuple[Link, PartNumber, str], ...]:
        """The links at a number that are not followed, with the far number and why."""
        ahead = [
            (link, link.new, why)
            for link in self._from.get(part, ())
            if (why := self.why_not(link))
        ]
        back = [
            (link, link.old, self._why_not_back(link))
            for link in self._to.get(part, ())
            if link.kind is not LinkKind.SUPERSEDED and self._why_not_back(link)
        ]
        return tuple(ahead + back)

    def _why_not_back(self, link: Link) -> str:
        if link.kind is LinkKind.EITHER_WAY:
            return self.why_not(link)
        return f"one way only: {link.new} may stand for {link.old}, not the reverse"

    def merged_with(self, link: Link) -> tuple[PartNumber, ...]:
        """The other old numbers that the new one of a record stands for."""
        return tuple(
            other.old
            for other in self._to.get(link.new, ())
            if other.record == link.record and other.old != link.old and not self.why_not(other)
        )

    def contradiction(self, part: PartNumber) -> Problem | None:
        """That two changes in force supersede one number, or None."""
        links = self.superseding(part)
        if len(links) < 2 or len({link.record for link in links}) < 2:
            return None
        ways = " and ".join(f"{link.new} ({link.record})" for link in links)
        return Problem(
            str(part),
            f"{part} is superseded by {ways} at once",
            "the catalogue must say which, by engine, grade or day",
        )

    def loop(self, part: PartNumber) -> tuple[PartNumber, ...]:
        """The shortest chain of supersessions from a number back to itself; empty if none is."""
        if part not in self._loops:
            beyond = self._beyond(part)
            if _is_tree(beyond) or _has_no_circle(beyond):
                self._loops.update(dict.fromkeys(beyond, ()))
            else:
                self._loops[part] = self._find_loop(part)
        return self._loops[part]

    def circle(self, part: PartNumber) -> Problem | None:
        """That a number is superseded in a circle, with the whole chain, or None.

        The chain begins at its least number, so that it is told alike wherever it is met.
        """
        loop = self.loop(part)
        if not loop:
            return None
        least = loop.index(min(loop))
        chain = (*loop[least:-1], *loop[: least + 1])
        return Problem(
            str(chain[0]),
            "supersessions in a circle: " + " → ".join(map(str, chain)),
            "none of them is followed; the catalogue must say which number is current",
        )

    def _beyond(self, part: PartNumber) -> dict[PartNumber, list[PartNumber]]:
        """Every number that supersessions lead to from one, each with those that answer it."""
        found: dict[PartNumber, list[PartNumber]] = {}
        waiting = [part]
        while waiting:
            here = waiting.pop()
            if here not in found:
                found[here] = [link.new for link in self.superseding(here)]
                waiting += found[here]
        return found

    def _find_loop(self, part: PartNumber) -> tuple[PartNumber, ...]:
        before: dict[PartNumber, PartNumber] = {}
        waiting = deque([part])
        while waiting:
            here = waiting.popleft()
            for link in self.superseding(here):
                if link.new == part:
                    chain = [part, here]
                    while chain[-1] != part:
                        chain.append(before[chain[-1]])
                    return tuple(reversed(chain))
                if link.new not in before:
                    before[link.new] = here
                    waiting.append(link.new)
        return ()


def _is_tree(beyond: Mapping[PartNumber, Sequence[PartNumber]]) -> bool:
    """Whether each number but the first is come to once only, as in most chains."""
    return sum(map(len, beyond.values())) == len(beyond) - 1


def _has_no_circle(beyond: Mapping[PartNumber, Sequence[PartNumber]]) -> bool:
    try:
        TopologicalSorter(beyond).prepare()
    except CycleError:
        return False
    return True


def engine_words(link: Link) -> tuple[str, ...]:
    """On which engines a link holds, in words."""
    words = []
    if link.variants:
        words.append(f"only on {', '.join(link.variants)}")
    if link.first is not None or link.last is not None:
        start = "the first" if link.first is None else str(link.first)
        end = "the last" if link.last is None else str(link.last)
        words.append(f"only engines {start} to {end}")
    return tuple(words)


def condition_words(link: Link) -> tuple[str, ...]:
    """Every condition under which a link holds, in words."""
    words = list(engine_words(link))
    if link.with_grade:
        words.append(f"only at grade {link.with_grade}")
    if link.since is not None:
        words.append(f"only from {link.since}")
    if link.until is not None:
        words.append(f"only until {link.until}")
    if link.kind is LinkKind.FULL_SET:
        words.append("only when every one of the position is renewed")
    return tuple(words)


def _has_conditions(link: Link) -> bool:
    dated = link.since is not None or link.until is not None
    of_engines = link.variants or link.first is not None or link.last is not None
    return bool(dated or of_engines or link.with_grade or link.kind is LinkKind.FULL_SET)


def conditions_of(links: Iterable[Link]) -> tuple[str, ...]:
    """Every condition under which all of some links hold; of several days the one that tells."""
    every = [link for link in links if _has_conditions(link)]
    if not every:
        return ()
    opens = [link.since for link in every if link.since is not None]
    ends = [link.until for link in every if link.until is not None]
    dated = {f"only from {day}" for day in opens if day != max(opens)}
    dated |= {f"only until {day}" for day in ends if day != min(ends)}
    words = dict.fromkeys(word for link in every for word in condition_words(link))
    return tuple(word for word in words if word not in dated)
