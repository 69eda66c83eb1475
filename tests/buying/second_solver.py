"""The least cost by another solver, from the same problem but by another way of writing it.

Packs of an offer are one whole number whose price is looked up in a table; the supplier's terms are
conditions, not sums. For firm lines, no shelf cost, orders barred below the least.
"""

from collections import defaultdict
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from ortools.sat.python import cp_model

from kitting.buying.planning.demand import PlanProblem
from kitting.catalog.model import PartNumber
from kitting.catalog.trade import Offer

PENNY = Decimal("0.01")


def second_opinion(problem: PlanProblem, seconds: float = 20) -> tuple[Decimal, bool]:
    """The least cost found, and whether it is proved."""
    model = cp_model.CpModel()
    needs: dict[PartNumber, list[Any]] = defaultdict(list)
    costs: list[Any] = []
    most = _lines(model, problem, needs, costs)
    sets = {each.number: model.new_int_var(0, 12, f"set {each.number}") for each in problem.sets}
    supply: dict[PartNumber, list[Any]] = defaultdict(list)
    for each in problem.sets:
        needs[each.number].append(sets[each.number])
        most[each.number] = 12
        for part, count in each.contents:
            supply[part].append(count * sets[each.number])
    for stock in problem.shelf:
        taken = model.new_int_var(0, stock.quantity, f"shelf {stock.part}")
        supply[stock.part].append(taken)
        costs.append(int(stock.cost * 100) * taken)
    counted: dict[str, list[Any]] = defaultdict(list)
    for at, offer in enumerate(problem.offers):
        if offer.part in needs and offer.valid_on(problem.day):
            packs, net, home = _bought(model, problem, offer, at, most[offer.part])
            supply[offer.part].append(offer.pack * packs)
            counted[offer.supplier].append(net)
            costs.append(home)
    for part, needed in needs.items():
        model.add(sum(supply[part]) >= sum(needed))
    _terms(model, problem, counted, costs)
    model.minimize(sum(costs))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.linearization_level = 2
    solver.parameters.random_seed = 1
    solver.parameters.max_time_in_seconds = seconds
    status = solver.solve(model)
    return Decimal(round(solver.objective_value)) / 100, status == cp_model.OPTIMAL


def _lines(
    model: cp_model.CpModel,
    problem: PlanProblem,
    needs: dict[PartNumber, list[Any]],
    costs: list[Any],
) -> dict[PartNumber, int]:
    most: dict[PartNumber, int] = defaultdict(int)
    makers: dict[tuple[str, str, str], Any] = {}
    for line in problem.lines:
        ways = [model.new_bool_var(f"{line.key} {at}") for at in range(len(line.ways))]
        model.add_exactly_one(ways)
        for taken, way in zip(ways, line.ways, strict=True):
            costs.append(int(way.work * 100) * taken)
            for part, quantity in way.parts:
                needs[part].append(quantity * taken)
                most[part] += quantity
            if line.match:
                group = (line.job, line.match)
                maker = makers.setdefault((*group, way.made_by), model.new_bool_var(str(group)))
                model.add_implication(taken, maker)
    groups: dict[tuple[str, str], list[Any]] = defaultdict(list)
    for (job, match, _), taken in makers.items():
        groups[(job, match)].append(taken)
    for one_maker in groups.values():
        model.add_at_most_one(one_maker)
    return most


def _bought(
    model: cp_model.CpModel, problem: PlanProblem, offer: Offer, at: int, most: int
) -> tuple[Any, Any, Any]:
    limit = max([most + 40, *(step.packs for step in offer.breaks)])
    if offer.stock:
        limit = min(limit, offer.stock)
    worth = problem.rates.get(offer.currency, Decimal(1))
    nets = [(offer.pack_price(n) * n).quantize(PENNY, ROUND_HALF_UP) for n in range(limit + 1)]
    homes = [(net * worth).quantize(PENNY, ROUND_HALF_UP) for net in nets]
    packs = model.new_int_var(0, limit, f"packs {at}")
    net = model.new_int_var(0, int(max(nets) * 100), f"net {at}")
    home = model.new_int_var(0, int(max(homes) * 100), f"home {at}")
    model.add_element(packs, [int(each * 100) for each in nets], net)
    model.add_element(packs, [int(each * 100) for each in homes], home)
    return packs, net, home


def _terms(
    model: cp_model.CpModel,
    problem: PlanProblem,
    counted: dict[str, list[Any]],
    costs: list[Any],
) -> None:
    for supplier in problem.suppliers:
        goods = sum(counted[supplier.key])
        used = model.new_bool_var(f"used {supplier.key}")
        paid = model.new_bool_var(f"carriage {supplier.key}")
        for net in counted[supplier.key]:
            model.add(net == 0).only_enforce_if(used.negated())
        model.add(goods >= int(supplier.least_order * 100)).only_enforce_if(used)
        free = supplier.free_over
        if free is None:
            model.add_implication(used, paid)
        else:
            model.add(goods >= int(free * 100)).only_enforce_if(used, paid.negated())
        worth = problem.rates.get(supplier.currency, Decimal(1))
        carriage = (supplier.carriage * worth).quantize(PENNY, ROUND_HALF_UP)
        costs.append(int(carriage * 100) * paid)
