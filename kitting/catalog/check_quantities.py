"""That links agree on how many: from a number to another it takes as many by every chain.

The resolver says so of one number on one engine; here every number of a family is gone from, on
each sort of engine and day and at each grade that its links tell apart. Only where links
contradict each other when all of them are taken together is that looked at.
"""

from collections import deque
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from itertools import product
from math import lcm

from kitting.catalog.check_notes import Notes
from kitting.catalog.family import Family
from kitting.catalog.links_in_force import LinksInForce
from kitting.catalog.model import Link, LinkKind, PartNumber
from kitting.catalog.ways import Need, Subgraph

_RIGHT = "one of these quantities is wrong; else give each row its engines, grade or days"


def check_quantities(family: Family, notes: Notes) -> None:
    """Note every two chains of links that disagree: two rows of one pair, or more of them.

    Two rows from one number to another without work are a fault: nobody can say which holds. What
    is longer, or takes work, is followed by the shorter chain, and warned of.
    """
    for rows in _groups(family.links):
        if _agree(rows):
            continue
        cut: set[int] = set()
        for holding in _holding_together(family, rows):
            left = {at: link for at, link in holding.items() if at not in cut}
            while (found := _disagreement(left)) is not None:
                _tell(found, notes)
                cut.add(found.last)
                del left[found.last]


@dataclass(frozen=True, slots=True)
class _Step:
    """A row followed from one number to another: so many of this one for one of that."""

    at: int
    link: Link
    end: PartNumber
    ratio: Fraction


@dataclass(frozen=True, slots=True)
class _Disagreement:
    """Two chains from one number to another, by which it takes unlike quantities."""

    start: PartNumber
    one: tuple[_Step, ...]
    other: tuple[_Step, ...]

    @property
    def last(self) -> int:
        """The last of the rows in it."""
        return max(step.at for step in (*self.one, *self.other))

    @property
    def is_of_two_rows(self) -> bool:
        """Whether two rows go from one number to another, neither of them with work."""
        every = (*self.one, *self.other)
        works = any(s.link.operation or s.link.kind is LinkKind.WITH_WORK for s in every)
        return len(self.one) == len(self.other) == 1 and not works


def _tell(found: _Disagreement, notes: Notes) -> None:
    one, other = _amount(found.one), _amount(found.other)
    wanted = lcm(one.denominator, other.denominator)
    end = found.other[-1].end
    said = [
        f"{amount * wanted} × {end} by {_chain(found.start, steps, notes)}"
        for amount, steps in ((one, found.one), (other, found.other))
        if steps
    ]
    if not found.one:
        said.insert(0, f"{wanted} × {end} itself")
    note = notes.fault if found.is_of_two_rows else notes.warn
    note(
        ("links", str(found.last)),
        "new_quantity",
        f"for {wanted} × {found.start} it takes {', and '.join(said)}",
        _RIGHT,
    )


def _chain(start: PartNumber, steps: tuple[_Step, ...], notes: Notes) -> str:
    numbers = " → ".join(map(str, (start, *(step.end for step in steps))))
    rows = ", ".join(dict.fromkeys(notes.place("links", str(step.at)) for step in steps))
    return f"{numbers} ({rows})"


def _amount(steps: Iterable[_Step]) -> Fraction:
    amount = Fraction(1)
    for step in steps:
        amount *= step.ratio
    return amount


def _groups(links: Sequence[Link]) -> Iterator[dict[int, Link]]:
    """The rows that hang together, by their place, where any of them changes how many."""
    changing = {link.old for link in links if link.old_quantity != link.new_quantity}
    if not changing:
        return
    ends: dict[PartNumber, list[int]] = {}
    for at, link in enumerate(links):
        if link.old != link.new:
            ends.setdefault(link.old, []).append(at)
            ends.setdefault(link.new, []).append(at)
    seen: set[PartNumber] = set()
    for number in ends:
        if number in seen or number not in changing:
            continue
        rows: set[int] = set()
        waiting = [number]
        seen.add(number)
        while waiting:
            for at in ends[waiting.pop()]:
                rows.add(at)
                beyond = {links[at].old, links[at].new} - seen
                seen |= beyond
                waiting += beyond
        yield {at: links[at] for at in sorted(rows)}


