"""What the pieces of an order line make of the kit line that they are for.

Rows from before make one for one, as they were counted then; where a part is bought for a number
that it serves in another quantity, the catalogue says so when it is counted.
"""

import sqlalchemy as sa
from alembic import op

revision = "0008"
down_revision = "0007"
branch_labels = None
depends_on = None

BIG = sa.BigInteger().with_variant(sa.Integer(), "sqlite")


def upgrade():
    for name in ("per", "makes"):
        op.add_column("order_needs", sa.Column(name, BIG, nullable=False, server_default="1"))
    op.add_column(
        "order_needs", sa.Column("goes_in", sa.JSON(), nullable=False, server_default="[]")
    )


def downgrade():
    for name in ("goes_in", "makes", "per"):
        op.drop_column("order_needs", name)
