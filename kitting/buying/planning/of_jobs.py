"""From the paths of jobs to one buying problem.

The lines are the kit's, those that the kit's own sets cover included: the plan chooses sets anew,
over all jobs. Lines without a part number are left out (`without_part` names them). A number that a
set lists under a name the line knows (the parts list's own, or one that serves as well) counts for
the line when it comes in that set.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING

from kitting.buying.planning.demand import LineWay, PlanLine, PlanProblem, PlanSet, Policy
from kitting.catalog.ways import WayKind
from kitting.errors import BadInput, Problem
from kitting.job.pricing import Market
from kitting.job.sourcing import Sourcing

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

    from kitting.buying.planning.demand import ShelfStock
    from kitting.catalog.model import PartNumber, Position
    from kitting.catalog.size_tables import Grade
    from kitting.catalog.ways import Way
    from kitting.job.kit import KitLine
    from kitting.job.path import JobPath

    Ways = Callable[[JobPath, KitLine], tuple[LineWay, ...]]

_RANK = {kind: rank for rank, kind in enumerate(WayKind)}


def problem_of(
    paths: Sequence[JobPath],
    policy: Policy | None = None,
    shelf: tuple[ShelfStock, ...] = (),
    ways: Ways | None = None,
) -> PlanProblem:
    """Return the buying problem of one or several jobs, all walked on one day.

    Args:
        paths: the jobs; each may be of another family.
        policy: how the shop buys; by default nothing is banned and held lines are kept out.
        shelf: what is free on the shop's own shelf.
        ways: gives a line's ways; `part_of_kit` is the kit's one part, `every_way` (the default)
            all that the resolver allows.

    Raises:
        BadInput: no job, jobs walked on different days, or terms that contradict each other.
    """
    _check(paths)
    policy = policy or Policy()
    planned = [each for path in paths for each in _lines(path, policy, ways or every_way)]
    sets = _sets(paths, [line for line, _ in planned])
    bought = {part for line, _ in planned for way in line.ways for part, _ in way.parts}
    bought |= {each.number for each in sets}
    trade, day = paths[0].trade, paths[0].day
    # Each path knows the offers of its own family's parts only.
    every = dict.fromkeys(offer for path in paths for offer in path.trade.offers)
    offers = tuple(offer for offer in every if offer.part in bought)
    selling = {offer.supplier for offer in offers}
    suppliers = tuple(each for each in trade.suppliers if each.key in selling)
    home = trade.shop.currency
    used = {offer.currency for offer in offers} | {each.currency for each in suppliers}
    market = Market(trade, day)
    return PlanProblem(
        day=day,
        currency=home,
        lines=tuple(_with_names_in_sets(line, names, sets) for line, names in planned),
        offers=offers,
        suppliers=suppliers,
        rates={currency: market.worth(currency) for currency in sorted(used - {home})},
        sets=sets,
        shelf=shelf,
        policy=policy,
    )


def without_part(paths: Iterable[JobPath]) -> tuple[tuple[str, KitLine], ...]:
    """The kit lines that no plan can hold, as they have no part number, with their jobs."""
    return tuple(
        (path.bench.job.number, line)
        for path in paths
        for line in path.kit.lines
        if line.part is None
    )


def part_of_kit(path: JobPath, line: KitLine) -> tuple[LineWay, ...]:
    """The kit's own choice, as the only way."""
    if line.part is None:
        return ()
    operations = (line.operation,) if line.operation else ()
    work = _work(Market(path.trade, path.day), operations) or Decimal(0)
    return (LineWay(((line.part, line.quantity),), "as in the kit", 0, work, operations),)


def every_way(path: JobPath, line: KitLine) -> tuple[LineWay, ...]:
    """The kit's choice, then all that the resolver allows in all of the line's positions alike.

    Where one position takes several parts (a stack of shims too), or one part answers for several
    numbers, the kit's choice stands alone. Old stock is taken only where the kit takes it.
    """
    own = part_of_kit(path, line)
    if not own or line.answers or any(path.sizes.stack_of(key) for key in line.positions):
        return own
    market = Market(path.trade, path.day)
    sourcing = Sourcing(path.family, path.bench.job, market)
    found: list[dict[tuple[PartNumber, ...], Way]] = []
    for key in line.positions:
        position = path.family.position_by_key[key]
        washer = path.sizes.washer_of(key)
        only = washer.part if washer else None
        ways = sourcing.ways(position, _grade(path, position), only)
        if not ways or len(_wanted(ways[0])) != 1:
            return own
        current = [way for way in ways if way.current]
        found.append({tuple(part for part, _ in _wanted(way)): way for way in reversed(current)})
    together = [_together(market, parts, found) for parts in (found[0] if found else ())]
    others = [way for way in together if way is not None and way.parts != own[0].parts]
    return (*own, *sorted(others, key=_order))


def matched_group(path: JobPath, line: KitLine) -> str:
    """The matched group of a line, or '': alike parts that are renewed together, of one maker."""
    for key in line.positions:
        position = path.family.position_by_key[key]
        fellows = path.family.matched_with.get(position.matched, ())
        if any(other.key != key and other.kind == position.kind for other in fellows):
            return position.matched
    return ""


