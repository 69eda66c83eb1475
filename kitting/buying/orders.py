"""An order to one supplier: numbered, revisioned, frozen with the prices of its moment.

Nothing of the customer, of the shop's prices or of another supplier stands in what a supplier is
shown of it: his own terms, our part numbers, and line ids that come of nothing but the order's
number and his own number for the part. Which job and kit line a line is for is kept with it
(`LineFor`) and stays in the shop.

Sums after EN 16931: each line to the minor unit (BR-DEC-23), goods the sum of the lines (BR-CO-10),
the total goods and carriage (BR-CO-13), VAT once a category (BR-CO-17), half up.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import timedelta
from decimal import Decimal
from enum import StrEnum
from hashlib import sha256
from math import gcd
from typing import TYPE_CHECKING

from kitting.catalog.cells import part_number
from kitting.catalog.trade import Quality, Supplier
from kitting.errors import BadInput, Problem
from kitting.job.counting import Lot, StandsFor
from kitting.job.estimate import NOTHING, Totals, totals
from kitting.job.pricing import rounded

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import date

    from kitting.catalog.model import PartNumber

# VAT of what is bought abroad: not the seller's to charge (EN 16931, category G).
ABROAD = "G"
# Consonants only: no spreadsheet takes such a word for a number, a date or a formula.
_LETTERS = "BCDFGHJKLMNPQRSTVWXZ"
_ID_LENGTH = 5


class OrderState(StrEnum):
    """How far an order is."""

    DRAFT = "draft"
    APPROVED = "approved"
    SENT = "sent"
    ANSWERED = "answered"
    PART_DELIVERED = "part delivered"
    DELIVERED = "delivered"
    CANCELLED = "cancelled"


@dataclass(frozen=True, slots=True)
class LineFor:
    """Whose an order line is, inside the shop only: so many pieces for a kit line of a job.

    `positions` find the kit line again when its number has changed. `pieces` are of what is bought,
    not of the kit line. `grade` is the key of the size grade, where the position follows a size
    table. `in_set` says that a set brings it. `stands_for` is the part that the kit asked for then,
    whatever number is bought for it; `per` pieces make `makes` of that, with all that `goes_in`
    (see `StandsFor`). `whole` is how many of those the kit line asked for in all; 0 is not known.
    """

    job: str
    kit_line: str
    positions: tuple[str, ...]
    pieces: int
    grade: str = ""
    in_set: bool = False
    stands_for: PartNumber | None = None
    per: int = 1
    makes: int = 1
    goes_in: tuple[str, ...] = ()
    whole: int = 0

    def lot(self, part: PartNumber) -> Lot:
        """Its pieces, as they are counted for a kit line; `part` is what is bought for it."""
        if self.in_set:
            part = part_number(self.goes_in[0]) if self.goes_in else self.stands_for or part
        stands = StandsFor(self.stands_for or part, self.per, self.makes, self.goes_in)
        return Lot(part, self.pieces, stands)

    def instead(self, ordered: PartNumber, part: PartNumber, per: int, makes: int) -> LineFor:
        """The same need where `part` comes for what was `ordered`: `per` of it make `makes`.

        What a set brings is counted by what is in the set.
        """
        if self.in_set or (per, makes) == (1, 1):
            return self
        pieces = -(-self.pieces * per // makes)
        per, makes = per * self.per, makes * self.makes
        least = gcd(per, makes)
        return replace(
            self,
            pieces=pieces,
            stands_for=self.stands_for or ordered,
            per=per // least,
            makes=makes // least,
            goes_in=(str(part), *self.goes_in[1:]) if self.goes_in else (),
        )


@dataclass(frozen=True, slots=True)
class OrderLine:
    """So many packs of one part, at the supplier's terms of that moment.

    `quantity` is the pieces needed, `net` in the order's currency without VAT. `on_return` is
    bought on sale or return. `vat_percent` is the rate of the VAT category `vat`. `quality` is
    as he offered it.
    """

    id: str
    their_number: str
    part: PartNumber
    name: str
    kind: str
    quantity: int
    pack: int
    packs: int
    pack_price: Decimal
    net: Decimal
    vat: str
    vat_percent: Decimal
    days: int
    price_until: date | None = None
    lapsed: bool = False
    on_return: bool = False
    quality: Quality = Quality.UNSAID
    needed_by: tuple[LineFor, ...] = ()

    @property
    def pieces(self) -> int:
        """How many pieces the packs hold."""
        return self.packs * self.pack

    @property
    def sets_by_job(self) -> Mapping[str, int]:
        """How many of the sets ordered each job needs whose needs are in a set.

        A set holds at least what all of them together bring of a part, shared out evenly.
        """
        needs = [need for need in self.needed_by if need.in_set]
        sets = self.quantity - sum(need.pieces for need in self.needed_by if not need.in_set)
        pieces: dict[object, dict[str, int]] = {}
        for need in needs:
            of_part = pieces.setdefault(need.stands_for or need.positions, {})
            of_part[need.job] = of_part.get(need.job, 0) + need.pieces
        found = dict.fromkeys((need.job for need in needs), 1)
        for of_part in pieces.values():
            holds = max(1, -(-sum(of_part.values()) // max(1, sets)))
            for job, count in of_part.items():
                found[job] = max(found[job], -(-count // holds))
        return found

    @property
    def remark(self) -> str:
        """What the supplier is asked or told about this line."""
        said = []
        if self.quality:
            said.append(f"{self.quality.capitalize()}, as you offer it")
        if self.lapsed and self.price_until is not None:
            said.append(f"Your price held until {self.price_until:%d %b %Y}: please confirm")
        if self.on_return:
            said.append("On sale or return")
        return ". ".join(said)


@dataclass(frozen=True, slots=True)
class HeldItem:
    """A part that may be ordered later, at this size or another; nothing is promised."""

    their_number: str
    part: PartNumber
    name: str


@dataclass(frozen=True, slots=True)
class Order:
    """One revision of what one supplier is asked for. Money in his currency, without VAT.

    `worth` is what one of the currency is in the shop's money (`home_currency`) on `day`.
    Without `approved_by` it is a draft and must not be sent as an order.

    Raises:
        BadInput: a figure contradicts another, or the exchange rate is nought.
    """

    number: str
    supplier: Supplier
    day: date
    currency: str
    home_currency: str
    worth: Decimal
    carriage_vat: str
    carriage_vat_percent: Decimal
    lines: tuple[OrderLine, ...]
    held: tuple[HeldItem, ...] = ()
    revision: int = 0
    approved_by: str = ""
    approved_on: date | None = None

    def __post_init__(self) -> None:
        place = f"order {self.number}"
        if self.worth <= 0:
            raise BadInput(
                Problem(
                    place,
                    f"the exchange rate of {self.currency} is {self.worth}",
                    f"say what 1 {self.currency} is worth in {self.home_currency}",
                )
            )
        if len({line.id for line in self.lines}) < len(self.lines):
            raise BadInput(Problem(place, "two lines have one id", "make the order again"))
        for line in self.lines:
            wrong = _wrong_with(line, self.currency)
            if wrong:
                raise BadInput(Problem(f"{place}, line {line.id}", *wrong))

    @property
    def draft(self) -> bool:
        """Whether nobody has approved it."""
        return not self.approved_by

    @property
    def sent_on(self) -> date:
        """The day that days to send count from."""
        return self.approved_on or self.day

    def due(self, line: OrderLine) -> date:
        """When a line should come, by the supplier's own days."""
        return self.sent_on + timedelta(days=line.days)

    def line(self, line_id: str) -> OrderLine | None:
        """The line of that id, or None."""
        return next((line for line in self.lines if line.id == line_id), None)

    @property
    def goods(self) -> Decimal:
        """The sum of the lines."""
        return sum((line.net for line in self.lines), NOTHING)

    @property
    def carriage(self) -> Decimal:
        """The supplier's carriage, nothing from his free-over value on."""
        return carriage_on(self.supplier, self.goods, self.currency)

    @property
    def total(self) -> Decimal:
        """Goods and carriage, without VAT."""
        return self.goods + self.carriage

    @property
    def with_vat(self) -> Totals:
        """The total, its VAT by category, and with it."""
        rates = {line.vat: line.vat_percent for line in self.lines}
        nets = [(line.vat, line.net) for line in self.lines]
        if self.carriage:
            rates.setdefault(self.carriage_vat, self.carriage_vat_percent)
            nets.append((self.carriage_vat, self.carriage))
        return totals(nets, rates, self.currency)

    @property
    def short_by(self) -> Decimal:
        """How far the goods fall short of the supplier's least order; nothing when they do not."""
        return max(NOTHING, self.supplier.least_order - self.goods)

    @property
    def home(self) -> Decimal:
        """The total in the shop's money, at the rate of its day, rounded half up."""
        return self.at_home(self.total)

    def at_home(self, amount: Decimal) -> Decimal:
        """An amount of the order's currency in the shop's money, rounded half up."""
        return rounded(amount * self.worth, self.home_currency)

    @property
    def jobs(self) -> tuple[str, ...]:
        """The jobs that anything in it is for."""
        return tuple(sorted({need.job for line in self.lines for need in line.needed_by}))


