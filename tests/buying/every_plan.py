"""The least cost by trying every plan: slow, simple, and made apart from the planner.

A plan is: a way for each line, a number of packs of each offer (for firm lines, and on sale or
return for held ones), how many of each set are opened. Money in Decimal throughout. Where the shop
does not top up, only those plans count that buy and open no more than they need.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from decimal import ROUND_HALF_UP, Decimal
from itertools import product

from kitting.buying.planning.demand import LineWay, PlanLine, PlanProblem, Policy, SmallOrder
from kitting.catalog.model import PartNumber
from kitting.catalog.trade import Offer, Supplier

PENNY = Decimal("0.01")

PoolKey = tuple[PartNumber, bool]


@dataclass(frozen=True)
class Item:
    """An offer that may be bought, for firm lines or for held ones."""

    offer: Offer
    held: bool


@dataclass
class Search:
    """The best found so far."""

    problem: PlanProblem
    best: Decimal | None = None
    items: list[Item] = field(default_factory=list)


def least_cost(problem: PlanProblem) -> Decimal | None:
    """The cost of the cheapest plan, a preferred maker's parts at less; None when there is none."""
    search = Search(problem, items=list(_items(problem)))
    demands = list(_demands(problem))
    if demands:
        _buy(search, demands, [0] * len(search.items), 0, Decimal(0))
    return search.best


def _items(problem: PlanProblem) -> Iterator[Item]:
    """What may be bought: only parts that a line may take, and sets that bring such parts."""
    policy = problem.policy
    wanted = {
        (part, line.held)
        for line in problem.lines
        for way in line.ways
        if _sound(line, way, policy)
        for part, _ in way.parts
    }
    wanted |= {
        (each.number, False)
        for each in problem.sets
        if any((part, False) in wanted for part, _ in each.contents)
    }
    for offer in problem.offers:
        if not offer.valid_on(problem.day) or offer.supplier in policy.banned_suppliers:
            continue
        if offer.part.maker in policy.banned_makers:
            continue
        if offer.quality in policy.not_of or _opens_for_critical(problem, offer):
            continue
        if policy.within_days is not None and offer.days > policy.within_days:
            continue
        for held in (False, True):
            if held and offer.supplier not in policy.sale_or_return:
                continue
            if (offer.part, held) in wanted and not _for_none(problem, offer, held):
                yield Item(offer, held)


def _for_none(problem: PlanProblem, offer: Offer, held: bool) -> bool:
    """Whether it is of so poor a quality that no line may have it: it makes up no order either.

    A set is for the lines that take it whole, or that take what is in it.
    """
    policy = problem.policy
    if offer.quality not in policy.not_where_critical:
        return False
    inside = {p for e in problem.sets if e.number == offer.part for p, _ in e.contents}
    parts = {offer.part} if held else {offer.part} | inside
    return not any(
        part in parts
        for line in problem.lines
        if not line.critical and line.held is held
        for way in line.ways
        if _sound(line, way, policy)
        for part, _ in way.parts
    )


def _opens_for_critical(problem: PlanProblem, offer: Offer) -> bool:
    """Whether it is a set of poor quality that brings a part which a critical line may take."""
    policy = problem.policy
    lines = [line for line in problem.lines if line.critical and not line.held]
    wanted = {
        part
        for line in lines
        for way in line.ways
        if _sound(line, way, policy)
        for part, _ in way.parts
    }
    inside = {p for e in problem.sets if e.number == offer.part for p, _ in e.contents}
    return offer.quality in policy.not_where_critical and bool(inside & wanted)


Demand = tuple[Counter[PoolKey], Counter[PoolKey], Decimal]


