"""A row being read: its cells taken one by one, each problem noted at its column."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Protocol, TypeVar

from kitting.catalog.textfile import RawRow, read_rows
from kitting.errors import BadInput, Problem, Problems

_T = TypeVar("_T")

# Where each row stands: (table, key) -> 'file.csv line 12'. A row of a table without keys goes by
# its place in the table, counted from 0; a grade by 'table/grade'.
Sources = Mapping[tuple[str, str], str]


@dataclass(frozen=True, slots=True)
class Row:
    """One row; what is wrong with a cell goes to `problems` and a stand-in is returned.

    The stand-ins never leave the reading: a file with a problem is refused.
    """

    raw: RawRow
    problems: Problems

    @property
    def line(self) -> int:
        """The line the row stands on."""
        return self.raw.line

    def place(self, column: str) -> str:
        """Where a cell stands."""
        return f"{self.raw.place}, column {column}"

    def need(self, column: str, parse: Callable[[str], _T], stand_in: _T) -> _T:
        """What a cell says that may not be empty."""
        text = self.raw.cells.get(column)
        if text == "":
            self.problems.add(self.place(column), "the cell is empty", "it must be filled")
        return self.maybe(column, parse, stand_in)

    def maybe(self, column: str, parse: Callable[[str], _T], empty: _T) -> _T:
        """What a cell says, or `empty`."""
        text = self.raw.cells.get(column, "")
        if not text:
            return empty
        try:
            return parse(text)
        except BadInput as error:
            where = self.place(column)
            self.problems.extend(Problem(where, p.wrong, p.right) for p in error.problems)
            return empty

    def text(self, column: str) -> str:
        """The text of a cell, perhaps empty."""
        return self.raw.cells.get(column, "")

    def name(self, column: str) -> str:
        """A text that may not be empty."""
        return self.need(column, str, "")


class _Keyed(Protocol):
    @property
    def key(self) -> str: ...


def own_key(value: _Keyed) -> str:
    """The key of a value that has one."""
    return value.key


@dataclass(slots=True)
class Reading:
    """A folder being read: its files' columns, its problems, and where each row stands.

    With `pages`, the rows of each file were taken from elsewhere (a workbook), and no file is read.
    """

    folder: Path
    columns: Mapping[str, Sequence[str]]
    pages: Mapping[str, Sequence[RawRow]] | None = None
    problems: Problems = field(default_factory=Problems)
    places: dict[tuple[str, str], str] = field(default_factory=dict)

    def rows(self, file: str, columns: Sequence[str] = ()) -> list[Row]:
        """The rows of `file`.csv."""
        if self.pages is not None:
            return [Row(raw, self.problems) for raw in self.pages[file]]
        path = self.folder / f"{file}.csv"
        found = read_rows(path, columns or self.columns[file], self.problems)
        return [Row(raw, self.problems) for raw in found]

    def keyed(
        self,
        table: str,
        make: Callable[[Row], _T],
        key_of: Callable[[_T], str],
        column: str = "key",
    ) -> tuple[_T, ...]:
        """Make a value of each row of a file and note a key that is there twice."""
        made: list[_T] = []
        for row in self.rows(table):
            value = make(row)
            key = key_of(value)
            before = self.places.setdefault((table, key), row.raw.place)
            if key and before != row.raw.place:
                self.problems.add(
                    row.place(column), f"'{key}' is there already: {before}", "keep one of them"
                )
            made.append(value)
        return tuple(made)

    def listed(self, table: str, make: Callable[[Row], _T]) -> tuple[_T, ...]:
        """Make a value of each row of a file whose rows have no key."""
        return self.listed_from(table, self.rows(table), make)

    def listed_from(
        self, table: str, rows: Iterable[Row], make: Callable[[Row], _T], start: int = 0
    ) -> tuple[_T, ...]:
        """Make a value of each of the rows, counted on from `start`."""
        made: list[_T] = []
        for at, row in enumerate(rows, start=start):
            self.places[table, str(at)] = row.raw.place
            made.append(make(row))
        return tuple(made)