def carriage_on(supplier: Supplier, goods: Decimal, currency: str) -> Decimal:
    """A supplier's carriage on goods of that value; nothing from his free-over value on."""
    if supplier.free_over is not None and goods >= supplier.free_over:
        return NOTHING
    return rounded(supplier.carriage, currency)


def numbered(order: Order, number: str, revision: int) -> Order:
    """The order under its number, each line with its id.

    A line of one part keeps its id from one revision to the next.
    """
    return replace(order, number=number, revision=revision, lines=with_ids(order.lines, number))


def with_ids(lines: tuple[OrderLine, ...], number: str) -> tuple[OrderLine, ...]:
    """The lines, each with the id that its order and part give it."""
    taken: set[str] = set()
    named = []
    for line in lines:
        again = 0
        found = _id(number, line, again)
        while found in taken:
            again += 1
            found = _id(number, line, again)
        taken.add(found)
        named.append(replace(line, id=found))
    return tuple(named)


def _id(number: str, line: OrderLine, again: int) -> str:
    text = f"{number}|{line.their_number}|{line.part}|{again}"
    digest = sha256(text.encode()).digest()
    return "".join(_LETTERS[byte % len(_LETTERS)] for byte in digest[:_ID_LENGTH])


def _wrong_with(line: OrderLine, currency: str) -> tuple[str, str] | None:
    if min(line.quantity, line.pack, line.packs) < 1:
        return f"{line.packs} packs of {line.pack} for {line.quantity}", "each is 1 or more"
    if line.pack_price < 0:
        return f"the price {line.pack_price} is below zero", "give what one pack costs"
    if line.net != rounded(line.pack_price * line.packs, currency):
        return f"{line.packs} × {line.pack_price} is not {line.net}", "work the sum out again"
    if line.quantity > line.pieces:
        return f"{line.pieces} pieces do not give {line.quantity}", "order more packs"
    return None