def _demands(problem: PlanProblem) -> Iterator[Demand]:
    """What each choice of ways needs, what of it for critical lines, and what its work costs."""
    policy = problem.policy
    lines = [line for line in problem.lines if not line.held or policy.sale_or_return]
    for ways in product(*(line.ways for line in lines)):
        makers: dict[tuple[str, str], set[str]] = {}
        needs: Counter[PoolKey] = Counter()
        careful: Counter[PoolKey] = Counter()
        sound = True
        for line, way in zip(lines, ways, strict=True):
            if line.match:
                makers.setdefault((line.job, line.match), set()).add(way.made_by)
            sound &= _sound(line, way, policy)
            for part, quantity in way.parts:
                needs[(part, line.held)] += quantity
                careful[(part, line.held)] += quantity if line.critical else 0
        if sound and all(len(each) == 1 for each in makers.values()):
            yield needs, careful, sum((way.work for way in ways), Decimal(0))


def _sound(line: PlanLine, way: LineWay, policy: Policy) -> bool:
    makers = {way.made_by, *(part.maker for part, _ in way.parts)}
    limit = policy.critical_rank
    too_poor = line.critical and limit is not None and way.rank > limit
    return not too_poor and not makers & policy.banned_makers


def _buy(
    search: Search,
    demands: list[Demand],
    packs: list[int],
    at: int,
    spent: Decimal,
) -> None:
    if search.best is not None and spent >= search.best:
        return
    if at == len(search.items):
        _settle(search, demands, packs, spent)
        return
    offer = search.items[at].offer
    most = sum(line.quantity for line in search.problem.lines)
    limit = max([most + _more(search, offer), *(step.packs for step in offer.breaks)])
    if offer.stock is not None and not (offer.stock == 0 and search.problem.policy.back_orders):
        twin = sum(packs[other] for other in range(at) if search.items[other].offer is offer)
        limit = min(limit, offer.stock - twin)
    for count in range(limit + 1):
        packs[at] = count
        weighed = _weighed(search.problem, offer, _price(search.problem, offer, count))
        _buy(search, demands, packs, at + 1, spent + weighed)
    packs[at] = 0


