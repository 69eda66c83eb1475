"""The plan's problem in whole numbers: pools of parts, articles with priced options, choices.

A pool is one part for all the lines of all the jobs that may take it, so that a pack serves several
lines; held lines have pools of their own, as what they take may go back. An article is one offer
for one pool; its options are the numbers of packs worth considering (`options`), priced as
`kitting.job.pricing` prices a quote: the price times the packs rounded in the offer's currency,
then turned into the shop's money and rounded. Money is in minor units.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from kitting.buying.planning import conditions
from kitting.buying.planning.demand import SmallOrder, minor_units
from kitting.buying.planning.options import Pricer, Terms

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from kitting.buying.planning.conditions import Condition
    from kitting.buying.planning.demand import LineWay, PlanLine, PlanProblem, PlanSet
    from kitting.buying.planning.options import Option
    from kitting.catalog.model import PartNumber
    from kitting.catalog.trade import Offer, Supplier


@dataclass(frozen=True, slots=True, order=True)
class Pool:
    """A part, for lines that are firm or for lines that are held."""

    part: PartNumber
    held: bool


@dataclass(frozen=True, slots=True)
class Article:
    """An offer for one pool: its place among the problem's offers, and its options.

    A `poor` one is of a quality that no critical line takes.
    """

    index: int
    offer: Offer
    pool: Pool
    bound: int | None
    options: tuple[Option, ...]
    poor: bool = False

    def pieces(self, option: Option) -> int:
        """How many pieces an option brings."""
        return option.packs * self.offer.pack


@dataclass(frozen=True, slots=True)
class Choice:
    """A way that a line may take."""

    line: int
    way: LineWay
    takes: tuple[tuple[Pool, int], ...]
    work: int


@dataclass(frozen=True)
class Tables:
    """The whole problem, ready for a solver, with some conditions lifted or none.

    `careful` are the pools of which some offer is poor, and the most that critical lines could take
    of each. `spare` are lines that may go without.
    """

    problem: PlanProblem
    lines: tuple[PlanLine, ...]
    choices: tuple[Choice, ...]
    most: Mapping[Pool, int]
    articles: tuple[Article, ...]
    openings: tuple[PlanSet, ...]
    shelf: Mapping[Pool, tuple[int, int]]
    terms: tuple[Terms, ...]
    matched: frozenset[tuple[str, str]]
    careful: Mapping[Pool, int]
    spare: frozenset[int] = frozenset()


def tables_of(problem: PlanProblem, lifted: frozenset[Condition] = frozenset()) -> Tables:
    """Put the problem into whole numbers, without the conditions that are lifted."""
    if conditions.NO_TOP_UP in lifted:
        problem = replace(problem, policy=replace(problem.policy, top_up=True))
    return _Compiler(problem, lifted).tables()


class _Compiler:
    """Makes the tables of one problem."""

    def __init__(self, problem: PlanProblem, lifted: frozenset[Condition]) -> None:
        self._problem = problem
        self._lifted = lifted
        self._policy = problem.policy
        self._banned_makers = {
            maker
            for maker in self._policy.banned_makers
            if conditions.maker_condition(maker) not in lifted
        }

    def tables(self) -> Tables:
        problem = self._problem
        lines = problem.planned
        choices = tuple(self._choices(lines))
        openings = tuple(s for s in problem.sets if s.number.maker not in self._banned_makers)
        most = _most(choices, openings)
        terms = tuple(self._terms(supplier) for supplier in problem.suppliers)
        careful = _most((each for each in choices if lines[each.line].critical), ())
        by_key = {each.supplier.key: each for each in terms}
        articles = tuple(self._articles(most, by_key, careful, _in_sets(openings, careful)))
        of_poor = {article.pool for article in articles if article.poor}
        return Tables(
            problem=problem,
            lines=lines,
            choices=choices,
            most=most,
            articles=articles,
            openings=tuple(each for each in openings if Pool(each.number, held=False) in most),
            shelf=self._shelf(most),
            terms=terms,
            matched=frozenset(
                (line.job, line.match)
                for line in lines
                if line.match
                and conditions.match_condition(line.job, line.match) not in self._lifted
            ),
            careful={pool: count for pool, count in careful.items() if pool in of_poor},
        )

    def _choices(self, lines: Iterable[PlanLine]) -> Iterable[Choice]:
        limit = self._policy.critical_rank
        if conditions.CRITICAL in self._lifted:
            limit = None
        for index, line in enumerate(lines):
            held = line.held and conditions.RETURN not in self._lifted
            for way in line.ways:
                makers = {way.made_by, *(part.maker for part, _ in way.parts)}
                too_poor = line.critical and limit is not None and way.rank > limit
                if not too_poor and not makers & self._banned_makers:
                    takes: dict[Pool, int] = defaultdict(int)
                    for part, quantity in way.parts:
                        takes[Pool(part, held)] += quantity
                    work = minor_units(way.work, self._problem.currency)
                    yield Choice(index, way, tuple(takes.items()), work)

    def _terms(self, supplier: Supplier) -> Terms:
        problem = self._problem
        barred = conditions.least_order_condition(problem, supplier.key)
        made_up = self._policy.small_order is SmallOrder.MADE_UP
        least = minor_units(supplier.least_order, supplier.currency)
        at_home = problem.at_home(supplier.least_order, supplier.currency)
        carriage = problem.at_home(supplier.carriage, supplier.currency)
        free = supplier.free_over
        return Terms(
            supplier=supplier,
            carriage=minor_units(carriage, problem.currency),
            free_over=None if free is None else minor_units(free, supplier.currency),
            barred=least if barred is not None and barred not in self._lifted else 0,
            made_up=minor_units(at_home, problem.currency) if made_up else 0,
        )

    def _shelf(self, most: Mapping[Pool, int]) -> Mapping[Pool, tuple[int, int]]:
        """The most that each pool can take from the shelf, and what one costs."""
        found = {}
        for stock in self._problem.shelf:
            for pool in (Pool(stock.part, held=False), Pool(stock.part, held=True)):
                if stock.quantity and pool in most:
                    cost = minor_units(stock.cost, self._problem.currency)
                    found[pool] = (min(stock.quantity, most[pool]), cost)
        return found

    def _articles(
        self,
        most: Mapping[Pool, int],
        terms: Mapping[str, Terms],
        careful: Mapping[Pool, int],
        opened_for: frozenset[PartNumber],
    ) -> Iterable[Article]:
        """What may be bought; of poor quality only where a line that is not critical may take it.

        A set that brings a part of critical lines is bought of a quality that is fit for them.
        """
        barred = self._passed_over()
        for index, offer in enumerate(self._problem.every_offer):
            both = (Pool(offer.part, held=False), Pool(offer.part, held=True))
            wanted = [pool for pool in both if pool in most]
            if not wanted or index in barred or not self._usable(offer):
                continue
            bound = self._bound(index)
            poor = self._poor(offer)
            for pool in wanted:
                if poor and (careful.get(pool) == most[pool] or offer.part in opened_for):
                    continue
                if not pool.held or self._takes_back(offer.supplier):
                    pricer = Pricer(self._problem, offer, terms[offer.supplier], bound)
                    options = pricer.options(most[pool])
                    if options:
                        yield Article(index, offer, pool, bound, options, poor)

    def _passed_over(self) -> frozenset[int]:
        """The places of the offers that are not taken, as their suppliers failed."""
        problem = self._problem
        return frozenset(
            index
            for index, each in enumerate(problem.passed_over, start=len(problem.offers))
            if conditions.failed_condition(problem, each) not in self._lifted
        )

    def _usable(self, offer: Offer) -> bool:
        problem, policy = self._problem, self._policy
        banned = (
            offer.supplier in policy.banned_suppliers
            and conditions.supplier_condition(problem, offer.supplier) not in self._lifted
        )
        unwanted = (
            offer.quality in policy.not_of
            and conditions.quality_condition(offer.quality) not in self._lifted
        )
        days = policy.within_days if conditions.WITHIN_DAYS not in self._lifted else None
        return (
            offer.valid_on(problem.day)
            and not (banned or unwanted)
            and offer.part.maker not in self._banned_makers
            and (days is None or offer.days <= days)
        )

    def _poor(self, offer: Offer) -> bool:
        """Whether an offer is of a quality that no critical line takes."""
        kept = conditions.critical_quality_condition(offer.quality) not in self._lifted
        return kept and offer.quality in self._policy.not_where_critical

    def _bound(self, index: int) -> int | None:
        condition = conditions.stock_condition(self._problem, index)
        if condition is None or condition in self._lifted:
            return None
        offer = self._problem.every_offer[index]
        return conditions.stock_bound(offer, back_orders=self._policy.back_orders)

    def _takes_back(self, supplier: str) -> bool:
        return supplier in self._policy.sale_or_return


def _most(choices: Iterable[Choice], openings: Iterable[PlanSet]) -> Mapping[Pool, int]:
    """The most pieces of each pool that could be of use, whatever ways are taken."""
    by_line: dict[tuple[Pool, int], int] = defaultdict(int)
    for choice in choices:
        for pool, quantity in choice.takes:
            by_line[(pool, choice.line)] = max(by_line[(pool, choice.line)], quantity)
    most: dict[Pool, int] = defaultdict(int)
    for (pool, _), quantity in by_line.items():
        most[pool] += quantity
    direct = dict(most)
    for opening in openings:
        opened = opened_at_most(opening, direct)
        if opened:
            most[Pool(opening.number, held=False)] += opened
    return dict(most)


def _in_sets(openings: Iterable[PlanSet], careful: Mapping[Pool, int]) -> frozenset[PartNumber]:
    """The sets that bring a part which critical lines may take."""
    parts = {pool.part for pool in careful if not pool.held}
    return frozenset(each.number for each in openings if parts & dict(each.contents).keys())


def opened_at_most(opening: PlanSet, most: Mapping[Pool, int]) -> int:
    """How many of a set could be of use for its contents."""
    return max(
        (
            -(-most.get(Pool(part, held=False), 0) // quantity)
            for part, quantity in opening.contents
        ),
        default=0,
    )
