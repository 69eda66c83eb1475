"""How many of what a supplier offers instead make how many of what was asked.

Replies from before are counted one for one, as they were then.
"""

import sqlalchemy as sa
from alembic import op

revision = "0013"
down_revision = "0012"
branch_labels = None
depends_on = None

BIG = sa.BigInteger().with_variant(sa.Integer(), "sqlite")


def upgrade():
    for name in ("per", "makes"):
        op.add_column("reply_lines", sa.Column(name, BIG, nullable=False, server_default="1"))


def downgrade():
    for name in ("makes", "per"):
        op.drop_column("reply_lines", name)
