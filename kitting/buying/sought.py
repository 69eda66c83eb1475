"""What each need of the orders' lines has before another has more than its kit asks for.

Several orders may bring to one place of a kit, and the shelf may have given to it meanwhile. What
has come or comes is laid against what the places still want, so that as much of that as can be is
had; the first order gives first, and in its own order. A place wants what its kit asks for today,
where that was looked up; one whose kit asks no more, or whose engine is built and closed, wants
nothing, and what is in that engine is no other's. Only where a place would go without while another
has more than it wants do pieces change hands. What went back of a place's it has no more
before all others have theirs. Sets are their job's as a whole: one whose places have everything
otherwise comes last.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field, replace
from fractions import Fraction
from math import ceil
from typing import TYPE_CHECKING

from kitting.buying.orders import LineFor

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

    from kitting.buying.orders import OrderLine
    from kitting.buying.sharing import Place
    from kitting.buying.standing import LineStanding, OrderRecord
    from kitting.catalog.model import PartNumber
    from kitting.job.hand import InHand

_NONE = Fraction(0)


def sought_of(
    records: Sequence[OrderRecord], aside: Mapping[str, Sequence[InHand]]
) -> tuple[OrderRecord, ...]:
    """Return the orders, each told what the needs of its lines have first.

    Args:
        records: every order that brings to the places of these, as they were made.
        aside: what jobs have off the shelf and by hand, by number.
    """
    standing = [r for r in records if not r.order.draft]
    lines_of = [(at, r, each) for at, r in enumerate(standing) for each in r.lines]
    # What is for one need alone is its own, unless a line that several share is for its place too.
    shared = {at for *_, each in lines_of if len(each.line.needed_by) > 1 for at in _at(each)}
    placed = [told for told in lines_of if shared.intersection(_at(told[2]))]
    # What may go back at any time is done without before what was bought outright.
    placed.sort(key=lambda told: told[2].line.on_return)
    lines = [_Line(*told) for told in placed]
    places = _Places(lines)
    for place in places.every:
        near, mine = places.near(place.job, place.positions), aside.get(place.job, ())
        place.lacks = max(_NONE, place.wanted - place.had(mine, alone=len(near) == 1))
    _serve(lines, places)
    of_sets = [_Line(*told, of_sets=True) for told in placed]
    sets = _Places(of_sets)
    for each in sets.every:
        inside = places.near(each.job, each.positions)
        if any(place.lacks and place.in_set for place in inside):
            each.lacks = each.wanted
    _serve(of_sets, sets)
    told: dict[str, dict[str, tuple[Fraction, ...]]] = {}
    for line, of_set in zip(lines, of_sets, strict=True):
        first = line.first({tie.need.job for tie in of_set.ties if tie.has})
        if first != line.as_asked:
            told.setdefault(line.order.number, {})[line.standing.line.id] = first
    return tuple(replace(each, sought=told.get(each.order.number, {})) for each in records)


def _at(each: LineStanding) -> Iterator[Place]:
    return ((need.job, key) for need in each.line.needed_by for key in need.positions)


class _Places:
    """The lines of the jobs' kits: each need of an order is for one; what is for several joins
    them."""

    def __init__(self, lines: Iterable[_Line]) -> None:
        self._at: dict[Place, list[_Tie]] = defaultdict(list)
        ties = [tie for line in lines for tie in line.ties]
        for tie in ties:
            near = self.near(tie.need.job, tie.need.positions)
            mine = [each for each in near if any(tie.same_place(other) for other in each.ties)]
            joined = _Place(tie.need.job, [*(each for place in mine for each in place.ties), tie])
            for each in joined.ties:
                each.place = joined
            for key in tie.need.positions:
                self._at[tie.need.job, key].append(tie)
        self.every = list(dict.fromkeys(tie.place for tie in ties))

    def near(self, job: str, positions: Iterable[str]) -> list[_Place]:
        """What is for any of these positions of a job."""
        ties = (tie for key in positions for tie in self._at.get((job, key), ()))
        return list(dict.fromkeys(tie.place for tie in ties))


def _serve(lines: Iterable[_Line], places: _Places) -> None:
    """Give what there is to those that lack it, the first first, and then by turns."""
    for line in lines:
        for tie in line.giving:
            line.give(tie, tie.room)
    for go_back in (False, True):
        for tie in (tie for place in places.every for tie in place.ties):
            tie.open = go_back
        for place in places.every:
            while place.lacks and _obtain(place, place.lacks, set()):
                pass


@dataclass(eq=False, slots=True)
class _Tie:
    """A need of a line, tied to its place; `unit` of the kit's pieces is one as asked.

    Of its pieces as asked so many went `back`, and so many it `has`; while not `open` it may have
    those that went back no more.
    """

    line: _Line
    need: LineFor
    unit: Fraction
    back: Fraction
    has: Fraction = _NONE
    open: bool = False
    place: _Place = field(init=False)

    @property
    def room(self) -> Fraction:
        """How much more it may have."""
        return self.need.pieces - (_NONE if self.open else self.back) - self.has

    @property
    def whole(self) -> Fraction:
        """What its kit line asked for in all, as far as that was kept."""
        return Fraction(self.need.whole) if self.need.whole else self.need.pieces * self.unit

    @property
    def asks(self) -> Fraction | None:
        """What its kit line asks for today; None where that was not looked up."""
        return self.line.standing.asks.get((self.need.job, self.need.positions))

    @property
    def stands_for(self) -> PartNumber:
        """The kit's number."""
        return self.need.stands_for or self.part

    @property
    def part(self) -> PartNumber:
        """What was ordered."""
        return self.line.standing.line.part

    @property
    def role(self) -> str:
        """Which part it is of several that go in together; the first of them may come alone."""
        names = self.need.goes_in
        return names[0] if len(names) > 1 and names[0] != min(names) else ""

    def same_place(self, other: _Tie) -> bool:
        """Whether both are for one line of a kit, or sets for the same lines of it."""
        mine, theirs = self.need, other.need
        if mine.job != theirs.job or not set(mine.positions) & set(theirs.positions):
            return False
        if (mine.grade, self.role) != (theirs.grade, other.role):
            return False
        alike = self.part == other.part and self.unit == other.unit
        return self.line.of_sets or alike or self.stands_for == other.stands_for


