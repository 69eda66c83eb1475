"""Money in a column that nobody took: it may be what the shop pays.

A price list heads its discounted column by any word: 'Members', 'Less discount', '20% off'. The
figures say more than the word does: what stands below the price in nearly every row, and by no
more than a trade discount, may be the price itself, and a person is asked.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from kitting.errors import Problem
from kitting.sheets.price_lists.fields import Column, Field, letter_of
from kitting.sheets.price_lists.kinds import Kind, names_a_figure, said_by
from kitting.sheets.price_lists.likeness import ENOUGH, likeness_of
from kitting.sheets.price_lists.money import MoneyReader
from kitting.sheets.price_lists.nones import as_told, name_of
from kitting.sheets.price_lists.priced_for import per_of

if TYPE_CHECKING:
    from kitting.sheets.price_lists.marks import Cells

_DISCOUNT = re.compile(
    r"disc(?:ount\w*)?\b|rebate|rabatt|rabais|remis|scont|descuento|korting", re.IGNORECASE
)
_DECIMALS = re.compile(r"\d[.,]\d{1,4}\b|[£€$]")
_DEEPEST = 0.3  # of the price: what is less is no discounted price, but a discount or a share
_DEAREST = 3
_NEARLY_ALL, _HALF, _SOME = 0.9, 0.5, 0.3
_FEWEST, _ENOUGH_WHOLE = 2, 5


def money_left(
    price: Column, left: Iterable[int], headings: Sequence[str], below: Sequence[Cells]
) -> tuple[int, ...]:
    """The columns whose figures may be what the shop pays, in place of those of `price`.

    None is one that is headed as something else: retail, with VAT, last year's, a weight.
    """
    read = MoneyReader(".")
    return tuple(at for at in left if _may_be_paid(at, price, headings[at : at + 1], below, read))


def which_is_paid(index: int, price: Column, headings: Sequence[str], of: str) -> Problem:
    """Ask which of two columns is what the shop pays."""
    other = name_of(index, headings)
    taken = price.heading or f"column {price.letter}"
    return Problem(
        f"column {letter_of(index)}",
        f"its figures ('{other}') may be what the shop pays, in place of '{taken}'",
        f"say which: {as_told('price', of, taken)} or {as_told('price', of, other)}",
    )


def _may_be_paid(
    index: int,
    price: Column,
    heading: Sequence[str],
    below: Sequence[Cells],
    read: MoneyReader,
) -> bool:
    words = heading[0] if heading else ""
    if not _not_excluded(words, price):
        return False
    texts = [
        (cells[price.index], cells[index])
        for cells in below
        if len(cells) > max(price.index, index) and cells[price.index].strip()
    ]
    pairs = [(read(one).price, read(other).price) for one, other in texts]
    both = [(one, other) for one, other in pairs if one and other]
    if len(both) < max(_FEWEST, _HALF * len(texts)) or len({other for _, other in both}) == 1:
        return False  # one figure in every row is a rate, not a price
    decimals = sum(1 for _, text in texts if _DECIMALS.search(text)) > _SOME * len(both)
    if not decimals and (len(both) < _ENOUGH_WHOLE or _is_of_another_field(words)):
        return False
    if _is_price(words):
        near = sum(1 for one, other in both if _DEEPEST < other / one < _DEAREST)
        return near >= _NEARLY_ALL * len(both)
    within = sum(1 for one, other in both if _DEEPEST * one <= other <= one)
    below_it = sum(1 for one, other in both if other < one)
    return within >= _NEARLY_ALL * len(both) and below_it >= _HALF * len(both)


def _not_excluded(words: str, price: Column) -> bool:
    """Whether a heading does not say that its figures are something else than what is paid."""
    says = said_by(words)
    if says.kind is None:
        return _DISCOUNT.search(words) is not None and not names_a_figure(words)
    if says.kind is not Kind.UNSAID and says.kind > _kind_of(price):
        return False
    return per_of(words) in {0, price.per or 1} and not names_a_figure(words)


def _is_price(words: str) -> bool:
    """Whether a heading is of a price or of something new, so that dearer figures may be it too."""
    says = said_by(words)
    return says.new or says.kind not in {None, Kind.UNSAID}


def _kind_of(price: Column) -> Kind:
    """What the price is by its heading; any is better than one that was named as none."""
    return said_by(price.heading).kind or Kind.OLD


def _is_of_another_field(heading: str) -> bool:
    return any(likeness_of(heading, field) >= ENOUGH for field in Field if field is not Field.PRICE)
