"""Columns that each hold the price for so many packs: '1+ | 10+ | 100+', 'from 10', '10-49'."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from kitting.sheets.price_lists.cells import pack_of
from kitting.sheets.price_lists.counts import as_in_headings
from kitting.sheets.price_lists.fields import Column, Field, Step
from kitting.sheets.price_lists.kinds import Kind, said_by
from kitting.sheets.price_lists.money import MoneyReader
from kitting.sheets.price_lists.priced_for import per_of
from kitting.sheets.price_lists.size import Counted, Size

if TYPE_CHECKING:
    from collections.abc import Container, Sequence

    from kitting.sheets.price_lists.marks import Cells

_UNIT = r"(?:\s*(?:off|pcs?|pieces?|packs?|units?|stk|stück|st|pièces?))?\.?"
# The mark that makes a number a quantity stands before it or behind it; '2026' alone is a year.
_MARKED = re.compile(
    r"(?:^|.*[\s(:])(?:"
    rf"(?P<plus>\d{{1,6}}){_UNIT}\s*(?:\+|&\s*up|and (?:up|over|more)|or more|plus|upwards)"
    r"|(?:qty|quantity|from|ab|over|à partir de|dès|vanaf|da|desde|fra|från|staffel|break|tier"
    r"|>=|≥)"
    rf"\s*:?\s*(?P<told>\d{{1,6}}){_UNIT}"
    r"|(?P<off>\d{1,6})[\s-]*(?:off|pcs?|pieces?|packs?|units?|stk|stück|pièces?)\.?"
    rf"|(?P<first>\d{{1,6}})\s*(?:-|–|to|bis|à)\s*(?P<last>\d{{1,6}}){_UNIT}"
    r")\)?",
    re.IGNORECASE,
)
_QUANTITIES = ("plus", "told", "off", "first")
# What may stand before a quantity without a word for a price; 'Stock' or 'Saving' may not.
_SAYING_NOTHING = frozenset(
    re.findall(
        r"\w+",
        "qty quantity quantities from ab over à a partir de dès vanaf da desde fra från break"
        " breaks staffel menge mengen bulk tier band level of for if buy buying order orders"
        " gbp eur usd p pence pack packs",
    )
)
_YEARS = range(1900, 2101)
_MOST_READABLE = 0.5


def steps_in(
    headings: Sequence[str], below: Sequence[Cells], taken: Container[int]
) -> tuple[Step, ...]:
    """The columns whose headings name a quantity and whose cells hold prices, fewest packs first.

    Of two columns for the same quantity neither is taken: nobody can say which it is.
    """
    others = {said_by(text).kind for text in headings if not packs_named(text)}
    paid = bool(others & {Kind.NET, Kind.TRADE, Kind.PRICE})
    found = [
        Step(packs, Column(Field.BREAKS, index, heading, "the price of one"))
        for index, heading in enumerate(headings)
        if index not in taken
        and (packs := packs_named(heading))
        and _may_be_paid(heading, paid)
        and _holds_prices(index, below)
    ]
    counts = [step.packs for step in found]
    return tuple(
        sorted((s for s in found if counts.count(s.packs) == 1), key=lambda step: step.packs)
    )


def _may_be_paid(heading: str, paid: bool) -> bool:
    """Whether a heading with a quantity is of a price that the shop may pay.

    `paid` says that another column is such a price: a retail one with a quantity is then none.
    """
    heading = as_in_headings(heading)
    kind = said_by(heading.rstrip(" +)")).kind  # the '+' of '10+' is not that of '+ VAT'
    if kind in {None, Kind.OLD}:
        return False
    if kind in {Kind.LIST, Kind.WITH_VAT}:
        return not paid
    match = _MARKED.fullmatch(heading)
    at = min(start for name in _QUANTITIES if (start := match.start(name)) >= 0) if match else 0
    words = re.findall(r"[^\W\d_]+", heading[:at].casefold())
    return kind is not Kind.UNSAID or _SAYING_NOTHING.issuperset(words)


def packs_named(heading: str) -> int:
    """How many packs a heading says its price is for, at the least; 0 when it names none.

    >>> packs_named("10+"), packs_named("Net price (from 25)"), packs_named("50-99 off")
    (10, 25, 50)
    >>> packs_named("Price 2026"), packs_named("2026-2027")
    (0, 0)
    """
    match = _MARKED.fullmatch(as_in_headings(heading))
    if not match or per_of(heading) > 1:
        return 0
    packs = int(next(filter(None, match.group(*_QUANTITIES))))
    if match["last"] and (int(match["last"]) <= packs or packs in _YEARS):
        return 0
    return packs


_PIECES = re.compile(r"(?:\b|(?<=\d))(?:pcs?|pieces?|stk|stück|st|pièces?)\b", re.IGNORECASE)
_PACKS = re.compile(r"(?:\b|(?<=\d))(?:packs?|pkts?|packets?|boxes|vpe)\b", re.IGNORECASE)


def counted_in(heading: str) -> Counted:
    """Whether the quantity in a heading is of packs or of pieces, where it says so.

    >>> counted_in("50 pcs"), counted_in("Price each 50+"), counted_in("5 packs"), counted_in("5+")
    (<Counted.PIECES: 'pieces'>, <Counted.PIECES: 'pieces'>, <Counted.PACKS: 'packs'>, \
<Counted.UNSAID: ''>)
    """
    if _PACKS.search(heading):
        return Counted.PACKS
    pieces = _PIECES.search(heading) or per_of(heading) == 1
    return Counted.PIECES if pieces else Counted.UNSAID


def quantity_of(text: str) -> int:
    """From how many packs on a price holds, as a cell of a column of quantities says; 0: nothing.

    >>> quantity_of("10"), quantity_of("10+"), quantity_of("10-49"), quantity_of("lots")
    (10, 10, 10, 0)
    """
    return packs_named(text) or pack_of(text) or 0


def steps_shown(steps: Sequence[Step], per: int, *, by_row: bool) -> tuple[Step, ...]:
    """The columns of quantity prices with what each counts: packs, pieces, or as each row says.

    `per` is for how many the price's heading says that it is, `by_row` that each row may say more.
    """
    if not steps or steps[0].column.per:
        return tuple(steps)
    said = {counted_in(step.column.heading) for step in steps}
    counted = said.pop() if len(said) == 1 else Counted.UNSAID
    kind = Size(per, 0).in_packs([step.packs for step in steps], counted)[1]
    what = "" if by_row and not counted else f" {counted if by_row else kind}"
    return tuple(
        replace(step, column=replace(step.column, how=f"the price from {step.packs}{what} on"))
        for step in steps
    )


def _holds_prices(index: int, below: Sequence[Cells]) -> bool:
    reader = MoneyReader(".")
    texts = [cells[index] for cells in below if index < len(cells) and cells[index].strip()]
    fair = sum(1 for text in texts if not reader(text).wrong)
    return fair > _MOST_READABLE * len(texts)
