"""The orders' tables: what was asked is frozen by revision, what happened to it only added to.

Which job a line is for stands in a table of its own, `order_needs`, which nothing that a supplier
is shown is made of.
"""

from datetime import date, datetime

from sqlalchemy import ForeignKey, ForeignKeyConstraint, Index, UniqueConstraint, false
from sqlalchemy.orm import Mapped, mapped_column

from kitting.buying.deliveries import Why
from kitting.buying.orders import OrderState
from kitting.buying.replies import Word
from kitting.catalog.trade import Quality
from kitting.store.base import Base, Figure, Money, Words
from kitting.store.tables.parts import part_named


class OrderCounterRow(Base):
    """The last order number given; who gives one holds this row until the work is kept."""

    __tablename__ = "order_counters"
    name: Mapped[str] = mapped_column(primary_key=True)
    last: Mapped[int]


class OrderRow(Base):
    """An order's number; `running` is the count that gave it."""

    __tablename__ = "orders"
    __table_args__ = (UniqueConstraint("running"),)
    number: Mapped[str] = mapped_column(primary_key=True)
    running: Mapped[int]
    entered_at: Mapped[datetime]


class OrderRevisionRow(Base):
    """One revision: the supplier and his terms, the rate and the VAT, as they stood that day."""

    __tablename__ = "order_revisions"
    number: Mapped[str] = mapped_column(ForeignKey("orders.number"), primary_key=True)
    revision: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    supplier_key: Mapped[str] = mapped_column(index=True)
    supplier_name: Mapped[str]
    supplier_address: Mapped[str]
    supplier_currency: Mapped[str]
    supplier_carriage: Mapped[Money]
    supplier_free_over: Mapped[Money | None]
    supplier_least_order: Mapped[Money]
    supplier_days: Mapped[int]
    supplier_note: Mapped[str]
    day: Mapped[date]
    currency: Mapped[str]
    home_currency: Mapped[str]
    worth: Mapped[Figure]
    carriage_vat: Mapped[str]
    carriage_vat_percent: Mapped[Figure]
    approved_by: Mapped[str]
    approved_on: Mapped[date | None]
    entered_at: Mapped[datetime]


class OfRevision:
    """What every table of a revision has."""

    number: Mapped[str] = mapped_column(primary_key=True)
    revision: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    line: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)


def _revision() -> ForeignKeyConstraint:
    return ForeignKeyConstraint(
        ["number", "revision"], ["order_revisions.number", "order_revisions.revision"]
    )


class OrderLineRow(OfRevision, Base):
    """A line, with the price and the terms of that moment."""

    __tablename__ = "order_lines"
    __table_args__ = (
        _revision(),
        part_named("part"),
        UniqueConstraint("number", "revision", "line_id"),
    )
    line_id: Mapped[str]
    their_number: Mapped[str]
    part_maker: Mapped[str]
    part_number: Mapped[str]
    name: Mapped[str]
    kind: Mapped[str]
    quantity: Mapped[int]
    pack: Mapped[int]
    packs: Mapped[int]
    pack_price: Mapped[Money]
    net: Mapped[Money]
    vat: Mapped[str]
    vat_percent: Mapped[Figure]
    days: Mapped[int]
    price_until: Mapped[date | None]
    lapsed: Mapped[bool]
    on_return: Mapped[bool]
    quality: Mapped[Quality] = mapped_column(server_default="")


class OrderNeedRow(Base):
    """Whose a line is, and what its pieces make there: inside the shop only."""

    __tablename__ = "order_needs"
    __table_args__ = (
        ForeignKeyConstraint(
            ["number", "revision", "line"],
            ["order_lines.number", "order_lines.revision", "order_lines.line"],
        ),
        part_named("stands_for"),
        Index(None, "job"),
    )
    number: Mapped[str] = mapped_column(primary_key=True)
    revision: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    line: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    rank: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    job: Mapped[str] = mapped_column(ForeignKey("jobs.number"))
    kit_line: Mapped[str]
    positions: Mapped[Words]
    pieces: Mapped[int]
    grade: Mapped[str]
    in_set: Mapped[bool]
    stands_for_maker: Mapped[str | None]
    stands_for_number: Mapped[str | None]
    per: Mapped[int]
    makes: Mapped[int]
    goes_in: Mapped[Words]
    whole: Mapped[int] = mapped_column(server_default="0")


class OrderHeldRow(OfRevision, Base):
    """A part that is named to the supplier and not ordered."""

    __tablename__ = "order_held"
    __table_args__ = (_revision(), part_named("part"))
    their_number: Mapped[str]
    part_maker: Mapped[str]
    part_number: Mapped[str]
    name: Mapped[str]


class OfOrder:
    """What every table of what happened to an order has: whose it is, and in which order."""

    number: Mapped[str] = mapped_column(ForeignKey("orders.number"), primary_key=True)
    line: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)


