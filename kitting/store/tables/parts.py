"""Parts' tables: the numbers themselves, once for the whole database, and what an edition says.

What one edition says of a part (its name, what it fits, what supersedes it) goes with that edition.
"""

from datetime import date

from sqlalchemy import CheckConstraint, ForeignKeyConstraint, Index, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from kitting.catalog.model import LinkKind
from kitting.store.base import Base, Words
from kitting.store.tables.catalogue import OfEdition, within


class PartRow(Base):
    """A maker's number, once for the whole database; `normal` is the number as compared."""

    __tablename__ = "parts"
    part_maker: Mapped[str] = mapped_column(primary_key=True)
    part_number: Mapped[str] = mapped_column(primary_key=True)
    normal: Mapped[str] = mapped_column(index=True)


def part_named(prefix: str) -> ForeignKeyConstraint:
    """A reference to a part."""
    return ForeignKeyConstraint(
        [f"{prefix}_maker", f"{prefix}_number"], ["parts.part_maker", "parts.part_number"]
    )


class CataloguePartRow(OfEdition, Base):
    """`parts.csv`: what an edition says of a part."""

    __tablename__ = "catalogue_parts"
    __table_args__ = (
        UniqueConstraint("edition_id", "part_maker", "part_number"),
        part_named("part"),
        Index(None, "part_maker", "part_number"),
    )
    part_maker: Mapped[str]
    part_number: Mapped[str]
    name: Mapped[str]
    kind: Mapped[str]
    vat: Mapped[str]
    note: Mapped[str]


class PartAttributeRow(Base):
    """One attribute of a part in `parts.csv`: thread, height, rate, width."""

    __tablename__ = "part_attributes"
    __table_args__ = (
        ForeignKeyConstraint(
            ["edition_id", "line"],
            ["catalogue_parts.edition_id", "catalogue_parts.line"],
            ondelete="CASCADE",
        ),
        Index(None, "attribute", "value"),
    )
    edition_id: Mapped[int] = mapped_column(primary_key=True)
    line: Mapped[int] = mapped_column(primary_key=True)
    rank: Mapped[int] = mapped_column(primary_key=True)
    attribute: Mapped[str]
    value: Mapped[str]


class FitRow(OfEdition, Base):
    """`fits.csv`."""

    __tablename__ = "fits"
    __table_args__ = (
        within("position", "positions.key"),
        part_named("part"),
        Index(None, "edition_id", "position"),
        Index(None, "part_maker", "part_number"),
    )
    position: Mapped[str]
    part_maker: Mapped[str]
    part_number: Mapped[str]
    variants: Mapped[Words]
    first: Mapped[int | None]
    last: Mapped[int | None]
    grade: Mapped[str]
    quantity: Mapped[int | None]
    note: Mapped[str]


class LinkRow(OfEdition, Base):
    """`links.csv`: supersession and interchange."""

    __tablename__ = "links"
    __table_args__ = (
        part_named("old"),
        part_named("new"),
        Index(None, "old_maker", "old_number"),
        Index(None, "new_maker", "new_number"),
        CheckConstraint("old_quantity > 0 AND new_quantity > 0", name="quantities_above_none"),
    )
    record: Mapped[str]
    kind: Mapped[LinkKind]
    old_maker: Mapped[str]
    old_number: Mapped[str]
    old_quantity: Mapped[int]
    new_maker: Mapped[str]
    new_number: Mapped[str]
    new_quantity: Mapped[int]
    variants: Mapped[Words]
    first: Mapped[int | None]
    last: Mapped[int | None]
    with_grade: Mapped[str]
    since: Mapped[date | None]
    until: Mapped[date | None]
    operation: Mapped[str]
    use_up: Mapped[bool]
    note: Mapped[str]
    source: Mapped[str]


class LinkNeedRow(Base):
    """A companion that must be bought with what a link brings."""

    __tablename__ = "link_needs"
    __table_args__ = (
        ForeignKeyConstraint(
            ["edition_id", "line"], ["links.edition_id", "links.line"], ondelete="CASCADE"
        ),
        part_named("part"),
    )
    edition_id: Mapped[int] = mapped_column(primary_key=True)
    line: Mapped[int] = mapped_column(primary_key=True)
    rank: Mapped[int] = mapped_column(primary_key=True)
    part_maker: Mapped[str]
    part_number: Mapped[str]


class SetItemRow(OfEdition, Base):
    """`sets.csv`."""

    __tablename__ = "set_items"
    __table_args__ = (
        part_named("set"),
        part_named("part"),
        Index(None, "set_maker", "set_number"),
        Index(None, "part_maker", "part_number"),
        CheckConstraint("quantity > 0", name="quantity_above_none"),
    )
    set_maker: Mapped[str]
    set_number: Mapped[str]
    part_maker: Mapped[str]
    part_number: Mapped[str]
    quantity: Mapped[int]
