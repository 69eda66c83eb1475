"""Sentences that ask a person to look at a row: what it says is taken, and may not be meant."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.buying.price_lists.quantities import a_hundred_times, dearer_for_more
from kitting.buying.price_lists.rows import PriceRow, money_of

if TYPE_CHECKING:
    from kitting.buying.price_lists.matching import Held


def dearer_steps(row: PriceRow) -> str:
    """That more packs cost more each than fewer; '' where they do not."""
    found = dearer_for_more(row.price, row.breaks)
    if not found:
        return ""
    packs, price, fewer = found
    return (
        f"{row.place}: {row.number} costs {row.currency} {money_of(price):,} a pack from "
        f"{packs:,} packs on, and {money_of(fewer):,} for fewer"
    )


def hundred_times(row: PriceRow, before: Held) -> str:
    """That a price is about a hundred times what it was; '' where it is not."""
    times = a_hundred_times(before.price, row.price)
    if not times:
        return ""
    was, now = money_of(before.price), money_of(row.price)
    return f"{row.place}: {row.number} cost {row.currency} {was:,} and costs {now:,}, {times}"


def other_count(row: PriceRow, many: int) -> str:
    """That a description speaks of another count than the price is taken for."""
    return (
        f"{row.place}: {row.number} is described as '{row.text[:40]}', which speaks of {many:,}, "
        f"and {row.currency} {money_of(row.price):,} is taken as the price of {row.pack:,}"
    )


def by_itself(row: PriceRow) -> str:
    """That a number is said to be superseded by itself."""
    return f"{row.place}: {row.number} is said to be superseded by itself"


def by_no_number(row: PriceRow) -> str:
    """That words stand where the number belongs that supersedes."""
    return (
        f"{row.place}: where the number belongs that supersedes {row.number} stands "
        f"'{row.superseded_by[:40]}', which is none; no link is proposed"
    )


def of_unknown(row: PriceRow) -> str:
    """That a number is said to take the place of one that nobody knows."""
    return (
        f"{row.place}: {row.number} is said to take the place of '{row.supersedes[:40]}', which "
        "nobody knows; no link is proposed"
    )
