"""What a buying plan is asked: lines with their ways, sets, shelf, offers, terms, policy. Values.

Nothing here knows where a way comes from: the resolver's ways, a kit's one part and a set's
contents all arrive as parts with quantities. `stock` of an offer counts packs, as it is the stock
of the supplier's own number; 0 means back order within the offer's days, as the trade's files say.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from typing import TYPE_CHECKING

from kitting.catalog.trade import Quality
from kitting.errors import Problems
from kitting.job.pricing import UNSOUND_WHERE_CRITICAL, rounded

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from datetime import date

    from kitting.catalog.model import PartNumber
    from kitting.catalog.trade import Offer, Supplier

_NOTHING = Decimal(0)


class SmallOrder(StrEnum):
    """What becomes of an order under the supplier's least value.

    `BARRED`: it is not placed; the plan may buy more of what it needs to reach the value.
    `MADE_UP`: it is placed and what it falls short of is spent there on goods of the shop's choice.
    """

    BARRED = "barred"
    MADE_UP = "made up"


@dataclass(frozen=True, slots=True)
class LineWay:
    """One way to satisfy a line: all of these parts, and the work that fitting them takes.

    Quantities are for the whole line. `work` is in the shop's money. `rank` is 0 for the soundest
    kind of way. `maker` decides in a matched group; empty means the maker of the first part. Where
    `parts` are only what is left to buy, `whole` are those that make `whole_makes` of the line.
    """

    parts: tuple[tuple[PartNumber, int], ...]
    kind: str = "as named"
    rank: int = 0
    work: Decimal = _NOTHING
    operations: tuple[str, ...] = ()
    maker: str = ""
    whole: tuple[tuple[PartNumber, int], ...] = ()
    whole_makes: int = 0

    @property
    def made_by(self) -> str:
        """Whose part it is, for matching."""
        return self.maker or self.parts[0][0].maker

    @property
    def with_work(self) -> bool:
        """Whether it takes work to fit."""
        return bool(self.work or self.operations)


@dataclass(frozen=True, slots=True)
class PlanLine:
    """A line of a job's kit with every way to satisfy it; `quantity` is what the job needs.

    `held` waits for the machinist's word. Lines of one job with the same `match` must be of one
    maker. A `critical` line takes no way of a worse rank than the policy allows.
    """

    job: str
    key: str
    name: str
    quantity: int
    ways: tuple[LineWay, ...]
    held: bool = False
    critical: bool = False
    match: str = ""

    def __str__(self) -> str:
        return f"{self.name} (job {self.job}, line {self.key})"


@dataclass(frozen=True, slots=True)
class PlanSet:
    """One number that brings several parts, so many of each; sold whole."""

    number: PartNumber
    contents: tuple[tuple[PartNumber, int], ...]


@dataclass(frozen=True, slots=True)
class ShelfStock:
    """Free pieces on the shop's own shelf; `cost` of one in the shop's money, nothing if paid."""

    part: PartNumber
    quantity: int
    cost: Decimal = _NOTHING


@dataclass(frozen=True, slots=True)
class PassedOver:
    """An offer that is not taken, as its supplier failed with the part; `why` in a few words."""

    offer: Offer
    why: str


@dataclass(frozen=True, slots=True)
class Policy:
    """How the shop buys.

    `sale_or_return` are the suppliers that take parts back: with none, held lines are kept out of
    the plan; with some, held lines are bought from them or taken off the shelf, and never out of a
    set. A part of a `preferred_maker` may cost up to `premium` per cent more than another's.
    `top_up` lets a plan buy more than it needs to reach free carriage or a least order.
    `back_orders` takes offers whose stock is 0 as within their days. Nothing of a quality in
    `not_of` is bought, nor for a critical line any in `not_where_critical`. `time_limit` in seconds
    is for each plan.
    """

    banned_makers: frozenset[str] = frozenset()
    banned_suppliers: frozenset[str] = frozenset()
    preferred_maker: str = ""
    premium: Decimal = _NOTHING
    sale_or_return: frozenset[str] = frozenset()
    small_order: SmallOrder = SmallOrder.BARRED
    top_up: bool = True
    back_orders: bool = True
    critical_rank: int | None = None
    within_days: int | None = None
    not_of: frozenset[Quality] = frozenset()
    not_where_critical: frozenset[Quality] = UNSOUND_WHERE_CRITICAL
    time_limit: float = 20.0
    seed: int = 1


@dataclass(frozen=True)
class PlanProblem:
    """What is to be bought, what is to be had, and on what terms; on a day.

    `rates` are the worth of one of another currency in the shop's money. Offers not valid on the
    day are not used; they help to say why a line cannot be bought, and so do those `passed_over`.
    `waits` are held lines that cannot be had on sale or return.

    Raises:
        BadInput: with everything that contradicts itself.
    """

    day: date
    currency: str
    lines: tuple[PlanLine, ...]
    offers: tuple[Offer, ...]
    suppliers: tuple[Supplier, ...]
    rates: Mapping[str, Decimal]
    sets: tuple[PlanSet, ...] = ()
    shelf: tuple[ShelfStock, ...] = ()
    policy: Policy = Policy()
    waits: tuple[PlanLine, ...] = ()
    passed_over: tuple[PassedOver, ...] = ()

    def __post_init__(self) -> None:
        problems = Problems()
        _check_lines(self.lines, problems)
        _check_money(self, problems)
        _check_sets(self.sets, problems)
        _check_shelf(self.shelf, problems)
        _check_policy(self.policy, problems)
        problems.raise_if_any()

    @property
    def planned(self) -> tuple[PlanLine, ...]:
        """The lines that the plan buys: all, less the held ones where nobody takes parts back."""
        if self.policy.sale_or_return:
            return self.lines
        return tuple(line for line in self.lines if not line.held)

    @property
    def waiting(self) -> tuple[PlanLine, ...]:
        """The held lines that are kept out."""
        planned = set(self.planned)
        return (*(line for line in self.lines if line not in planned), *self.waits)

    @property
    def every_offer(self) -> tuple[Offer, ...]:
        """The offers, then those that are passed over."""
        return (*self.offers, *(each.offer for each in self.passed_over))

    def at_home(self, amount: Decimal, currency: str) -> Decimal:
        """An amount in the shop's money, rounded half up to its minor unit."""
        return rounded(amount * self.worth(currency), self.currency)

    def worth(self, currency: str) -> Decimal:
        """What one of a currency is worth in the shop's money."""
        return Decimal(1) if currency == self.currency else self.rates[currency]


