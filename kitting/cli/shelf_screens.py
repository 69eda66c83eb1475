"""The shelf as text."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from kitting.cli.screen import table

if TYPE_CHECKING:
    from collections.abc import Mapping

    from kitting.catalog.model import PartNumber
    from kitting.job.shelf import ShelfItem, ShelfMove


@dataclass(frozen=True, slots=True)
class Look:
    """What of the shelf was asked for: free items, what jobs have, the ledger, parts' names."""

    items: tuple[ShelfItem, ...]
    taken: Mapping[tuple[str, PartNumber], int]
    moves: tuple[ShelfMove, ...]
    names: Mapping[PartNumber, str]


def look(words: str) -> Look:
    """Look at the shelf, at rows with `words` in any column."""
    from kitting.job.shelf import MoveKind
    from kitting.store import Database

    with Database().read() as work:
        items, moves = work.shelf.items(), work.shelf.moves()
        names = work.shelf.names({*(item.part for item in items), *(move.part for move in moves)})
    taken: dict[tuple[str, PartNumber], int] = {}
    for move in moves:
        if move.kind in {MoveKind.TAKEN, MoveKind.GIVEN_BACK}:
            key = (move.job, move.part)
            taken[key] = taken.get(key, 0) - move.change
    return Look(
        tuple(item for item in items if _has(words, _item(item, names))),
        {
            (job, part): count
            for (job, part), count in taken.items()
            if count and _has(words, (job, str(part), names[part]))
        },
        tuple(move for move in moves if _has(words, _move(move))),
        names,
    )


def shelf_text(seen: Look) -> str:
    """What lies free, then what the jobs have."""
    parts = []
    if seen.items:
        rows = [_item(item, seen.names) for item in seen.items]
        parts.append(table(("part", "what", "where", "free", "cost of one"), rows, right="34"))
        worth = sum((item.cost * item.quantity for item in seen.items), Decimal(0))
        parts.append(f"{len(seen.items)} rows, worth {worth:,.2f} at cost.")
    else:
        parts.append(
            "Nothing lies on the shelf here. Put something in:\n"
            "kitting shelf in PART QUANTITY --where PLACE"
        )
    if seen.taken:
        rows = [
            (job, str(part), seen.names[part], str(count))
            for (job, part), count in seen.taken.items()
        ]
        parts.append("Taken for jobs\n" + table(("job", "part", "what", "qty"), rows, right="3"))
    return "\n\n".join(parts)


def ledger_text(seen: Look) -> str:
    """Every movement, oldest first."""
    if not seen.moves:
        return "No movement here."
    rows = [_move(move) for move in seen.moves]
    headings = ("day", "what", "part", "pieces", "where", "for", "who", "note")
    return table(headings, rows, right="3")


def _item(item: ShelfItem, names: Mapping[PartNumber, str]) -> tuple[str, ...]:
    name = names[item.part]
    return (str(item.part), name, item.where, str(item.quantity), f"{item.cost:,.2f}")


def _move(move: ShelfMove) -> tuple[str, ...]:
    whose = " ".join(filter(None, (move.job, move.position)))
    return (
        move.when.isoformat(),
        move.kind,
        str(move.part),
        f"{move.change:+}",
        move.where,
        whose,
        move.who,
        move.note,
    )


def _has(words: str, row: tuple[str, ...]) -> bool:
    return words.casefold() in " ".join(row).casefold()
