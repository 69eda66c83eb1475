"""The shop's own hours on a job, an assembly a row, only ever added to."""

import sqlalchemy as sa
from alembic import op

revision = "0012"
down_revision = "0011"
branch_labels = None
depends_on = None

BIG = sa.BigInteger().with_variant(sa.Integer(), "sqlite")


def upgrade():
    op.create_table(
        "hours_worked",
        sa.Column("job", sa.String(), nullable=False),
        sa.Column("line", BIG, autoincrement=False, nullable=False),
        sa.Column("assembly", sa.String(), nullable=False),
        sa.Column("hours", sa.BigInteger(), nullable=False),
        sa.Column("who", sa.String(), nullable=False),
        sa.Column("on_day", sa.Date(), nullable=False),
        sa.Column("note", sa.String(), nullable=False),
        sa.Column("entered_at", sa.DateTime(), nullable=False),
        sa.PrimaryKeyConstraint("job", "line"),
        sa.ForeignKeyConstraint(["job"], ["jobs.number"]),
        sa.CheckConstraint("hours <> 0", name="hours_are_some"),
    )


def downgrade():
    op.drop_table("hours_worked")
