"""What a supplier wrote on a reply that belongs to none of its lines; not kept of earlier ones."""

import sqlalchemy as sa
from alembic import op

revision = "0018"
down_revision = "0017"
branch_labels = None
depends_on = None


def upgrade():
    op.add_column(
        "order_replies", sa.Column("beside", sa.JSON(), nullable=False, server_default="[]")
    )


def downgrade():
    op.drop_column("order_replies", "beside")