@dataclass(eq=False, slots=True)
class _Place:
    """A line of a job's kit, as the orders know it; `lacks` of its own pieces are not had yet."""

    job: str
    ties: list[_Tie]
    lacks: Fraction = _NONE

    @property
    def positions(self) -> set[str]:
        """All positions that anything was ordered for."""
        return {key for tie in self.ties for key in tie.need.positions}

    @property
    def in_set(self) -> bool:
        """Whether a set was to bring it."""
        return any(tie.need.in_set for tie in self.ties)

    @property
    def wanted(self) -> Fraction:
        """What the kit line asks for, by the last order where that was for all of it; no more than
        it does today."""
        last = max(self.ties, key=lambda tie: tie.line.at)
        if last.need.whole and set(last.need.positions) == self.positions:
            then = last.whole
        else:
            then = max(tie.whole for tie in self.ties)
        today = [tie.asks for tie in self.ties if tie.asks is not None]
        return min(then, max(today)) if today else then

    def had(self, aside: Iterable[InHand], *, alone: bool) -> Fraction:
        """What of it came otherwise than by an order.

        Another number that serves there stands for one, where the place is `alone` at its
        positions; else it may be for the other.
        """
        positions = self.positions
        units = {tie.part: tie.unit for tie in self.ties}
        units |= {tie.stands_for: Fraction(1) for tie in self.ties}
        found = _NONE
        for piece in aside:
            if piece.position in positions and piece.part and self._counts(piece):
                found += piece.quantity * units.get(piece.part, Fraction(alone))
        return max(_NONE, found)

    def _counts(self, piece: InHand) -> bool:
        """Where an order did not keep what the kit line asked for, what came before it is in it."""
        return all(tie.need.whole or piece.when >= tie.line.order.day for tie in self.ties)


