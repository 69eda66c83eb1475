"""Values to rows and back, by the name of the field: adding a column is one line in its table.

A field becomes the column of its name. A quantity becomes a figure and its unit (`low`,
`low_unit`), a part number maker and number (`part_maker`, `part_number`), a rule's target three
words (`of_sort`, `of_key`, `of_within`), a unit its symbol. Where a text column may be empty (a
reference), an empty text is no reference.
"""

from __future__ import annotations

import gc
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, fields
from datetime import date
from decimal import Decimal
from itertools import accumulate
from types import MappingProxyType, UnionType
from typing import Any, Generic, TypeVar, cast, get_args, get_origin, get_type_hints

from sqlalchemy import ColumnElement, Connection, Table, insert, select
from sqlalchemy.exc import StatementError

from kitting.catalog.model import PartNumber, Verdict
from kitting.catalog.rules import Target
from kitting.errors import BadInput, Problems
from kitting.measure import UNITS, Quantity, Unit
from kitting.store.base import Base
from kitting.store.types import ScaledDecimal, figure_of, quantity_of, scaled

T = TypeVar("T")
Row = tuple[Any, ...]
# What the values' own modules import for the type checker only.
_NAMES = {
    "Quantity": Quantity,
    "Unit": Unit,
    "PartNumber": PartNumber,
    "Mapping": Mapping,
    "Decimal": Decimal,
    "date": date,
    "Verdict": Verdict,
}
_AT_ONCE = 5000


@dataclass(frozen=True, slots=True)
class _Field:
    """One field of a value: its columns, and the way there and back; none back from a plain one."""

    name: str
    columns: tuple[str, ...]
    write: Callable[[Any], tuple[Any, ...]]
    read: Callable[..., Any] | None


class RowMap(Generic[T]):
    """The way between a frozen dataclass and the rows of a table.

    Args:
        value: the dataclass.
        table: the mapped class.
        named: columns named otherwise than their field.
        apart: fields that stand in tables of their own; given again to `read`.
    """

    def __init__(
        self,
        value: type[T],
        table: type[Base],
        named: Mapping[str, str] = MappingProxyType({}),
        apart: Sequence[str] = (),
    ) -> None:
        mapped = table.__table__
        if not isinstance(mapped, Table):
            raise TypeError(f"{table.__name__} is no table")
        self.table = mapped
        self.value = value
        hints = get_type_hints(value, localns=_NAMES)
        self.fields = tuple(
            _field(field.name, named.get(field.name, field.name), hints[field.name], mapped)
            for field in fields(cast(Any, value))
            if field.name not in apart
        )
        self.columns = tuple(mapped.c[name] for field in self.fields for name in field.columns)
        ends = tuple(accumulate(len(field.columns) for field in self.fields))
        self._places = tuple(
            (end - len(field.columns), end, field.read)
            for field, end in zip(self.fields, ends, strict=True)
        )
        self._names = tuple(field.name for field in self.fields)
        every = [field.name for field in fields(cast(Any, value)) if field.init]
        self._in_order = tuple(every[: len(self._names)]) == self._names

    def row(self, value: T, **more: Any) -> dict[str, Any]:
        """Return the columns of one value, and `more` beside them."""
        for field in self.fields:
            more.update(zip(field.columns, field.write(getattr(value, field.name)), strict=True))
        return more

    def read(self, row: Row, **apart: Any) -> T:
        """Return the value of a row selected by `columns`, what stands apart given by name."""
        values = [row[at] if read is None else read(*row[at:end]) for at, end, read in self._places]
        if self._in_order:
            return self.value(*values, **apart)
        return self.value(**dict(zip(self._names, values, strict=True)), **apart)

    def rows(
        self, values: Iterable[T], by: str = "line", first: int = 1, **owner: Any
    ) -> list[dict[str, Any]]:
        """Return the rows of values in their order, the column `by` counting from `first`.

        Raises:
            BadInput: with every figure that cannot be kept exactly.
        """
        problems = Problems()
        rows = []
        for count, value in enumerate(values, first):
            with problems.at(f"{self.table.name} {count}"):
                rows.append(self.row(value, **{by: count}, **owner))
        problems.raise_if_any()
        return rows

    def insert(
        self, connection: Connection, values: Iterable[T], first: int = 1, **owner: Any
    ) -> None:
        """Insert values in their order, `line` counting from `first`, each with its owner."""
        insert_rows(connection, self.table, self.rows(values, first=first, **owner))

    def insert_under(
        self, connection: Connection, groups: Iterable[Iterable[T]], first: int = 1, **owner: Any
    ) -> None:
        """Insert what stands apart: a group for each line of the parents, `rank` counting in it."""
        rows: list[dict[str, Any]] = []
        for line, values in enumerate(groups, first):
            rows += self.rows(values, by="rank", line=line, **owner)
        insert_rows(connection, self.table, rows)

    def select(
        self, connection: Connection, *where: ColumnElement[bool], keys: Sequence[str] = ("line",)
    ) -> list[Row]:
        """Return rows in order: the columns of `keys`, then those that `read` takes."""
        ordered = [self.table.c[key] for key in keys]
        query = select(*ordered, *self.columns).where(*where).order_by(*ordered)
        return [tuple(row) for row in connection.execute(query)]

    def all(
        self, connection: Connection, *where: ColumnElement[bool], **apart: Any
    ) -> tuple[T, ...]:
        """Return the values in their order, what stands apart the same for all."""
        return tuple(self.read(row[1:], **apart) for row in self.select(connection, *where))

    def under(
        self, connection: Connection, *where: ColumnElement[bool]
    ) -> Mapping[int, Sequence[T]]:
        """Return what stands apart, in order, by the line of its parent."""
        groups: dict[int, list[T]] = {}
        for row in self.select(connection, *where, keys=("line", "rank")):
            groups.setdefault(row[0], []).append(self.read(row[2:]))
        return groups


