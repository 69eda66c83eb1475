"""A set opened: what each piece that was in it cost, so that none of the set's cost is lost."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from kitting.job.pricing import minor_unit

if TYPE_CHECKING:
    from collections.abc import Mapping
    from decimal import Decimal

    from kitting.catalog.model import PartNumber


def shared_cost(
    cost: Decimal, contents: Mapping[PartNumber, int], currency: str
) -> tuple[tuple[PartNumber, int, Decimal], ...]:
    """Share what one set cost evenly by its pieces; the shares add up to it exactly.

    Args:
        cost: of one set, in the currency.
        contents: how many pieces of each part are in it.
        currency: no share is finer than it is paid in, unless the cost itself is.

    Returns:
        Part, pieces, and the cost of each of these; a part twice where not all cost the same.
    """
    pieces = [part for part, count in contents.items() for _ in range(count)]
    penny = minor_unit(currency)
    low = cost // (penny * len(pieces)) * penny
    pennies, finer = divmod(cost - low * len(pieces), penny)
    costs = [low + penny if at < pennies else low for at in range(len(pieces))]
    costs[-1] += finer
    shares = Counter(zip(pieces, costs, strict=True))
    return tuple((part, count, each) for (part, each), count in shares.items())
