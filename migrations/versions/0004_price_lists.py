"""Suppliers' price lists: remembered columns, decided numbers, rows and links to look at."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None

BIG = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
PARTS = ["parts.part_maker", "parts.part_number"]


def texts(*names, empty=False):
    return [sa.Column(name, sa.String(), nullable=empty) for name in names]


def moments(*names, empty=False):
    return [sa.Column(name, sa.DateTime(), nullable=empty) for name in names]


def upgrade():
    op.create_table(
        "price_columns",
        *texts("supplier", "field", "heading"),
        sa.PrimaryKeyConstraint("supplier", "field"),
        sa.ForeignKeyConstraint(["supplier"], ["suppliers.key"]),
    )
    op.create_table(
        "supplier_numbers",
        *texts("supplier", "their_normal", "their_number"),
        *texts("part_maker", "part_number", empty=True),
        *texts("who", "why"),
        *moments("decided_at"),
        sa.PrimaryKeyConstraint("supplier", "their_normal"),
        sa.ForeignKeyConstraint(["supplier"], ["suppliers.key"]),
        sa.ForeignKeyConstraint(["part_maker", "part_number"], PARTS),
        sa.CheckConstraint("(part_maker IS NULL) = (part_number IS NULL)", name="whole_part"),
    )
    op.create_table(
        "price_strays",
        sa.Column("list_id", BIG, autoincrement=False, nullable=False),
        sa.Column("line", BIG, autoincrement=False, nullable=False),
        *texts("place", "number", "normal", "says", "why"),
        sa.PrimaryKeyConstraint("list_id", "line"),
        sa.ForeignKeyConstraint(["list_id"], ["price_lists.id"], ondelete="CASCADE"),
    )
    op.create_table(
        "link_proposals",
        sa.Column("id", BIG, primary_key=True),
        *texts("supplier", "origin", "place", "old_maker", "old_number", "new_said", "new_normal"),
        *texts("new_maker", "new_number", empty=True),
        sa.Column(
            "state",
            sa.Enum(
                "open",
                "accepted",
                "refused",
                name="proposalstate",
                native_enum=False,
                create_constraint=True,
                length=20,
            ),
            nullable=False,
        ),
        *texts("who", empty=True),
        *texts("why"),
        *moments("proposed_at"),
        *moments("decided_at", empty=True),
        sa.ForeignKeyConstraint(["supplier"], ["suppliers.key"]),
        sa.ForeignKeyConstraint(["old_maker", "old_number"], PARTS),
        sa.ForeignKeyConstraint(["new_maker", "new_number"], PARTS),
        sa.UniqueConstraint("supplier", "old_maker", "old_number", "new_normal"),
        sa.CheckConstraint("(state = 'open') = (who IS NULL)", name="decided_by_somebody"),
        sa.CheckConstraint(
            "state <> 'accepted' OR new_number IS NOT NULL", name="accepted_is_known"
        ),
    )
    for end in ("old", "new"):
        op.create_index(
            f"ix_link_proposals_{end}_maker_{end}_number",
            "link_proposals",
            [f"{end}_maker", f"{end}_number"],
        )


def downgrade():
    for table in ("link_proposals", "price_strays", "supplier_numbers", "price_columns"):
        op.drop_table(table)