def _more(search: Search, offer: Offer) -> int:
    """How many packs beyond the need may help to reach the supplier's terms."""
    if not search.problem.policy.top_up:
        return len(search.problem.lines)
    supplier = next(s for s in search.problem.suppliers if s.key == offer.supplier)
    least = min([offer.price, *(step.price for step in offer.breaks)])
    return int(max(supplier.free_over or 0, supplier.least_order) // least) + 1


def _price(problem: PlanProblem, offer: Offer, packs: int) -> Decimal:
    if not packs:
        return Decimal(0)
    each = offer.price
    for step in offer.breaks:
        if packs >= step.packs:
            each = step.price
    return _home(problem, (each * packs).quantize(PENNY, ROUND_HALF_UP), offer.currency)


def _weighed(problem: PlanProblem, offer: Offer, price: Decimal) -> Decimal:
    policy = problem.policy
    if offer.part.maker != policy.preferred_maker:
        return price
    return (price * 100 / (100 + policy.premium)).quantize(PENNY, ROUND_HALF_UP)


def _home(problem: PlanProblem, amount: Decimal, currency: str) -> Decimal:
    worth = Decimal(1) if currency == problem.currency else problem.rates[currency]
    return (amount * worth).quantize(PENNY, ROUND_HALF_UP)


def _settle(
    search: Search,
    demands: list[Demand],
    packs: list[int],
    spent: Decimal,
) -> None:
    problem = search.problem
    for supplier in problem.suppliers:
        terms = _terms(search, supplier, packs)
        if terms is None:
            return
        spent += terms
    have: Counter[PoolKey] = Counter()
    fit: Counter[PoolKey] = Counter()
    for item, count in zip(search.items, packs, strict=True):
        have[(item.offer.part, item.held)] += count * item.offer.pack
        if item.offer.quality not in problem.policy.not_where_critical:
            fit[(item.offer.part, item.held)] += count * item.offer.pack
    for needs, careful, work in demands:
        for opened in product(*(range(12) for _ in problem.sets)):
            cost = _rest(problem, (have, fit), (needs, careful), opened)
            if cost is not None and (search.best is None or spent + work + cost < search.best):
                if not problem.policy.top_up:
                    left = _left_over(problem, (have, fit), (needs, careful), opened)
                    if not _none_too_many(search, packs, opened, left):
                        continue
                search.best = spent + work + cost


def _left_over(
    problem: PlanProblem,
    have: tuple[Counter[PoolKey], Counter[PoolKey]],
    needs: tuple[Counter[PoolKey], Counter[PoolKey]],
    opened: tuple[int, ...],
) -> Counter[PoolKey]:
    """What is left of each pool once the shelf has made up what it must."""
    left, sound = Counter(have[0]), Counter(have[1])
    left.subtract(needs[0])
    sound.subtract(needs[1])
    for each, count in zip(problem.sets, opened, strict=True):
        for pools in (left, sound):
            pools.update({(part, False): pieces * count for part, pieces in each.contents})
        left[(each.number, False)] -= count
    for pool in set(left) | set(sound):
        critical = needs[1][pool] > 0
        left[pool] += max(0, -left[pool], -sound[pool] if critical else 0)
    return left


def _none_too_many(
    search: Search, packs: list[int], opened: tuple[int, ...], left: Counter[PoolKey]
) -> bool:
    """Whether every offer's next less costly number of packs, and one set fewer, is too few."""
    problem = search.problem
    for item, count in zip(search.items, packs, strict=True):
        costs = [
            _weighed(problem, item.offer, _price(problem, item.offer, fewer))
            for fewer in range(count + 1)
        ]
        if count:
            less = max(fewer for fewer in range(count) if costs[fewer] < costs[count])
            if left[(item.offer.part, item.held)] >= (count - less) * item.offer.pack:
                return False
    return all(
        not count or any(left[(part, False)] < pieces for part, pieces in each.contents)
        for each, count in zip(problem.sets, opened, strict=True)
    )


def _terms(search: Search, supplier: Supplier, packs: list[int]) -> Decimal | None:
    """What a supplier's terms add; None when he takes no such order."""
    mine = [
        (item.offer, count)
        for item, count in zip(search.items, packs, strict=True)
        if item.offer.supplier == supplier.key and count
    ]
    if not mine:
        return Decimal(0)
    problem = search.problem
    goods = Decimal(0)
    home = Decimal(0)
    for offer, count in mine:
        each = offer.price
        for step in offer.breaks:
            if count >= step.packs:
                each = step.price
        goods += (each * count).quantize(PENNY, ROUND_HALF_UP)
        home += _price(problem, offer, count)
    added = Decimal(0)
    if problem.policy.small_order is SmallOrder.MADE_UP:
        least = _home(problem, supplier.least_order, supplier.currency)
        added += max(Decimal(0), least - home)
    elif goods < supplier.least_order:
        return None
    if supplier.free_over is None or goods < supplier.free_over:
        added += _home(problem, supplier.carriage, supplier.currency)
    return added


def _rest(
    problem: PlanProblem,
    have: tuple[Counter[PoolKey], Counter[PoolKey]],
    needs: tuple[Counter[PoolKey], Counter[PoolKey]],
    opened: tuple[int, ...],
) -> Decimal | None:
    """What the shelf must add, at its cost; None when it cannot.

    Of what there is and is needed the second is what is fit for critical lines, and theirs.
    """
    supply, fit = map(Counter, have)
    wanted, careful = Counter(needs[0]), needs[1]
    for each, count in zip(problem.sets, opened, strict=True):
        if count:
            wanted[(each.number, False)] += count
            for part, pieces in each.contents:
                supply[(part, False)] += pieces * count
                fit[(part, False)] += pieces * count
    short: Counter[PartNumber] = Counter()
    for (part, held), count in wanted.items():
        pool = (part, held)
        short[part] += max(0, count - supply[pool], careful[pool] - fit[pool])
    cost = Decimal(0)
    shelf = {stock.part: stock for stock in problem.shelf}
    for part, count in short.items():
        if count:
            if part not in shelf or shelf[part].quantity < count:
                return None
            cost += shelf[part].cost * count
    return cost