@contextmanager
def plain_rows() -> Iterator[None]:
    """Within the block Python does not search for rows that hold each other in a ring.

    Rows and the values made of them never do; among a million of them the search takes a quarter
    of the whole time. Memory is given back as ever when the last name of a row goes.
    """
    searched = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if searched:
            gc.enable()


def insert_rows(connection: Connection, table: Table, rows: Sequence[dict[str, Any]]) -> None:
    """Insert rows, some thousands at once.

    Raises:
        BadInput: with every figure and amount that cannot be kept exactly.
    """
    for start in range(0, len(rows), _AT_ONCE):
        some = rows[start : start + _AT_ONCE]
        try:
            connection.execute(insert(table), some)
        except StatementError as error:
            if isinstance(error.orig, BadInput):
                _refuse(table, some)
            raise


def _refuse(table: Table, rows: Sequence[dict[str, Any]]) -> None:
    """Name each row with a figure that its column refuses; only looked for when one was."""
    exact = [
        (column.name, column.type)
        for column in table.columns
        if isinstance(column.type, ScaledDecimal)
    ]
    problems = Problems()
    for row in rows:
        with problems.at(f"{table.name} {row['line']}"):
            for name, kind in exact:
                if row.get(name) is not None:
                    scaled(row[name], kind.places, kind.what)
    problems.raise_if_any()


def _field(name: str, column: str, hint: Any, table: Table) -> _Field:
    kind, optional = _bare(hint)
    if kind is Quantity:
        return _Field(name, (column, f"{column}_unit"), _from_quantity, _to_quantity)
    if kind is PartNumber:
        reader = _to_part_or_none if optional else PartNumber
        return _Field(name, (f"{column}_maker", f"{column}_number"), _from_part, reader)
    if kind is Target:
        columns = tuple(f"{column}_{part}" for part in ("sort", "key", "within"))
        return _Field(
            name, columns, lambda target: (target.sort, target.key, target.within), Target
        )
    if kind is Unit:
        return _Field(name, (column,), lambda unit: (unit.symbol,), UNITS.__getitem__)
    if kind is str and not optional and table.c[column].nullable:
        return _Field(name, (column,), lambda text: (text or None,), lambda text: text or "")
    return _Field(name, (column,), lambda plain: (plain,), None)


def _bare(hint: Any) -> tuple[Any, bool]:
    """A type hint without its `| None`, and whether it had one."""
    if get_origin(hint) is UnionType and type(None) in get_args(hint):
        kinds = [kind for kind in get_args(hint) if kind is not type(None)]
        if len(kinds) == 1:
            return kinds[0], True
    return hint, False


def _from_quantity(quantity: Quantity | None) -> tuple[Decimal | None, str | None]:
    return (None, None) if quantity is None else figure_of(quantity)


def _to_quantity(figure: Decimal | None, unit: str | None) -> Quantity | None:
    return None if figure is None or unit is None else quantity_of(figure, UNITS[unit])


def _from_part(part: PartNumber | None) -> tuple[str | None, str | None]:
    return (None, None) if part is None else (part.maker, part.number)


def _to_part_or_none(maker: str | None, number: str | None) -> PartNumber | None:
    return None if maker is None or number is None else PartNumber(maker, number)
