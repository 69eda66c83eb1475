"""For which job and position pieces were that went back: empty where that is not said, or for none.

What was kept until now stays without, and is taken from the last as before.
"""

import sqlalchemy as sa
from alembic import op

revision = "0015"
down_revision = "0014"
branch_labels = None
depends_on = None

PLACE = ("job", "position")


def upgrade():
    for name in PLACE:
        column = sa.Column(name, sa.String(), nullable=False, server_default="")
        op.add_column("order_returns", column)


def downgrade():
    with op.batch_alter_table("order_returns") as table:
        for name in PLACE:
            table.drop_column(name)