def _check(paths: Sequence[JobPath]) -> None:
    if not paths:
        raise BadInput(Problem("buying plan", "no job is named", "name at least one"))
    days = sorted({path.day for path in paths})
    if len(days) > 1:
        wrong = f"the jobs are priced as of {days[0]} and of {days[-1]}"
        raise BadInput(Problem("buying plan", wrong, "price them all as of one day"))
    numbers = Counter(path.bench.job.number for path in paths)
    twice = [number for number, count in numbers.items() if count > 1]
    if twice:
        raise BadInput(Problem("buying plan", f"job {twice[0]} is named twice", "name it once"))


def _lines(
    path: JobPath, policy: Policy, find: Ways
) -> Iterator[tuple[PlanLine, Mapping[PartNumber, int]]]:
    """A job's lines, each with the other names of what it needs; a held one at both its sizes.

    With each name stands how many of it the line takes.
    """
    for line in path.kit.lines:
        if line.part is None:
            continue
        match = matched_group(path, line)
        named = {line.named} if line.named else set()
        others = () if line.hold else (line.serves | named) - {line.part}
        yield (
            PlanLine(
                job=path.bench.job.number,
                key=line.key,
                name=line.text,
                quantity=line.quantity,
                ways=find(path, line),
                held=line.hold,
                critical=_critical(path, line),
                match=match,
            ),
            {name: line.whole_of(name) for name in others},
        )
        if line.hold and line.worst_part is not None and policy.sale_or_return:
            yield (
                PlanLine(
                    job=path.bench.job.number,
                    key=f"{line.key}, worst case",
                    name=_name_at_worst(path, line),
                    quantity=line.quantity,
                    ways=(LineWay(((line.worst_part, line.quantity),), "as in the kit"),),
                    held=True,
                    critical=_critical(path, line),
                    match=f"{match}, worst case" if match else "",
                ),
                {},
            )


def _name_at_worst(path: JobPath, line: KitLine) -> str:
    """What a held line is called at its other size."""
    part = path.family.part_by_number.get(line.worst_part) if line.worst_part else None
    name = part.name if part else line.name
    return replace(line, name=name, grade=line.worst_grade).text


def _critical(path: JobPath, line: KitLine) -> bool:
    positions = set(line.positions)
    return any(f.critical and f.position in positions for f in path.family.features)


def _grade(path: JobPath, position: Position) -> Grade | None:
    choice = path.sizes.by_table.get(position.sized_by) if position.sized_by else None
    return choice.parts_likely if choice else None


def _wanted(way: Way) -> tuple[tuple[PartNumber, int], ...]:
    return (*way.parts, *way.companions)


def _together(
    market: Market,
    parts: tuple[PartNumber, ...],
    found: Sequence[Mapping[tuple[PartNumber, ...], Way]],
) -> LineWay | None:
    """One way for all positions of a line; None where one has it not, or its work has no price."""
    ways = [each[parts] for each in found if parts in each]
    if len(ways) < len(found):
        return None
    operations = tuple(operation for way in ways for operation in way.operations)
    work = _work(market, operations)
    if work is None:
        return None
    pieces: Counter[PartNumber] = Counter()
    for way in ways:
        pieces.update(dict(_wanted(way)))
    kind = ways[0].kind
    maker = ways[0].parts[0][0].maker
    return LineWay(tuple(pieces.items()), str(kind), _RANK[kind], work, operations, maker)


def _order(way: LineWay) -> tuple[object, ...]:
    return (way.rank, way.work, way.parts)


def _work(market: Market, operations: Iterable[str]) -> Decimal | None:
    """What operations cost at the cheapest machinist; None where one has no valid price."""
    total = Decimal(0)
    for operation, times in Counter(operations).items():
        quote = market.work(operation, times)
        if quote is None or quote.lapsed:
            return None
        total += quote.home
    return total


def _sets(paths: Iterable[JobPath], lines: Iterable[PlanLine]) -> tuple[PlanSet, ...]:
    """The families' sets. A matched part is not taken out of another maker's set: nobody can say
    that its fellows are of the same make."""
    matched = {part for line in lines if line.match for way in line.ways for part, _ in way.parts}
    contents: dict[PartNumber, dict[PartNumber, int]] = {}
    for path in paths:
        for item in path.family.set_items:
            if item.part not in matched or item.part.maker == item.set.maker:
                contents.setdefault(item.set, {})[item.part] = item.quantity
    return tuple(
        PlanSet(
            number, tuple((part, count) for part, count in parts.items() if part not in contents)
        )
        for number, parts in sorted(contents.items())
    )


def _with_names_in_sets(
    line: PlanLine, names: Mapping[PartNumber, int], sets: Iterable[PlanSet]
) -> PlanLine:
    """Let a line take what it needs out of a set that lists it under another of its names."""
    listed = {part for each in sets for part, _ in each.contents}
    own = {part for way in line.ways for part, _ in way.parts}
    ways = [
        LineWay(((name, names[name]),), "out of a set", maker=line.ways[0].made_by)
        for name in sorted((names.keys() & listed) - own)
        if line.ways and not line.match
    ]
    return replace(line, ways=(*line.ways, *ways))