def _agree(rows: Mapping[int, Link]) -> bool:
    """Whether all of some rows, taken together and either way, agree on how many."""
    steps = _steps(rows, both_ways=True)
    return _second_chain(next(iter(steps)), steps) is None


def _disagreement(rows: Mapping[int, Link]) -> _Disagreement | None:
    """Two chains of rows that hold together and disagree; those of the fewest rows."""
    steps = _steps(rows, both_ways=False)
    found = [two for start in steps if (two := _second_chain(start, steps)) is not None]
    return min(found, key=lambda two: (len(two.one) + len(two.other), two.last), default=None)


def _steps(rows: Mapping[int, Link], *, both_ways: bool) -> dict[PartNumber, list[_Step]]:
    """The steps that lead away from each number; a split goes no chain of its own."""
    superseded = [link.old for link in rows.values() if link.kind is LinkKind.SUPERSEDED]
    several = {number for number in superseded if superseded.count(number) > 1}
    found: dict[PartNumber, list[_Step]] = {}
    for at, link in rows.items():
        if link.kind is LinkKind.SUPERSEDED and link.old in several and not both_ways:
            continue
        ratio = Fraction(link.new_quantity, link.old_quantity)
        found.setdefault(link.old, []).append(_Step(at, link, link.new, ratio))
        if both_ways or link.kind is LinkKind.EITHER_WAY:
            found.setdefault(link.new, []).append(_Step(at, link, link.old, 1 / ratio))
    return found


def _second_chain(
    start: PartNumber, steps: Mapping[PartNumber, list[_Step]]
) -> _Disagreement | None:
    """The first number come to by two chains that disagree, what the chains share left out."""
    chains: dict[PartNumber, tuple[_Step, ...]] = {start: ()}
    amounts = {start: Fraction(1)}
    waiting = deque([start])
    while waiting:
        here = waiting.popleft()
        for step in steps.get(here, ()):
            amount, chain = amounts[here] * step.ratio, (*chains[here], step)
            if step.end not in amounts:
                amounts[step.end], chains[step.end] = amount, chain
                waiting.append(step.end)
            elif amounts[step.end] != amount:
                return _apart(start, chains[step.end], chain)
    return None


def _apart(start: PartNumber, one: tuple[_Step, ...], other: tuple[_Step, ...]) -> _Disagreement:
    while one and one[0] == other[0]:
        start, one, other = one[0].end, one[1:], other[1:]
    return _Disagreement(start, one, other)


def _holding_together(family: Family, rows: Mapping[int, Link]) -> Iterator[dict[int, Link]]:
    """The rows in force on each sort of engine, at each grade and on each day, once each."""
    links = tuple(rows.values())
    told: set[tuple[int, ...]] = set()
    grades = sorted({link.with_grade for link in links} | {""})
    for (variant, running), grade, day in product(_engines(family, links), grades, _days(links)):
        need = Need(links[0].old, 1, "", variant, running, grade, whole=True)
        in_force = LinksInForce(need, Subgraph(links), day)
        holding = {at: link for at, link in rows.items() if not in_force.why_not(link)}
        if tuple(holding) not in told:
            told.add(tuple(holding))
            yield holding


def _engines(family: Family, links: Iterable[Link]) -> list[tuple[str, int | None]]:
    """A variant and running number of each sort that the links tell apart."""
    starts = {link.first for link in links if link.first is not None}
    cuts = starts | {link.last + 1 for link in links if link.last is not None}
    if not cuts and not any(link.variants for link in links):
        return [("", None)]
    return [
        (variant.key, running)
        for variant in family.variants
        for running in sorted({variant.first} | cuts)
        if variant.first <= running <= variant.last
    ]


def _days(links: Iterable[Link]) -> list[date]:
    """A day of each sort that the links tell apart."""
    days = {date.min} | {link.since for link in links if link.since is not None}
    after = {link.until for link in links if link.until is not None} - {date.max}
    return sorted(days | {day + timedelta(days=1) for day in after})
