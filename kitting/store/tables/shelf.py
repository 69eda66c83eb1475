"""The shelf's tables: lots with what is left of them, and a ledger that is only ever added to."""

from datetime import date, datetime

from sqlalchemy import CheckConstraint, ForeignKey, Index
from sqlalchemy.orm import Mapped, mapped_column

from kitting.job.shelf import MoveKind
from kitting.store.base import Base, Money
from kitting.store.tables.parts import part_named


class ShelfLotRow(Base):
    """So many of one part that came to one place at one cost; `left` is what still lies there.

    `left` is the sum of the lot's moves. The database itself refuses less than none.
    """

    __tablename__ = "shelf_lots"
    __table_args__ = (
        part_named("part"),
        Index(None, "part_maker", "part_number"),
        CheckConstraint("left_over >= 0", name="never_below_none"),
    )
    id: Mapped[int] = mapped_column(primary_key=True)
    part_maker: Mapped[str]
    part_number: Mapped[str]
    place: Mapped[str]
    cost: Mapped[Money]
    left_over: Mapped[int]
    entered_at: Mapped[datetime]


class ShelfMoveRow(Base):
    """One movement of a lot: `change` pieces came (above none) or went (below); never altered."""

    __tablename__ = "shelf_moves"
    __table_args__ = (Index(None, "job"),)
    id: Mapped[int] = mapped_column(primary_key=True)
    lot_id: Mapped[int] = mapped_column(ForeignKey("shelf_lots.id"), index=True)
    kind: Mapped[MoveKind]
    change: Mapped[int]
    job: Mapped[str | None] = mapped_column(ForeignKey("jobs.number"))
    position: Mapped[str]
    who: Mapped[str]
    note: Mapped[str]
    on_day: Mapped[date]
    entered_at: Mapped[datetime]
