"""What is to be asked of the columns that were left, before a list is taken.

A list is taken without a question only where its columns plainly are what they were taken for.
What a person once answered of a supplier's columns is remembered and not asked again.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from kitting.sheets.price_lists.doubtful_size import (
    count_in_doubt,
    for_as_many,
    says_so_many,
)
from kitting.sheets.price_lists.fields import Field
from kitting.sheets.price_lists.fields import Mapping as Columns
from kitting.sheets.price_lists.for_one import for_one_or_a_pack, perhaps_for_one
from kitting.sheets.price_lists.left_counts import counts_left, for_so_many
from kitting.sheets.price_lists.left_currencies import (
    currencies_left,
    other_money,
    which_money,
)
from kitting.sheets.price_lists.left_days import days_left, no_days
from kitting.sheets.price_lists.left_discounts import discounts_left, not_taken_off, taken_off_first
from kitting.sheets.price_lists.left_money import money_left, which_is_paid
from kitting.sheets.price_lists.left_units import for_what_they_say, units_left
from kitting.sheets.price_lists.nones import headings_in
from kitting.sheets.price_lists.steps import packs_named
from kitting.sheets.price_lists.unclaimed import has_own_numbers, unclaimed
from kitting.sheets.price_lists.unit_letters import (
    as_answered,
    holds_letters,
    in_doubt,
    thousand_or_metre,
)

if TYPE_CHECKING:
    from kitting.errors import Problem
    from kitting.sheets.price_lists.fields import Column
    from kitting.sheets.price_lists.marks import Cells
    from kitting.sheets.price_lists.nones import Denied
    from kitting.sheets.price_lists.take import Asked


class Left:
    """The columns of a sheet that were left, beside those that were taken."""

    def __init__(
        self,
        columns: Columns,
        left: Sequence[int],
        headings: Sequence[str],
        below: Sequence[Cells],
        asked: Asked,
        denied: Denied,
    ) -> None:
        self._columns = columns
        self._left = left
        self._headings = headings
        self._below = below
        self._asked = asked
        self._denied = denied
        self._remarks: tuple[str, ...] = ()

    def asked_about(self) -> Columns:
        """The columns with the questions that those which are left raise, and what was answered."""
        numbers, names = self._numbers()
        letters, unsure = self._letters()
        asked = (
            *numbers, *self._size(), *unsure, *self._counts(), *self._units(), *self._money(),
            *self._currencies(), *self._days(),
        )  # fmt: skip
        told = (f"{t} (numbers of the catalogue)" if t in names else t for t in self._columns.left)
        own = has_own_numbers(self._columns.columns, self._below, self._asked.known)
        return replace(
            self._columns,
            left=tuple(told),
            asked=asked,
            nones=self._denied.met,
            own=own,
            letters=letters,
            remarks=self._remarks,
        )

    def _numbers(self) -> tuple[tuple[Problem, ...], Collection[str]]:
        """What is asked of columns of the catalogue's numbers, and the headings of those."""
        out = self._asked.told.get(Field.PART) == "none"
        left = self._left if out else self._denied.still_open(Field.PART, self._left)
        taken = self._columns.columns
        found = unclaimed(
            taken, left, self._headings, self._below, self._asked.known, self._asked.of
        )
        if out:
            self._denied.note(Field.PART, found.columns)
            return (), ()
        return found.asked, {self._headings[at] for at in found.columns if at < len(self._headings)}

    def _size(self) -> list[Problem]:
        """What is asked of a count or a word for one in the price's heading, where in doubt."""
        price, pack = self._columns.column(Field.PRICE), self._columns.column(Field.PACK)
        if price is None:
            return []
        if price.per == 1 and self._denied.said_before(Field.PER, price.index):
            self._denied.note(Field.PER, [price.index])
        many = count_in_doubt(price.heading)
        units = self._columns.column(Field.UNIT)
        if price.per or self._columns.column(Field.PER) or _is_given(units):
            return []
        if units and says_so_many(units, self._below, many):
            return []
        if pack and not (units or many or packs_named(price.heading)):
            return self._for_one(price, pack)
        found = [price.index] if many else []
        if many and self._asked.per == 1:
            self._denied.note(Field.PER, found)
        if self._asked.per or _is_given(pack):
            if self._asked.per <= 1:
                self._denied.note(Field.PACK, found)
            return []
        still = self._denied.still_open(Field.PACK, found)
        return [for_as_many(price, many, self._asked.of, pack)] if still else []

    def _for_one(self, price: Column, pack: Column) -> list[Problem]:
        """What is asked where the price may be for one, or for the pack."""
        if not perhaps_for_one(price.heading):
            return []
        if self._asked.per == 1:
            self._denied.note(Field.PER, [price.index])
        return [] if self._asked.per else [for_one_or_a_pack(price, pack, self._asked.of)]

    def _counts(self) -> list[Problem]:
        habits = set(headings_in(self._asked.remembered).values())
        taken = self._columns.columns
        found = counts_left(taken, self._left, self._headings, self._below, habits)
        pack = self._columns.column(Field.PACK)
        if _is_given(pack):
            self._denied.note(Field.PACK, found)
            return []
        still = self._denied.still_open(Field.PACK, found)
        return [for_so_many(at, self._headings, self._asked.of, pack) for at in still]

    def _units(self) -> list[Problem]:
        taken = self._columns.columns
        counts = counts_left(taken, self._left, self._headings, self._below)
        left = [at for at in self._left if at not in counts]
        found = units_left(taken, left, self._headings, self._below)
        still = self._denied.still_open(Field.UNIT, found)
        return [for_what_they_say(at, self._headings, self._below, self._asked.of) for at in still]

    def _letters(self) -> tuple[bool | None, list[Problem]]:
        """What C and M are among the units, as a person said; what is to be asked of an M."""
        columns = self._columns
        price, text = columns.column(Field.PRICE), columns.column(Field.TEXT)
        units = columns.column(Field.UNIT) or columns.column(Field.PER)
        if price is None or units is None:
            return None, []
        other = Field.PER if units.field is Field.UNIT else Field.UNIT
        doubt = in_doubt(units, price, self._below, text)
        by_letter = units.field is Field.PER and holds_letters(units, self._below)
        answered = (
            (doubt or by_letter) if _is_given(units) else self._denied.says(other, units.index)
        )
        if answered:
            self._denied.note(other, [units.index])
        elif doubt:
            return None, [thousand_or_metre(units, self._asked.of)]
        return as_answered(units, self._denied.met), []

    def _money(self) -> list[Problem]:
        price = self._columns.column(Field.PRICE)
        if price is None:
            return []
        rivals = {column.index for column in self._columns.rivals}
        left = [at for at in self._left if at not in rivals]
        found = money_left(price, left, self._headings, self._below)
        others = set(left) - set(found)
        discounts, taxes = discounts_left(price, sorted(others), self._headings, self._below)
        said = _is_given(price)
        if said:
            self._denied.note(Field.PRICE, (*found, *discounts))
        still = [] if said else self._denied.still_open(Field.PRICE, (*found, *discounts))
        self._remarks = tuple(
            not_taken_off(at, price, self._headings, tax=at in taxes)
            for at in (*taxes, *discounts)
            if at not in still
        )
        return [
            (taken_off_first if at in discounts else which_is_paid)(
                at, price, self._headings, self._asked.of
            )
            for at in still
        ]

    def _currencies(self) -> list[Problem]:
        currency = self._columns.column(Field.CURRENCY)
        price = self._columns.column(Field.PRICE)
        found = currencies_left(currency, self._left, self._below)
        if currency is None or price is None:
            return []
        if _is_given(currency):
            self._denied.note(Field.CURRENCY, found)
            return []
        still = self._denied.still_open(Field.CURRENCY, found)
        asked = [which_money(at, currency, self._headings, self._asked.of) for at in still]
        return asked + other_money(currency, price, self._below, self._asked.of)

    def _days(self) -> list[Problem]:
        found = days_left(self._columns.columns, self._left, self._headings, self._below)
        return [
            no_days(at, field, self._headings, self._below, self._asked.of)
            for at, field in found.items()
            if self._denied.still_open(field, [at])
        ]


def _is_given(column: Column | None) -> bool:
    """Whether a person says of this list which column it is."""
    return column is not None and column.how.startswith("given")
