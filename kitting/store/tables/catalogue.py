"""The catalogue's tables: one a file of a family's folder, keyed by edition and line.

A column has the name of the value's field; `kitting.store.rows` says what a field of each kind
becomes. A new edition is a new set of rows, so that a job of an older edition stays readable; rows
go only with their edition. What stands of parts is in `kitting.store.tables.parts`.
"""

from datetime import datetime

from sqlalchemy import (
    CheckConstraint,
    ForeignKey,
    ForeignKeyConstraint,
    UniqueConstraint,
)
from sqlalchemy.orm import Mapped, mapped_column

from kitting.catalog.model import Verdict
from kitting.catalog.rules import Then, Weight, When
from kitting.catalog.size_tables import SizeKind
from kitting.store.base import Base, Figure, Words


class FamilyRow(Base):
    """An engine family, by its key."""

    __tablename__ = "families"
    key: Mapped[str] = mapped_column(primary_key=True)


class EditionRow(Base):
    """One edition of a family, with what stands in `family.csv`."""

    __tablename__ = "editions"
    __table_args__ = (UniqueConstraint("family", "edition"),)
    id: Mapped[int] = mapped_column(primary_key=True)
    family: Mapped[str] = mapped_column(ForeignKey("families.key"))
    edition: Mapped[str]
    content_hash: Mapped[str]
    loaded_at: Mapped[datetime]
    name: Mapped[str]
    maker: Mapped[str]
    years: Mapped[str]
    unit: Mapped[str]
    summary: Mapped[str]


class OfEdition:
    """What every table of an edition has: whose row it is, and its place in the file."""

    edition_id: Mapped[int] = mapped_column(
        ForeignKey("editions.id", ondelete="CASCADE"), primary_key=True
    )
    line: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)


def within(columns: str, target: str) -> ForeignKeyConstraint:
    """A reference to another row of the same edition: `position` to `positions.key`."""
    table, key = target.split(".")
    return ForeignKeyConstraint(
        ["edition_id", columns], [f"{table}.edition_id", f"{table}.{key}"], ondelete="CASCADE"
    )


class VariantRow(OfEdition, Base):
    """`variants.csv`."""

    __tablename__ = "variants"
    __table_args__ = (UniqueConstraint("edition_id", "key"),)
    key: Mapped[str]
    name: Mapped[str]
    prefix: Mapped[str]
    first: Mapped[int]
    last: Mapped[int]
    years: Mapped[str]
    note: Mapped[str]


class AssemblyRow(OfEdition, Base):
    """`assemblies.csv`."""

    __tablename__ = "assemblies"
    __table_args__ = (UniqueConstraint("edition_id", "key"),)
    key: Mapped[str]
    name: Mapped[str]
    sequence: Mapped[int]
    stage: Mapped[str]
    caution: Mapped[str]


class SizeTableRow(OfEdition, Base):
    """`size_tables.csv`."""

    __tablename__ = "size_tables"
    __table_args__ = (UniqueConstraint("edition_id", "key"),)
    key: Mapped[str]
    name: Mapped[str]
    kind: Mapped[SizeKind]
    unit: Mapped[str]
    together: Mapped[bool]
    stock: Mapped[Figure]
    stock_unit: Mapped[str]
    operation: Mapped[str]
    housing_low: Mapped[Figure | None]
    housing_low_unit: Mapped[str | None]
    housing_high: Mapped[Figure | None]
    housing_high_unit: Mapped[str | None]
    clearance_low: Mapped[Figure | None]
    clearance_low_unit: Mapped[str | None]
    clearance_high: Mapped[Figure | None]
    clearance_high_unit: Mapped[str | None]
    clearance_limit: Mapped[Figure | None]
    clearance_limit_unit: Mapped[str | None]
    finish_note: Mapped[str]
    source: Mapped[str]


class GradeRow(OfEdition, Base):
    """`grades.csv`; `table` is written `size_table`, since SQL has its own use for the word."""

    __tablename__ = "grades"
    __table_args__ = (
        UniqueConstraint("edition_id", "size_table", "key"),
        within("size_table", "size_tables.key"),
    )
    size_table: Mapped[str]
    key: Mapped[str]
    name: Mapped[str]
    sequence: Mapped[int]
    step: Mapped[Figure]
    step_unit: Mapped[str]
    finish_low: Mapped[Figure | None]
    finish_low_unit: Mapped[str | None]
    finish_high: Mapped[Figure | None]
    finish_high_unit: Mapped[str | None]
    worn: Mapped[Figure | None]
    worn_unit: Mapped[str | None]
    wall_low: Mapped[Figure | None]
    wall_low_unit: Mapped[str | None]
    wall_high: Mapped[Figure | None]
    wall_high_unit: Mapped[str | None]
    lined_low: Mapped[Figure | None]
    lined_low_unit: Mapped[str | None]
    lined_high: Mapped[Figure | None]
    lined_high_unit: Mapped[str | None]
    clearance_low: Mapped[Figure | None]
    clearance_low_unit: Mapped[str | None]
    clearance_high: Mapped[Figure | None]
    clearance_high_unit: Mapped[str | None]
    half_step_of: Mapped[str]
    takes_up: Mapped[Figure | None]
    takes_up_unit: Mapped[str | None]


