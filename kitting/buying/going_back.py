"""What of an order's goods the jobs still need, and what may go back unused.

Goods on sale or return may go back whenever nobody needs them. What was bought outright and no kit
asks for any more (declined, another size, bought to reach a least order) may be cancelled in time,
or go back if the supplier takes it.

While the machinist has not spoken both sizes are kept; once he has, the other one may go, and
nobody need measure it.
"""

from __future__ import annotations

from dataclasses import replace
from enum import StrEnum
from fractions import Fraction
from types import MappingProxyType
from typing import TYPE_CHECKING

from kitting.buying.deliveries import Why
from kitting.buying.drafting import Before, Coming, StillOpen, is_declined, serves
from kitting.buying.standing import brought_by

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping

    from kitting.buying.orders import LineFor
    from kitting.buying.sharing import OfLine, Place, Share
    from kitting.buying.standing import LineStanding, OrderRecord
    from kitting.job.path import JobPath


class Use(StrEnum):
    """What becomes of pieces that may go back."""

    NEEDED = "needed"
    HELD = "wait for the machinist"
    UNUSED = "not needed"


def uses_of(record: OrderRecord, paths: Mapping[str, JobPath]) -> Mapping[str, Mapping[Use, int]]:
    """Of each line on sale or return of which anything may go back: how many pieces, by use.

    Args:
        record: the order.
        paths: the jobs that it is for, as of today, by number.
    """
    return MappingProxyType(
        {
            each.line.id: _uses(each, paths)
            for each in record.lines
            if each.may_go[Why.SALE_OR_RETURN]
        }
    )


def idle_of(record: OrderRecord, paths: Mapping[str, JobPath]) -> frozenset[str]:
    """The lines on sale or return of which no job needs more than is proven, by their id.

    What is here or comes of them beyond that goes back unused: nothing of it is measured.
    """
    return frozenset(
        each.line.id
        for each in record.lines
        if may_be_idle(each) and _kept(_asked(each, paths)) <= each.good
    )


def unwanted_of(
    record: OrderRecord, paths: Mapping[str, JobPath], every: Iterable[OrderRecord]
) -> Mapping[str, int]:
    """Pieces of the needed ones that no kit asks for any more, here or to come, by the line's id.

    Of goods bought outright; the surplus of whole packs is none of it. What the shelf or another
    order has brought to the same place meanwhile is asked for no more either: of several orders the
    last is what the kit can do without.

    Args:
        record: the order.
        paths: the jobs that it is for, as of today, by number.
        every: the orders that anything of those jobs is in, in the order in which they were made.
    """
    wanted = Wanted(paths.get, _with(record, every))
    found = {}
    for each in record.lines:
        over = each.secured - wanted.of(record.order.number, each, each.secured)
        if over > 0 and not each.line.on_return:
            found[each.line.id] = over
    return MappingProxyType(found)


def _with(record: OrderRecord, every: Iterable[OrderRecord]) -> list[OrderRecord]:
    return [record if r.order.number == record.order.number else r for r in every]


class Wanted:
    """How much of what orders bring the kits of the jobs still ask for."""

    def __init__(
        self, path_of: Callable[[str], JobPath | None], placed: Iterable[OrderRecord]
    ) -> None:
        """`path_of` gives a job as of today; where it gives none, the job wants all it asked for.

        `placed` are the orders that bring to those jobs, in the order in which they were made.
        """
        self._path_of = path_of
        self._placed = list(placed)
        self._covered: dict[str, _Covered | None] = {}

    def of(self, number: str, each: LineStanding, pieces: int) -> int:
        """How many of so many pieces of an order's line are wanted; a set is as a whole."""
        wanted, sets = 0, {}
        for share in each.shared(pieces):
            asks = self.by(number, each, share)
            if not share.need.in_set:
                wanted += asks
            elif asks:
                sets[share.need.job] = each.line.sets_by_job[share.need.job]
        return wanted + sum(sets.values())

    def idle(self, number: str, each: LineStanding, pieces: int) -> int:
        """How many of so many pieces that are here, or to come, no kit asks for; the surplus of
        packs is none of it."""
        needed = min(pieces, each.needed)
        return max(0, needed - self.of(number, each, needed))

    def by(self, number: str, each: LineStanding, share: Share) -> int:
        """How many pieces that a need has of an order's line are wanted for it."""
        need = share.need
        has = (need.pieces if share.given else 0) if need.in_set else share.pieces
        built_in = each.built_in.get((need.job, need.positions))
        if built_in is not None or each.gave_up(need):
            return min(has, built_in or 0)
        if need.job not in self._covered:
            path = self._path_of(need.job)
            self._covered[need.job] = _Covered(path, self._placed) if path else None
        covered = self._covered[need.job]
        return covered.wants(number, each, share.agreed, has) if covered and has else has


