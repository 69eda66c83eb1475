"""Taking a sheet's columns, its headings known: as told, as last time, or by name and content."""

from __future__ import annotations

import dataclasses
import re
from collections import defaultdict
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace

from kitting.errors import BadInput, Problem
from kitting.sheets.price_lists.asking import Left
from kitting.sheets.price_lists.choice import choose_price, sizes_beside
from kitting.sheets.price_lists.content import (
    COUNTS,
    Known,
    holds_money,
    like_numbers,
    looks_like_money,
    may_be,
    names_its_size,
    suits,
)
from kitting.sheets.price_lists.currencies import all_currencies
from kitting.sheets.price_lists.fields import (
    SIZES,
    Column,
    Field,
    Step,
    letter_of,
    place_of,
)
from kitting.sheets.price_lists.fields import Mapping as Columns
from kitting.sheets.price_lists.for_one import for_one
from kitting.sheets.price_lists.kinds import names_money
from kitting.sheets.price_lists.likeness import ENOUGH, likeness_of
from kitting.sheets.price_lists.marks import Cells, Marked, tidy
from kitting.sheets.price_lists.nones import Denied, headings_in
from kitting.sheets.price_lists.pairs import paired, pairs_in, unsure_of
from kitting.sheets.price_lists.priced_for import per_alone
from kitting.sheets.price_lists.steps import steps_in, steps_shown

_PLAINLY = 90
_SURELY_LESS = 8
_MONEY = 80  # a heading of no words of ours, that yet names a price
# From how many on a price holds, as its heading says it; a least order says no more.
_FROM = re.compile(
    r"\b(?:from|break|breaks|ab|staffel\w*|à partir|dès|vanaf|desde)\b", re.IGNORECASE
)
_BY_CONTENT = {Field.NUMBER, Field.PRICE, Field.CURRENCY}


@dataclass(frozen=True, slots=True)
class Asked:
    """What columns are taken by: told, remembered, by known numbers; hidden ones never guessed.

    `of` follows a field in what is told of this sheet alone, as '@More'; '' of the first. `per` is
    for how many a person said that prices are, 0 where he did not.
    """

    told: Mapping[Field, str] = dataclasses.field(default_factory=dict)
    remembered: Mapping[Field, str] = dataclasses.field(default_factory=dict)
    known: Known = lambda _numbers: ()
    hidden: Collection[int] = ()
    of: str = ""
    per: int = 0

    @property
    def wanted(self) -> dict[Field, str]:
        """Headings by field, what is told before what is remembered."""
        return {**headings_in(self.remembered), **self.told}


def take(headings: Sequence[str], below: Sequence[Cells], asked: Asked) -> Columns:
    """Take the columns of a sheet for the fields that they hold.

    Raises:
        BadInput: two columns have the heading that is asked for.
    """
    taking = _Taking(headings, below, asked)
    taking.by_name()
    taking.steps_and_guesses()
    return taking.asked_about(taking.columns())