class PositionRow(OfEdition, Base):
    """`positions.csv`."""

    __tablename__ = "positions"
    __table_args__ = (
        UniqueConstraint("edition_id", "key"),
        within("assembly", "assemblies.key"),
        within("sized_by", "size_tables.key"),
        CheckConstraint("quantity >= 0", name="quantity_not_below_none"),
    )
    key: Mapped[str]
    assembly: Mapped[str]
    sequence: Mapped[int]
    name: Mapped[str]
    kind: Mapped[str]
    quantity: Mapped[int]
    variants: Mapped[Words]
    must_look: Mapped[bool]
    sized_by: Mapped[str | None]
    matched: Mapped[str]
    caution: Mapped[str]
    note: Mapped[str]


class FeatureRow(OfEdition, Base):
    """`features.csv`."""

    __tablename__ = "features"
    __table_args__ = (
        UniqueConstraint("edition_id", "key"),
        within("position", "positions.key"),
        within("size_table", "size_tables.key"),
    )
    key: Mapped[str]
    position: Mapped[str]
    name: Mapped[str]
    kind: Mapped[str]
    unit: Mapped[str]
    low: Mapped[Figure | None]
    low_unit: Mapped[str | None]
    high: Mapped[Figure | None]
    high_unit: Mapped[str | None]
    wear_low: Mapped[Figure | None]
    wear_low_unit: Mapped[str | None]
    wear_high: Mapped[Figure | None]
    wear_high_unit: Mapped[str | None]
    ovality: Mapped[Figure | None]
    ovality_unit: Mapped[str | None]
    taper: Mapped[Figure | None]
    taper_unit: Mapped[str | None]
    size_table: Mapped[str | None]
    stations: Mapped[Words]
    directions: Mapped[Words]
    instrument: Mapped[str]
    if_out: Mapped[Verdict]
    operation: Mapped[str]
    source: Mapped[str]
    part_tells: Mapped[bool]
    critical: Mapped[bool]
    at_build: Mapped[bool]
    scores: Mapped[str]
    goes_with: Mapped[str]
    note: Mapped[str]


class ObservationRow(OfEdition, Base):
    """`observations.csv`."""

    __tablename__ = "observations"
    __table_args__ = (UniqueConstraint("edition_id", "key"),)
    key: Mapped[str]
    name: Mapped[str]
    grades: Mapped[Words]
    kinds: Mapped[Words]
    question: Mapped[str]


class JudgementRow(OfEdition, Base):
    """`judgements.csv`."""

    __tablename__ = "judgements"
    __table_args__ = (
        UniqueConstraint("edition_id", "key"),
        within("observation", "observations.key"),
    )
    key: Mapped[str]
    observation: Mapped[str]
    at_least: Mapped[str]
    of_sort: Mapped[str]
    of_key: Mapped[str]
    of_within: Mapped[str]
    verdict: Mapped[Verdict]
    operation: Mapped[str]
    because: Mapped[str]
    source: Mapped[str]
    file_line: Mapped[int]


class ConsequenceRow(OfEdition, Base):
    """`consequences.csv`; `when` and `then` are written `if_so` and `demands`."""

    __tablename__ = "consequences"
    __table_args__ = (
        UniqueConstraint("edition_id", "key"),
        within("observation", "observations.key"),
    )
    key: Mapped[str]
    if_so: Mapped[When]
    of_sort: Mapped[str]
    of_key: Mapped[str]
    of_within: Mapped[str]
    observation: Mapped[str | None]
    at_least: Mapped[str]
    demands: Mapped[Then]
    to_sort: Mapped[str]
    to_key: Mapped[str]
    to_within: Mapped[str]
    operation: Mapped[str]
    because: Mapped[str]
    source: Mapped[str]
    weight: Mapped[Weight]
    file_line: Mapped[int]


class LabourRow(OfEdition, Base):
    """`labour.csv`."""

    __tablename__ = "labour"
    action: Mapped[str]
    of_sort: Mapped[str]
    of_key: Mapped[str]
    of_within: Mapped[str]
    hours: Mapped[Figure]
    note: Mapped[str]
