"""The shelf, what is in hand, the build record, the customer's word line by line, closed jobs."""

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None

BIG = sa.BigInteger().with_variant(sa.Integer(), "sqlite")


def texts(*names, empty=False):
    return [sa.Column(name, sa.String(), nullable=empty) for name in names]


def numbers(*names, empty=False):
    return [sa.Column(name, BIG, autoincrement=False, nullable=empty) for name in names]


def counts(*names):
    return [sa.Column(name, BIG, nullable=False) for name in names]


def moneys(*names, empty=False):
    return [sa.Column(name, sa.BigInteger(), nullable=empty) for name in names]


def marks(*names):
    return [sa.Column(name, sa.Boolean(), nullable=False) for name in names]


def signed():
    return [
        *texts("who"),
        sa.Column("on_day", sa.Date(), nullable=False),
        sa.Column("entered_at", sa.DateTime(), nullable=False),
    ]


def one_of(name, rule, *words):
    kind = sa.Enum(*words, name=rule, native_enum=False, create_constraint=True, length=20)
    return sa.Column(name, kind, nullable=False)


def part():
    return sa.ForeignKeyConstraint(
        ["part_maker", "part_number"], ["parts.part_maker", "parts.part_number"]
    )


def of_job():
    return [
        *texts("job"),
        *numbers("line"),
        sa.PrimaryKeyConstraint("job", "line"),
        sa.ForeignKeyConstraint(["job"], ["jobs.number"]),
    ]


def upgrade():
    op.create_table(
        "shelf_lots",
        sa.Column("id", BIG, primary_key=True),
        *texts("part_maker", "part_number", "place"),
        *moneys("cost"),
        *counts("left_over"),
        sa.Column("entered_at", sa.DateTime(), nullable=False),
        part(),
        sa.CheckConstraint("left_over >= 0", name="never_below_none"),
    )
    op.create_index(
        "ix_shelf_lots_part_maker_part_number", "shelf_lots", ["part_maker", "part_number"]
    )
    op.create_table(
        "shelf_moves",
        sa.Column("id", BIG, primary_key=True),
        *counts("lot_id"),
        one_of("kind", "movekind", "in", "out", "counted", "taken", "given back"),
        *counts("change"),
        *texts("job", empty=True),
        *texts("position", "note"),
        *signed(),
        sa.ForeignKeyConstraint(["lot_id"], ["shelf_lots.id"]),
        sa.ForeignKeyConstraint(["job"], ["jobs.number"]),
    )
    op.create_index("ix_shelf_moves_lot_id", "shelf_moves", ["lot_id"])
    op.create_index("ix_shelf_moves_job", "shelf_moves", ["job"])
    op.create_table(
        "in_hand",
        *of_job(),
        *texts("position"),
        *texts("part_maker", "part_number", empty=True),
        *counts("quantity"),
        one_of("source", "source", "shelf", "delivery", "by hand"),
        *moneys("cost", empty=True),
        *texts("place"),
        *signed(),
        part(),
        sa.CheckConstraint("quantity <> 0", name="quantity_is_some"),
    )
    op.create_table(
        "works_back",
        *of_job(),
        *texts("operation"),
        *marks("back"),
        *moneys("cost", empty=True),
        *signed(),
    )
    op.create_table(
        "build_figures",
        *of_job(),
        *texts("feature", "station", "direction", "text"),
        sa.Column("value", sa.BigInteger(), nullable=False),
        *texts("value_unit", "instrument"),
        sa.Column("uncertainty", sa.BigInteger(), nullable=True),
        *texts("uncertainty_unit", empty=True),
        *texts("place"),
        *signed(),
        sa.CheckConstraint(
            "(uncertainty IS NULL) = (uncertainty_unit IS NULL)", name="uncertainty_with_unit"
        ),
    )
    op.create_table(
        "approvals",
        *of_job(),
        *counts("revision"),
        *texts("kit_line", "position", "operation", "what"),
        *marks("agreed"),
        *signed(),
    )
    op.create_table(
        "closings",
        *texts("job", "note"),
        *signed(),
        sa.PrimaryKeyConstraint("job"),
        sa.ForeignKeyConstraint(["job"], ["jobs.number"]),
    )


def downgrade():
    for table in (
        "closings",
        "approvals",
        "build_figures",
        "works_back",
        "in_hand",
        "shelf_moves",
        "shelf_lots",
    ):
        op.drop_table(table)
