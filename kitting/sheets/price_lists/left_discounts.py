"""A column of discounts that nobody took: the price beside it may still be before them.

Prices are never worked out here. Where nothing shows that a row's discount is taken off already,
a person is asked.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping, Sequence
from decimal import Decimal
from typing import TYPE_CHECKING, NamedTuple

from kitting.errors import Problem
from kitting.sheets.price_lists.fields import Column, letter_of
from kitting.sheets.price_lists.kinds import Kind, said_by
from kitting.sheets.price_lists.marks import Otherwise, tidy
from kitting.sheets.price_lists.money import MoneyReader
from kitting.sheets.price_lists.nones import as_told, name_of

if TYPE_CHECKING:
    from kitting.sheets.price_lists.marks import Cells

_DISCOUNT = re.compile(
    r"(?<![^\W_])(?:disc(?:ount\w*)?|rebate|rabatt\w*|rabat|rab|nachlass|nachlaß|remise|rem|rabais"
    r"|scont[oi]|sc|descuento|dto|dcto|desconto|korting|avdrag|sleva|upust)(?![^\W\d_])|%",
    re.IGNORECASE,
)
# Percentages that say nothing of what is taken off a price.
_OTHER = re.compile(
    r"(?<![^\W_])(?:vat|v\.a\.t|tax|mwst|ust|tva|t\.v\.a|iva|btw|moms|mva|gst|dph|alv|margin|marge"
    r"|mark-?up|increase|change|diff\w*|duty|zoll|stock|weight|surcharge|zuschlag|aufschlag"
    r"|settlement|skonto|escompte|qty|quantity|bulk|volume|menge|no|nr"
    r"|\w*(?:code|group|gruppe|class|klasse))(?![^\W_])|[+±]",
    re.IGNORECASE,
)
_PERCENT = re.compile(r"-?\s*(\d{1,2}(?:[.,]\d+)?)\s*%?(?:\s*[+/-]\s*\d{1,2}(?:[.,]\d+)?\s*%?)*")
# What says that a row has no discount: its price is what the shop pays, and the others decide.
_NO_DISCOUNT = re.compile(
    r"(?:net+(?:o|to|-?preis|[ -]?prices?)?(?: only)?|nto|n|nil|none|non?|zero|na|nd|n\s?/\s?[ad]"
    r"|n\.\s?[ad]|kein\w*|ohne|aucun\w*|sans|nessun\w*|senza|ningun\w*|geen|ingen|brak)\.?"
    r"(?: (?:disc\w*\.?|rabatt|remise|sconto|descuento|korting))?|[\W_]+",
    re.IGNORECASE,
)
_CHAIN = re.compile(r"\d{1,2}(?:[.,]\d+)?")
_TAX_RATES = {Decimal(each) for each in (17, 19, 20, 21, 22, 23, 24, 25, 27)}
_NEARLY_ALL = 0.9
_NEAR = 110  # ten-thousandths: a price after its discount is rounded to a penny


class Discounts(NamedTuple):
    """The columns of percentages that were left, by their places from 0.

    `asked` may still have to be taken off the price, `taxes` seem to be the rate of VAT.
    """

    asked: tuple[int, ...] = ()
    taxes: tuple[int, ...] = ()


def discounts_left(
    price: Column, left: Iterable[int], headings: Sequence[str], below: Sequence[Cells]
) -> Discounts:
    """Look among the columns that are left for discounts on the price.

    There are none where the price is headed as net, or is another price less these discounts; nor
    where another column is the price less them, which is asked about by itself.
    """
    if said_by(price.heading).kind is Kind.NET:
        return Discounts()
    found = {at: shares for at in left if (shares := _shares(at, headings, below))}
    if not found or _explained(price, found, below):
        return Discounts()
    taxes = tuple(at for at, shares in found.items() if _is_tax(headings[at : at + 1], shares))
    return Discounts(tuple(at for at in found if at not in taxes), taxes)


def not_taken_off(index: int, price: Column, headings: Sequence[str], *, tax: bool) -> str:
    """Tell that the percentages of a column are left alone."""
    why = "seems to be the rate of VAT" if tax else "is not taken off, as was said"
    taken = price.heading or f"column {price.letter}"
    return f"'{name_of(index, headings)}' {why}: '{taken}' is taken as what the shop pays"


def taken_off_first(index: int, price: Column, headings: Sequence[str], of: str) -> Problem:
    """Ask whether a price is before the discounts of a column."""
    other = name_of(index, headings)
    taken = price.heading or f"column {price.letter}"
    return Problem(
        f"column {letter_of(index)}",
        f"its percentages ('{other}') may still have to be taken off '{taken}'",
        "put what is paid in a column of its own, headed 'Net', or say "
        f"{as_told('price', of, taken)} if '{taken}' is what the shop pays",
    )


def _shares(
    index: int, headings: Sequence[str], below: Sequence[Cells]
) -> dict[int, Decimal] | None:
    """What share of the price each row of a column leaves, by the row; None for another column.

    Rows that say 'Nett', '-' or 'n/a' leave all of it.
    """
    heading = headings[index] if index < len(headings) else ""
    if _OTHER.search(heading):
        return None
    texts = {
        row: cells[index]
        for row, cells in enumerate(below)
        if index < len(cells) and cells[index].strip()
    }
    texts = {row: text for row, text in texts.items() if not _NO_DISCOUNT.fullmatch(tidy(text))}
    named = _DISCOUNT.search(heading) is not None
    found = {row: share for row, text in texts.items() if (share := _share(text, named=named))}
    if len(found) < _NEARLY_ALL * len(texts) or all(share == 1 for share in found.values()):
        return None
    return found


def _is_tax(heading: Sequence[str], shares: Mapping[int, Decimal]) -> bool:
    """Whether every row has one rate of VAT, and the heading does not speak of discounts."""
    rates = {100 - 100 * share for share in shares.values()} - {0}
    named = heading and _DISCOUNT.search(heading[0].replace("%", ""))
    return len(rates) == 1 and rates <= _TAX_RATES and not named


def _share(text: str, *, named: bool) -> Decimal | None:
    """What a discount leaves of a price, above 0; None where a cell is no discount.

    Below a heading that names discounts a bare number is one too; one below 1 is a share of one.
    """
    if isinstance(text, Otherwise) and "%" not in text.shown:
        return None
    plain = tidy(text)
    if not _PERCENT.fullmatch(plain) or not (named or "%" in plain or isinstance(text, Otherwise)):
        return None
    share = Decimal(1)
    for each in _CHAIN.findall(plain):
        figure = Decimal(each.replace(",", "."))
        of_one = figure < 1 and "%" not in plain
        share *= 1 - (figure if of_one else figure / 100)
    return share


def _explained(price: Column, found: dict[int, dict[int, Decimal]], below: Sequence[Cells]) -> bool:
    """Whether one column less the discounts comes to another, the price one of them."""
    read = MoneyReader(".")
    width = max(map(len, below), default=0)
    paid = {
        row: amount
        for row, cells in enumerate(below)
        if price.index < len(cells) and (amount := read(cells[price.index]).price)
    }
    return any(
        _comes_to(paid, at, found.values(), below, read)
        for at in range(width)
        if at not in found and at != price.index
    )


def _comes_to(
    paid: dict[int, int],
    index: int,
    discounts: Collection[dict[int, Decimal]],
    below: Sequence[Cells],
    read: MoneyReader,
) -> bool:
    met = same = 0
    for row, amount in paid.items():
        before = read(below[row][index]).price if index < len(below[row]) else 0
        if not before:
            continue
        share = Decimal(1)
        for shares in discounts:
            share *= shares.get(row, Decimal(1))
        met += 1
        same += _near(before * share, amount) or _near(amount * share, before)
    return met > 0 and same >= _NEARLY_ALL * met and met >= len(paid) / 2


def _near(one: Decimal, other: int) -> bool:
    """Whether two amounts are the same but for their rounding."""
    return abs(one - other) <= max(Decimal(_NEAR), one / 200)