class _Taking:
    """The columns taken so far."""

    def __init__(self, headings: Sequence[str], below: Sequence[Cells], asked: Asked) -> None:
        self._headings = headings
        self._below = below
        self._asked = asked
        self._taken: dict[int, Column] = {}
        self._steps: tuple[Step, ...] = ()
        self._rivals: tuple[Column, ...] = ()
        self._pairs = pairs_in(headings, below, asked.hidden)
        self._quantities = {pair.quantity for pair in self._pairs}
        self._unsure: tuple[Problem, ...] = ()
        self._out = {field for field, heading in asked.told.items() if heading == "none"}
        self._denied = Denied(headings, asked.told, asked.remembered)

    def by_name(self) -> None:
        """Take what was told, then what the supplier's last list had."""
        last = headings_in(self._asked.remembered)
        for how, wanted in (("given", self._asked.told), ("as last time", last)):
            # A hidden column is there to be named, but a habit does not reach it.
            out = () if how == "given" else self._asked.hidden
            for field, heading in wanted.items():
                if heading != "none" and field not in self._done():
                    index = _named(field, heading, self._headings, self._asked.hidden)
                    if how != "given" and index is not None and self._mistaken(field, index):
                        continue
                    if index is not None and index not in self._taken and index not in out:
                        self._taken[index] = Column(field, index, _at(self._headings, index), how)

    def steps_and_guesses(self) -> None:
        """Take the columns of quantity prices, then what the rest most look like."""
        self._take_pairs()
        many = (at for at in range(len(self._headings)) if per_alone(at, self._headings) > 1)
        closed = {*self._taken, *self._asked.hidden, *self._quantities, *many}
        steps = (
            () if Field.BREAKS in self._done() else steps_in(self._headings, self._below, closed)
        )
        if steps and steps[0].packs == 1 and Field.PRICE not in self._done():
            one = replace(steps[0].column, field=Field.PRICE)
            self._taken[one.index] = one
        self._steps = self._steps or tuple(step for step in steps if step.packs > 1)
        guesses = _guesses(self._headings, self._below, self._asked.known)
        guesses = [each for each in guesses if each.index not in self._closed()]
        if Field.PRICE not in self._done():
            guesses = self._price_among(guesses)
        elif not self._steps and Field.BREAKS not in self._done():
            others = [guess for guess in guesses if guess.field is Field.PRICE]
            prices = [c for c in self._taken.values() if c.field is Field.PRICE]
            self._steps = sizes_beside(prices[0], others) if prices else ()
        for guess in guesses:
            if guess.index not in self._closed() and self._denied.says(guess.field, guess.index):
                self._denied.note(guess.field, [guess.index])
            elif guess.field not in self._done() and guess.index not in self._closed():
                self._taken[guess.index] = guess
        self._number_by_looks()
        self._quantity_or_not()

    def _take_pairs(self) -> None:
        """Take columns of quantities with that of the price beside each; ask where in doubt."""
        pairs = self._pairs
        if not pairs or Field.BREAKS in self._done():
            return
        taken = {column.field: column.index for column in self._taken.values()}
        found = paired(pairs, taken, self._headings, self._below)
        if found is None:
            self._unsure = (unsure_of(pairs, self._headings, self._asked.of),)
            return
        for column in found.first:
            if column.field not in self._done():
                self._taken[column.index] = column
        self._steps = found.steps

    def columns(self) -> Columns:
        """All that was taken, and what was left."""
        used = self._taken.keys() | self._stepped()
        hidden = {at for at in self._asked.hidden if at not in used}
        left = [
            text
            for index, text in enumerate(self._headings)
            if text and index not in used and index not in hidden
        ]
        unseen = [f"{letter_of(at)} ({_at(self._headings, at)})" for at in sorted(hidden)
                  if _at(self._headings, at)]  # fmt: skip
        order = list(Field)
        columns = sorted(self._taken.values(), key=lambda column: order.index(column.field))
        sized = tuple(
            self._sized(column) if column.field is Field.PRICE else column for column in columns
        )
        price = next((column for column in sized if column.field is Field.PRICE), None)
        by_row = any(column.field in SIZES for column in sized)
        steps = steps_shown(self._steps, price.per if price else 0, by_row=by_row)
        return Columns(sized, tuple(left), steps, self._rivals, tuple(unseen))

    def _sized(self, column: Column) -> Column:
        """The price with for how many it is, as its heading says or as was answered last time."""
        per = per_alone(column.index, self._headings)
        if not per and not self._asked.per and self._denied.said_before(Field.PER, column.index):
            per = 1
        return replace(column, per=per, how=f"{column.how}; for {per}" if per > 1 else column.how)

    def asked_about(self, columns: Columns) -> Columns:
        """The same with what is to be asked of the columns that are left."""
        closed = self._closed() | self._quantities
        left = [at for at in range(_width(self._headings, self._below)) if at not in closed]
        of = Left(columns, left, self._headings, self._below, self._asked, self._denied)
        asked = of.asked_about()
        if not self._unsure:
            return asked
        others = tuple(column for column in asked.rivals if column.field is not Field.PRICE)
        return replace(asked, asked=(*self._unsure, *asked.asked), rivals=others)

    def _mistaken(self, field: Field, index: int) -> bool:
        """Whether a column of money is remembered for one of counts, or one of counts for money."""
        if field is Field.PRICE and index in self._quantities:
            return True
        heading = _at(self._headings, index)
        return field in COUNTS and _cannot_count(heading, _values(index, heading, self._below))

    def _done(self) -> set[Field]:
        done = {column.field for column in self._taken.values()} | self._out
        return done | ({Field.BREAKS} if self._steps else set())

    def _closed(self) -> set[int]:
        return self._taken.keys() | self._stepped() | set(self._asked.hidden)

    def _stepped(self) -> set[int]:
        return {column.index for step in self._steps for column in step.columns}

    def _price_among(self, guesses: Sequence[Column]) -> list[Column]:
        """Take the price before all else but what is surer of its column; returns the others."""
        surest: dict[int, Column] = {}
        for guess in guesses:
            surest.setdefault(guess.index, guess)
        numbers = [guess.index for guess in guesses if guess.field is Field.NUMBER][:1]
        chosen = choose_price(
            [
                guess
                for guess in guesses
                if guess.field is Field.PRICE
                and (surest[guess.index] is guess or guess.index not in numbers)
            ]
        )
        if chosen.price is not None:
            self._taken[chosen.price.index] = chosen.price
            self._rivals += chosen.rivals
            if not self._steps and Field.BREAKS not in self._done():
                self._steps = chosen.steps
        return [guess for guess in guesses if guess.field is not Field.PRICE]

    def _number_by_looks(self) -> None:
        """Where no heading names the numbers and nobody knows one: the column that looks it."""
        if {Field.NUMBER, Field.PART} & self._done() or Field.PRICE not in self._done():
            return
        found = []
        for index in range(_width(self._headings, self._below)):
            values = _values(index, _at(self._headings, index), self._below)
            unsaid = not any(likeness_of(_at(self._headings, index), field) for field in Field)
            looks = like_numbers(values) and not any(map(looks_like_money, values))
            if index not in self._closed() and unsaid and looks:
                found.append(index)
        columns = [
            Column(Field.NUMBER, index, _at(self._headings, index), "guessed by its content")
            for index in found
        ]
        if columns:
            self._taken[columns[0].index] = columns[0]
            self._rivals += tuple(columns[1:])

    def _quantity_or_not(self) -> None:
        """Keep a guessed column of quantities only where a number stands with several of them.

        A cell that is merged over rows stands in the first of them. 'Qty from' needs no such sign.
        """
        quantity = next((c for c in self._taken.values() if c.field is Field.QUANTITY), None)
        if quantity is None or "guess" not in quantity.how or _FROM.search(quantity.heading):
            return
        names = {Field.NUMBER, Field.PART}
        at = next((c.index for c in self._taken.values() if c.field in names), 0)
        seen: defaultdict[str, set[str]] = defaultdict(set)
        number = ""
        for cells in self._below:
            if len(cells) > max(at, quantity.index):
                number = tidy(cells[at]) or number
                seen[number].add(tidy(cells[quantity.index]))
        if not any(len(found - {""}) > 1 for number, found in seen.items() if number):
            del self._taken[quantity.index]


