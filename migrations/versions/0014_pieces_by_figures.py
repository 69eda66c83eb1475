"""How many pieces of a delivery's line their figures prove inside and outside their drawing.

Until now one verdict was kept for all pieces of a line. It is taken for each of them; the figures
are kept, so that measuring any of them again counts the pieces anew.
"""

import sqlalchemy as sa
from alembic import op

revision = "0014"
down_revision = "0013"
branch_labels = None
depends_on = None

BIG = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
COUNTED = {"inside": "reuse", "outside": "wrong part", "near": "recheck"}
LINES = sa.table(
    "delivery_lines",
    *(sa.column(name, BIG) for name in ("good", *COUNTED)),
    sa.column("verdict", sa.String()),
)


def upgrade():
    for name in COUNTED:
        op.add_column("delivery_lines", sa.Column(name, BIG, nullable=False, server_default="0"))
    for name, verdict in COUNTED.items():
        op.execute(LINES.update().where(LINES.c.verdict == verdict).values({name: LINES.c.good}))
    with op.batch_alter_table("delivery_lines") as table:
        table.drop_constraint(op.f("ck_delivery_lines_verdict"), type_="check")
        table.drop_column("verdict")


def downgrade():
    with op.batch_alter_table("delivery_lines") as table:
        table.add_column(sa.Column("verdict", sa.String(20)))
        table.create_check_constraint(
            op.f("ck_delivery_lines_verdict"),
            "verdict IN ('reuse', 'rework', 'renew', 'wrong part', 'recheck')",
        )
    for verdict, where in (
        ("reuse", sa.and_(LINES.c.inside > 0, LINES.c.inside == LINES.c.good)),
        ("recheck", LINES.c.near > 0),
        ("wrong part", LINES.c.outside > 0),
    ):
        op.execute(LINES.update().where(where).values(verdict=verdict))
    with op.batch_alter_table("delivery_lines") as table:
        for name in COUNTED:
            table.drop_column(name)
