"""Where the headings of a price list stand: one row of them, two, or none at all.

A row of texts above a column of money is a row of headings, in whatever language.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from kitting.errors import BadInput, NotFound, Problem
from kitting.sheets.price_lists.fields import Field
from kitting.sheets.price_lists.fields import Mapping as Columns
from kitting.sheets.price_lists.likeness import is_heading
from kitting.sheets.price_lists.marks import Cells, tidy
from kitting.sheets.price_lists.money import MoneyReader
from kitting.sheets.price_lists.no_headings import is_row_of_list
from kitting.sheets.price_lists.priced_for import per_of
from kitting.sheets.price_lists.steps import packs_named
from kitting.sheets.price_lists.take import Asked, take
from kitting.sheets.price_lists.unclaimed import with_unheaded

_DEPTH = 60  # rows in which headings are looked for
_SAMPLE = 100
_MOST_CANDIDATES = 8
_HALF = 0.5
_NOTHING_ASKED = Asked()


@dataclass(frozen=True, slots=True)
class Located:
    """Where the headings end (0 when there are none), what they are, and the columns taken.

    `under` is the last row that belongs to the headings, the explanations below them included.
    """

    row: int
    headings: tuple[str, ...]
    columns: Columns
    under: int


def parse_map(texts: Sequence[str]) -> dict[Field, str]:
    """Read 'price=Net £, number=Code'; a column without heading is 'price=column C'.

    Raises:
        BadInput: no such field, or nothing said of it.
    """
    return {field: heading for field, sheet, heading in _said(texts) if not sheet}


def parse_sheet_maps(texts: Sequence[str]) -> dict[str, dict[Field, str]]:
    """Read what is said of one sheet alone, as 'price@More=RRP', by the name of the sheet.

    Raises:
        BadInput: no such field, or nothing said of it.
    """
    told: dict[str, dict[Field, str]] = {}
    for field, sheet, heading in _said(texts):
        if sheet:
            told.setdefault(sheet, {})[field] = heading
    return told


def _said(texts: Sequence[str]) -> Iterator[tuple[Field, str, str]]:
    """Field, sheet ('' for every) and heading of each piece."""
    for text in texts:
        for piece in re.split(r",\s*(?=\w+\s*(?:@[^=,]+)?=)", text):
            name, equals, heading = piece.partition("=")
            name, _, sheet = name.partition("@")
            key = name.strip().casefold().replace(" ", "_")
            if key not in set(Field):
                from kitting.catalog.nearest import nearest

                raise NotFound("field", name.strip(), nearest(key, list(Field), 3))
            if not equals or not heading.strip():
                raise BadInput(
                    Problem("--map", f"'{piece}' names no column", "write price=Net £, number=Code")
                )
            yield Field(key), tidy(sheet), tidy(heading)


def locate(rows: Sequence[tuple[int, Cells]], asked: Asked = _NOTHING_ASKED) -> Located | None:
    """Find the headings of a sheet and take its columns; None when number or price is not found.

    Args:
        rows: the first rows of the sheet, numbered.
        asked: what columns are taken by.

    Raises:
        BadInput: two columns have the heading that is asked for.
    """
    best: Located | None = None
    score = 0
    for at, headings in _likely(_candidates(rows), rows, asked.wanted):
        below = [cells for row, cells in rows if row > at and any(cells)][:_SAMPLE]
        found = take(headings, below, asked)
        points = _points(found, headings, asked.wanted) - 5 * _data_until(at, rows, found)
        taken = found.column(Field.PRICE) and _has_number(found)
        row_of_list = at and (_swallows(at, headings, rows, found) or is_row_of_list(found, asked))
        if taken and points > score and not row_of_list:
            under = _under(at, rows, found)
            below = [cells for row, cells in rows if row > under]
            every = with_unheaded(found, headings, below, asked.hidden)
            best, score = Located(at, headings, every, under), points
    return best


def seen_headings(rows: Sequence[tuple[int, Cells]]) -> list[str]:
    """The row that most looks like headings, for a person to see; empty when none does."""
    likely = _likely(_candidates(rows), rows, {})[:-1]
    most = max(likely, key=lambda each: sum(map(bool, each[1])), default=None)
    return [text for text in most[1] if text] if most else []


def _has_number(found: Columns) -> bool:
    return bool(found.column(Field.NUMBER) or found.column(Field.PART))


def _swallows(
    at: int, headings: Sequence[str], rows: Sequence[tuple[int, Cells]], found: Columns
) -> bool:
    """Whether the lower of two rows tried as headings is the first row of the list.

    It is by a figure where numbers stand, or by a price: '10' or '10 off' below 'Price' may be
    a quantity, yet not beside a number.
    """
    lower = next((list(map(tidy, cells)) for row, cells in rows if row == at), [])
    if not lower or all(map(str.__eq__, lower, headings)):
        return False  # a row alone
    number = found.column(Field.NUMBER) or found.column(Field.PART)
    named, price = (
        lower[column.index] if column and column.index < len(lower) else ""
        for column in (number, found.column(Field.PRICE))
    )
    if not _no_figure(named):
        return True
    if not MoneyReader(".")(price).price:
        return False
    quantity = price.isdigit() or packs_named(price)
    return not quantity or bool(named and not is_heading(named))


def _under(at: int, rows: Sequence[tuple[int, Cells]], found: Columns) -> int:
    """The last row of the headings: below them may stand 'each' or 'per 10' for the prices.

    Only where the price of the row after it can be read: a first row with a bad price is told.
    """
    price, number = found.column(Field.PRICE), found.column(Field.NUMBER)
    if not at or price is None:
        return at
    reader = MoneyReader(".")
    below = [(row, cells) for row, cells in rows if row > at][:2]
    if len(below) < 2 or below[0][0] != at + 1:
        return at
    (row, cells), (_, after) = below
    said = [tidy(text) for text in cells]
    shown = said[price.index] if price.index < len(said) else ""
    named = said[number.index] if number and number.index < len(said) else ""
    explains = bool(shown and reader(shown).wrong) and _no_figure(shown) and _no_figure(named)
    others = all(_no_figure(text) or packs_named(text) or per_of(text) for text in said)
    goes_on = price.index < len(after) and bool(reader(after[price.index]).price)
    several = sum(map(bool, said)) > 1 or not named
    return row if explains and others and goes_on and several else at


def _no_figure(text: str) -> bool:
    return not any(mark.isdigit() for mark in text)


def _candidates(rows: Sequence[tuple[int, Cells]]) -> list[tuple[int, tuple[str, ...]]]:
    """No headings at all, then each row alone, then each with the one below (merged headings)."""
    first = [(row, tuple(map(tidy, cells))) for row, cells in rows[:_DEPTH] if any(cells)]
    width = max((len(cells) for _, cells in first), default=0)
    singles = [(row, cells) for row, cells in first if sum(map(bool, cells)) > 1]
    pairs = [
        (lower, _joined(top, bottom))
        for (upper, top), (lower, bottom) in pairwise(first)
        if lower == upper + 1 and not _is_title(top, bottom)
    ]
    return [*singles, *pairs, (0, ("",) * width)]


def _likely(
    candidates: Sequence[tuple[int, tuple[str, ...]]],
    rows: Sequence[tuple[int, Cells]],
    wanted: Mapping[Field, str],
) -> list[tuple[int, tuple[str, ...]]]:
    """The few that most look like headings, in their order, and none at all."""
    asked = {heading.casefold() for heading in wanted.values()}
    above = _above_money(rows)
    points = [
        sum(1 for text in headings if text and (text.casefold() in asked or is_heading(text)))
        or (row == above and sum(map(bool, headings)) > 1)
        for row, headings in candidates[:-1]
    ]
    best = sorted(range(len(points)), key=lambda at: -points[at])[:_MOST_CANDIDATES]
    return [candidates[at] for at in sorted(best) if points[at]] + [candidates[-1]]


def _above_money(rows: Sequence[tuple[int, Cells]]) -> int:
    """The row just above the first price of a column of prices; 0 when there is none."""
    reader = MoneyReader(".")
    read = [
        (row, {at for at, text in enumerate(cells) if text and reader(text).price})
        for row, cells in rows[:_SAMPLE]
        if any(cells)
    ]
    counts: dict[int, int] = {}
    for at in (at for _, found in read for at in found):
        counts[at] = counts.get(at, 0) + 1
    columns = {at for at, count in counts.items() if count >= _HALF * (len(read) - 1)}
    for (before, _), (_, found) in pairwise(read):
        if found & columns:
            return before
    return 0


def spread(cells: Sequence[str]) -> list[str]:
    """Return a row of merged headings with each repeated over the columns that it spans."""
    last = ""
    return [last := cell or last for cell in cells]


def _is_title(top: Sequence[str], bottom: Sequence[str]) -> bool:
    """Whether a row is one text above all columns: it heads none of them more than another."""
    texts = {text for text in top if text}
    return len(texts) == 1 and bool(top[0]) and bool(bottom[0])


def _joined(top: Sequence[str], bottom: Sequence[str]) -> tuple[str, ...]:
    width = max(len(top), len(bottom))
    alone = [*top, *[""] * (width - len(top))]
    lower = [*bottom, *[""] * (width - len(bottom))]
    over = zip(alone, spread(alone), lower, strict=True)
    return tuple(f"{wide} {below}".strip() if below else own for own, wide, below in over)


def _points(found: Columns, headings: Sequence[str], wanted: Mapping[Field, str]) -> int:
    """How good a row of headings is: what was asked for counts most, then what is recognised."""
    by_name = sum(1 for column in found.columns if column.heading and "content" not in column.how)
    asked = sum(1 for column in found.columns if column.field in wanted)
    figures = sum(1 for text in headings if text and MoneyReader(".")(text).price)
    return 10 * asked + 4 * by_name + len(found.columns) + 5 * len(found.steps) - 3 * figures


def _data_until(last: int, rows: Sequence[tuple[int, Cells]], found: Columns) -> int:
    """How many rows above the end of the headings have a price where prices are taken from.

    '1 off' is none, where the headings end with it and name the quantities of their columns so.
    """
    price = found.column(Field.PRICE)
    if price is None:
        return 0
    reader = MoneyReader(".")
    above = [
        cells[price.index]
        for row, cells in rows[:_DEPTH]
        if row <= last
        and len(cells) > price.index
        and not (row == last and found.steps and packs_named(cells[price.index]))
    ]
    return sum(1 for text in above if reader(text).price)