def _at(headings: Sequence[str], index: int) -> str:
    return headings[index] if index < len(headings) else ""


def _named(
    field: Field, heading: str, headings: Sequence[str], hidden: Collection[int]
) -> int | None:
    place = place_of(heading)
    if place is not None:
        return place
    same = [at for at, text in enumerate(headings) if text.casefold() == heading.casefold()]
    same = [at for at in same if at not in hidden] or same
    if len(same) > 1:
        raise BadInput(_twice(headings[same[0]], same, field))
    return same[0] if same else None


def _twice(heading: str, columns: Sequence[int], field: str) -> Problem:
    letters = " and ".join(letter_of(at) for at in columns)
    return Problem(
        f"columns {letters}",
        f"{len(columns)} columns are named '{heading}'",
        f'say which, such as --map "{field}=column {letter_of(columns[0])}"',
    )


def refuse_twins(headings: Sequence[str], columns: Columns, hidden: Collection[int]) -> None:
    """Refuse a guess between columns of one name.

    Raises:
        BadInput: the column of a number or price was guessed, and another has the same heading.
    """
    for column in columns.columns:
        if column.field in {Field.NUMBER, Field.PRICE} and "guess" in column.how:
            same = [
                at
                for at, text in enumerate(headings)
                if text and at not in hidden and text.casefold() == column.heading.casefold()
            ]
            if len(same) > 1:
                raise BadInput(_twice(column.heading, same, column.field))