class _Covered:
    """How far all that is here and on order covers the kit of a job, the first first."""

    def __init__(self, path: JobPath, placed: Iterable[OrderRecord]) -> None:
        self._path = path
        lines = [(r.order.number, each) for r in placed if not r.order.draft for each in r.lines]
        # What may go back at any time is done without before what was bought outright.
        lines.sort(key=lambda told: told[1].line.on_return)
        job = path.bench.job.number
        comes = [
            (number, each.line.id, coming)
            for number, each in lines
            for coming in brought_by(each)
            if coming.need.job == job
        ]
        still_open = StillOpen(path, Before(tuple(coming for *_, coming in comes)))
        for line in path.kit.lines:
            if not is_declined(path, line):
                still_open.made(line)
        self._left: dict[object, int] = {}
        for (number, key, coming), left in zip(comes, still_open.left, strict=True):
            self._left[number, key, coming.need.positions] = left

    def wants(self, number: str, each: LineStanding, need: LineFor, has: int) -> int:
        """How many pieces that a need has of an order's line the kit still asks for."""
        use = _use(each, need, self._path)
        if use is Use.UNUSED:
            return 0
        if use is Use.HELD or need.in_set:
            return has
        return max(0, has - self._left.get((number, each.line.id, need.positions), 0))


def whose_unused(
    record: OrderRecord, line_id: str, paths: Mapping[str, JobPath], every: Iterable[OrderRecord]
) -> Mapping[Place, int]:
    """Whose the pieces of a line are that are here and wanted no more, by job and position."""
    each = record.by_line[line_id]
    wanted = Wanted(paths.get, _with(record, every))
    found: dict[Place, int] = {}
    for share in each.shared(each.good + each.unproven):
        if not share.need.in_set:
            place = (share.need.job, share.need.positions[0])
            kept = wanted.by(record.order.number, each, share)
            found[place] = found.get(place, 0) + max(0, share.pieces - kept)
    return MappingProxyType({place: count for place, count in found.items() if count})


def built_into(
    path: JobPath, every: Iterable[OrderRecord]
) -> Mapping[tuple[str, str, OfLine], int]:
    """What an engine has in it of what is here for its job, by order, line and need.

    Needs of which it has none are told with none.

    Args:
        path: the job, as it is closed.
        every: the orders that anything of it is in, in the order in which they were made.
    """
    job = path.bench.job.number
    here: dict[tuple[str, str, OfLine], Coming] = {}
    for record in every:
        for each in () if record.order.draft else record.lines:
            for share in each.shared(each.good + each.unproven):
                if share.need.job == job:
                    has = share.need.pieces if share.need.in_set and share.given else share.pieces
                    key = (record.order.number, each.line.id, (job, share.need.positions))
                    here[key] = Coming(each.part, replace(share.agreed, pieces=has))
    still_open = StillOpen(path, Before(tuple(here.values())))
    for line in path.kit.lines:
        if not is_declined(path, line):
            still_open.made(line)
    found = zip(here.items(), still_open.left, strict=True)
    return MappingProxyType({key: coming.need.pieces - left for (key, coming), left in found})


def asked_for(each: LineStanding, need: LineFor, path: JobPath) -> Fraction | None:
    """How many the kit asks for today of what a need stands for; None while the line is held."""
    use = _use(each, need, path)
    if use is not Use.NEEDED:
        return None if use is Use.HELD else Fraction(0)
    own, bought = need.stands_for or each.part, need.lot(each.part).part
    asks = Fraction(0)
    for line in path.kit.lines:
        if serves(need, each.part, line) and not is_declined(path, line):
            counted = Fraction(line.whole_of(bought) * need.makes, need.per)
            asks += line.whole_of(own) if line.takes(own) else counted
    return asks


def may_be_idle(each: LineStanding) -> bool:
    """Whether anything of a line that is not proven may go back unused."""
    return each.line.on_return and bool(each.unproven or each.coming)


def _asked(each: LineStanding, paths: Mapping[str, JobPath]) -> Mapping[Use, int]:
    asked = dict.fromkeys(Use, 0)
    for need in each.needed_by:
        built_in = each.built_in.get((need.job, need.positions), 0)
        asked[Use.NEEDED] += built_in
        asked[_use(each, need, paths[need.job])] += need.pieces - built_in
    return asked


def _kept(asked: Mapping[Use, int]) -> int:
    return asked[Use.NEEDED] + asked[Use.HELD]


def _uses(each: LineStanding, paths: Mapping[str, JobPath]) -> Mapping[Use, int]:
    """Needed ones are reckoned first, so that nothing needed is sent back for another's sake."""
    asked = _asked(each, paths)
    left = each.may_go[Why.SALE_OR_RETURN]
    found = {}
    for use in (Use.NEEDED, Use.HELD):
        found[use] = min(left, asked[use])
        left -= found[use]
    found[Use.UNUSED] = left
    return MappingProxyType({use: count for use, count in found.items() if count})


def _use(each: LineStanding, need: LineFor, path: JobPath) -> Use:
    part = each.part
    if each.gave_up(need):
        return Use.UNUSED
    here = [
        line
        for line in path.kit.lines
        if set(line.positions) & set(need.positions) and not is_declined(path, line)
    ]
    size = need.stands_for or part
    if any(line.hold and (serves(need, part, line) or line.worst_part == size) for line in here):
        return Use.HELD
    return Use.NEEDED if any(serves(need, part, line) for line in here) else Use.UNUSED
