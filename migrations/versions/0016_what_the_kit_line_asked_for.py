"""How many pieces the kit line of an order's need asked for in all: 0 where that was not kept."""

import sqlalchemy as sa
from alembic import op

revision = "0016"
down_revision = "0015"
branch_labels = None
depends_on = None

BIG = sa.BigInteger().with_variant(sa.Integer(), "sqlite")


def upgrade():
    column = sa.Column("whole", BIG, nullable=False, server_default="0")
    op.add_column("order_needs", column)


def downgrade():
    with op.batch_alter_table("order_needs") as table:
        table.drop_column("whole")
