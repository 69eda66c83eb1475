"""What came and is to be measured before it counts, and a named person's word on what is in doubt.

What had come before and was measured in part is to be measured now. What else had come stays as it
was counted then.
"""

import sqlalchemy as sa
from alembic import op

revision = "0009"
down_revision = "0008"
branch_labels = None
depends_on = None

BIG = sa.BigInteger().with_variant(sa.Integer(), "sqlite")

MEASURED_IN_PART = """
    UPDATE delivery_lines SET to_measure = true
    WHERE verdict IS NULL AND EXISTS (
        SELECT 1 FROM delivery_readings figures
        WHERE figures.number = delivery_lines.number
        AND figures.line = delivery_lines.line
        AND figures.line_id = delivery_lines.line_id
    )
"""


def upgrade():
    op.add_column(
        "delivery_lines",
        sa.Column("to_measure", sa.Boolean(), nullable=False, server_default=sa.false()),
    )
    op.execute(MEASURED_IN_PART)
    op.create_table(
        "delivery_words",
        sa.Column("number", sa.String(), nullable=False),
        sa.Column("line", BIG, autoincrement=False, nullable=False),
        sa.Column("line_id", sa.String(), nullable=False),
        sa.Column("delivery", BIG, nullable=False),
        sa.Column(
            "word",
            sa.Enum(
                "accept",
                "refuse",
                name="word",
                native_enum=False,
                create_constraint=True,
                length=20,
            ),
            nullable=False,
        ),
        sa.Column("who", sa.String(), nullable=False),
        sa.Column("on_day", sa.Date(), nullable=False),
        sa.Column("reason", sa.String(), nullable=False),
        sa.Column("entered_at", sa.DateTime(), nullable=False),
        sa.PrimaryKeyConstraint("number", "line"),
        sa.ForeignKeyConstraint(["number"], ["orders.number"]),
        sa.ForeignKeyConstraint(["number", "delivery"], ["deliveries.number", "deliveries.line"]),
    )


def downgrade():
    op.drop_table("delivery_words")
    op.drop_column("delivery_lines", "to_measure")