def _width(headings: Sequence[str], below: Sequence[Cells]) -> int:
    return max([len(headings), *(len(cells) for cells in below)], default=0)


def _values(index: int, heading: str, below: Sequence[Cells]) -> list[str]:
    """The filled cells of a column, its heading again left out."""
    return [
        text if isinstance(text, Marked) else tidy(text)
        for text in (cells[index] for cells in below if index < len(cells))
        if text.strip() and tidy(text) != heading
    ]


def _cannot_count(heading: str, values: Sequence[str]) -> bool:
    return names_its_size(heading) or holds_money(values)


def _guesses(headings: Sequence[str], below: Sequence[Cells], known: Known) -> list[Column]:
    """Every column for every field that it may hold, the best first."""
    scored = []
    for index in range(_width(headings, below)):
        heading = _at(headings, index)
        values = _values(index, heading, below)
        likeness = {field: likeness_of(heading, field) for field in Field}
        if likeness[Field.PART] and suits(Field.PART, values, known) < 0:
            likeness[Field.PART] = 0  # 'Mfr code' above his initials is the maker
        if _cannot_count(heading, values):
            likeness |= dict.fromkeys(COUNTS, 0.0)
        if likeness[Field.UNIT] and for_one(heading) and holds_money(values):
            likeness |= {Field.UNIT: 0.0, Field.PRICE: _MONEY}  # 'Unit £'
        if not any(likeness.values()) and names_money(heading):
            likeness[Field.PRICE] = _MONEY
        if all_currencies(values):  # whatever it is headed: 'Val.', 'Price unit'
            likeness = {field: likeness[field] * (field is Field.CURRENCY) for field in Field}
        best = max(likeness.values())
        for field in Field:
            if best and likeness[field] < best - _SURELY_LESS:
                continue  # 'maker's number' is no supplier's number, for all that it is a number
            points, how = _score(field, likeness[field], heading, values, known)
            if points >= ENOUGH:
                scored.append((points, -index, Column(field, index, heading, how)))
    scored.sort(key=lambda each: each[:2], reverse=True)
    return [column for _, _, column in scored]


def _score(
    field: Field, likeness: float, heading: str, values: Sequence[str], known: Known
) -> tuple[float, str]:
    if not likeness and field not in _BY_CONTENT:
        return 0, ""
    content = suits(field, values, known)
    if content < 0:
        # A column that is plainly named is taken, so that its cells are told and not itself.
        plainly = likeness >= _PLAINLY and may_be(field, values)
        return (ENOUGH, "guessed by its heading") if plainly else (0, "")
    if likeness:
        return likeness + content / 4, "guessed by its heading"
    if content and field in _BY_CONTENT:
        return content * (0.62 if heading else 0.7), "guessed by its content"
    return 0, ""
