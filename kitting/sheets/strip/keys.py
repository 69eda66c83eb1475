"""The hidden keys of strip and build sheets, shared by their writers, readers and fillers.

Every sheet says in cell A1 what it is. Column A says of every row what it holds, and row 1 of
every column. So a sheet may be renamed and rows inserted or moved, by any spreadsheet program, and
every cell is still known for what it is. People never see the keys: row 1 and column A are hidden.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

_MARK = "strip-sheet"
FORMAT = "1"
_BETWEEN = "|"


class Role(StrEnum):
    """What a sheet of the workbook is for."""

    COVER = "cover"
    ASSEMBLY = "assembly"
    SIZES = "sizes"
    LISTS = "lists"
    BUILD = "build"


@dataclass(frozen=True, slots=True)
class SheetKey:
    """Cell A1: which family, edition and variant the sheet is of, its role, and the assembly."""

    family: str
    edition: str
    variant: str
    role: Role
    assembly: str = ""
    form: str = FORMAT

    def __str__(self) -> str:
        parts = (
            _MARK,
            self.form,
            self.family,
            self.edition,
            self.variant,
            self.role,
            self.assembly,
        )
        return _BETWEEN.join(parts)

    @classmethod
    def read(cls, text: object) -> SheetKey | None:
        """Return the key that `text` is, or None."""
        parts = str(text or "").strip().split(_BETWEEN)
        if len(parts) != 7 or parts[0] != _MARK or parts[5] not in set(Role):
            return None
        return cls(parts[2], parts[3], parts[4], Role(parts[5]), parts[6], parts[1])


class Column(StrEnum):
    """The columns of a sheet, by the key in row 1."""

    WHAT = "what"
    LIMITS = "limits or grade"
    UNIT = "unit"
    FIRST = "reading 1"
    SECOND = "reading 2"
    THIRD = "reading 3"
    TOOL = "instrument"


LETTERS: Mapping[Column, str] = MappingProxyType(dict(zip(Column, "BCDEFGH", strict=True)))
READINGS = (Column.FIRST, Column.SECOND, Column.THIRD)
COVER_COLUMNS = (Column.WHAT, Column.LIMITS)


class RowKind(StrEnum):
    """What a row holds."""

    FIELD = "field"
    STRIPPED = "stripped"
    POSITION = "position"
    PLAN = "plan"
    READ = "read"
    SEEN = "seen"
    FITTED = "fitted"
    MEASURED = "measured"
    NOTE = "note"
    SIGNED = "signed"
    PRINTED = "printed"


# The boxes of each kind of row that a person fills, by name. Readings are named by direction.
BOXES: Mapping[RowKind, Mapping[str, Column]] = MappingProxyType(
    {
        RowKind.FIELD: {"text": Column.LIMITS},
        RowKind.STRIPPED: {
            "stripped": Column.LIMITS,
            "who": Column.THIRD,
            "when": Column.TOOL,
        },
        RowKind.POSITION: {"sound": Column.TOOL},
        RowKind.PLAN: {"instrument": Column.TOOL},
        RowKind.READ: {},
        RowKind.SEEN: {"grade": Column.LIMITS, "amount": Column.FIRST},
        RowKind.FITTED: {
            "fitted": Column.LIMITS,
            "who": Column.THIRD,
            "when": Column.TOOL,
        },
        RowKind.MEASURED: {"measured": Column.LIMITS},
        RowKind.NOTE: {"note": Column.LIMITS},
        RowKind.SIGNED: {"who": Column.THIRD, "when": Column.TOOL},
        RowKind.PRINTED: {},
    }
)
# What is written in these rows may run on into the empty cells to the right.
RUN_ON = frozenset({RowKind.NOTE, RowKind.MEASURED})


@dataclass(frozen=True, slots=True)
class SheetForm:
    """A sort of workbook with such keys: its name, the sheets that are read, its commands."""

    name: str
    roles: frozenset[Role]
    written_with: str
    loaded_with: str


STRIP_SHEET = SheetForm(
    "strip sheet",
    frozenset({Role.COVER, Role.ASSEMBLY}),
    "kitting strip sheet",
    "kitting strip load",
)
BUILD_SHEET = SheetForm(
    "build sheet", frozenset({Role.BUILD}), "kitting build sheet", "kitting build load"
)
SHEET_FORMS = (STRIP_SHEET, BUILD_SHEET)


@dataclass(frozen=True, slots=True)
class RowKey:
    """Column A: the kind of row, what it belongs to; of readings, station and directions."""

    kind: RowKind
    name: str
    parts: tuple[str, ...] = ()

    def __str__(self) -> str:
        return _BETWEEN.join((self.kind, self.name, *self.parts))

    @classmethod
    def read(cls, text: object) -> RowKey | None:
        """Return the key that `text` is, or None."""
        kind, _, rest = str(text or "").strip().partition(_BETWEEN)
        if kind not in set(RowKind) or not rest:
            return None
        name, *parts = rest.split(_BETWEEN)
        return cls(RowKind(kind), name, tuple(parts))

    @property
    def boxes(self) -> Mapping[str, Column]:
        """The boxes of this row, by name; a single figure's row has its instrument too."""
        if self.kind is not RowKind.READ:
            return BOXES[self.kind]
        boxes = dict(zip(self.parts[1:], READINGS, strict=False))
        if self.is_single:
            boxes["instrument"] = Column.TOOL
        return boxes

    @property
    def is_single(self) -> bool:
        """Whether the row is a feature's only one, without stations and directions."""
        return self.kind is RowKind.READ and self.parts == ("", "")


class Field(StrEnum):
    """What the cover asks for."""

    JOB = "job"
    ENGINE = "engine"
    WHO = "who"
    WHEN = "when"
    NOTES = "notes"


# A row of print has a key too, so that a row without one is known for a person's own.
PRINTED = RowKey(RowKind.PRINTED, "text")
HEADING = RowKey(RowKind.PRINTED, "heading")
