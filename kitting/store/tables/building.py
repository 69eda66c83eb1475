"""The tables of the build: what came, what was measured at assembly, what the customer said."""

from datetime import date, datetime

from sqlalchemy import CheckConstraint, ForeignKey, Index
from sqlalchemy.orm import Mapped, mapped_column

from kitting.job.hand import Source
from kitting.store.base import Base, Figure, Money, Words
from kitting.store.tables.jobs import OfJob
from kitting.store.tables.parts import part_named


class InHandRow(OfJob, Base):
    """Pieces of a job's line that came otherwise than off the shelf; below none, went again."""

    __tablename__ = "in_hand"
    __table_args__ = (
        part_named("part"),
        CheckConstraint("quantity <> 0", name="quantity_is_some"),
    )
    position: Mapped[str]
    part_maker: Mapped[str | None]
    part_number: Mapped[str | None]
    quantity: Mapped[int]
    source: Mapped[Source]
    cost: Mapped[Money | None]
    place: Mapped[str]
    who: Mapped[str]
    on_day: Mapped[date]
    entered_at: Mapped[datetime]


class WorkBackRow(OfJob, Base):
    """That an operation's work is back from the machinist, or is not after all; the last holds."""

    __tablename__ = "works_back"
    operation: Mapped[str]
    back: Mapped[bool]
    cost: Mapped[Money | None]
    who: Mapped[str]
    on_day: Mapped[date]
    entered_at: Mapped[datetime]


class WorkedRow(OfJob, Base):
    """The shop's own hours on an assembly of a job; below none, what was written too many."""

    __tablename__ = "hours_worked"
    __table_args__ = (CheckConstraint("hours <> 0", name="hours_are_some"),)
    assembly: Mapped[str]
    hours: Mapped[Figure]
    who: Mapped[str]
    on_day: Mapped[date]
    note: Mapped[str]
    entered_at: Mapped[datetime]


class BuildFigureRow(OfJob, Base):
    """One figure measured at assembly, as typed and as understood."""

    __tablename__ = "build_figures"
    feature: Mapped[str]
    station: Mapped[str]
    direction: Mapped[str]
    text: Mapped[str]
    value: Mapped[Figure]
    value_unit: Mapped[str]
    instrument: Mapped[str]
    uncertainty: Mapped[Figure | None]
    uncertainty_unit: Mapped[str | None]
    who: Mapped[str]
    on_day: Mapped[date]
    place: Mapped[str]
    entered_at: Mapped[datetime]


class ApprovalRow(OfJob, Base):
    """The customer's word on one renewal or operation of one position, under one revision."""

    __tablename__ = "approvals"
    revision: Mapped[int]
    kit_line: Mapped[str]
    position: Mapped[str]
    operation: Mapped[str]
    what: Mapped[str]
    agreed: Mapped[bool]
    who: Mapped[str]
    on_day: Mapped[date]
    entered_at: Mapped[datetime]


class ClosingRow(Base):
    """That a job is closed: it is only read from then on."""

    __tablename__ = "closings"
    job: Mapped[str] = mapped_column(ForeignKey("jobs.number"), primary_key=True)
    who: Mapped[str]
    note: Mapped[str]
    on_day: Mapped[date]
    entered_at: Mapped[datetime]


class BuiltInRow(OfJob, Base):
    """How many pieces of a line of an order are in an engine that was built, as it was closed.

    Of each need of the job there is a row, with none too: what comes later is no more for it.
    """

    __tablename__ = "built_in"
    __table_args__ = (Index(None, "number"),)
    number: Mapped[str] = mapped_column(ForeignKey("orders.number"))
    line_id: Mapped[str]
    positions: Mapped[Words]
    pieces: Mapped[int]
