"""The estimates' tables: what the customer was told on that day, with the prices of that day."""

from datetime import date, datetime
from typing import Any

from sqlalchemy import JSON, ForeignKey, ForeignKeyConstraint
from sqlalchemy.orm import Mapped, mapped_column

from kitting.store.base import Base, Figure, Money, Words


class EstimateRow(Base):
    """One revision of a job's estimate."""

    __tablename__ = "estimates"
    job: Mapped[str] = mapped_column(ForeignKey("jobs.number"), primary_key=True)
    revision: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    given: Mapped[date]
    currency: Mapped[str]
    who: Mapped[str]
    note: Mapped[str]
    warnings: Mapped[Words]
    entered_at: Mapped[datetime]


class OfEstimate:
    """What every table of an estimate has."""

    job: Mapped[str] = mapped_column(primary_key=True)
    revision: Mapped[int] = mapped_column(primary_key=True)
    line: Mapped[int] = mapped_column(primary_key=True)


def _estimate() -> ForeignKeyConstraint:
    return ForeignKeyConstraint(["job", "revision"], ["estimates.job", "estimates.revision"])


class EstimateLineRow(OfEstimate, Base):
    """A line of an estimate: a part, a set, outside work, labour or carriage; `kind` says which.

    `supplier` to `lapsed` are the offer as it stood, `cost` what the shop pays; `net` and
    `worst_net` what the customer was asked.
    """

    __tablename__ = "estimate_lines"
    __table_args__ = (
        _estimate(),
        ForeignKeyConstraint(
            ["part_maker", "part_number"], ["parts.part_maker", "parts.part_number"]
        ),
    )
    kind: Mapped[str]
    stage: Mapped[str]
    kit_line: Mapped[str]
    text: Mapped[str]
    part_maker: Mapped[str | None]
    part_number: Mapped[str | None]
    quantity: Mapped[Figure]
    unit: Mapped[str]
    supplier: Mapped[str]
    their_number: Mapped[str]
    pack: Mapped[int | None]
    packs: Mapped[int | None]
    pack_price: Mapped[Money | None]
    currency: Mapped[str]
    price_until: Mapped[date | None]
    lapsed: Mapped[bool]
    cost: Mapped[Money]
    unit_net: Mapped[Money]
    net: Mapped[Money]
    worst_net: Mapped[Money]
    vat: Mapped[str]
    flags: Mapped[Words]
    because: Mapped[Any] = mapped_column(JSON)


class EstimateTotalRow(OfEstimate, Base):
    """The total of one VAT category in one case (likely, worst)."""

    __tablename__ = "estimate_totals"
    __table_args__ = (_estimate(),)
    outcome: Mapped[str]
    vat: Mapped[str]
    percent: Mapped[Figure]
    net: Mapped[Money]
    tax: Mapped[Money]
