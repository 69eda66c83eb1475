"""Sheets of labels by their measurements, and where on them each label of a run goes.

The measurements are those of A4 sheets as they are commonly sold: common practice, no source. Print
at full size ('actual size', not 'fit to page') and try on plain paper first.
"""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType
from typing import TYPE_CHECKING

from kitting.catalog.nearest import nearest
from kitting.errors import BadInput, NotFound, Problem

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

PAGE_WIDTH, PAGE_HEIGHT = 210.0, 297.0


@dataclass(frozen=True, slots=True)
class LabelSheet:
    """An A4 sheet of equal labels; all measures in millimetres.

    `left` and `top` are the margins before the first label, `gap` what lies between two columns.
    Rows touch each other.
    """

    key: str
    across: int
    down: int
    width: float
    height: float
    left: float
    top: float
    gap: float = 0.0

    @property
    def count(self) -> int:
        """How many labels it has."""
        return self.across * self.down

    @property
    def measures(self) -> str:
        """The size of one label in words."""
        return f"{self.width:g} × {self.height:g} mm, {self.count} a sheet"

    def corner(self, place: int) -> tuple[float, float]:
        """The lower left corner of a label, from the lower left corner of the page."""
        row, column = divmod(place, self.across)
        x = self.left + column * (self.width + self.gap)
        return x, PAGE_HEIGHT - self.top - (row + 1) * self.height


SHEETS: Mapping[str, LabelSheet] = MappingProxyType(
    {
        sheet.key: sheet
        for sheet in (
            LabelSheet("3x8", 3, 8, 70.0, 37.0, 0.0, 0.5),
            LabelSheet("3x8-gap", 3, 8, 63.5, 33.9, 7.2, 12.9, 2.55),
            LabelSheet("3x7", 3, 7, 63.5, 38.1, 7.2, 15.15, 2.55),
            LabelSheet("3x6", 3, 6, 63.5, 46.6, 7.2, 8.7, 2.55),
            LabelSheet("2x8", 2, 8, 99.1, 33.9, 4.65, 12.9, 2.5),
            LabelSheet("2x7", 2, 7, 99.1, 38.1, 4.65, 15.15, 2.5),
            LabelSheet("2x5", 2, 5, 105.0, 57.0, 0.0, 6.0),
            LabelSheet("2x4", 2, 4, 99.1, 67.7, 4.65, 13.1, 2.5),
        )
    }
)


@dataclass(frozen=True, slots=True)
class Label:
    """What one label says: lines from the largest down, and the text of its code."""

    lines: tuple[str, ...]
    code: str


@dataclass(frozen=True, slots=True)
class Placed:
    """A label on its sheet: the page counted from 0, and its lower left corner in millimetres."""

    label: Label
    page: int
    x: float
    y: float


def sheet_named(key: str) -> LabelSheet:
    """Return the sheet of that name, or raise NotFound."""
    if key not in SHEETS:
        raise NotFound("sheet of labels", key, nearest(key, SHEETS, 3) or SHEETS)
    return SHEETS[key]


def placed(labels: Sequence[Label], sheet: LabelSheet, skip: int = 0) -> tuple[Placed, ...]:
    """Return where each label goes, row by row, after `skip` labels that are used up.

    Raises:
        BadInput: more are skipped than the sheet has, or there is no label.
    """
    if not 0 <= skip < sheet.count:
        raise BadInput(
            Problem(
                "--skip",
                f"{skip} of the sheet's {sheet.count} labels cannot be passed over",
                f"give 0 to {sheet.count - 1}",
            )
        )
    if not labels:
        raise BadInput(Problem("", "there is no bag to label", "the kit has no line yet"))
    spots = []
    for at, label in enumerate(labels, start=skip):
        page, place = divmod(at, sheet.count)
        spots.append(Placed(label, page, *sheet.corner(place)))
    return tuple(spots)