class _Line:
    """A line of an order: what there is of it, and to whom it may go, in pieces or in sets."""

    def __init__(
        self, at: int, record: OrderRecord, standing: LineStanding, *, of_sets: bool = False
    ) -> None:
        self.at, self.order = at, record.order
        self.standing, self.of_sets = standing, of_sets
        line, sets = standing.line, standing.line.sets_by_job
        built_in = standing.in_engines
        needs = list(zip(line.needed_by, standing.gone, built_in, strict=True))
        mine = [(need, has) for need, _, has in needs if not need.in_set]
        built = {need.job for need, _, has in needs if need.in_set and has}
        if of_sets:
            needs = [(_of_job(line, job, count), _NONE, _NONE) for job, count in sets.items()]
        self.ties = [_Tie(self, n, Fraction(n.makes, n.per), back, has) for n, back, has in needs]
        there = Fraction(standing.secured * standing.makes, standing.per)
        there -= sum((has for _, has in mine), _NONE) + sum(sets[job] for job in built)
        wanted = [need for need in line.needed_by if not standing.gave_up(need)]
        self._wanting = {need.job for need in wanted if need.in_set}
        in_sets = Fraction(sum(sets[job] for job in self._wanting))
        self.left = max(_NONE, min(there, in_sets) if of_sets else there - in_sets)

    @property
    def giving(self) -> tuple[_Tie, ...]:
        """Its ties to those that it may go to."""
        if self.of_sets:
            return tuple(tie for tie in self.ties if tie.need.job in self._wanting)
        mine = (tie for tie in self.ties if not tie.need.in_set)
        return tuple(tie for tie in mine if not self.standing.gave_up(tie.need))

    def give(self, tie: _Tie, most: Fraction) -> Fraction:
        """Give up to so much of what is left, and no more than is lacking there."""
        given = max(_NONE, min(most, self.left, tie.place.lacks / tie.unit))
        tie.has += given
        self.left -= given
        tie.place.lacks -= given * tie.unit
        return given

    @property
    def as_asked(self) -> tuple[Fraction, ...]:
        """What each need would have first if nothing else came to its place."""
        return tuple(tie.need.pieces - tie.back for tie in self.ties)

    def first(self, have_sets: Collection[str]) -> tuple[Fraction, ...]:
        """What each need has first, in whole pieces of what is agreed; a set is its job's."""
        per, makes = self.standing.per, self.standing.makes
        found = []
        for tie in self.ties:
            if tie.need.in_set:
                found.append(Fraction(tie.need.pieces if tie.need.job in have_sets else 0))
            else:
                whole = Fraction(ceil(tie.has * per / makes) * makes, per)
                found.append(min(whole, Fraction(tie.need.pieces)))
        return tuple(found)


def _of_job(line: OrderLine, job: str, sets: int) -> LineFor:
    """The sets that a job needs of a line, as one need."""
    needs = [need for need in line.needed_by if need.in_set and need.job == job]
    positions = tuple(dict.fromkeys(key for need in needs for key in need.positions))
    return LineFor(job, needs[0].kit_line, positions, sets, in_set=True, stands_for=line.part)


def _obtain(place: _Place, want: Fraction, asked: set[_Line]) -> Fraction:
    """Let a place have up to so much more, where need be of what others can have elsewhere.

    Args:
        place: who lacks it.
        want: in the kit's own pieces.
        asked: the lines that were asked in this round; none is asked twice. One that has no room
            for a place was not asked: it may have some for another.
    """
    got = _NONE
    for line in dict.fromkeys(tie.line for tie in place.ties):
        mine = [tie for tie in line.giving if tie.place is place and tie.room > 0]
        if line in asked or not mine:
            continue
        asked.add(line)
        for tie in mine:
            got += tie.unit * line.give(tie, min(tie.room, (want - got) / tie.unit))
            for other in line.giving:
                wants = min(tie.room, (want - got) / tie.unit, other.has)
                if other.place is not place and wants > 0:
                    got += tie.unit * _exchange(tie, other, wants, asked)
    return got


def _exchange(tie: _Tie, other: _Tie, wants: Fraction, asked: set[_Line]) -> Fraction:
    """Let one need have what another has of the same line, as far as that finds it elsewhere."""
    other.place.lacks += wants * other.unit
    moved = _obtain(other.place, wants * other.unit, asked) / other.unit
    other.place.lacks -= (wants - moved) * other.unit
    other.has -= moved
    tie.has += moved
    tie.place.lacks -= moved * tie.unit
    return moved
