"""Whether an order may be approved today: held against the kits of the jobs that it is for.

A draft may have lain: the bench has found more since, the grinder has settled a size, a line was
bought elsewhere. What no longer agrees with the kit is refused, with the line and the reason.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.buying.drafting import Before, StillOpen, is_declined, serves
from kitting.errors import Problems
from kitting.job.pricing import Market
from kitting.job.sourcing import Sourcing

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from kitting.buying.orders import LineFor, Order, OrderLine
    from kitting.catalog.model import PartNumber
    from kitting.job.counting import Lot, Made
    from kitting.job.kit import KitLine
    from kitting.job.path import JobPath


_AGAIN = "make the draft again: kitting order make"


def check_approval(order: Order, paths: Mapping[str, JobPath], before: Before) -> None:
    """Refuse an order that its jobs do not bear out.

    Args:
        order: the draft.
        paths: the jobs that it is for, as of today, by number.
        before: what all other orders bring.

    Raises:
        BadInput: with every reason: a job that is not ready, a held part that cannot go back, a
            part that the kit has come to ask for otherwise, pieces that come already.
    """
    problems = Problems()
    for job in order.jobs:
        _check_ready(paths[job], problems)
    problems.raise_if_any()
    for job in order.jobs:
        still_open = StillOpen(paths[job], before)
        made = {line.key: still_open.made(line) for line in paths[job].kit.lines}
        asked = _Asked(made)
        for line in order.lines:
            for need in line.needed_by:
                if need.job == job:
                    _check_need(order, line, need, paths[job], asked, problems)
            _check_set(order, line, paths[job], made, problems)
    problems.raise_if_any()


class _Asked:
    """What an order asks for each kit line, added up need by need, beside what comes already."""

    def __init__(self, made: Mapping[str, Made]) -> None:
        self._made = made
        self._so_far: dict[tuple[str, ...], int] = {}

    def wanted(self, lot: Lot, lines: Iterable[KitLine]) -> int:
        """How many of these pieces, after those asked before, the lines still want."""
        keys = tuple(line.key for line in lines)
        of = (*keys, str(lot.part), *(lot.stands.goes_in if lot.stands else ()))
        before = self._so_far.get(of, 0)
        self._so_far[of] = before + lot.pieces
        left = sum(self._made[key].wanted(lot) for key in keys) - before
        return max(0, min(lot.pieces, left))


def _check_ready(path: JobPath, problems: Problems) -> None:
    if not path.kit.readiness.ready:
        place = f"job {path.bench.job.number}"
        problems.add(place, "it is not ready to order", "answer its open points first")
        for point in path.kit.readiness.points:
            problems.add(f"{place}, {point.where}", str(point.why), point.because.says)


def _check_need(
    order: Order,
    line: OrderLine,
    need: LineFor,
    path: JobPath,
    asked: _Asked,
    problems: Problems,
) -> None:
    place = f"order {order.number}, line {line.id} ({line.name})"
    here = [each for each in path.kit.lines if set(each.positions) & set(need.positions)]
    if not here:
        problems.add(place, f"job {need.job} needs it no more", _AGAIN)
        return
    if all(is_declined(path, each) for each in here):
        problems.add(place, f"the customer of job {need.job} will not have it", _AGAIN)
        return
    held = [each for each in here if each.hold]
    if held:
        if not line.on_return:
            problems.add(place, _waits(held[0]), "leave it out, or order it on sale or return")
        return
    mine = [each for each in here if serves(need, line.part, each)]
    if not mine or not (need.in_set or _may_go_there(path, need, line.part)):
        others = ", ".join(str(each.part) for each in here)
        problems.add(place, f"job {need.job} asks for {others} there by now", _AGAIN)
    elif not need.in_set:
        wanted = asked.wanted(need.lot(line.part), mine)
        if wanted < need.pieces:
            problems.add(place, _not_wanted(need, wanted), _AGAIN)


def _check_set(
    order: Order, line: OrderLine, path: JobPath, made: Mapping[str, Made], problems: Problems
) -> None:
    """Refuse a set of which no line of a job's kit misses anything any more."""
    job = path.bench.job.number
    needs = [need for need in line.needed_by if need.job == job and need.in_set]
    served = [
        each for each in path.kit.lines if any(serves(need, line.part, each) for need in needs)
    ]
    if served and not any(made[each.key].missing for each in served):
        problems.add(
            f"order {order.number}, line {line.id} ({line.name})",
            f"job {job} has all that it asked for of this set, or it comes already",
            _AGAIN,
        )


def _not_wanted(need: LineFor, wanted: int) -> str:
    if not wanted:
        return f"job {need.job} has the {need.pieces} asked for here, or they come already"
    return (
        f"job {need.job} wants {wanted} of the {need.pieces} asked for here: it has the others, or "
        "they come already"
    )


def _waits(line: KitLine) -> str:
    grade = line.worst_grade or "another size"
    return f"it waits until {line.hold_until}: it may become {grade}"


def _may_go_there(path: JobPath, need: LineFor, part: PartNumber) -> bool:
    """Whether a number is one of today's ways to supply the positions, or comes with one."""
    sourcing = Sourcing(path.family, path.bench.job, Market(path.trade, path.day))
    for key in need.positions:
        position = path.family.position_by_key[key]
        grade = None
        if position.sized_by and need.grade:
            grade = path.family.table_by_key[position.sized_by].grade(need.grade)
        for way in sourcing.ways(position, grade):
            if part in dict((*way.parts, *way.companions)):
                return True
    return False
