"""How a shop buys without a plan: all from one supplier, or each line where it is cheapest."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import replace
from decimal import Decimal

from kitting.buying.planning.demand import LineWay, PlanProblem
from kitting.catalog.trade import Offer

Basket = dict[Offer, int]


def best_single_supplier(problem: PlanProblem) -> Decimal | None:
    """The least that one supplier asks for all of it; None where nobody has it all."""
    costs = []
    for supplier in problem.suppliers:
        offers = tuple(offer for offer in problem.offers if offer.supplier == supplier.key)
        cost = line_by_line(replace(problem, offers=offers))
        if cost is not None:
            costs.append(cost)
    return min(costs, default=None)


def line_by_line(problem: PlanProblem) -> Decimal | None:
    """Each line by itself at its cheapest; what comes to one offer is ordered together.

    None where a line cannot be had so, or an order would be less than a supplier takes.
    """
    needed: dict[Offer, int] = defaultdict(int)
    work = Decimal(0)
    for line in problem.lines:
        found = list(_baskets(problem, line.ways))
        if not found:
            return None
        _, labour, basket = min(found, key=lambda each: each[0])
        work += labour
        for offer, pieces in basket.items():
            needed[offer] += pieces
    total = work
    goods: dict[str, Decimal] = defaultdict(lambda: Decimal(0))
    for offer, pieces in needed.items():
        packs = -(-pieces // offer.pack)
        if offer.stock and packs > offer.stock:
            return None
        total += _price(problem, offer, pieces)
        goods[offer.supplier] += offer.pack_price(packs) * packs
    for supplier in problem.suppliers:
        spent = goods.get(supplier.key)
        if spent is None:
            continue
        if spent < supplier.least_order:
            return None
        if supplier.free_over is None or spent < supplier.free_over:
            total += problem.at_home(supplier.carriage, supplier.currency)
    return total


def _baskets(
    problem: PlanProblem, ways: Iterable[LineWay]
) -> Iterator[tuple[Decimal, Decimal, Basket]]:
    """For each way that can be had: its cost, the work in it, and what is bought."""
    for way in ways:
        basket: Basket = {}
        for part, quantity in way.parts:
            offers = [
                offer
                for offer in problem.offers
                if offer.part == part and (not offer.stock or offer.stock * offer.pack >= quantity)
            ]
            if not offers:
                break
            offer = min(offers, key=lambda each: (_price(problem, each, quantity), each.supplier))
            basket[offer] = basket.get(offer, 0) + quantity
        else:
            cost = sum((_price(problem, o, n) for o, n in basket.items()), way.work)
            yield cost, way.work, basket


def _price(problem: PlanProblem, offer: Offer, pieces: int) -> Decimal:
    packs = -(-pieces // offer.pack)
    return problem.at_home(offer.pack_price(packs) * packs, offer.currency)
