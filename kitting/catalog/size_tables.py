"""Size tables: the grades of a journal or bore, and how it is machined to them."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from kitting.errors import NotFound

if TYPE_CHECKING:
    from kitting.measure import Quantity, Unit


class SizeKind(StrEnum):
    """Which way a size table steps: shafts are ground smaller, bores are cut larger."""

    SHAFT = "shaft"
    BORE = "bore"


@dataclass(frozen=True, slots=True)
class Grade:
    """One row of a size table: the finished size of the metal, and of the shell that goes with it.

    `worn` is the limit of use of a shaft (least) or bore (greatest) at this grade. A half step is
    not machined to: it is a shell of another thickness for metal of grade `half_step_of` that has
    lost up to `takes_up`.
    """

    table: str
    key: str
    name: str
    sequence: int
    step: Quantity
    finish_low: Quantity | None
    finish_high: Quantity | None
    worn: Quantity | None
    wall_low: Quantity | None
    wall_high: Quantity | None
    lined_low: Quantity | None
    lined_high: Quantity | None
    clearance_low: Quantity | None
    clearance_high: Quantity | None
    half_step_of: str = ""
    takes_up: Quantity | None = None


@dataclass(frozen=True, slots=True)
class SizeTable:
    """The grades of a journal or bore, and how one is machined to them.

    `together` says that every feature of the table is machined to the same grade. `stock` is what
    the machinist needs on the diameter to clean up. `housing_*` is the bore the shells sit in,
    bolted up. `finish_note` is what the machinist must be told beside the size.
    """

    key: str
    name: str
    kind: SizeKind
    unit: Unit
    together: bool
    stock: Quantity
    operation: str
    housing_low: Quantity | None
    housing_high: Quantity | None
    clearance_low: Quantity | None
    clearance_high: Quantity | None
    clearance_limit: Quantity | None
    finish_note: str
    source: str
    grades: tuple[Grade, ...] = ()

    @property
    def machined(self) -> tuple[Grade, ...]:
        """The grades that metal is machined to, standard first."""
        return tuple(grade for grade in self.grades if not grade.half_step_of)

    def grade(self, key: str) -> Grade:
        """Return the grade of that key, or raise NotFound."""
        for grade in self.grades:
            if grade.key == key:
                return grade
        raise NotFound(f"grade of {self.name}", key, (grade.key for grade in self.grades))
