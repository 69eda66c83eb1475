"""The sheets of a family's workbook in words: titles, headings, notes, and what a cell may hold.

The words stand in family_sheets.csv beside this module: a row for each table, then one for each of
its columns. `choices` is `=a|b` for words, `table.column` for the keys of another sheet, `several
table.column` for several of them joined by a bar, and `day` for a day.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

READ_ME, LISTS = "Read me first", "Lists"


@dataclass(frozen=True, slots=True)
class SheetColumn:
    """One column: its name in the text files, its heading and note, and what it may hold."""

    name: str
    heading: str
    choices: str
    note: str

    @property
    def words(self) -> tuple[str, ...]:
        """The words that it may hold, where there are such."""
        return tuple(self.choices[1:].split("|")) if self.choices.startswith("=") else ()

    @property
    def refers(self) -> tuple[str, str] | None:
        """The table and column whose keys it holds, or None."""
        table, point, column = self.choices.removeprefix("several ").partition(".")
        return (table, column) if point else None

    @property
    def several(self) -> bool:
        """Whether it holds several keys joined by a bar."""
        return self.choices.startswith("several ")

    @property
    def is_day(self) -> bool:
        """Whether it holds a day."""
        return self.choices == "day"

    @property
    def is_number(self) -> bool:
        """Whether it holds part numbers."""
        return self.name == "part" or self.refers == ("parts", "part")

    @property
    def is_mark(self) -> bool:
        """Whether it is a mark: yes or empty."""
        return self.words == ("yes",)


@dataclass(frozen=True, slots=True)
class FamilySheet:
    """One table: the title of its sheet, what it is about, its columns in order."""

    table: str
    title: str
    about: str
    columns: tuple[SheetColumn, ...]


@cache
def family_sheets() -> Mapping[str, FamilySheet]:
    """Every sheet by its table, in the order of the workbook."""
    text = (files("kitting.sheets.families") / "family_sheets.csv").read_text(encoding="utf-8")
    heads: dict[str, tuple[str, str]] = {}
    columns: dict[str, list[SheetColumn]] = {}
    for row in csv.DictReader(text.splitlines()):
        table = row["table"]
        if row["column"]:
            column = SheetColumn(row["column"], row["heading"], row["choices"], row["note"])
            columns[table].append(column)
        else:
            heads[table] = (row["heading"], row["note"])
            columns[table] = []
    return MappingProxyType(
        {
            table: FamilySheet(table, title, about, tuple(columns[table]))
            for table, (title, about) in heads.items()
        }
    )
