"""Search rows are made anew: figures as they are asked for, and what a part fits."""

import sqlalchemy as sa
from alembic import op

revision = "0011"
down_revision = "0010"
branch_labels = None
depends_on = None


def upgrade():
    # The rows themselves are made by the program when it has brought the tables up to date.
    for table in ("search_attributes", "search_parts", "search_words"):
        op.execute(sa.delete(sa.table(table)))


def downgrade():
    # An older program makes them in its own way once they are gone.
    upgrade()
