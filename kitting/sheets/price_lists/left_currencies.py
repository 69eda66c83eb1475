"""Which column says the money of the prices, where another or the price's own heading disagrees.

A column whose cells are currencies is taken whatever it is headed. Beside a second such column, or
below a price that is headed in another money, a person is asked.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from kitting.errors import Problem
from kitting.sheets.price_lists.currencies import all_currencies, currency_called, currency_in
from kitting.sheets.price_lists.fields import Column, letter_of
from kitting.sheets.price_lists.marks import tidy
from kitting.sheets.price_lists.money import is_pence
from kitting.sheets.price_lists.nones import as_told, name_of

if TYPE_CHECKING:
    from kitting.sheets.price_lists.marks import Cells


def currencies_left(
    currency: Column | None, left: Iterable[int], below: Sequence[Cells]
) -> tuple[int, ...]:
    """The columns of currencies that were left and are not the same as the one that was taken."""
    if currency is None:
        return ()
    taken = _currencies(currency.index, below)
    found = ((at, _currencies(at, below)) for at in left)
    return tuple(
        at
        for at, other in found
        if other and any(taken.get(row, money) != money for row, money in other.items())
    )


def which_money(index: int, currency: Column, headings: Sequence[str], of: str) -> Problem:
    """Ask which of two columns says the money of the prices."""
    names = [name_of(at, headings) for at in (currency.index, index)]
    if len({name.casefold() for name in names}) == 1:
        names = [f"column {letter_of(at)}" for at in (currency.index, index)]
    return Problem(
        f"columns {', '.join(map(letter_of, sorted((currency.index, index))))}",
        f"both name currencies ('{names[0]}', '{names[1]}'), and not the same: which are those of "
        "the prices?",
        f"say which: {as_told('currency', of, names[0])}, {as_told('currency', of, names[1])}, or "
        f"{as_told('currency', of, 'none')}",
    )


def other_money(currency: Column, price: Column, below: Sequence[Cells], of: str) -> list[Problem]:
    """Ask where the rows name another money than the price is headed with."""
    headed = currency_in(price.heading)
    others = sorted(set(_currencies(currency.index, below).values()) - {headed})
    if not headed or not others or "guess" not in currency.how:
        return []
    name = currency.heading or f"column {currency.letter}"
    return [
        Problem(
            f"column {currency.letter}",
            f"its cells ('{name}') name {' and '.join(others)}, yet the price is headed "
            f"'{price.heading}'",
            f"say so: {as_told('currency', of, name)} if prices are in what its cells say, "
            f"{as_told('currency', of, 'none')} if they are in {headed}",
        )
    ]


def _currencies(index: int, below: Sequence[Cells]) -> dict[int, str]:
    """The money that each row names in a column; none where the column holds anything else."""
    texts = {
        row: tidy(cells[index])
        for row, cells in enumerate(below)
        if index < len(cells) and cells[index].strip()
    }
    if not texts or not all_currencies([*texts.values()]):
        return {}
    return {row: "GBP" if is_pence(text) else currency_called(text) for row, text in texts.items()}
