"""The trade: the shop's terms, and suppliers' price lists with their history."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

BIG = sa.BigInteger().with_variant(sa.Integer(), "sqlite")


def number(name, **options):
    return sa.Column(name, BIG, **options)


def texts(*names, empty=False):
    return [sa.Column(name, sa.String(), nullable=empty) for name in names]


def numbers(*names, empty=False):
    return [sa.Column(name, BIG, autoincrement=False, nullable=empty) for name in names]


def ratios(*names, empty=False):
    return [sa.Column(name, sa.BigInteger(), nullable=empty) for name in names]


def moneys(*names, empty=False):
    return [sa.Column(name, sa.BigInteger(), nullable=empty) for name in names]


def moments(*names, empty=False):
    return [sa.Column(name, sa.DateTime(), nullable=empty) for name in names]


def days(*names, empty=False):
    return [sa.Column(name, sa.Date(), nullable=empty) for name in names]


def figures(*names, empty=False):
    """Each with its unit beside it; where both may be empty, only together."""
    made = []
    for name in names:
        unit = f"{name}_unit"
        made += [
            sa.Column(name, sa.BigInteger(), nullable=empty),
            sa.Column(unit, sa.String(), nullable=empty),
        ]
        if empty:
            rule = f"({name} IS NULL) = ({unit} IS NULL)"
            made.append(sa.CheckConstraint(rule, name=f"{name}_with_unit"))
    return made


def refers(columns, to, cascade=False):
    return sa.ForeignKeyConstraint(columns, to, ondelete="CASCADE" if cascade else None)


def upgrade():
    op.create_table(
        "suppliers",
        *texts("key"),
        sa.PrimaryKeyConstraint("key"),
    )
    op.create_table(
        "terms",
        number("id", primary_key=True),
        *texts("content_hash"),
        *moments("loaded_at"),
    )
    op.create_table(
        "exchange_rates",
        *numbers("terms_id", "line"),
        *texts("currency"),
        *ratios("worth"),
        *days("on_day"),
        sa.PrimaryKeyConstraint("terms_id", "line"),
        refers(["terms_id"], ["terms.id"], cascade=True),
        sa.CheckConstraint("worth > 0", name="worth_above_none"),
    )
    op.create_table(
        "instruments",
        *numbers("terms_id", "line"),
        *texts("instrument"),
        *figures("uncertainty"),
        sa.PrimaryKeyConstraint("terms_id", "line"),
        sa.UniqueConstraint("terms_id", "instrument"),
        refers(["terms_id"], ["terms.id"], cascade=True),
    )
    op.create_table(
        "makers",
        *numbers("terms_id", "line"),
        *texts("key", "name"),
        sa.PrimaryKeyConstraint("terms_id", "line"),
        sa.UniqueConstraint("terms_id", "key"),
        refers(["terms_id"], ["terms.id"], cascade=True),
    )
    op.create_table(
        "operations",
        *numbers("terms_id", "line"),
        *texts("key", "name", "instruction", "caution"),
        sa.PrimaryKeyConstraint("terms_id", "line"),
        sa.UniqueConstraint("terms_id", "key"),
        refers(["terms_id"], ["terms.id"], cascade=True),
    )
    op.create_table(
        "price_lists",
        number("id", primary_key=True),
        *texts("supplier", "origin", "content_hash"),
        *moments("loaded_at"),
        *moments("ended_at", empty=True),
        refers(["supplier"], ["suppliers.key"]),
    )
    op.create_index("ix_price_lists_supplier_ended_at", "price_lists", ["supplier", "ended_at"])
    op.create_table(
        "shop",
        *numbers("terms_id", "line"),
        *texts("name", "address", "currency"),
        *moneys("labour_rate"),
        *texts("labour_vat"),
        *ratios("work_markup", "parts_markup"),
        *texts("lean"),
        sa.PrimaryKeyConstraint("terms_id", "line"),
        refers(["terms_id"], ["terms.id"], cascade=True),
    )
    op.create_table(
        "supplier_terms",
        *numbers("terms_id", "line"),
        *texts("key", "name", "address", "currency"),
        *moneys("carriage"),
        *moneys("free_over", empty=True),
        *moneys("least_order"),
        *numbers("days"),
        *texts("note"),
        sa.PrimaryKeyConstraint("terms_id", "line"),
        sa.UniqueConstraint("terms_id", "key"),
        refers(["terms_id"], ["terms.id"], cascade=True),
        refers(["key"], ["suppliers.key"]),
    )
    op.create_table(
        "vat_rates",
        *numbers("terms_id", "line"),
        *texts("category"),
        *ratios("percent"),
        sa.PrimaryKeyConstraint("terms_id", "line"),
        sa.UniqueConstraint("terms_id", "category"),
        refers(["terms_id"], ["terms.id"], cascade=True),
    )
    op.create_table(
        "offers",
        *numbers("list_id", "line"),
        *texts("supplier", "their_number", "their_normal", "part_maker", "part_number"),
        *numbers("pack"),
        *moneys("price"),
        *texts("currency"),
        *days("valid_from", "valid_until"),
        *numbers("days"),
        *numbers("stock", empty=True),
        sa.PrimaryKeyConstraint("list_id", "line"),
        refers(["part_maker", "part_number"], ["parts.part_maker", "parts.part_number"]),
        refers(["list_id"], ["price_lists.id"], cascade=True),
        sa.CheckConstraint("pack > 0", name="pack_above_none"),
    )
    op.create_index("ix_offers_part_maker_part_number", "offers", ["part_maker", "part_number"])
    op.create_index("ix_offers_their_normal", "offers", ["their_normal"])
    op.create_table(
        "work_prices",
        *numbers("terms_id", "line"),
        *texts("machinist", "operation", "per"),
        *moneys("price"),
        *texts("currency"),
        *days("valid_from", "valid_until"),
        *numbers("days"),
        sa.PrimaryKeyConstraint("terms_id", "line"),
        refers(["terms_id", "operation"], ["operations.terms_id", "operations.key"], cascade=True),
        refers(["terms_id"], ["terms.id"], cascade=True),
    )
    op.create_table(
        "price_breaks",
        *numbers("list_id", "line", "rank", "packs"),
        *moneys("price"),
        sa.PrimaryKeyConstraint("list_id", "line", "rank"),
        refers(["list_id", "line"], ["offers.list_id", "offers.line"], cascade=True),
    )


def downgrade():
    for table in (
        "price_breaks",
        "work_prices",
        "offers",
        "vat_rates",
        "supplier_terms",
        "shop",
        "price_lists",
        "operations",
        "makers",
        "instruments",
        "exchange_rates",
        "terms",
        "suppliers",
    ):
        op.drop_table(table)
