"""The trade's tables: the shop's terms as loaded on a day, and price lists with their history.

Terms (the shop's settings, suppliers, machinists, rates) are small and kept whole each time they
change. Offers are many: each supplier's list is kept by itself, and a newer list ends the older.
"""

from datetime import date, datetime

from sqlalchemy import CheckConstraint, ForeignKey, ForeignKeyConstraint, Index, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from kitting.catalog.trade import Quality
from kitting.store.base import Base, Figure, Money


class TermsRow(Base):
    """One loading of the shop's terms; the newest holds."""

    __tablename__ = "terms"
    id: Mapped[int] = mapped_column(primary_key=True)
    content_hash: Mapped[str]
    loaded_at: Mapped[datetime]


class SupplierRow(Base):
    """A supplier, by his key, for as long as anything refers to him."""

    __tablename__ = "suppliers"
    key: Mapped[str] = mapped_column(primary_key=True)


class OfTerms:
    """What every table of the terms has: of which loading, and its place in the file."""

    terms_id: Mapped[int] = mapped_column(
        ForeignKey("terms.id", ondelete="CASCADE"), primary_key=True
    )
    line: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)


class ShopRow(OfTerms, Base):
    """`shop.csv`, but for VAT and instruments."""

    __tablename__ = "shop"
    name: Mapped[str]
    address: Mapped[str]
    currency: Mapped[str]
    labour_rate: Mapped[Money]
    labour_vat: Mapped[str]
    work_markup: Mapped[Figure]
    parts_markup: Mapped[Figure]
    lean: Mapped[str]


class VatRow(OfTerms, Base):
    """A VAT category's rate in percent."""

    __tablename__ = "vat_rates"
    __table_args__ = (UniqueConstraint("terms_id", "category"),)
    category: Mapped[str]
    percent: Mapped[Figure]


class InstrumentRow(OfTerms, Base):
    """An instrument's expanded uncertainty."""

    __tablename__ = "instruments"
    __table_args__ = (UniqueConstraint("terms_id", "instrument"),)
    instrument: Mapped[str]
    uncertainty: Mapped[Figure]
    uncertainty_unit: Mapped[str]


class SupplierTermsRow(OfTerms, Base):
    """`suppliers.csv`."""

    __tablename__ = "supplier_terms"
    __table_args__ = (UniqueConstraint("terms_id", "key"),)
    key: Mapped[str] = mapped_column(ForeignKey("suppliers.key"))
    name: Mapped[str]
    address: Mapped[str]
    currency: Mapped[str]
    carriage: Mapped[Money]
    free_over: Mapped[Money | None]
    least_order: Mapped[Money]
    days: Mapped[int]
    note: Mapped[str]


class MakerRow(OfTerms, Base):
    """`makers.csv`."""

    __tablename__ = "makers"
    __table_args__ = (UniqueConstraint("terms_id", "key"),)
    key: Mapped[str]
    name: Mapped[str]


class OperationRow(OfTerms, Base):
    """`operations.csv`."""

    __tablename__ = "operations"
    __table_args__ = (UniqueConstraint("terms_id", "key"),)
    key: Mapped[str]
    name: Mapped[str]
    instruction: Mapped[str]
    caution: Mapped[str]


class WorkPriceRow(OfTerms, Base):
    """`work_prices.csv`."""

    __tablename__ = "work_prices"
    __table_args__ = (
        ForeignKeyConstraint(
            ["terms_id", "operation"],
            ["operations.terms_id", "operations.key"],
            ondelete="CASCADE",
        ),
    )
    machinist: Mapped[str]
    operation: Mapped[str]
    per: Mapped[str]
    price: Mapped[Money]
    currency: Mapped[str]
    valid_from: Mapped[date]
    valid_until: Mapped[date]
    days: Mapped[int]


class RateRow(OfTerms, Base):
    """`rates.csv`; the day is written `on_day`."""

    __tablename__ = "exchange_rates"
    __table_args__ = (CheckConstraint("worth > 0", name="worth_above_none"),)
    currency: Mapped[str]
    worth: Mapped[Figure]
    on_day: Mapped[date]


class PriceListRow(Base):
    """One loading of a supplier's offers; it holds until a newer one ends it.

    `origin` is the file it came from, empty for the catalogue's own folder.
    """

    __tablename__ = "price_lists"
    __table_args__ = (Index(None, "supplier", "ended_at"),)
    id: Mapped[int] = mapped_column(primary_key=True)
    supplier: Mapped[str] = mapped_column(ForeignKey("suppliers.key"))
    origin: Mapped[str]
    content_hash: Mapped[str]
    loaded_at: Mapped[datetime]
    ended_at: Mapped[datetime | None]


class OfferRow(Base):
    """`offers-SUPPLIER.csv`; `their_normal` is the supplier's number as compared."""

    __tablename__ = "offers"
    __table_args__ = (
        ForeignKeyConstraint(
            ["part_maker", "part_number"], ["parts.part_maker", "parts.part_number"]
        ),
        Index(None, "part_maker", "part_number"),
        Index(None, "their_normal"),
        CheckConstraint("pack > 0", name="pack_above_none"),
    )
    list_id: Mapped[int] = mapped_column(
        ForeignKey("price_lists.id", ondelete="CASCADE"), primary_key=True
    )
    line: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    supplier: Mapped[str]
    their_number: Mapped[str]
    their_normal: Mapped[str]
    part_maker: Mapped[str]
    part_number: Mapped[str]
    pack: Mapped[int]
    price: Mapped[Money]
    currency: Mapped[str]
    valid_from: Mapped[date]
    valid_until: Mapped[date]
    days: Mapped[int]
    stock: Mapped[int | None]
    quality: Mapped[Quality] = mapped_column(server_default="")


class PriceBreakRow(Base):
    """From so many packs of an offer the pack price is this."""

    __tablename__ = "price_breaks"
    __table_args__ = (
        ForeignKeyConstraint(
            ["list_id", "line"], ["offers.list_id", "offers.line"], ondelete="CASCADE"
        ),
    )
    list_id: Mapped[int] = mapped_column(primary_key=True)
    line: Mapped[int] = mapped_column(primary_key=True)
    rank: Mapped[int] = mapped_column(primary_key=True)
    packs: Mapped[int]
    price: Mapped[Money]
