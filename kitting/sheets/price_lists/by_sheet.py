"""The sheets of a workbook, each with its own columns: what was said of each, and which differ.

What a person agrees to are the columns of every sheet. Where a sheet has others than the first, it
is shown by itself, remembered by its name, and can be given by hand: price@More=RRP.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from kitting.catalog.nearest import did_you_mean
from kitting.errors import BadInput, Problem
from kitting.sheets.price_lists.content import Known
from kitting.sheets.price_lists.fields import Field
from kitting.sheets.price_lists.fields import Mapping as Columns
from kitting.sheets.price_lists.headings import Located
from kitting.sheets.price_lists.kinds import Kind, said_by
from kitting.sheets.price_lists.nones import as_remembered
from kitting.sheets.price_lists.take import Asked

Headings = Mapping[Field, str]


@dataclass(frozen=True, slots=True)
class Choice:
    """How columns are taken: told, remembered from the last list, or by numbers that are known.

    `told_of` and `remembered_of` hold for the sheet of that name: the former beside what is told
    for every sheet, the latter in place of what is remembered.
    """

    told: Headings
    remembered: Headings
    known: Known
    told_of: Mapping[str, Headings] = field(default_factory=dict)
    remembered_of: Mapping[str, Headings] = field(default_factory=dict)

    def asked(self, sheet: str, hidden: Collection[int]) -> Asked:
        """What the columns of a sheet are taken by."""
        told = {**self.told, **_of(self.told_of, sheet)}
        remembered = _of(self.remembered_of, sheet) or self.remembered
        return Asked(told, remembered, self.known, hidden)

    def refuse_unknown(self, sheets: Collection[str]) -> None:
        """Refuse what was told of a sheet that there is not.

        Raises:
            BadInput: there is no such sheet.
        """
        known = {sheet.casefold() for sheet in sheets}
        problems = [
            Problem(
                "--map", f"there is no sheet '{name}'", did_you_mean(name, filter(None, sheets))
            )
            for name in self.told_of
            if name.casefold() not in known
        ]
        if problems:
            raise BadInput(problems)


def _of(of_sheets: Mapping[str, Headings], sheet: str) -> Headings:
    same = (said for name, said in of_sheets.items() if name.casefold() == sheet.casefold())
    return next(same, {})


class SheetColumns(NamedTuple):
    """The columns of sheets that have the same."""

    sheets: tuple[str, ...]
    columns: Columns


def by_columns(read: Sequence[tuple[str, Columns]]) -> tuple[SheetColumns, ...]:
    """Sheets with the same columns together, those of the first sheet first."""
    groups: dict[object, list[tuple[str, Columns]]] = {}
    for sheet, columns in read:
        taken = tuple((c.field, c.index, c.heading, c.per) for c in columns.shown)
        groups.setdefault((taken, columns.left), []).append((sheet, columns))
    return tuple(
        SheetColumns(tuple(sheet for sheet, _ in group), group[0][1]) for group in groups.values()
    )


def remembered_by_sheet(read: Sequence[tuple[str, Columns]]) -> dict[str, str]:
    """What is remembered of a list: each heading by its field, by field@sheet where it differs."""
    if not read:
        return {}
    first = as_remembered(read[0][1])
    found = {str(key): heading for key, heading in first.items()}
    for sheet, columns in read[1:]:
        other = as_remembered(columns)
        if other != first:
            found |= {f"{key}@{sheet}": heading for key, heading in other.items()}
    return found


def by_sheet(remembered: Mapping[str, str]) -> tuple[dict[Field, str], dict[str, dict[Field, str]]]:
    """Part what is remembered into the first sheet's and the others'.

    >>> by_sheet({"price": "Net", "price@More": "RRP"})
    ({<Field.PRICE: 'price'>: 'Net'}, {'More': {<Field.PRICE: 'price'>: 'RRP'}})
    """
    every: dict[Field, str] = {}
    others: dict[str, dict[Field, str]] = {}
    for key, heading in remembered.items():
        name, at, sheet = key.partition("@")
        (others.setdefault(sheet, {}) if at else every)[Field(name)] = heading
    return every, others


def check_told(located: Located, told: Headings, sheet: str) -> None:
    """Refuse a mapping given by hand that does not fit a sheet; `sheet` is '' of the first.

    Raises:
        BadInput: no column of it has a heading that was told.
    """
    problems = []
    for each, heading in told.items():
        column = located.columns.column(each)
        if heading != "none" and not (column and column.how.startswith("given")):
            right = did_you_mean(heading, filter(None, located.headings))
            if sheet:
                alone = (
                    f'for this sheet alone write --map "{each}@{sheet}=…" or "{each}@{sheet}=none"'
                )
                right = "; ".join(filter(None, (right, alone)))
            problems.append(Problem("--map", f"no column is headed '{heading}'", right))
    if problems:
        raise BadInput(problems)


def refuse_worse(first: Columns, other: Columns, sheet: str) -> None:
    """Ask where a further sheet's price sounds worse than the first's: retail, with VAT, old.

    Raises:
        BadInput: it does, and nobody said that it is to be taken.
    """
    before, price = first.column(Field.PRICE), other.column(Field.PRICE)
    if before is None or price is None or "guess" not in price.how:
        return
    kind, usual = said_by(price.heading).kind, said_by(before.heading).kind
    worse = kind in {Kind.LIST, Kind.WITH_VAT, Kind.OLD} and usual is not None and usual < kind
    if worse:
        raise BadInput(
            Problem(
                f"column {price.letter}",
                f"'{price.heading}' is the only price found, where the first sheet has "
                f"'{before.heading}'",
                f'if it is to be taken: --map "price@{sheet}={price.heading}"; to leave the sheet '
                f'out: --map "price@{sheet}=none"',
            )
        )
