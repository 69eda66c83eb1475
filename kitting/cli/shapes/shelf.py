"""The shape of the shelf."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from kitting.cli.shelf_screens import Look


@dataclass(frozen=True, slots=True)
class ShelfItemShape:
    """Pieces of one part that lie free in one place; `cost` of one, in the shop's money."""

    part: str
    name: str
    where: str
    free: int
    cost: str


@dataclass(frozen=True, slots=True)
class TakenShape:
    """What a job has from the shelf."""

    job: str
    part: str
    name: str
    quantity: int


@dataclass(frozen=True, slots=True)
class MoveShape:
    """One line of the ledger: `change` above none came, below none went."""

    when: date
    kind: str
    part: str
    change: int
    where: str
    cost: str
    job: str
    position: str
    who: str
    note: str


@dataclass(frozen=True, slots=True)
class ShelfShape:
    """The shelf: what lies free, what jobs have from it, and every movement, oldest first."""

    items: list[ShelfItemShape]
    taken: list[TakenShape]
    ledger: list[MoveShape]


def shelf_shape(seen: Look) -> ShelfShape:
    """The shape of what was looked at."""
    names = seen.names
    return ShelfShape(
        items=[
            ShelfItemShape(str(i.part), names[i.part], i.where, i.quantity, str(i.cost))
            for i in seen.items
        ],
        taken=[
            TakenShape(job, str(part), names[part], count)
            for (job, part), count in seen.taken.items()
        ],
        ledger=[
            MoveShape(
                when=move.when,
                kind=move.kind,
                part=str(move.part),
                change=move.change,
                where=move.where,
                cost=str(move.cost),
                job=move.job,
                position=move.position,
                who=move.who,
                note=move.note,
            )
            for move in seen.moves
        ],
    )
