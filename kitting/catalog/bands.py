"""The bands of a size table's row as pairs, printed or worked out from the rest of the row."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from kitting.catalog.size_tables import Grade, SizeKind, SizeTable
from kitting.measure import Quantity

if TYPE_CHECKING:
    from collections.abc import Iterable


class Band(NamedTuple):
    """Two limits, inclusive."""

    low: Quantity
    high: Quantity

    def __str__(self) -> str:
        return f"{self.low} to {self.high}"


def _band(low: Quantity | None, high: Quantity | None) -> Band | None:
    return None if low is None or high is None else Band(low, high)


def finish_of(grade: Grade) -> Band | None:
    """The metal as finished."""
    return _band(grade.finish_low, grade.finish_high)


def wall_of(grade: Grade) -> Band | None:
    """The shell's wall."""
    return _band(grade.wall_low, grade.wall_high)


def printed_lined(grade: Grade) -> Band | None:
    """The lined bore as printed."""
    return _band(grade.lined_low, grade.lined_high)


def printed_clearance(grade: Grade) -> Band | None:
    """The clearance as printed."""
    return _band(grade.clearance_low, grade.clearance_high)


def table_clearance(table: SizeTable) -> Band | None:
    """The clearance printed for the whole table."""
    return _band(table.clearance_low, table.clearance_high)


def worked_lined(table: SizeTable, grade: Grade) -> Band | None:
    """The bore over fitted shells: the housing less two walls, at its least and its greatest.

    Round a shaft the housing stands in the table; in a bore that is machined it is the finish.
    """
    housing = (
        _band(table.housing_low, table.housing_high)
        if table.kind is SizeKind.SHAFT
        else finish_of(grade)
    )
    wall = wall_of(grade)
    if housing is None or wall is None:
        return None
    return Band(housing.low - wall.high * 2, housing.high - wall.low * 2)


def worked_clearance(table: SizeTable, grade: Grade) -> Band | None:
    """The clearance of a shaft as finished in its lined bore, where both are known."""
    lined = printed_lined(grade) or worked_lined(table, grade)
    finish = finish_of(grade)
    if table.kind is not SizeKind.SHAFT or lined is None or finish is None:
        return None
    return Band(lined.low - finish.high, lined.high - finish.low)


def differences(ours: Iterable[Quantity], theirs: Iterable[Quantity]) -> tuple[Quantity, ...]:
    """By how much one band differs from another at each limit."""
    return tuple(a - b for a, b in zip(ours, theirs, strict=True))
