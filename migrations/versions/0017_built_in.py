"""What of the orders' lines an engine had in it as it was closed; not known of earlier ones."""

import sqlalchemy as sa
from alembic import op

revision = "0017"
down_revision = "0016"
branch_labels = None
depends_on = None

BIG = sa.BigInteger().with_variant(sa.Integer(), "sqlite")


def upgrade():
    op.create_table(
        "built_in",
        sa.Column("job", sa.String(), nullable=False),
        sa.Column("line", BIG, autoincrement=False, nullable=False),
        sa.Column("number", sa.String(), nullable=False),
        sa.Column("line_id", sa.String(), nullable=False),
        sa.Column("positions", sa.JSON(), nullable=False),
        sa.Column("pieces", BIG, nullable=False),
        sa.PrimaryKeyConstraint("job", "line"),
        sa.ForeignKeyConstraint(["job"], ["jobs.number"]),
        sa.ForeignKeyConstraint(["number"], ["orders.number"]),
    )
    op.create_index("ix_built_in_number", "built_in", ["number"])


def downgrade():
    op.drop_table("built_in")
