"""The jobs' tables: what the bench said is only ever added to, never changed."""

from datetime import date, datetime

from sqlalchemy import ForeignKey, ForeignKeyConstraint, Index
from sqlalchemy.orm import Mapped, mapped_column

from kitting.catalog.model import Verdict
from kitting.store.base import Base, Figure


class JobRow(Base):
    """One customer's engine, tied to the edition of the catalogue that it was opened with."""

    __tablename__ = "jobs"
    number: Mapped[str] = mapped_column(primary_key=True)
    edition_id: Mapped[int] = mapped_column(ForeignKey("editions.id"), index=True)
    variant: Mapped[str]
    engine_number: Mapped[str]
    customer: Mapped[str]
    opened: Mapped[date]
    note: Mapped[str]
    entered_at: Mapped[datetime]


class OfJob:
    """What every table of a job has: whose row it is, and the order in which it came."""

    job: Mapped[str] = mapped_column(ForeignKey("jobs.number"), primary_key=True)
    line: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)


class StrippedRow(OfJob, Base):
    """An assembly that was taken apart."""

    __tablename__ = "stripped"
    assembly: Mapped[str]
    entered_at: Mapped[datetime]


class FindingRow(OfJob, Base):
    """What was said of one position at one time; `fitted_number` is empty where none was looked at.

    The day that the bench wrote is `on_day`; `entered_at` is when the database took it.
    """

    __tablename__ = "findings"
    __table_args__ = (Index(None, "job", "position"),)
    position: Mapped[str]
    sound: Mapped[bool]
    fitted_number: Mapped[str | None]
    note: Mapped[str]
    who: Mapped[str]
    on_day: Mapped[date | None]
    place: Mapped[str]
    entered_at: Mapped[datetime]


class OfFinding:
    """What every table of a finding has."""

    job: Mapped[str] = mapped_column(primary_key=True)
    line: Mapped[int] = mapped_column(primary_key=True)
    rank: Mapped[int] = mapped_column(primary_key=True)


def _finding() -> ForeignKeyConstraint:
    return ForeignKeyConstraint(["job", "line"], ["findings.job", "findings.line"])


class ReadingRow(OfFinding, Base):
    """A number off an instrument: as typed, and as understood."""

    __tablename__ = "readings"
    __table_args__ = (_finding(),)
    feature: Mapped[str]
    station: Mapped[str]
    direction: Mapped[str]
    text: Mapped[str]
    value: Mapped[Figure]
    value_unit: Mapped[str]
    instrument: Mapped[str]
    uncertainty: Mapped[Figure | None]
    uncertainty_unit: Mapped[str | None]


class SeenRow(OfFinding, Base):
    """An observation in its grade."""

    __tablename__ = "seen"
    __table_args__ = (_finding(),)
    observation: Mapped[str]
    grade: Mapped[str]
    amount: Mapped[Figure | None]
    amount_unit: Mapped[str | None]


class FittedAttributeRow(OfFinding, Base):
    """An attribute measured off what was fitted."""

    __tablename__ = "fitted_attributes"
    __table_args__ = (_finding(),)
    attribute: Mapped[str]
    value: Mapped[str]


class SizeDecisionRow(OfJob, Base):
    """A named person's choice of a size grade."""

    __tablename__ = "size_decisions"
    size_table: Mapped[str]
    grade: Mapped[str]
    who: Mapped[str]
    reason: Mapped[str]
    on_day: Mapped[date]
    entered_at: Mapped[datetime]


class OverrideRow(OfJob, Base):
    """A named person's decision against the rules."""

    __tablename__ = "overrides"
    position: Mapped[str]
    verdict: Mapped[Verdict]
    operation: Mapped[str]
    who: Mapped[str]
    reason: Mapped[str]
    on_day: Mapped[date]
    entered_at: Mapped[datetime]