def minor_units(amount: Decimal, currency: str) -> int:
    """An amount as a whole number of the currency's minor units, rounded half up."""
    return int(rounded(amount, currency).scaleb(_places(currency)))


def from_minor(units: int, currency: str) -> Decimal:
    """So many minor units as an amount."""
    return Decimal(units).scaleb(-_places(currency))


def _places(currency: str) -> int:
    exponent = rounded(_NOTHING, currency).as_tuple().exponent
    return -exponent if isinstance(exponent, int) else 0


def _check_lines(lines: Iterable[PlanLine], problems: Problems) -> None:
    seen: set[tuple[str, str]] = set()
    for line in lines:
        place = str(line)
        if (line.job, line.key) in seen:
            problems.add(place, "the line stands twice", "give each line of a job its own key")
        seen.add((line.job, line.key))
        if line.quantity < 1:
            problems.add(place, f"it needs {line.quantity}", "a quantity is 1 or more")
        for way in line.ways:
            if not way.parts or any(quantity < 1 for _, quantity in way.parts):
                problems.add(place, "a way names no part, or none of it", "give each at least 1")
            if way.work < 0:
                problems.add(place, f"work costs {way.work}", "give nothing, or what it costs")


def _check_money(problem: PlanProblem, problems: Problems) -> None:
    known = {supplier.key for supplier in problem.suppliers}
    for supplier in problem.suppliers:
        if min(supplier.carriage, supplier.least_order, supplier.free_over or _NOTHING) < 0:
            problems.add(supplier.name, "a term of his is below zero", "give plain amounts")
    for offer in problem.every_offer:
        place = f"{offer.part} at {offer.supplier}"
        if offer.supplier not in known:
            problems.add(place, f"no supplier '{offer.supplier}' is known", "add him")
        if offer.pack < 1 or (offer.stock is not None and offer.stock < 0):
            problems.add(place, f"pack {offer.pack}, stock {offer.stock}", "a pack is 1 or more")
        if any(price < 0 for price in (offer.price, *(step.price for step in offer.breaks))):
            problems.add(place, "a price is below zero", "give what one pack costs")
    used = {offer.currency for offer in problem.every_offer} | {
        s.currency for s in problem.suppliers
    }
    for currency in sorted(used - {problem.currency}):
        worth = problem.rates.get(currency)
        if worth is None or worth <= 0:
            said = "no exchange rate is given" if worth is None else f"its exchange rate is {worth}"
            problems.add(currency, said, f"say what 1 {currency} is worth in {problem.currency}")


def _check_sets(sets: Iterable[PlanSet], problems: Problems) -> None:
    every = tuple(sets)
    numbers = [each.number for each in every]
    for each in every:
        place = f"set {each.number}"
        if numbers.count(each.number) > 1:
            problems.add(place, "it stands twice", "give its contents once")
        if any(quantity < 1 for _, quantity in each.contents):
            problems.add(place, "it brings none of a part", "give how many it brings")
        if len({part for part, _ in each.contents}) < len(each.contents):
            problems.add(place, "a part stands twice in it", "add the two up")
        within = [part for part, _ in each.contents if part in numbers]
        for part in within:
            problems.add(place, f"it holds another set, {part}", "list that set's parts instead")


def _check_shelf(shelf: Iterable[ShelfStock], problems: Problems) -> None:
    seen: set[PartNumber] = set()
    for stock in shelf:
        place = f"shelf, {stock.part}"
        if stock.part in seen:
            problems.add(place, "it stands twice", "add the two up")
        seen.add(stock.part)
        if stock.quantity < 0 or stock.cost < 0:
            problems.add(place, f"{stock.quantity} at {stock.cost}", "nothing, or more")


def _check_policy(policy: Policy, problems: Problems) -> None:
    if policy.premium < 0:
        problems.add("policy", f"a premium of {policy.premium} %", "nothing, or more")
    if policy.time_limit <= 0:
        problems.add("policy", f"a time limit of {policy.time_limit} s", "give some seconds")
    if not 0 <= policy.seed < 2**31:
        problems.add("policy", f"seed {policy.seed}", "a whole number from 0 to 2147483647")
