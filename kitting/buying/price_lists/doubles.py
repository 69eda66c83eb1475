"""A number that stands in a list more than once: prices by quantity, the same again, or a question.

Two prices for one thing cannot both hold. Where the list says from how many each holds, they are
the prices of one offer; where all are alike one is kept; where each has a first day of its own, one
ends the day before the next begins; else all wait for a person.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from kitting.buying.price_lists.matching import Key
    from kitting.buying.price_lists.rows import PriceRow

MOST_TOGETHER = 100
"""Rows of one number that are held to be settled together; beyond, each waits for a person."""

FROM_MORE = "a price for several packs at once, and none for fewer"
TOO_OFTEN = f"the number stands over {MOST_TOGETHER} times"


def mark_of(row: PriceRow, part: Key) -> int:
    """A row's mark: the same for rows of one number, part, pack and quality, hardly for others."""
    return hash((row.normal, part, row.pack, row.quality))


class Settled(NamedTuple):
    """What became of rows with one mark: the offers, or why none; those that say the same again."""

    offers: tuple[PriceRow, ...]
    again: tuple[PriceRow, ...] = ()
    why: str = ""


def settle(rows: Sequence[PriceRow]) -> Settled:
    """Make offers of rows with the same mark, one for each first day, or say why nobody can."""
    days: dict[str, list[PriceRow]] = {}
    for row in rows:
        days.setdefault(row.valid_from, []).append(row)
    settled = [_of_one_day(days[day]) for day in sorted(days)]
    offers = [offer for each in settled for offer in each.offers]
    whys = [*(each.why for each in settled if each.why), *_ending_sooner(offers)]
    if whys:
        return Settled((), (), whys[0])
    again = tuple(row for each in settled for row in each.again)
    cut = (_until(earlier, later) for earlier, later in pairwise(offers))
    return Settled((*cut, offers[-1]), again)


def _until(earlier: PriceRow, later: PriceRow) -> PriceRow:
    """An offer that ends before the next one begins."""
    before = date.fromisoformat(later.valid_from) - timedelta(days=1)
    return earlier._replace(valid_until=min(earlier.valid_until, before.isoformat()))


def _ending_sooner(offers: Sequence[PriceRow]) -> Iterable[str]:
    """Where a later price ends and an earlier one would go on, nobody can say which holds."""
    for earlier, later in pairwise(offers):
        if later.valid_until < earlier.valid_until:
            yield (
                f"the number's price from {later.valid_from} ends before the one from "
                f"{earlier.valid_from}: {_where((earlier, later))}"
            )


def _of_one_day(rows: Sequence[PriceRow]) -> Settled:
    """Make one offer of rows with the same first day, or say why nobody can."""
    different: dict[tuple[object, ...], PriceRow] = {}
    again = [row for row in rows if different.setdefault(_terms(row), row) is not row]
    by_quantity = {row.least: row for row in different.values()}
    first = by_quantity.get(1)
    if len(by_quantity) < len(different) or (len(different) > 1 and not _alike(different.values())):
        return Settled((), (), _differ(rows))
    if first is None:
        return Settled((), (), FROM_MORE)
    more = tuple((least, by_quantity[least].price) for least in sorted(by_quantity) if least > 1)
    return Settled((first._replace(breaks=first.breaks + more),), tuple(again))


def _terms(row: PriceRow) -> tuple[object, ...]:
    return row.least, row.price, row.currency, row.breaks, row.valid_until


def _alike(rows: Iterable[PriceRow]) -> bool:
    """Whether rows for several quantities can be one offer: one money, one end, no other steps."""
    terms = {(row.currency, row.valid_until, bool(row.breaks)) for row in rows}
    return len(terms) == 1 and not any(row.breaks for row in rows)


def _differ(rows: Sequence[PriceRow]) -> str:
    return f"the number stands {len(rows)} times at different prices: {_where(rows)}"


def _where(rows: Sequence[PriceRow]) -> str:
    """Where rows stand, the sheets named where there are several of them."""
    one_sheet = len({row.sheet for row in rows}) == 1
    places = [str(row.row) if one_sheet else f"{row.sheet}, row {row.row}" for row in rows]
    between = ", " if one_sheet else "; "
    few = places if len(places) < 6 else [*places[:4], f"{len(places) - 4} more"]
    said = f"{between.join(few[:-1])} and {few[-1]}"
    return f"rows {said}" if one_sheet else f"sheets {said}"
