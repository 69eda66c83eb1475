"""Why pieces come that nobody needs: the pack, the set, a price break, or a supplier's terms."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from kitting.buying.planning.demand import SmallOrder
from kitting.job.pricing import rounded

if TYPE_CHECKING:
    from kitting.buying.planning.demand import PlanProblem
    from kitting.buying.planning.values import Parcel, Plan, Purchase, Surplus


def why_surplus(problem: PlanProblem, plan: Plan, surplus: Surplus) -> str:
    """The reason for one surplus of a plan of this problem, in words."""
    if surplus.part != surplus.out_of:
        return f"out of the set {surplus.out_of}"
    for parcel in plan.parcels:
        for purchase in parcel.purchases:
            bought = (parcel.supplier.key, purchase.offer.part, purchase.surplus)
            if bought == (surplus.supplier, surplus.part, surplus.pieces):
                return _why(problem, parcel, purchase)
    return ""


def _why(problem: PlanProblem, parcel: Parcel, purchase: Purchase) -> str:
    offer, supplier = purchase.offer, parcel.supplier
    enough = -(-purchase.used // offer.pack)
    if purchase.packs == enough:
        return f"{supplier.name} sells {offer.pack} in a pack"
    for_enough = rounded(offer.pack_price(enough) * enough, offer.currency)
    if purchase.net < for_enough:
        return f"{_packs(purchase.packs)} cost less than {enough} at {supplier.name}'s price break"
    ordered = sum((_counted(problem, parcel, each.net, each) for each in parcel.purchases), _NONE)
    fewer = ordered - _counted(problem, parcel, purchase.net, purchase)
    fewer += _counted(problem, parcel, for_enough, purchase)
    money, free = supplier.currency, supplier.free_over
    if fewer < supplier.least_order and problem.policy.small_order is SmallOrder.BARRED:
        return f"to reach {supplier.name}'s least order of {money} {supplier.least_order}"
    if free is not None and fewer < free <= ordered:
        return f"to have {supplier.name}'s free carriage from {money} {free}"
    if fewer < supplier.least_order:
        return f"in place of what else would make {supplier.name}'s order up"
    return f"it costs no more at {supplier.name}"


_NONE = Decimal(0)


def _packs(packs: int) -> str:
    return f"{packs} packs" if packs > 1 else "1 pack"


def _counted(problem: PlanProblem, parcel: Parcel, net: Decimal, purchase: Purchase) -> Decimal:
    """What an amount of a purchase's money counts in the supplier's."""
    theirs, asked = parcel.supplier.currency, purchase.offer.currency
    if asked == theirs:
        return net
    return rounded(net * problem.worth(asked) / problem.worth(theirs), theirs)
