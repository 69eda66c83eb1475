"""Drafts of orders out of a buying plan, over one job or several: each line still its job's own."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from typing import TYPE_CHECKING

from kitting.buying.drafting import StillOpen, Wanted, held_of, is_declined, need_of, orders_from
from kitting.buying.planning.demand import PassedOver
from kitting.buying.planning.values import Source
from kitting.job.counting import lots_of_way

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

    from kitting.buying.drafting import Before
    from kitting.buying.orders import HeldItem, LineFor, Order
    from kitting.buying.planning.demand import LineWay, PlanLine, PlanProblem, PlanSet
    from kitting.buying.planning.values import LinePlan, Plan, Purchase, Share
    from kitting.catalog.model import PartNumber
    from kitting.job.counting import Made
    from kitting.job.kit import KitLine
    from kitting.job.path import JobPath

# What the plan puts after a held line's key when it speaks of its other size.
_OTHER_SIZE = ", worst case"


def still_to_plan(problem: PlanProblem, paths: Sequence[JobPath], before: Before) -> PlanProblem:
    """The problem without the lines that earlier orders bring, the shelf gave or nobody wants.

    A line that is partly there is planned for the rest. What failed with a supplier for a job that
    still wants it is not asked of him again: by no job of the problem, as they share their packs.
    """
    by_job = {path.bench.job.number: path for path in paths}
    still_open = {job: StillOpen(path, before) for job, path in by_job.items()}
    lines = []
    for line in problem.lines:
        kit_line = _kit_line(line, by_job[line.job])
        made = still_open[line.job].made(kit_line)
        if made.missing and not is_declined(by_job[line.job], kit_line):
            lines.append(_the_rest(line, made))
    wanting = _wanting(lines, problem.sets)
    gone: dict[tuple[str, PartNumber], list[str]] = defaultdict(list)
    for each in before.failures.barring(wanting):
        gone[(each.supplier, each.part)].append(each.briefly)
    offers, passed_over = [], list(problem.passed_over)
    for offer in problem.offers:
        why = gone.get((offer.supplier, offer.part))
        if why is None:
            offers.append(offer)
        else:
            passed_over.append(PassedOver(offer, "; ".join(why)))
    return replace(
        problem, lines=tuple(lines), offers=tuple(offers), passed_over=tuple(passed_over)
    )


def why_not_planned(line: PlanLine, problem: PlanProblem, before: Before) -> str:
    """Why no plan can hold a line: where alone it could be had it failed; '' if that is not why."""
    wanting = _wanting(problem.lines, problem.sets)
    mine = {part: wanting[part] for part in sorted(_numbers_of(line, problem.sets))}
    return before.failures.why(mine, line.job)


def _wanting(
    lines: Iterable[PlanLine], sets: Iterable[PlanSet]
) -> Mapping[PartNumber, Collection[str]]:
    """The jobs that every number may be bought for."""
    found: dict[PartNumber, set[str]] = defaultdict(set)
    for line in lines:
        for part in _numbers_of(line, sets):
            found[part].add(line.job)
    return found


def _numbers_of(line: PlanLine, sets: Iterable[PlanSet]) -> frozenset[PartNumber]:
    """Every number that may be bought for a line: its ways' parts, and the sets that bring one."""
    parts = {part for way in line.ways for part, _ in way.parts}
    bringing = (each.number for each in sets if not parts.isdisjoint(dict(each.contents)))
    return frozenset((*parts, *bringing))


def _kit_line(line: PlanLine, path: JobPath) -> KitLine:
    """The kit line that a plan's line buys; at its other size where it speaks of that."""
    found = path.kit.by_key[line.key.removesuffix(_OTHER_SIZE)]
    if not line.key.endswith(_OTHER_SIZE):
        return found
    return replace(found, part=found.worst_part, serves=frozenset(), counts=())


def _the_rest(line: PlanLine, made: Made) -> PlanLine:
    """A line with the pieces that it still wants, each of its ways with what they take of it."""
    ways = tuple(_rest_of_way(way, line.quantity, made) for way in line.ways)
    return replace(line, quantity=made.missing, ways=ways)


def _rest_of_way(way: LineWay, makes: int, made: Made) -> LineWay:
    lots = lots_of_way(made.line.part, way.parts, makes)
    rest = tuple((lot.part, made.wanted(lot)) for lot in lots if made.wanted(lot))
    if rest == way.parts:
        return way
    return replace(way, parts=rest, maker=way.made_by, whole=way.parts, whole_makes=makes)


