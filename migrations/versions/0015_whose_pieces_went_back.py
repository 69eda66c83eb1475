"""For which job pieces were that went back: empty where that is not said, or they were for none.

What was kept until now stays without a job, and is taken from the last as before.
"""

import sqlalchemy as sa
from alembic import op

revision = "0015"
down_revision = "0014"
branch_labels = None
depends_on = None


def upgrade():
    op.add_column("order_returns", sa.Column("job", sa.String(), nullable=False, server_default=""))


def downgrade():
    with op.batch_alter_table("order_returns") as table:
        table.drop_column("job")