class OrderStepRow(OfOrder, Base):
    """Approved, sent, cancelled: by whom and when."""

    __tablename__ = "order_steps"
    state: Mapped[OrderState]
    who: Mapped[str]
    on_day: Mapped[date]
    note: Mapped[str]
    entered_at: Mapped[datetime]


class OrderReplyRow(OfOrder, Base):
    """One reply; `line` counts the order's replies."""

    __tablename__ = "order_replies"
    revision: Mapped[int]
    on_day: Mapped[date]
    who: Mapped[str]
    reference: Mapped[str]
    beside: Mapped[Words] = mapped_column(server_default="[]")
    entered_at: Mapped[datetime]


class ReplyLineRow(Base):
    """What a reply says of one line; `per` of the substitute make `makes` of what was asked."""

    __tablename__ = "reply_lines"
    __table_args__ = (
        ForeignKeyConstraint(["number", "line"], ["order_replies.number", "order_replies.line"]),
        part_named("part"),
    )
    number: Mapped[str] = mapped_column(primary_key=True)
    line: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    rank: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    line_id: Mapped[str]
    packs: Mapped[int | None]
    pack_price: Mapped[Money | None]
    day: Mapped[date | None]
    substitute: Mapped[str]
    remark: Mapped[str]
    part_maker: Mapped[str | None]
    part_number: Mapped[str | None]
    per: Mapped[int] = mapped_column(server_default="1")
    makes: Mapped[int] = mapped_column(server_default="1")


class OrderAnswerRow(OfOrder, Base):
    """A named person's word on a line of a reply."""

    __tablename__ = "order_answers"
    line_id: Mapped[str]
    reply: Mapped[int]
    word: Mapped[Word]
    who: Mapped[str]
    on_day: Mapped[date]
    reason: Mapped[str]
    entered_at: Mapped[datetime]


class DeliveryRow(OfOrder, Base):
    """One delivery; `line` counts the order's deliveries."""

    __tablename__ = "deliveries"
    on_day: Mapped[date]
    who: Mapped[str]
    their_note: Mapped[str]
    entered_at: Mapped[datetime]


class OfDelivery:
    """What every table of a delivery has."""

    number: Mapped[str] = mapped_column(primary_key=True)
    line: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    rank: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)


def _delivery() -> ForeignKeyConstraint:
    return ForeignKeyConstraint(["number", "line"], ["deliveries.number", "deliveries.line"])


class DeliveryLineRow(OfDelivery, Base):
    """What a delivery brought of one line, in pieces.

    Of the good ones the figures prove so many `inside` their drawing and so many `outside`, and
    leave so many too `near` to call. `to_measure` says that they have a drawing, and count once
    they are held against it.
    """

    __tablename__ = "delivery_lines"
    __table_args__ = (_delivery(),)
    line_id: Mapped[str]
    good: Mapped[int]
    damaged: Mapped[int]
    wrong: Mapped[int]
    to_follow: Mapped[int]
    note: Mapped[str]
    inside: Mapped[int] = mapped_column(server_default="0")
    outside: Mapped[int] = mapped_column(server_default="0")
    near: Mapped[int] = mapped_column(server_default="0")
    to_measure: Mapped[bool] = mapped_column(server_default=false())


class DeliveryWordRow(OfOrder, Base):
    """A named person's word on what a delivery brought of a line and no figure proves."""

    __tablename__ = "delivery_words"
    __table_args__ = (
        ForeignKeyConstraint(["number", "delivery"], ["deliveries.number", "deliveries.line"]),
    )
    line_id: Mapped[str]
    delivery: Mapped[int]
    word: Mapped[Word]
    who: Mapped[str]
    on_day: Mapped[date]
    reason: Mapped[str]
    entered_at: Mapped[datetime]


class DeliveryReadingRow(OfDelivery, Base):
    """A figure measured on arrival: as typed, and as understood."""

    __tablename__ = "delivery_readings"
    __table_args__ = (_delivery(),)
    line_id: Mapped[str]
    feature: Mapped[str]
    station: Mapped[str]
    direction: Mapped[str]
    text: Mapped[str]
    value: Mapped[Figure]
    value_unit: Mapped[str]
    instrument: Mapped[str]
    who: Mapped[str]
    entered_at: Mapped[datetime]


class OrderReturnRow(OfOrder, Base):
    """Pieces that went back, and for which job and position; empty where they were for none."""

    __tablename__ = "order_returns"
    line_id: Mapped[str]
    pieces: Mapped[int]
    why: Mapped[Why]
    who: Mapped[str]
    on_day: Mapped[date]
    note: Mapped[str]
    job: Mapped[str] = mapped_column(server_default="")
    position: Mapped[str] = mapped_column(server_default="")
    entered_at: Mapped[datetime]