def orders_of_plan(plan: Plan, paths: Sequence[JobPath]) -> tuple[Order, ...]:
    """Return one draft for each parcel of a plan, with the prices that it was made with."""
    by_job = {path.bench.job.number: path for path in paths}
    shares = _Shares(plan, by_job)
    wanted = [_wanted(purchase, shares) for parcel in plan.parcels for purchase in parcel.purchases]
    held: dict[tuple[str, str], list[HeldItem]] = {}
    taken = {each.offer.part for each in wanted}
    for path in paths:
        for key, items in held_of(path).items():
            named = held.setdefault(key, [])
            named += [each for each in items if each.part not in taken and each not in named]
    return orders_from(paths, wanted, held)


def failed_before(before: Before, problem: PlanProblem, plans: Iterable[Plan]) -> tuple[str, ...]:
    """What to mind of plans: the parts that they buy where they failed before, or elsewhere now."""
    purchases = (each for plan in plans for parcel in plan.parcels for each in parcel.purchases)
    told = before.failures.told({(each.offer.supplier, each.offer.part) for each in purchases})
    passed = before.failures.passed_over(_wanting(problem.planned, problem.sets))
    return (*told, *passed)


def off_the_shelf(plan: Plan) -> Iterator[str]:
    """What a plan counts on that lies on the shop's shelf: it is taken by hand, line by line, and a
    set is opened there first."""
    given = {s.part for line in plan.lines for s in line.shares if s.source is Source.SHELF}
    for taken in plan.shelf:
        if taken.part not in given:
            yield (
                f"still to open on the shelf: {taken.pieces} × the set {taken.part}: kitting shelf "
                f"open '{taken.part}' {taken.pieces}, then make the orders again"
            )
    for line in plan.lines:
        for share in line.shares:
            if share.source is Source.SHELF:
                says = f"still to take off the shelf for {line.line}: {share.pieces} × {share.part}"
                take = f"kitting shelf take {line.line.job} {line.line.key} --part '{share.part}'"
                other = line.line.key.endswith(_OTHER_SIZE)
                yield says if other else f"{says}: {take} --quantity {share.pieces}"


def _wanted(purchase: Purchase, shares: _Shares) -> Wanted:
    offer = purchase.offer
    needs = tuple(shares.of(offer.supplier, offer.part, purchase.used))
    quantity = purchase.used or purchase.pieces
    return Wanted(offer, quantity, needs, purchase.on_return, purchase.packs)


class _Shares:
    """What each source gives to whom, handed out purchase by purchase."""

    def __init__(self, plan: Plan, paths: Mapping[str, JobPath]) -> None:
        self._paths = paths
        self._left: dict[tuple[str, PartNumber], list[tuple[LinePlan, Share]]] = {}
        for line in plan.lines:
            for share in line.shares:
                if share.source is not Source.SHELF:
                    key = (share.supplier, share.number)
                    self._left.setdefault(key, []).append((line, share))

    def of(self, supplier: str, number: PartNumber, used: int) -> Iterator[LineFor]:
        """Whose the pieces of one purchase are; all that a set brings goes with its first."""
        left = self._left.get((supplier, number), [])
        while left and used > 0:
            line, share = left.pop(0)
            in_set = share.source is Source.SET
            pieces = share.pieces if in_set else min(share.pieces, used)
            if pieces < share.pieces:
                left.insert(0, (line, replace(share, pieces=share.pieces - pieces)))
            used -= 0 if in_set else pieces
            yield self._need(line, share, pieces)

    def _need(self, line: LinePlan, share: Share, pieces: int) -> LineFor:
        path = self._paths[line.line.job]
        kit_line = _kit_line(line.line, path)
        need = need_of(path, kit_line, in_set=share.source is Source.SET)
        need = replace(need, pieces=pieces)
        if line.line.key.endswith(_OTHER_SIZE):
            need = replace(need, grade=_worst_grade(path, kit_line))
        return _counted(need, line, share.part)


def _counted(need: LineFor, line: LinePlan, part: PartNumber) -> LineFor:
    """A need with what its pieces make of the kit line, where that is not one for one."""
    way = line.way
    parts, makes = way.whole or way.parts, way.whole_makes or line.line.quantity
    if need.stands_for is None or parts == ((need.stands_for, makes),):
        return need
    lots = lots_of_way(need.stands_for, parts, makes)
    stands = next(lot.stands for lot in lots if lot.part == part)
    if stands is None:
        return need
    return replace(need, per=stands.per, makes=stands.makes, goes_in=stands.goes_in)


def _worst_grade(path: JobPath, line: KitLine) -> str:
    tables = sorted({path.family.position_by_key[key].sized_by for key in line.positions} - {""})
    grades = [path.sizes.by_table[table].parts_worst for table in tables]
    return next((grade.key for grade in grades if grade), "")
