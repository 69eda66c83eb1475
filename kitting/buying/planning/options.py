"""How many packs of one offer are worth considering, each number priced.

Every number of packs that could be of use is an option. More packs than that bring nothing more to
the lines, but they may cost less (a price break), reach the supplier's least order or his free
carriage, or take the place of what else would make his order up. Such a number is left out only
where another number, put in its place in any plan whatever, makes that plan no dearer: never by
what happens to be near it. So no plan that is cheaper is cut off.

No plan buys more than `MOST_TOPPING_UP` packs beyond what is of use, or beyond what a price break
asks for: nobody fills an order up so.
"""

from __future__ import annotations

from bisect import bisect_left, insort
from dataclasses import dataclass
from typing import TYPE_CHECKING

from kitting.buying.planning.demand import minor_units
from kitting.job.pricing import rounded

if TYPE_CHECKING:
    from collections.abc import Iterator
    from decimal import Decimal

    from kitting.buying.planning.demand import PlanProblem
    from kitting.catalog.model import PartNumber
    from kitting.catalog.trade import Offer, Supplier

MOST_TOPPING_UP = 200


@dataclass(frozen=True, slots=True)
class Option:
    """So many packs: `counted` towards the supplier's terms in his minor units, `home` what they
    cost in the shop's, `weighed` the same with the preference for a maker in it."""

    packs: int
    counted: int
    home: int
    weighed: int


@dataclass(frozen=True, slots=True)
class Terms:
    """A supplier's terms: carriage in the shop's minor units, thresholds in his own.

    `barred` is the least order where less is not taken, `made_up` what an order must come to in the
    shop's money where the rest is made up. Nothing is 0; `free_over` None means never free.
    """

    supplier: Supplier
    carriage: int
    free_over: int | None
    barred: int
    made_up: int

    @property
    def saving(self) -> int:
        """What reaching free carriage saves."""
        return 0 if self.free_over is None else self.carriage

    def lost(self, option: Option, other: Option) -> int | None:
        """The most that a plan can lose by these terms when it has `option` in place of `other`,
        in the shop's minor units; None where it may be that the order is not taken any more."""
        if option.counted >= other.counted:
            carriage = 0
        elif option.counted < self.barred:
            return None
        else:
            over = self.free_over is not None and option.counted >= self.free_over
            carriage = 0 if over else self.saving
        return carriage + max(0, self._makes_up(other) - self._makes_up(option))

    def _makes_up(self, option: Option) -> int:
        return min(option.home, self.made_up)

    def settled(self, option: Option, kept: list[Option], *, at_par: bool) -> bool:
        """Whether nothing beyond `option`, at the same price each, is of any use beside `kept`.

        `at_par`: what is weighed is what is paid, so that a pack more gains nothing by itself.
        """
        own = self._makes_up(option) if at_par else self.made_up
        for other in kept[bisect_left(kept, self.barred, key=_counted) :]:
            over = self.free_over is not None and other.counted >= self.free_over
            saving = 0 if over else self.saving
            lost = saving + max(0, own - self._makes_up(other))
            if option.weighed - lost >= other.weighed:
                return True
        return False


@dataclass(frozen=True, slots=True)
class Pricer:
    """Prices the packs of one offer, of which there are no more than `bound`."""

    problem: PlanProblem
    offer: Offer
    terms: Terms
    bound: int | None

    def options(self, most: int) -> tuple[Option, ...]:
        """Every number of packs that is worth considering where `most` pieces are of use."""
        useful = -(-most // self.offer.pack)
        if self.bound is not None and self.bound <= useful:
            return tuple(self.priced(packs) for packs in range(1, self.bound + 1))
        found = [self.priced(packs) for packs in range(1, useful + 1)]
        kept = found[-1:]
        for first, last in self._stretches(useful):
            self._look_along(first, last, kept)
        return tuple(sorted((*found[:-1], *kept), key=_packs))

    def _stretches(self, useful: int) -> Iterator[tuple[int, int]]:
        """First and last number of packs, beyond what is of use, where a pack costs the same."""
        steps = {step.packs for step in self.offer.breaks if step.packs > useful + 1}
        firsts = sorted({useful + 1, *steps})
        for first, following in zip(firsts, [*firsts[1:], None], strict=True):
            last = first + MOST_TOPPING_UP - 1
            last = last if following is None else min(last, following - 1)
            last = last if self.bound is None else min(last, self.bound)
            yield first, last

    def _look_along(self, first: int, last: int, kept: list[Option]) -> None:
        """Add to `kept`, which is in order of what counts, the numbers that are of use beside it.

        Along a stretch each number costs and counts at least as much as the one before.
        """
        policy = self.problem.policy
        at_par = self.offer.part.maker != policy.preferred_maker
        for packs in range(first, last + 1):
            option = self.priced(packs)
            if not policy.top_up:
                if option.weighed < min(each.weighed for each in kept):
                    insort(kept, option, key=_counted)
                return
            if not self._spare(option, kept):
                if option.weighed < max(each.weighed for each in kept):
                    kept[:] = [each for each in kept if not self._outdoes(option, each)]
                insort(kept, option, key=_counted)
            if self.terms.settled(option, kept, at_par=at_par):
                return

    def _spare(self, option: Option, kept: list[Option]) -> bool:
        """Whether another, of fewer packs, does as well in any plan."""
        needed = min(option.counted, self.terms.barred)
        for other in kept[bisect_left(kept, needed, key=_counted) :]:
            lost = self.terms.lost(other, option)
            if lost is not None and other.weighed + lost <= option.weighed:
                return True
        return False

    def _outdoes(self, option: Option, fewer: Option) -> bool:
        """Whether an option makes any plan with fewer packs cheaper; where packs are scarce, what
        is left of them may be wanted for held lines, or for firm ones."""
        lost = self.terms.lost(option, fewer)
        scarce = self.bound is not None
        return not scarce and lost is not None and option.weighed + lost < fewer.weighed

    def priced(self, packs: int) -> Option:
        """Exactly so many packs."""
        problem, offer = self.problem, self.offer
        theirs = self.terms.supplier.currency
        net = rounded(offer.pack_price(packs) * packs, offer.currency)
        home = problem.at_home(net, offer.currency)
        counted = net
        if offer.currency != theirs:
            counted = rounded(net * problem.worth(offer.currency) / problem.worth(theirs), theirs)
        return Option(
            packs=packs,
            counted=minor_units(counted, theirs),
            home=minor_units(home, problem.currency),
            weighed=minor_units(weighed(problem, offer.part, home), problem.currency),
        )


def weighed(problem: PlanProblem, part: PartNumber, home: Decimal) -> Decimal:
    """What a part counts as when plans are compared: less by the premium where it is preferred."""
    policy = problem.policy
    if part.maker != policy.preferred_maker:
        return home
    return rounded(home * 100 / (100 + policy.premium), problem.currency)


def _packs(option: Option) -> int:
    return option.packs


def _counted(option: Option) -> int:
    return option.counted
