"""Which column of a price list holds what: told, remembered, or guessed from headings and content.

A guess is a proposal: the screen shows it with how it was come by, and a person confirms it.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise
from types import MappingProxyType

from kitting.errors import BadInput, NotFound, Problem
from kitting.sheets.price_list_content import Known, suits
from kitting.sheets.price_list_fields import HEADINGS, Column, Field, index_of, letter_of
from kitting.sheets.price_list_fields import Mapping as Columns
from kitting.sheets.price_list_marks import Cells, Marked, tidy
from kitting.sheets.price_list_money import MoneyReader
from kitting.sheets.price_list_steps import steps_in

_DEPTH = 60  # rows in which headings are looked for
_SAMPLE = 100
_MOST_CANDIDATES = 8
_LIKE = 84  # of 100: how like a heading must be to one of ours, spelling mistakes allowed
_ENOUGH = 60
_PLAINLY = 90
_SURELY_LESS = 8
_LETTER = re.compile(r"column ([A-Za-z]{1,3})", re.IGNORECASE)
_BY_CONTENT = {Field.NUMBER, Field.PRICE, Field.CURRENCY}
_NOTHING: Mapping[Field, str] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Located:
    """Where the headings end (0 when there are none), what they are, and the columns taken."""

    row: int
    headings: tuple[str, ...]
    columns: Columns


def parse_map(texts: Sequence[str]) -> dict[Field, str]:
    """Read 'price=Net £, number=Code'; a column without heading is 'price=column C'.

    Raises:
        BadInput: no such field, or nothing said of it.
    """
    told: dict[Field, str] = {}
    for text in texts:
        for piece in re.split(r",\s*(?=\w+\s*=)", text):
            name, equals, heading = piece.partition("=")
            key = name.strip().casefold().replace(" ", "_")
            if key not in set(Field):
                from kitting.catalog.nearest import nearest

                raise NotFound("field", name.strip(), nearest(key, list(Field), 3))
            if not equals or not heading.strip():
                raise BadInput(
                    Problem("--map", f"'{piece}' names no column", "write price=Net £, number=Code")
                )
            told[Field(key)] = tidy(heading)
    return told


def locate(
    rows: Sequence[tuple[int, Cells]],
    told: Mapping[Field, str] = _NOTHING,
    remembered: Mapping[Field, str] = _NOTHING,
    known: Known = lambda _numbers: (),
) -> Located | None:
    """Find the headings of a sheet and take its columns; None when number or price is not found.

    Args:
        rows: the first rows of the sheet, numbered.
        told: heading, or 'column C', by field; 'none' leaves a field out.
        remembered: the same as used the last time, which yields to `told`.
        known: which part numbers are known; columns of such numbers are told by them.

    Raises:
        BadInput: two columns have the heading that is asked for.
    """
    best: Located | None = None
    score = 0
    wanted = {**remembered, **told}
    for at, headings in _likely(_candidates(rows), wanted):
        below = [cells for row, cells in rows if row > at and any(cells)][:_SAMPLE]
        found = _take(headings, below, told, remembered, known)
        points = _points(found, headings, wanted) - 5 * _data_until(at, rows, found)
        if points > score and found.column(Field.PRICE) and _has_number(found):
            best, score = Located(at, headings, found), points
    return best


def _has_number(found: Columns) -> bool:
    return bool(found.column(Field.NUMBER) or found.column(Field.PART))


def _candidates(rows: Sequence[tuple[int, Cells]]) -> list[tuple[int, tuple[str, ...]]]:
    """No headings at all, then each row alone, then each with the one below (merged headings)."""
    first = [(row, tuple(map(tidy, cells))) for row, cells in rows[:_DEPTH] if any(cells)]
    width = max((len(cells) for _, cells in first), default=0)
    singles = [(row, cells) for row, cells in first if sum(map(bool, cells)) > 1]
    pairs = [
        (lower, _joined(top, bottom))
        for (upper, top), (lower, bottom) in pairwise(first)
        if lower == upper + 1
    ]
    return [*singles, *pairs, (0, ("",) * width)]


def _likely(
    candidates: Sequence[tuple[int, tuple[str, ...]]], wanted: Mapping[Field, str]
) -> list[tuple[int, tuple[str, ...]]]:
    """The few that most look like headings, in their order, and none at all."""
    asked = {heading.casefold() for heading in wanted.values()}
    points = [
        sum(1 for text in headings if text and (text.casefold() in asked or _is_heading(text)))
        for _, headings in candidates[:-1]
    ]
    best = sorted(range(len(points)), key=lambda at: -points[at])[:_MOST_CANDIDATES]
    return [candidates[at] for at in sorted(best) if points[at]] + [candidates[-1]]


@lru_cache(maxsize=10_000)
def _is_heading(text: str) -> bool:
    return any(likeness_of(text, field) >= _ENOUGH for field in Field)


def spread(cells: Sequence[str]) -> list[str]:
    """Return a row of merged headings with each repeated over the columns that it spans."""
    last = ""
    return [last := cell or last for cell in cells]


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
    """How many rows above the end of the headings have a price where prices are taken from."""
    price = found.column(Field.PRICE)
    if price is None:
        return 0
    reader = MoneyReader(".")
    above = [cells for row, cells in rows[:_DEPTH] if row <= last and len(cells) > price.index]
    return sum(1 for cells in above if reader(cells[price.index]).price)


def _take(
    headings: Sequence[str],
    below: Sequence[Cells],
    told: Mapping[Field, str],
    remembered: Mapping[Field, str],
    known: Known,
) -> Columns:
    taken: dict[int, Column] = {}
    for how, wanted in (("given", told), ("as last time", remembered)):
        for field, heading in wanted.items():
            if heading != "none" and all(column.field is not field for column in taken.values()):
                index = _named(heading, headings)
                if index is not None and index not in taken:
                    taken[index] = Column(field, index, _at(headings, index), how)
    out = {field for field, heading in told.items() if heading == "none"}
    done = {column.field for column in taken.values()} | out
    steps = () if Field.BREAKS in done else steps_in(headings, below, taken)
    if steps and steps[0].packs == 1 and Field.PRICE not in done:
        one = replace(steps[0].column, field=Field.PRICE)
        taken[one.index] = one
        done.add(Field.PRICE)
    steps = tuple(step for step in steps if step.packs > 1)
    done |= {Field.BREAKS} if steps else set()
    of_steps = {step.column.index for step in steps}
    for guess in _guesses(headings, below, known):
        if guess.field not in done and guess.index not in taken.keys() | of_steps:
            taken[guess.index] = guess
            done.add(guess.field)
    used = taken.keys() | of_steps
    left = tuple(text for index, text in enumerate(headings) if text and index not in used)
    order = list(Field)
    columns = sorted(taken.values(), key=lambda column: order.index(column.field))
    return Columns(tuple(columns), left, steps)


def _at(headings: Sequence[str], index: int) -> str:
    return headings[index] if index < len(headings) else ""


def _named(heading: str, headings: Sequence[str]) -> int | None:
    letters = _LETTER.fullmatch(heading)
    if letters:
        return index_of(letters[1])
    same = [at for at, text in enumerate(headings) if text.casefold() == heading.casefold()]
    if len(same) > 1:
        raise BadInput(_twice(headings[same[0]], same))
    return same[0] if same else None


def _twice(heading: str, columns: Sequence[int], field: str = "price") -> Problem:
    letters = " and ".join(letter_of(at) for at in columns)
    return Problem(
        f"columns {letters}",
        f"{len(columns)} columns are named '{heading}'",
        f'say which, such as --map "{field}=column {letter_of(columns[0])}"',
    )


def refuse_twins(located: Located) -> None:
    """Refuse a guess between columns of one name.

    Raises:
        BadInput: the column of a number or price was guessed, and another has the same heading.
    """
    for column in located.columns.columns:
        if column.field in {Field.NUMBER, Field.PRICE} and "guess" in column.how:
            same = [
                at
                for at, text in enumerate(located.headings)
                if text and text.casefold() == column.heading.casefold()
            ]
            if len(same) > 1:
                raise BadInput(_twice(column.heading, same, column.field))


def _guesses(headings: Sequence[str], below: Sequence[Cells], known: Known) -> list[Column]:
    """Every column for every field that it may hold, the best first."""
    width = max([len(headings), *(len(cells) for cells in below)], default=0)
    scored = []
    for index in range(width):
        heading = _at(headings, index)
        values = [
            text if isinstance(text, Marked) else tidy(text)
            for text in (cells[index] for cells in below if index < len(cells))
            if text.strip() and tidy(text) != heading
        ]
        likeness = {field: likeness_of(heading, field) for field in Field}
        best = max(likeness.values())
        for field in Field:
            if best and likeness[field] < best - _SURELY_LESS:
                continue  # 'maker's number' is no supplier's number, for all that it is a number
            points, how = _score(field, heading, values, known)
            if points >= _ENOUGH:
                scored.append((points, -index, Column(field, index, heading, how)))
    scored.sort(key=lambda each: each[:2], reverse=True)
    return [column for _, _, column in scored]


def _score(field: Field, heading: str, values: Sequence[str], known: Known) -> tuple[float, str]:
    likeness = likeness_of(heading, field)
    if not likeness and field not in _BY_CONTENT:
        return 0, ""
    content = suits(field, values, known)
    if content < 0:
        # A column that is plainly named is taken, so that its cells are told and not itself.
        plainly = field in {Field.NUMBER, Field.PRICE} and likeness >= _PLAINLY
        return (_ENOUGH, "guessed by its heading") if plainly else (0, "")
    if likeness:
        return likeness + content / 4, "guessed by its heading"
    if content and field in _BY_CONTENT:
        return content * (0.62 if heading else 0.7), "guessed by its content"
    return 0, ""


@lru_cache(maxsize=10_000)
def likeness_of(heading: str, field: Field) -> float:
    """How like a heading is to the words of a field, 0 to 100; a slip of spelling is forgiven."""
    from rapidfuzz import fuzz

    plain = " ".join(re.findall(r"[^\W_]+", heading.casefold()))
    if not plain or len(plain) > 60:
        return 0
    best = 0.0
    for rank, words in enumerate(HEADINGS[field]):
        if f" {words} " in f" {plain} ":
            # the more of the heading the words make up, the surer
            best = max(best, 80 + 20 * len(words) / len(plain) - rank * 0.3)
        elif len(words) > 4:
            alike = fuzz.ratio(plain, words)
            best = max(best, alike - 8 - rank * 0.3 if alike >= _LIKE else 0)
    return best


def as_remembered(columns: Columns) -> dict[Field, str]:
    """Return the headings (or 'column C') to be remembered for the supplier's next list."""
    return {column.field: column.heading or f"column {column.letter}" for column in columns.columns}
