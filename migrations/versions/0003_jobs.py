"""The jobs: what the bench said, overrides, and estimates as given."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None

BIG = sa.BigInteger().with_variant(sa.Integer(), "sqlite")


def texts(*names, empty=False):
    return [sa.Column(name, sa.String(), nullable=empty) for name in names]


def numbers(*names, empty=False):
    return [sa.Column(name, BIG, autoincrement=False, nullable=empty) for name in names]


def ratios(*names, empty=False):
    return [sa.Column(name, sa.BigInteger(), nullable=empty) for name in names]


def moneys(*names, empty=False):
    return [sa.Column(name, sa.BigInteger(), nullable=empty) for name in names]


def moments(*names, empty=False):
    return [sa.Column(name, sa.DateTime(), nullable=empty) for name in names]


def lists(*names, empty=False):
    return [sa.Column(name, sa.JSON(), nullable=empty) for name in names]


def marks(*names):
    return [sa.Column(name, sa.Boolean(), nullable=False) for name in names]


def days(*names, empty=False):
    return [sa.Column(name, sa.Date(), nullable=empty) for name in names]


def figures(*names, empty=False):
    """Each with its unit beside it; where both may be empty, only together."""
    made = []
    for name in names:
        unit = f"{name}_unit"
        made += [
            sa.Column(name, sa.BigInteger(), nullable=empty),
            sa.Column(unit, sa.String(), nullable=empty),
        ]
        if empty:
            rule = f"({name} IS NULL) = ({unit} IS NULL)"
            made.append(sa.CheckConstraint(rule, name=f"{name}_with_unit"))
    return made


def one_of(name, rule, *words):
    kind = sa.Enum(*words, name=rule, native_enum=False, create_constraint=True, length=20)
    return sa.Column(name, kind, nullable=False)


def refers(columns, to, cascade=False):
    return sa.ForeignKeyConstraint(columns, to, ondelete="CASCADE" if cascade else None)


def upgrade():
    op.create_table(
        "jobs",
        *texts("number"),
        *numbers("edition_id"),
        *texts("variant", "engine_number", "customer"),
        *days("opened"),
        *texts("note"),
        *moments("entered_at"),
        sa.PrimaryKeyConstraint("number"),
        refers(["edition_id"], ["editions.id"]),
    )
    op.create_index("ix_jobs_edition_id", "jobs", ["edition_id"])
    op.create_table(
        "estimates",
        *texts("job"),
        *numbers("revision"),
        *days("given"),
        *texts("currency", "who", "note"),
        *lists("warnings"),
        *moments("entered_at"),
        sa.PrimaryKeyConstraint("job", "revision"),
        refers(["job"], ["jobs.number"]),
    )
    op.create_table(
        "findings",
        *texts("job"),
        *numbers("line"),
        *texts("position"),
        *marks("sound"),
        *texts("fitted_number", empty=True),
        *texts("note", "who"),
        *days("on_day", empty=True),
        *texts("place"),
        *moments("entered_at"),
        sa.PrimaryKeyConstraint("job", "line"),
        refers(["job"], ["jobs.number"]),
    )
    op.create_index("ix_findings_job_position", "findings", ["job", "position"])
    op.create_table(
        "overrides",
        *texts("job"),
        *numbers("line"),
        *texts("position"),
        one_of("verdict", "verdict", "reuse", "rework", "renew", "wrong part", "recheck"),
        *texts("operation", "who", "reason"),
        *days("on_day"),
        *moments("entered_at"),
        sa.PrimaryKeyConstraint("job", "line"),
        refers(["job"], ["jobs.number"]),
    )
    op.create_table(
        "size_decisions",
        *texts("job"),
        *numbers("line"),
        *texts("size_table", "grade", "who", "reason"),
        *days("on_day"),
        *moments("entered_at"),
        sa.PrimaryKeyConstraint("job", "line"),
        refers(["job"], ["jobs.number"]),
    )
    op.create_table(
        "stripped",
        *texts("job"),
        *numbers("line"),
        *texts("assembly"),
        *moments("entered_at"),
        sa.PrimaryKeyConstraint("job", "line"),
        refers(["job"], ["jobs.number"]),
    )
    op.create_table(
        "estimate_lines",
        *texts("job"),
        *numbers("revision", "line"),
        *texts("kind", "stage", "kit_line", "text"),
        *texts("part_maker", "part_number", empty=True),
        *ratios("quantity"),
        *texts("unit", "supplier", "their_number"),
        *numbers("pack", "packs", empty=True),
        *moneys("pack_price", empty=True),
        *texts("currency"),
        *days("price_until", empty=True),
        *marks("lapsed"),
        *moneys("cost", "unit_net", "net", "worst_net"),
        *texts("vat"),
        *lists("flags", "because"),
        sa.PrimaryKeyConstraint("job", "revision", "line"),
        refers(["job", "revision"], ["estimates.job", "estimates.revision"]),
        refers(["part_maker", "part_number"], ["parts.part_maker", "parts.part_number"]),
    )
    op.create_table(
        "estimate_totals",
        *texts("job"),
        *numbers("revision", "line"),
        *texts("outcome", "vat"),
        *ratios("percent"),
        *moneys("net", "tax"),
        sa.PrimaryKeyConstraint("job", "revision", "line"),
        refers(["job", "revision"], ["estimates.job", "estimates.revision"]),
    )
    op.create_table(
        "fitted_attributes",
        *texts("job"),
        *numbers("line", "rank"),
        *texts("attribute", "value"),
        sa.PrimaryKeyConstraint("job", "line", "rank"),
        refers(["job", "line"], ["findings.job", "findings.line"]),
    )
    op.create_table(
        "readings",
        *texts("job"),
        *numbers("line", "rank"),
        *texts("feature", "station", "direction", "text"),
        *figures("value"),
        *texts("instrument"),
        *figures("uncertainty", empty=True),
        sa.PrimaryKeyConstraint("job", "line", "rank"),
        refers(["job", "line"], ["findings.job", "findings.line"]),
    )
    op.create_table(
        "seen",
        *texts("job"),
        *numbers("line", "rank"),
        *texts("observation", "grade"),
        *figures("amount", empty=True),
        sa.PrimaryKeyConstraint("job", "line", "rank"),
        refers(["job", "line"], ["findings.job", "findings.line"]),
    )


def downgrade():
    for table in (
        "seen",
        "readings",
        "fitted_attributes",
        "estimate_totals",
        "estimate_lines",
        "stripped",
        "size_decisions",
        "overrides",
        "findings",
        "estimates",
        "jobs",
    ):
        op.drop_table(table)
