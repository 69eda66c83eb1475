"""Circles of supersessions that no family has alone: some families close them between them.

A family follows its own links, and of others those that hold whatever the engine and that it has no
word on. So a circle is looked for in the eyes of each family that has a link in it.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING

from kitting.catalog.circles import circles
from kitting.catalog.conditions import can_hold_together
from kitting.catalog.model import LinkKind
from kitting.catalog.outside import merged

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from kitting.catalog.model import Link, PartNumber


@dataclass(frozen=True, slots=True)
class Said:
    """A link and whose word it is: a family's, by its key, or that of an accepted list: ''."""

    family: str
    link: Link


@dataclass(frozen=True, slots=True)
class CircleAcross:
    """A circle, its numbers first and last alike from the least on, and who says each step."""

    numbers: tuple[PartNumber, ...]
    steps: tuple[Said, ...]

    @property
    def chain(self) -> str:
        """Its numbers in a row."""
        return " → ".join(map(str, self.numbers))

    @property
    def whose(self) -> str:
        """Who says its steps, in their order."""
        words = []
        for family, steps in groupby(self.steps, lambda step: step.family):
            links = [step.link for step in steps]
            if family:
                records = list(dict.fromkeys(link.record for link in links))
                named = f"record{'s' if len(records) > 1 else ''} {', '.join(records)}"
                words.append(f"{links[0].old} to {links[-1].new} by {family} ({named})")
            else:
                words += [f"{link.old} to {link.new} by the {link.source}" for link in links]
        return "; ".join(words)


def circles_across(said: Iterable[Said]) -> tuple[CircleAcross, ...]:
    """Return each circle that more than one family, or a family and a list, close: once."""
    found: dict[frozenset[PartNumber], CircleAcross] = {}
    for group in _groups(each for each in said if each.link.kind is LinkKind.SUPERSEDED):
        for eye in dict.fromkeys(each.family for each in group if each.family):
            for circle in _seen_by(eye, group):
                found.setdefault(frozenset(circle.numbers), circle)
    return tuple(found.values())


def _seen_by(eye: str, group: Sequence[Said]) -> Iterator[CircleAcross]:
    # Two families may give links that are equal: whose each is goes by its being that very link.
    own = [each.link for each in group if each.family == eye]
    owner = {id(each.link): each for each in group}
    links = [
        link
        for link in merged(own, (each.link for each in group if each.family != eye))
        if link.old != link.new
    ]
    edges: dict[tuple[PartNumber, PartNumber], frozenset[int]] = {}
    for at, link in enumerate(links):
        step = (link.old, link.new)
        edges[step] = edges.get(step, frozenset()) | {at}

    def together(rows: tuple[int, ...]) -> bool:
        return can_hold_together(links[at] for at in rows)

    for numbers, rows in circles(edges, together):
        steps = [owner[id(links[at])] for at in rows]
        if len({step.family for step in steps}) > 1:
            least = numbers.index(min(numbers))
            yield CircleAcross(
                (*numbers[least:-1], *numbers[: least + 1]), (*steps[least:], *steps[:least])
            )


def _groups(said: Iterable[Said]) -> Iterator[list[Said]]:
    """What hangs together with a number that one leads to and another leads away from.

    A circle of both passes through such a number, so that nothing else need be followed.
    """
    every = list(said)
    leads_to: dict[PartNumber, set[str]] = {}
    by_end: dict[PartNumber, list[Said]] = {}
    for each in every:
        leads_to.setdefault(each.link.new, set()).add(each.family)
        for number in (each.link.old, each.link.new):
            by_end.setdefault(number, []).append(each)
    taken: set[PartNumber] = set()
    for each in every:
        if each.link.old not in taken and leads_to.get(each.link.old, set()) - {each.family}:
            group: dict[int, Said] = {}
            waiting = [each.link.old]
            while waiting:
                here = waiting.pop()
                if here not in taken:
                    taken.add(here)
                    for near in by_end[here]:
                        group[id(near)] = near
                        waiting += (near.link.old, near.link.new)
            yield list(group.values())
