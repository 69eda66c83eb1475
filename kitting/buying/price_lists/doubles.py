"""A number that stands in a list more than once: prices by quantity, the same again, or a question.

Two prices for one thing cannot both hold. Where the list says from how many each holds, they are
the prices of one offer; where all are alike one is kept; else all wait for a person.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
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
    return hash((row.normal, part, row.pack, row.valid_from, row.quality))


class Settled(NamedTuple):
    """What became of rows with one mark: the offer, or why none; those that say the same again."""

    offer: PriceRow | None
    again: tuple[PriceRow, ...] = ()
    why: str = ""


def settle(rows: Sequence[PriceRow]) -> Settled:
    """Make one offer of rows with the same mark, or say why nobody can."""
    different: dict[tuple[object, ...], PriceRow] = {}
    again = [row for row in rows if different.setdefault(_terms(row), row) is not row]
    by_quantity = {row.least: row for row in different.values()}
    first = by_quantity.get(1)
    if len(by_quantity) < len(different) or (len(different) > 1 and not _alike(different.values())):
        return Settled(None, (), _differ(rows))
    if first is None:
        return Settled(None, (), FROM_MORE)
    more = tuple((least, by_quantity[least].price) for least in sorted(by_quantity) if least > 1)
    return Settled(first._replace(breaks=first.breaks + more), tuple(again))


def _terms(row: PriceRow) -> tuple[object, ...]:
    return row.least, row.price, row.currency, row.breaks, row.valid_until


def _alike(rows: Iterable[PriceRow]) -> bool:
    """Whether rows for several quantities can be one offer: one money, one end, no other steps."""
    terms = {(row.currency, row.valid_until, bool(row.breaks)) for row in rows}
    return len(terms) == 1 and not any(row.breaks for row in rows)


def _differ(rows: Sequence[PriceRow]) -> str:
    places = [str(row.row) for row in rows]
    shown = ", ".join(places[:-1]) + f" and {places[-1]}" if len(places) < 6 else (
        f"{', '.join(places[:4])} and {len(places) - 4} more"
    )  # fmt: skip
    return f"the number stands {len(rows)} times at different prices: rows {shown}"
