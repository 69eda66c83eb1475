"""The shop's own shelf: what lies there, and every movement of it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from datetime import date
    from decimal import Decimal

    from kitting.catalog.model import PartNumber


class MoveKind(StrEnum):
    """Why pieces came or went."""

    IN = "in"
    OUT = "out"
    COUNTED = "counted"
    TAKEN = "taken"
    GIVEN_BACK = "given back"


@dataclass(frozen=True, slots=True)
class ShelfItem:
    """Pieces of one part that lie free in one place; `cost` of one, in the shop's money."""

    part: PartNumber
    where: str
    quantity: int
    cost: Decimal


@dataclass(frozen=True, slots=True)
class ShelfMove:
    """One line of the ledger: `change` pieces came (above none) or went (below), at `cost` each.

    `job` and `position` say for what, where it was for a job.
    """

    kind: MoveKind
    part: PartNumber
    where: str
    change: int
    cost: Decimal
    who: str
    when: date
    job: str = ""
    position: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Signature:
    """Who says so, on which day, and what else he says."""

    who: str
    when: date
    note: str = ""
