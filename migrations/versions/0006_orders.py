"""Orders by revision, and what happened to them: steps, replies, answers, deliveries, returns."""

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None

BIG = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
PARTS = ["parts.part_maker", "parts.part_number"]


def texts(*names, empty=False):
    return [sa.Column(name, sa.String(), nullable=empty) for name in names]


def numbers(*names, empty=False):
    return [sa.Column(name, BIG, autoincrement=False, nullable=empty) for name in names]


def scaled(*names, empty=False):
    return [sa.Column(name, sa.BigInteger(), nullable=empty) for name in names]


def days(*names, empty=False):
    return [sa.Column(name, sa.Date(), nullable=empty) for name in names]


def marks(*names):
    return [sa.Column(name, sa.Boolean(), nullable=False) for name in names]


def entered():
    return sa.Column("entered_at", sa.DateTime(), nullable=False)


def one_of(name, rule, *words, empty=False):
    kind = sa.Enum(*words, name=rule, native_enum=False, create_constraint=True, length=20)
    return sa.Column(name, kind, nullable=empty)


def refers(columns, to):
    return sa.ForeignKeyConstraint(columns, to)


def of_order(name, *columns):
    """A table of what happened to an order."""
    op.create_table(
        name,
        *texts("number"),
        *numbers("line"),
        *columns,
        entered(),
        sa.PrimaryKeyConstraint("number", "line"),
        refers(["number"], ["orders.number"]),
    )


def upgrade():
    _asked()
    _answered()
    _came()


def _asked():
    counters = op.create_table(
        "order_counters", *texts("name"), *numbers("last"), sa.PrimaryKeyConstraint("name")
    )
    op.bulk_insert(counters, [{"name": "orders", "last": 1000}])
    op.create_table(
        "orders",
        *texts("number"),
        *numbers("running"),
        entered(),
        sa.PrimaryKeyConstraint("number"),
        sa.UniqueConstraint("running"),
    )
    op.create_table(
        "order_revisions",
        *texts("number"),
        *numbers("revision"),
        *texts("supplier_key", "supplier_name", "supplier_address", "supplier_currency"),
        *scaled("supplier_carriage"),
        *scaled("supplier_free_over", empty=True),
        *scaled("supplier_least_order"),
        *numbers("supplier_days"),
        *texts("supplier_note"),
        *days("day"),
        *texts("currency", "home_currency"),
        *scaled("worth"),
        *texts("carriage_vat"),
        *scaled("carriage_vat_percent"),
        *texts("approved_by"),
        *days("approved_on", empty=True),
        entered(),
        sa.PrimaryKeyConstraint("number", "revision"),
        refers(["number"], ["orders.number"]),
    )
    op.create_index("ix_order_revisions_supplier_key", "order_revisions", ["supplier_key"])
    revision_key = ["order_revisions.number", "order_revisions.revision"]
    op.create_table(
        "order_lines",
        *texts("number"),
        *numbers("revision", "line"),
        *texts("line_id", "their_number", "part_maker", "part_number", "name", "kind"),
        *numbers("quantity", "pack", "packs"),
        *scaled("pack_price", "net"),
        *texts("vat"),
        *scaled("vat_percent"),
        *numbers("days"),
        *days("price_until", empty=True),
        *marks("lapsed", "on_return"),
        sa.PrimaryKeyConstraint("number", "revision", "line"),
        refers(["number", "revision"], revision_key),
        refers(["part_maker", "part_number"], PARTS),
        sa.UniqueConstraint("number", "revision", "line_id"),
    )
    op.create_table(
        "order_needs",
        *texts("number"),
        *numbers("revision", "line", "rank"),
        *texts("job", "kit_line"),
        sa.Column("positions", sa.JSON(), nullable=False),
        *numbers("pieces"),
        *texts("grade"),
        *marks("in_set"),
        *texts("stands_for_maker", "stands_for_number", empty=True),
        sa.PrimaryKeyConstraint("number", "revision", "line", "rank"),
        refers(
            ["number", "revision", "line"],
            ["order_lines.number", "order_lines.revision", "order_lines.line"],
        ),
        refers(["job"], ["jobs.number"]),
        refers(["stands_for_maker", "stands_for_number"], PARTS),
    )
    op.create_index("ix_order_needs_job", "order_needs", ["job"])
    op.create_table(
        "order_held",
        *texts("number"),
        *numbers("revision", "line"),
        *texts("their_number", "part_maker", "part_number", "name"),
        sa.PrimaryKeyConstraint("number", "revision", "line"),
        refers(["number", "revision"], revision_key),
        refers(["part_maker", "part_number"], PARTS),
    )
    states = ("draft", "approved", "sent", "answered", "part delivered", "delivered", "cancelled")
    of_order(
        "order_steps",
        one_of("state", "orderstate", *states),
        *texts("who"),
        *days("on_day"),
        *texts("note"),
    )


def _answered():
    of_order("order_replies", *numbers("revision"), *days("on_day"), *texts("who", "reference"))
    op.create_table(
        "reply_lines",
        *texts("number"),
        *numbers("line", "rank"),
        *texts("line_id"),
        *numbers("packs", empty=True),
        *scaled("pack_price", empty=True),
        *days("day", empty=True),
        *texts("substitute", "remark"),
        *texts("part_maker", "part_number", empty=True),
        sa.PrimaryKeyConstraint("number", "line", "rank"),
        refers(["number", "line"], ["order_replies.number", "order_replies.line"]),
        refers(["part_maker", "part_number"], PARTS),
    )
    of_order(
        "order_answers",
        *texts("line_id"),
        *numbers("reply"),
        one_of("word", "word", "accept", "refuse"),
        *texts("who"),
        *days("on_day"),
        *texts("reason"),
    )


def _came():
    delivery_key = ["deliveries.number", "deliveries.line"]
    of_order("deliveries", *days("on_day"), *texts("who", "their_note"))
    op.create_table(
        "delivery_lines",
        *texts("number"),
        *numbers("line", "rank"),
        *texts("line_id"),
        *numbers("good", "damaged", "wrong", "to_follow"),
        *texts("note"),
        one_of(
            "verdict", "verdict", "reuse", "rework", "renew", "wrong part", "recheck", empty=True
        ),
        sa.PrimaryKeyConstraint("number", "line", "rank"),
        refers(["number", "line"], delivery_key),
    )
    op.create_table(
        "delivery_readings",
        *texts("number"),
        *numbers("line", "rank"),
        *texts("line_id", "feature", "station", "direction", "text"),
        *scaled("value"),
        *texts("value_unit", "instrument", "who"),
        entered(),
        sa.PrimaryKeyConstraint("number", "line", "rank"),
        refers(["number", "line"], delivery_key),
    )
    of_order(
        "order_returns",
        *texts("line_id"),
        *numbers("pieces"),
        one_of("why", "why", "surplus", "sale or return", "damaged", "wrong"),
        *texts("who"),
        *days("on_day"),
        *texts("note"),
    )


def downgrade():
    for table in (
        "order_returns",
        "delivery_readings",
        "delivery_lines",
        "deliveries",
        "order_answers",
        "reply_lines",
        "order_replies",
        "order_steps",
        "order_held",
        "order_needs",
        "order_lines",
        "order_revisions",
        "orders",
        "order_counters",
    ):
        op.drop_table(table)
