"""Quantities in columns of their own, each with its price: 'Qty 1 | Price 1 | Qty 2 | Price 2'.

The number in a heading is then which step it is, and no quantity; each row has its own quantities.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, Sequence
from typing import TYPE_CHECKING, NamedTuple

from kitting.errors import Problem
from kitting.sheets.price_lists.counts import as_in_headings, counted
from kitting.sheets.price_lists.fields import Column, Field, Step, letter_of
from kitting.sheets.price_lists.kinds import Kind, is_money_alone, said_by
from kitting.sheets.price_lists.likeness import ENOUGH, likeness_of
from kitting.sheets.price_lists.steps import holds_prices, quantity_of

if TYPE_CHECKING:
    from kitting.sheets.price_lists.marks import Cells

_NUMBER = re.compile(r"(?<!\d)\d{1,6}(?!\d)")
_STEP = re.compile(
    r"\b(?:break|tier|level|band|step|staffel|from|over|ab|vanaf|desde|dès|moq)\b", re.IGNORECASE
)
_PAID = frozenset({Kind.NET, Kind.TRADE, Kind.PRICE})
_OTHERS = (Field.PACK, Field.STOCK)  # fields whose columns are of counts too
_NEARLY_ALL = 0.9


class Pair(NamedTuple):
    """A column of quantities and that of the prices from so many on; `ordinal` heads both."""

    ordinal: int
    quantity: int
    price: int


class Paired(NamedTuple):
    """What pairs of columns are taken for: the first may be the price, with its quantity."""

    first: tuple[Column, ...]
    steps: tuple[Step, ...]


def pairs_in(
    headings: Sequence[str], below: Sequence[Cells], hidden: Collection[int]
) -> tuple[Pair, ...]:
    """Columns of whole numbers that are headed as quantities, and a price's with the same number.

    >>> pairs_in(["Qty 1", "Price 1"], [["1", "2.50"]], ()), pairs_in(["Qty 1"], [["2.50"]], ())
    ((Pair(ordinal=1, quantity=0, price=1),), ())
    """
    quantities: dict[int, list[int]] = {}
    prices: dict[int, list[int]] = {}
    for index, heading in enumerate(headings):
        found = _NUMBER.findall(as_in_headings(heading))
        if len(found) != 1 or index in hidden:
            continue
        words = _NUMBER.sub(" ", as_in_headings(heading)).strip()
        if _heads_quantities(words) and _whole(index, below):
            quantities.setdefault(int(found[0]), []).append(index)
        elif said_by(words).kind in _PAID or is_money_alone(words):
            prices.setdefault(int(found[0]), []).append(index)
    both = sorted(quantities.keys() & prices.keys())
    return tuple(
        Pair(each, quantities[each][0], prices[each][0])
        for each in both
        if len(quantities[each]) == len(prices[each]) == 1
    )


def paired(
    pairs: Sequence[Pair],
    taken: Mapping[Field, int],
    headings: Sequence[str],
    below: Sequence[Cells],
) -> Paired | None:
    """What pairs are taken for, None where that is not certain.

    Certain are steps 1, 2, 3 of ever more packs, each quantity before its price. `taken` are the
    columns of the fields that a person told or that are remembered.
    """
    if not _in_steps(pairs, below):
        return None
    one, price = pairs[0], taken.get(Field.PRICE)
    if taken.get(Field.QUANTITY, one.quantity) != one.quantity:
        return None
    if price == one.price or (price is None and not _other_price(pairs, headings, below)):
        heading = headings[one.price]
        columns = (
            Column(Field.PRICE, one.price, heading, "the price of the fewest"),
            Column(Field.QUANTITY, one.quantity, headings[one.quantity], f"of '{heading}'"),
        )
        return Paired(columns, tuple(_step(pair, headings) for pair in pairs[1:]))
    from_one = any(quantity_of(text) == 1 for text in _texts(one.quantity, below))
    if from_one or price in {pair.price for pair in pairs}:
        return None
    return Paired((), tuple(_step(pair, headings) for pair in pairs))


def unsure_of(pairs: Sequence[Pair], headings: Sequence[str], of: str) -> Problem:
    """Ask which price is to be taken where pairs are not certain; `of` names the sheet."""
    columns = sorted(at for pair in pairs for at in pair[1:])
    *letters, last = [letter_of(at) for at in columns]
    first = pairs[0]
    return Problem(
        f"columns {', '.join(letters)} and {last}",
        f"does '{headings[first.quantity]}' say from how many '{headings[first.price]}' holds? "
        "They are no steps 1, 2, 3 that each begin at more",
        "say which price alone is to be taken, such as "
        f'--map "price{of}={headings[first.price]}, breaks{of}=none"',
    )


def packs_in(text: str, decimal: str) -> int:
    """How many a cell of quantities says; 0 where it says none, or its mark can be read two ways.

    >>> packs_in("10", "."), packs_in("1,000", "."), packs_in("1,000", ""), packs_in("some", ".")
    (10, 1000, 0, 0)
    """
    plain = counted(text, decimal)
    return quantity_of(plain) if plain else 0


def _step(pair: Pair, headings: Sequence[str]) -> Step:
    quantity, price = headings[pair.quantity], headings[pair.price]
    return Step(
        0,
        Column(Field.BREAKS, pair.price, price, f"from as many on as '{quantity}' says"),
        Column(Field.QUANTITY, pair.quantity, quantity, f"of '{price}'"),
    )


def _heads_quantities(words: str) -> bool:
    """Whether words without their number head quantities: 'Qty break', 'Price break qty'."""
    like = likeness_of(words, Field.QUANTITY)
    if any(likeness_of(words, field) > like for field in _OTHERS):
        return False
    stepped = _STEP.search(words) is not None and said_by(words).kind is Kind.UNSAID
    return like >= ENOUGH or stepped


def _whole(index: int, below: Sequence[Cells]) -> bool:
    texts = _texts(index, below)
    counts = sum(1 for text in texts if quantity_of(as_in_headings(text)))
    return bool(texts) and counts >= _NEARLY_ALL * len(texts)


def _texts(index: int, below: Sequence[Cells]) -> list[str]:
    cells = (cells[index] for cells in below if index < len(cells))
    return [text for text in cells if text.strip() not in {"", "0", "-"}]


def _in_steps(pairs: Sequence[Pair], below: Sequence[Cells]) -> bool:
    """Whether pairs are 1, 2, 3, prices after quantities, with ever more in nearly every row."""
    if [pair.ordinal for pair in pairs] != list(range(1, len(pairs) + 1)):
        return False
    if not all(pair.quantity < pair.price and _priced(pair, below) for pair in pairs):
        return False
    rows = [
        [quantity_of(text) for pair in pairs for text in _texts(pair.quantity, [cells])]
        for cells in below
    ]
    rising = sum(1 for row in rows if row == sorted(set(row)))
    return rising >= _NEARLY_ALL * len(rows)


def _priced(pair: Pair, below: Sequence[Cells]) -> bool:
    """Whether prices stand where there are quantities; where there are none stands anything."""
    return holds_prices(pair.price, [cells for cells in below if _texts(pair.quantity, [cells])])


def _other_price(pairs: Sequence[Pair], headings: Sequence[str], below: Sequence[Cells]) -> bool:
    """Whether another column beside the pairs is of what the shop pays."""
    out = {at for pair in pairs for at in pair[1:]}
    return any(
        said_by(heading).kind in _PAID and holds_prices(at, below)
        for at, heading in enumerate(headings)
        if at not in out and heading
    )
