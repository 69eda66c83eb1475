"""What a buying plan says: purchases by parcel, what each line gets and costs, and the proof.

Money is in the shop's currency unless it says otherwise, without VAT. The total is the sum of the
lines' totals, to the penny; so is every part of it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import timedelta
from decimal import Decimal
from enum import StrEnum
from functools import cached_property
from typing import TYPE_CHECKING

from kitting.catalog.trade import Quality

if TYPE_CHECKING:
    from datetime import date

    from kitting.buying.planning.demand import LineWay, PlanLine
    from kitting.catalog.model import PartNumber
    from kitting.catalog.trade import Offer, Supplier

_NOTHING = Decimal(0)


class Aim(StrEnum):
    """What a plan is made for; what ties is settled by cost."""

    CHEAPEST = "cheapest"
    SOONEST = "soonest"
    FEWEST = "fewest parcels"


class Source(StrEnum):
    """Where a line's parts come from."""

    OFFER = "offer"
    SET = "set"
    SHELF = "shelf"


@dataclass(frozen=True, slots=True)
class Purchase:
    """So many packs of one offer. `net` is in the offer's currency, `home` in the shop's.

    `used` pieces go to lines or, of a set, are opened; the rest is surplus. `on_return` is bought
    on sale or return, `back_order` is not in the supplier's stock today.
    """

    offer: Offer
    packs: int
    pack_price: Decimal
    net: Decimal
    home: Decimal
    used: int
    on_return: bool = False

    @property
    def pieces(self) -> int:
        """How many pieces come."""
        return self.packs * self.offer.pack

    @property
    def surplus(self) -> int:
        """Pieces beyond the need."""
        return self.pieces - self.used

    @property
    def back_order(self) -> bool:
        """Whether the supplier has told that he has none."""
        return self.offer.stock == 0


@dataclass(frozen=True, slots=True)
class Share:
    """What a line gets from one source: so many of a part, at its share of what the source costs.

    `number` is what is bought or taken: the part's own number, or the set's; `quality` as offered.
    """

    source: Source
    supplier: str
    part: PartNumber
    number: PartNumber
    pieces: int
    cost: Decimal
    quality: Quality = Quality.UNSAID


@dataclass(frozen=True, slots=True)
class LinePlan:
    """How a line is satisfied and what it costs.

    `carriage` is its share of its parcels' carriage and of what was spent there only to reach the
    supplier's terms, by the value of what the line gets in the parcel.
    """

    line: PlanLine
    way: LineWay
    shares: tuple[Share, ...]
    carriage: Decimal

    @property
    def goods(self) -> Decimal:
        """What its parts cost."""
        return sum((share.cost for share in self.shares), _NOTHING)

    @property
    def work(self) -> Decimal:
        """What the work costs that its way takes."""
        return self.way.work

    @property
    def total(self) -> Decimal:
        """Parts, carriage and work."""
        return self.goods + self.carriage + self.work


@dataclass(frozen=True, slots=True)
class Parcel:
    """One order to one supplier. `made_up` is what it falls short of his least order by, to be
    spent there; `days` from the order to the last of it."""

    supplier: Supplier
    purchases: tuple[Purchase, ...]
    carriage: Decimal
    made_up: Decimal

    @property
    def goods(self) -> Decimal:
        """What the purchases cost."""
        return sum((purchase.home for purchase in self.purchases), _NOTHING)

    @property
    def total(self) -> Decimal:
        """Goods, what they are made up with, and carriage."""
        return self.goods + self.carriage + self.made_up

    @property
    def days(self) -> int:
        """Days from the order to the last of it."""
        return max(purchase.offer.days for purchase in self.purchases)


@dataclass(frozen=True, slots=True)
class Surplus:
    """Pieces that come and are not needed: of one purchase, or out of a set."""

    part: PartNumber
    pieces: int
    out_of: PartNumber
    supplier: str = ""


@dataclass(frozen=True, slots=True)
class ShelfTaken:
    """Pieces that the shop's own shelf gives."""

    part: PartNumber
    pieces: int
    cost: Decimal


@dataclass(frozen=True, slots=True)
class Proof:
    """Whether nothing better exists. `cost` and `bound` count a preferred maker's parts as less.

    When stopped by the time limit, no plan costs less than `bound`.
    """

    proved: bool
    cost: Decimal
    bound: Decimal

    @property
    def gap(self) -> Decimal:
        """How far the plan may be from the best, in per cent of its cost, rounded up to 0.01."""
        if self.proved or not self.cost:
            return Decimal("0.00")
        gap = (self.cost - self.bound) / self.cost * 100
        return gap.quantize(Decimal("0.01"), "ROUND_UP")

    @property
    def sentence(self) -> str:
        """In one line."""
        if self.proved:
            return "proved: no sound plan is better"
        return f"stopped by the time limit: at most {self.gap} % above the best"


@dataclass(frozen=True)
class Plan:
    """One sound way to buy everything that is planned.

    `solution` is the solver's own, from which questions about the plan begin.
    """

    aim: Aim
    day: date
    currency: str
    lines: tuple[LinePlan, ...]
    parcels: tuple[Parcel, ...]
    shelf: tuple[ShelfTaken, ...]
    surplus: tuple[Surplus, ...]
    waiting: tuple[PlanLine, ...]
    proof: Proof
    solution: tuple[int, ...] = field(default=(), repr=False)

    @cached_property
    def goods(self) -> Decimal:
        """What is bought, and the shelf's parts where they are charged."""
        bought = sum((parcel.goods + parcel.made_up for parcel in self.parcels), _NOTHING)
        return bought + sum((taken.cost for taken in self.shelf), _NOTHING)

    @property
    def carriage(self) -> Decimal:
        """All carriage."""
        return sum((parcel.carriage for parcel in self.parcels), _NOTHING)

    @property
    def work(self) -> Decimal:
        """The work that the ways taken need."""
        return sum((line.work for line in self.lines), _NOTHING)

    @property
    def total(self) -> Decimal:
        """Goods, carriage and work."""
        return self.goods + self.carriage + self.work

    @property
    def days(self) -> int:
        """Days until the last part comes; 0 when all is on the shelf."""
        return max((parcel.days for parcel in self.parcels), default=0)

    @property
    def last_arrival(self) -> date:
        """The day when the last part comes."""
        return self.day + timedelta(days=self.days)

    def of_job(self, job: str) -> tuple[LinePlan, ...]:
        """The lines of one job."""
        return tuple(line for line in self.lines if line.line.job == job)

    @property
    def by_job(self) -> dict[str, Decimal]:
        """What each job comes to; they add up to the total."""
        totals: dict[str, Decimal] = {}
        for line in self.lines:
            totals[line.line.job] = totals.get(line.line.job, _NOTHING) + line.total
        return totals
