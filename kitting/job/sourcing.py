"""Which parts satisfy a position today: fits, then supersession and interchange, then offers.

Every part that fits is resolved, and of all the ways that can be bought the soundest is taken: of a
part listed for the size grade before one listed for every grade; a current number before old stock;
without work before with work; at a valid price before a lapsed one; the part itself or its
successor, then interchange either way, one way, as a full set. Among ways alike in all that, the
cheapest; what it costs is said.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from decimal import Decimal
from typing import TYPE_CHECKING

from kitting.catalog.resolver import resolve, subgraph_about
from kitting.catalog.ways import Need, Resolution, Step, Way, WayKind
from kitting.job.because import Because
from kitting.job.fitted import fits_at, fits_here
from kitting.job.pricing import unsound_for

if TYPE_CHECKING:
    from collections.abc import Mapping

    from kitting.catalog.family import Family
    from kitting.catalog.model import Fit, PartNumber, Position
    from kitting.catalog.size_tables import Grade, SizeTable
    from kitting.catalog.trade import Quality
    from kitting.job.findings import Job
    from kitting.job.pricing import Market

_RANK = {
    WayKind.AS_NAMED: 0,
    WayKind.SUPERSEDED: 0,
    WayKind.EITHER_WAY: 1,
    WayKind.ONE_WAY: 2,
    WayKind.FULL_SET: 3,
    WayKind.WITH_WORK: 4,
    WayKind.OLD_STOCK: 5,
}


@dataclass(frozen=True, slots=True)
class Supply:
    """How a position is supplied: the number its parts list names, and what is bought for it.

    `parts` are the parts that go into the position, then the companions that must be bought with
    them. `answers` are the old numbers that the part answers in one (a merge): where a position
    beside needs another of them, it is bought once. `serves` are all the numbers any of which would
    do in the position, whoever sells them, and how many of each the position takes.
    """

    named: PartNumber
    parts: tuple[tuple[PartNumber, int], ...]
    chain: tuple[Because, ...]
    operation: str = ""
    answers: tuple[PartNumber, ...] = ()
    serves: Mapping[PartNumber, int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class _Option:
    """One way from one fit, with its price where every part of it has one."""

    fit: Fit
    way: Way
    price: Decimal | None

    @property
    def wanted(self) -> tuple[tuple[PartNumber, int], ...]:
        return (*self.way.parts, *self.way.companions)

    @property
    def order(self) -> tuple[object, ...]:
        """Soundest first, then cheapest."""
        way, no_price = self.way, self.price is None
        work = len(way.operations)
        rank = _RANK[way.kind]
        return (not self.fit.grade, not way.current, work, no_price, rank, self.price or 0)


@dataclass
class Sourcing:
    """Answers, for one job on one day, what supplies a position at a size grade."""

    family: Family
    job: Job
    market: Market
    _known: dict[tuple[str, str, PartNumber | None, int], Supply | None] = field(
        default_factory=dict
    )
    _found: dict[tuple[Fit, str], Resolution] = field(default_factory=dict)

    def supply(
        self,
        position: Position,
        grade: Grade | None,
        only: PartNumber | None = None,
        quantity: int = 0,
    ) -> Supply | None:
        """How to supply a position today; None when nothing that fits is sold by anyone.

        `only` names the one of its parts that a measurement has chosen, `quantity` how many of it
        where that is not what the position takes.
        """
        key = (position.key, grade.key if grade else "", only, quantity)
        if key not in self._known:
            self._known[key] = self._supply(position, grade, only, quantity)
        return self._known[key]

    def obtainable(self, table: SizeTable, grade: Grade) -> bool:
        """Whether every part that follows this table can be had at a grade."""
        followers = (
            position
            for position in self.family.positions_on(self.job.variant)
            if position.sized_by == table.key
        )
        return all(self.supply(position, grade) is not None for position in followers)

    def ways(
        self, position: Position, grade: Grade | None, only: PartNumber | None = None
    ) -> tuple[Way, ...]:
        """Every way that can be bought, the one taken first; `only` as for `supply`."""
        fits = self._fits(position, grade, only)
        return tuple(option.way for option in self._options(position, fits, grade))

    def wrong_in_data(
        self,
        position: Position,
        grade: Grade | None,
        only: PartNumber | None = None,
        quantity: int = 0,
    ) -> tuple[str, ...]:
        """What links about the numbers of a position contradict each other in; as for `supply`."""
        fits = self._fits(position, grade, only, quantity)
        found = (self._resolved(position, fit, grade).problems for fit in fits)
        return tuple(dict.fromkeys(str(problem) for each in found for problem in each))

    def _supply(
        self, position: Position, grade: Grade | None, only: PartNumber | None, quantity: int
    ) -> Supply | None:
        fits = self._fits(position, grade, only, quantity)
        options = self._options(position, fits, grade)
        if not options:
            return None
        best = options[0]
        others = len(options) - 1
        return Supply(
            named=best.fit.part,
            parts=best.wanted,
            chain=tuple(_chain(best, position, others, self.market.trade.shop.currency)),
            operation=best.way.operations[0] if best.way.operations else "",
            answers=(best.fit.part, *best.way.also_answers) if best.way.also_answers else (),
            serves=self._serving(position, fits, grade),
        )

    def _serving(
        self, position: Position, fits: list[Fit], grade: Grade | None
    ) -> Mapping[PartNumber, int]:
        """By two ways to one number the more of it: nobody is to be left short."""
        counts = {fit.part: fit.quantity or position.quantity for fit in fits}
        for fit in fits:
            for way in self._resolved(position, fit, grade).ways:
                if len(way.parts) == 1 and not way.operations:
                    ((part, count),) = way.parts
                    counts[part] = max(count, counts.get(part, 0))
        return counts

    def _options(self, position: Position, fits: list[Fit], grade: Grade | None) -> list[_Option]:
        barred = unsound_for(self.family, (position.key,))
        options = [
            _Option(fit, way, self._price(way, barred))
            for fit in fits
            for way in self._resolved(position, fit, grade).ways
            if all(self.market.offered(part) for part, _ in (*way.parts, *way.companions))
        ]
        return sorted(options, key=lambda option: option.order)

    def _fits(
        self, position: Position, grade: Grade | None, only: PartNumber | None, quantity: int = 0
    ) -> list[Fit]:
        if grade is None:
            every = fits_here(self.family, position, self.job)
        else:
            every = fits_at(self.family, position, self.job, grade.key)
        fits = [fit for fit in every if only in {None, fit.part}]
        return [replace(fit, quantity=quantity) for fit in fits] if quantity else fits

    def _resolved(self, position: Position, fit: Fit, grade: Grade | None) -> Resolution:
        """Every way to a fit; it is asked for once to choose and once to tell what serves."""
        key = (fit, grade.key if grade else "")
        if key not in self._found:
            self._found[key] = self._resolve(position, fit, grade)
        return self._found[key]

    def _resolve(self, position: Position, fit: Fit, grade: Grade | None) -> Resolution:
        need = Need(
            part=fit.part,
            quantity=fit.quantity or position.quantity,
            position=position.key,
            variant=self.job.variant,
            running=self.family.running_number(self.job.engine_number),
            grade=grade.key if grade else "",
            whole=True,
        )
        about = subgraph_about(self.family, fit.part, position.key)
        return resolve(need, about, self.market.day)

    def _price(self, way: Way, barred: frozenset[Quality]) -> Decimal | None:
        total = Decimal(0)
        for part, quantity in (*way.parts, *way.companions):
            quote = self.market.quote(part, quantity, barred)
            if quote is None or quote.lapsed:
                return None
            total += quote.home
        return total


def _chain(option: _Option, position: Position, others: int, currency: str) -> list[Because]:
    fit, way = option.fit, option.way
    grade = f" at grade {fit.grade}" if fit.grade else ""
    if position.sized_by and not fit.grade:
        grade = ", and its row names no grade: at every one"
    chain = [Because(f"{fit.part} fits {position.name}{grade}", rule="fits.csv")]
    chain += [_step(step) for step in way.because]
    chain += [Because(f"holds {condition}") for condition in way.conditions]
    chain += [
        Because(f"{part} must be bought with it, {count} of it", rule="links.csv, needs")
        for part, count in way.companions
    ]
    if way.kind is WayKind.OLD_STOCK:
        chain.append(Because("old stock of it is still sold; nothing newer is"))
    if others:
        price = f"{currency} {option.price}" if option.price is not None else "no valid price"
        says = f"the soundest, then cheapest, of {others + 1} ways that can be bought: {price}"
        chain.append(Because(says))
    return chain


def _step(step: Step) -> Because:
    note = f": {step.link.note}" if step.link.note else ""
    return Because(f"{step}{note}", step.link.source, f"links.csv, {step.link.record}")
