"""What an offered part is by origin, with the offer and with the order line."""

from alembic import op

revision = "0010"
down_revision = "0009"
branch_labels = None
depends_on = None

TABLES = ("offers", "order_lines")


# A column's own check can be added and dropped with it in place, on either database, so that a
# million offers need not be written anew.
def upgrade():
    for table in TABLES:
        op.execute(
            f"ALTER TABLE {table} ADD COLUMN quality VARCHAR(20) DEFAULT '' NOT NULL "
            f"CONSTRAINT ck_{table}_quality CHECK "
            "(quality IN ('maker''s own', 'new old stock', 'pattern', 'used', ''))"
        )


def downgrade():
    for table in TABLES:
        op.execute(f"ALTER TABLE {table} DROP COLUMN quality")
