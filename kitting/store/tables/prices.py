"""What goes with suppliers' price lists: their columns, what a person decided, what awaits one.

A link that a list proposes and a person accepted is a link like those of an edition: whoever
follows links takes them from `links` and, where `state` is 'accepted', from `link_proposals`.
"""

from datetime import datetime
from enum import StrEnum

from sqlalchemy import CheckConstraint, ForeignKey, Index, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from kitting.store.base import Base
from kitting.store.tables.parts import part_named


class ProposalState(StrEnum):
    """What became of a proposed link."""

    OPEN = "open"
    ACCEPTED = "accepted"
    REFUSED = "refused"


class PriceColumnRow(Base):
    """Under which heading a supplier's list had a field the last time.

    A sheet of a workbook that had other columns than the first has its own, as field@sheet.
    """

    __tablename__ = "price_columns"
    supplier: Mapped[str] = mapped_column(ForeignKey("suppliers.key"), primary_key=True)
    field: Mapped[str] = mapped_column(primary_key=True)
    heading: Mapped[str]


class SupplierNumberRow(Base):
    """A person's word on a supplier's number: which part it is, or none of ours (no part)."""

    __tablename__ = "supplier_numbers"
    __table_args__ = (
        part_named("part"),
        CheckConstraint("(part_maker IS NULL) = (part_number IS NULL)", name="whole_part"),
    )
    supplier: Mapped[str] = mapped_column(ForeignKey("suppliers.key"), primary_key=True)
    their_normal: Mapped[str] = mapped_column(primary_key=True)
    their_number: Mapped[str]
    part_maker: Mapped[str | None]
    part_number: Mapped[str | None]
    who: Mapped[str]
    why: Mapped[str]
    decided_at: Mapped[datetime]


class PriceStrayRow(Base):
    """A row of a price list that offers nothing as it stands, and why."""

    __tablename__ = "price_strays"
    list_id: Mapped[int] = mapped_column(
        ForeignKey("price_lists.id", ondelete="CASCADE"), primary_key=True
    )
    line: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    place: Mapped[str]
    number: Mapped[str]
    normal: Mapped[str]
    says: Mapped[str]
    why: Mapped[str]


class LinkProposalRow(Base):
    """That a list says a part is superseded, and what a named person made of it."""

    __tablename__ = "link_proposals"
    __table_args__ = (
        part_named("old"),
        part_named("new"),
        UniqueConstraint("supplier", "old_maker", "old_number", "new_normal"),
        Index(None, "old_maker", "old_number"),
        Index(None, "new_maker", "new_number"),
        CheckConstraint("(state = 'open') = (who IS NULL)", name="decided_by_somebody"),
        CheckConstraint("state <> 'accepted' OR new_number IS NOT NULL", name="accepted_is_known"),
    )
    id: Mapped[int] = mapped_column(primary_key=True)
    supplier: Mapped[str] = mapped_column(ForeignKey("suppliers.key"))
    origin: Mapped[str]
    place: Mapped[str]
    old_maker: Mapped[str]
    old_number: Mapped[str]
    new_said: Mapped[str]
    new_normal: Mapped[str]
    new_maker: Mapped[str | None]
    new_number: Mapped[str | None]
    state: Mapped[ProposalState]
    who: Mapped[str | None]
    why: Mapped[str]
    proposed_at: Mapped[datetime]
    decided_at: Mapped[datetime | None]
