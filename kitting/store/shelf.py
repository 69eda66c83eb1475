"""The shop's own shelf: lots that are drawn from oldest first, and a ledger of every movement.

No piece goes twice, however many benches work at once: what is left of a lot is lowered by one
statement that asks in the same breath whether enough is left, and the database refuses less than
none. What was read before is never trusted.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from decimal import Decimal
from typing import Any

from sqlalchemy import ColumnElement, Connection, func, insert, select, update

from kitting.catalog.model import PartNumber
from kitting.errors import BadInput, Problem
from kitting.job.hand import InHand, Source
from kitting.job.shelf import MoveKind, ShelfItem, ShelfMove, Signature
from kitting.store.holding import hold_job
from kitting.store.part_names import names_of
from kitting.store.parts import keep_parts, table_of
from kitting.store.search import Search
from kitting.store.tables import shelf as tables

_LOTS = table_of(tables.ShelfLotRow)
_MOVES = table_of(tables.ShelfMoveRow)
_FOR_JOBS = (MoveKind.TAKEN, MoveKind.GIVEN_BACK)


@dataclass(frozen=True, slots=True)
class _Said:
    """What stands with every move of one deed."""

    kind: MoveKind
    by: Signature
    job: str = ""
    position: str = ""


class Shelf:
    """Reads and moves the shelf's stock within one unit of work."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def part(self, typed: str) -> PartNumber:
        """Return the part that a number names, in any spelling; see `Search.number`."""
        return Search(self._connection).number(typed)

    def names(self, parts: Iterable[PartNumber]) -> Mapping[PartNumber, str]:
        """Return the catalogue's names of parts, empty where it has none."""
        return names_of(self._connection, parts)

    def put_in(
        self, part: PartNumber, quantity: int, where: str, cost: Decimal, by: Signature
    ) -> None:
        """Lay pieces on the shelf as a lot of their own; `cost` of one in the shop's money.

        Raises:
            BadInput: a quantity below one, no place, or a cost that cannot be kept exactly.
        """
        _above_none(quantity)
        lot = self._new_lot(part, where, cost)
        self._add(lot, quantity, _Said(MoveKind.IN, by))

    def take_out(
        self, part: PartNumber, quantity: int, by: Signature, where: str = ""
    ) -> tuple[ShelfItem, ...]:
        """Take pieces off the shelf that are for no job: spoilt, sold, lent.

        Returns:
            The very pieces that were taken, where each lay and what it cost, oldest first.

        Raises:
            BadInput: not so many lie there.
        """
        _above_none(quantity)
        return self._draw(part, quantity, where, _Said(MoveKind.OUT, by))

    def count(
        self,
        part: PartNumber,
        quantity: int,
        by: Signature,
        where: str = "",
        cost: Decimal | None = None,
    ) -> int:
        """Say how many pieces lie in a place; returns by how many the ledger was out.

        What is missing goes off the oldest lots, what is over joins the newest (or, where there is
        none or a cost is given, makes a lot of its own).

        Raises:
            BadInput: a quantity below none; the part lies in several places and none is named.
        """
        if quantity < 0:
            raise BadInput(Problem("", f"{quantity} pieces cannot be counted", "none, or more"))
        # held until the end, so that nothing moves between the looking and the writing
        held = select(_LOTS).where(*_lots_of(part, where)).order_by(_LOTS.c.id).with_for_update()
        lots = self._connection.execute(held).all()
        places = dict.fromkeys(lot.place for lot in lots if where or lot.left_over)
        if len(places) > 1:
            raise BadInput(
                Problem(str(part), f"it lies in {', '.join(places)}", "say which: --where PLACE")
            )
        said = _Said(MoveKind.COUNTED, by)
        off = quantity - sum(int(lot.left_over) for lot in lots)
        if off < 0:
            self._draw(part, -off, where, said)
        elif off > 0 and (cost is not None or not lots):
            self._add(self._new_lot(part, where, cost or Decimal(0)), off, said)
        elif lots:
            self._add(lots[-1].id, off, said)
        return off

    def take(self, job: str, position: str, part: PartNumber, quantity: int, by: Signature) -> None:
        """Take pieces off the shelf for a position of a job.

        Raises:
            NotFound: no such job.
            BadInput: the job is closed, or not so many are free.
        """
        _above_none(quantity)
        hold_job(self._connection, job)
        self._draw(part, quantity, "", _Said(MoveKind.TAKEN, by, job, position))

    def give_back(
        self, job: str, position: str, part: PartNumber, quantity: int, by: Signature
    ) -> None:
        """Lay back what was taken for a position of a job, each piece to the lot it came from.

        Raises:
            NotFound: no such job.
            BadInput: the job is closed, or not so many were taken.
        """
        _above_none(quantity)
        hold_job(self._connection, job)
        taken = self._taken_lots(job, position, part)
        if sum(taken.values()) < quantity:
            raise BadInput(
                Problem(
                    str(part),
                    f"job {job} has {sum(taken.values())} of it from the shelf, not {quantity}",
                    "give back no more than was taken",
                )
            )
        said = _Said(MoveKind.GIVEN_BACK, by, job, position)
        for lot, count in sorted(taken.items(), reverse=True):
            back = min(count, quantity)
            if back:
                self._add(lot, back, said)
                quantity -= back

    def items(self, parts: Iterable[PartNumber] | None = None) -> tuple[ShelfItem, ...]:
        """Return what lies free: a row for each part, place and cost, of some parts or of all."""
        wanted = None if parts is None else set(parts)
        total = func.sum(_LOTS.c.left_over)
        what = (_LOTS.c.part_maker, _LOTS.c.part_number, _LOTS.c.place, _LOTS.c.cost)
        rows = self._connection.execute(
            select(*what, total).where(_LOTS.c.left_over > 0).group_by(*what).order_by(*what)
        )
        found = (ShelfItem(PartNumber(row[0], row[1]), row[2], int(row[4]), row[3]) for row in rows)
        return tuple(each for each in found if wanted is None or each.part in wanted)

    def free(self, part: PartNumber) -> int:
        """How many pieces of a part lie free."""
        return sum(item.quantity for item in self.items([part]))

    def moves(self, part: PartNumber | None = None, job: str = "") -> tuple[ShelfMove, ...]:
        """Return the ledger, oldest first: whole, of one part, or of one job."""
        where: list[ColumnElement[bool]] = []
        if part is not None:
            where += _lots_of(part, "")
        if job:
            where.append(_MOVES.c.job == job)
        return tuple(_move(row) for row in self._ledger(*where))

    def taken(self, job: str) -> tuple[InHand, ...]:
        """Return what a job has from the shelf, each movement by itself."""
        rows = self._ledger(_MOVES.c.job == job, _MOVES.c.kind.in_(_FOR_JOBS))
        return tuple(
            InHand(
                position=row.position,
                part=PartNumber(row.part_maker, row.part_number),
                quantity=-row.change,
                source=Source.SHELF,
                who=row.who,
                when=row.on_day,
                cost=row.cost * -row.change,
                place=row.place,
            )
            for row in rows
        )

    def _ledger(self, *where: ColumnElement[bool]) -> Iterable[Any]:
        lots = (_LOTS.c.part_maker, _LOTS.c.part_number, _LOTS.c.place, _LOTS.c.cost)
        query = select(_MOVES, *lots).join(_LOTS, _LOTS.c.id == _MOVES.c.lot_id)
        return self._connection.execute(query.where(*where).order_by(_MOVES.c.id)).all()

    def _new_lot(self, part: PartNumber, where: str, cost: Decimal) -> int:
        if not where.strip():
            raise BadInput(Problem("--where", "no place is named", "say where, such as 'bin 4'"))
        keep_parts(self._connection, [part])
        row = {
            "part_maker": part.maker,
            "part_number": part.number,
            "place": where.strip(),
            "cost": cost,
            "left_over": 0,
            "entered_at": datetime.now(UTC),
        }
        made = self._connection.execute(insert(_LOTS).values(row).returning(_LOTS.c.id))
        return int(made.scalar_one())

    def _draw(
        self, part: PartNumber, quantity: int, where: str, said: _Said
    ) -> tuple[ShelfItem, ...]:
        """Take pieces from the oldest lots on; all of them, or none."""
        what = (_LOTS.c.id, _LOTS.c.place, _LOTS.c.cost)
        lots = select(*what).where(*_lots_of(part, where), _LOTS.c.left_over > 0)
        drawn = []
        with self._connection.begin_nested():
            wanted = quantity
            for lot in self._connection.execute(lots.order_by(_LOTS.c.id)).all():
                if count := self._draw_lot(lot.id, wanted, said):
                    drawn.append(ShelfItem(part, lot.place, count, lot.cost))
                    wanted -= count
            if wanted:
                raise self._too_few(part, quantity, quantity - wanted, where)
        return tuple(drawn)

    def _draw_lot(self, lot: int, most: int, said: _Said) -> int:
        """Take what a lot has, up to so many; where another bench was quicker, look again."""
        while most:
            left = select(_LOTS.c.left_over).where(_LOTS.c.id == lot)
            count = min(most, int(self._connection.execute(left).scalar_one()))
            if not count:
                return 0
            if self._lower(lot, count):
                self._write(lot, -count, said)
                return count
        return 0

    def _lower(self, lot: int, count: int) -> bool:
        """Lower what is left of a lot if so much is left; whether it was."""
        lowered = self._connection.execute(
            update(_LOTS)
            .where(_LOTS.c.id == lot, _LOTS.c.left_over >= count)
            .values(left_over=_LOTS.c.left_over - count)
        )
        return lowered.rowcount == 1

    def _add(self, lot: int, count: int, said: _Said) -> None:
        self._connection.execute(
            update(_LOTS).where(_LOTS.c.id == lot).values(left_over=_LOTS.c.left_over + count)
        )
        self._write(lot, count, said)

    def _write(self, lot: int, change: int, said: _Said) -> None:
        row = {
            "lot_id": lot,
            "kind": said.kind,
            "change": change,
            "job": said.job or None,
            "position": said.position,
            "who": said.by.who,
            "note": said.by.note,
            "on_day": said.by.when,
            "entered_at": datetime.now(UTC),
        }
        self._connection.execute(insert(_MOVES).values(row))

    def _taken_lots(self, job: str, position: str, part: PartNumber) -> dict[int, int]:
        """How many pieces a position of a job has from each lot."""
        rows = self._ledger(
            *_lots_of(part, ""),
            _MOVES.c.job == job,
            _MOVES.c.position == position,
            _MOVES.c.kind.in_(_FOR_JOBS),
        )
        taken: dict[int, int] = {}
        for row in rows:
            taken[row.lot_id] = taken.get(row.lot_id, 0) - row.change
        return taken

    def _too_few(self, part: PartNumber, asked: int, found: int, where: str) -> BadInput:
        place = f" in {where}" if where else ""
        has = (
            f"only {found} of it {'lies' if found == 1 else 'lie'}" if found else "none of it lies"
        )
        return BadInput(
            Problem(
                str(part),
                f"{asked} wanted, and {has} free{place}",
                "look at `kitting shelf show`, or count the place",
            )
        )


def _lots_of(part: PartNumber, where: str) -> list[ColumnElement[bool]]:
    named = [_LOTS.c.part_maker == part.maker, _LOTS.c.part_number == part.number]
    return [*named, _LOTS.c.place == where] if where else named


def _move(row: Any) -> ShelfMove:
    return ShelfMove(
        kind=row.kind,
        part=PartNumber(row.part_maker, row.part_number),
        where=row.place,
        change=row.change,
        cost=row.cost,
        who=row.who,
        when=row.on_day,
        job=row.job or "",
        position=row.position,
        note=row.note,
    )


def _above_none(quantity: int) -> None:
    if quantity < 1:
        raise BadInput(Problem("", f"{quantity} pieces cannot be moved", "one, or more"))
