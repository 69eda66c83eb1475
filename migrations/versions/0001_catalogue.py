"""The catalogue: families by edition, parts, and what stands in a family's folder."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

BIG = sa.BigInteger().with_variant(sa.Integer(), "sqlite")


def number(name, **options):
    return sa.Column(name, BIG, **options)


def texts(*names, empty=False):
    return [sa.Column(name, sa.String(), nullable=empty) for name in names]


def numbers(*names, empty=False):
    return [sa.Column(name, BIG, autoincrement=False, nullable=empty) for name in names]


def ratios(*names, empty=False):
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
        "families",
        *texts("key"),
        sa.PrimaryKeyConstraint("key"),
    )
    op.create_table(
        "parts",
        *texts("part_maker", "part_number", "normal"),
        sa.PrimaryKeyConstraint("part_maker", "part_number"),
    )
    op.create_index("ix_parts_normal", "parts", ["normal"])
    op.create_table(
        "editions",
        number("id", primary_key=True),
        *texts("family", "edition", "content_hash"),
        *moments("loaded_at"),
        *texts("name", "maker", "years", "unit", "summary"),
        sa.UniqueConstraint("family", "edition"),
        refers(["family"], ["families.key"]),
    )
    op.create_table(
        "assemblies",
        *numbers("edition_id", "line"),
        *texts("key", "name"),
        *numbers("sequence"),
        *texts("stage", "caution"),
        sa.PrimaryKeyConstraint("edition_id", "line"),
        sa.UniqueConstraint("edition_id", "key"),
        refers(["edition_id"], ["editions.id"], cascade=True),
    )
    op.create_table(
        "catalogue_parts",
        *numbers("edition_id", "line"),
        *texts("part_maker", "part_number", "name", "kind", "vat", "note"),
        sa.PrimaryKeyConstraint("edition_id", "line"),
        sa.UniqueConstraint("edition_id", "part_maker", "part_number"),
        refers(["part_maker", "part_number"], ["parts.part_maker", "parts.part_number"]),
        refers(["edition_id"], ["editions.id"], cascade=True),
    )
    op.create_index(
        "ix_catalogue_parts_part_maker_part_number",
        "catalogue_parts",
        ["part_maker", "part_number"],
    )
    op.create_table(
        "labour",
        *numbers("edition_id", "line"),
        *texts("action", "of_sort", "of_key", "of_within"),
        *ratios("hours"),
        *texts("note"),
        sa.PrimaryKeyConstraint("edition_id", "line"),
        refers(["edition_id"], ["editions.id"], cascade=True),
    )
    op.create_table(
        "links",
        *numbers("edition_id", "line"),
        *texts("record"),
        one_of("kind", "linkkind", "superseded", "either way", "one way", "full set", "with work"),
        *texts("old_maker", "old_number"),
        *numbers("old_quantity"),
        *texts("new_maker", "new_number"),
        *numbers("new_quantity"),
        *lists("variants"),
        *numbers("first", "last", empty=True),
        *texts("with_grade"),
        *days("since", "until", empty=True),
        *texts("operation"),
        *marks("use_up"),
        *texts("note", "source"),
        sa.PrimaryKeyConstraint("edition_id", "line"),
        refers(["new_maker", "new_number"], ["parts.part_maker", "parts.part_number"]),
        refers(["edition_id"], ["editions.id"], cascade=True),
        refers(["old_maker", "old_number"], ["parts.part_maker", "parts.part_number"]),
        sa.CheckConstraint("old_quantity > 0 AND new_quantity > 0", name="quantities_above_none"),
    )
    op.create_index("ix_links_new_maker_new_number", "links", ["new_maker", "new_number"])
    op.create_index("ix_links_old_maker_old_number", "links", ["old_maker", "old_number"])
    op.create_table(
        "observations",
        *numbers("edition_id", "line"),
        *texts("key", "name"),
        *lists("grades", "kinds"),
        *texts("question"),
        sa.PrimaryKeyConstraint("edition_id", "line"),
        sa.UniqueConstraint("edition_id", "key"),
        refers(["edition_id"], ["editions.id"], cascade=True),
    )
    op.create_table(
        "set_items",
        *numbers("edition_id", "line"),
        *texts("set_maker", "set_number", "part_maker", "part_number"),
        *numbers("quantity"),
        sa.PrimaryKeyConstraint("edition_id", "line"),
        refers(["edition_id"], ["editions.id"], cascade=True),
        refers(["set_maker", "set_number"], ["parts.part_maker", "parts.part_number"]),
        refers(["part_maker", "part_number"], ["parts.part_maker", "parts.part_number"]),
        sa.CheckConstraint("quantity > 0", name="quantity_above_none"),
    )
    op.create_index(
        "ix_set_items_part_maker_part_number", "set_items", ["part_maker", "part_number"]
    )
    op.create_index("ix_set_items_set_maker_set_number", "set_items", ["set_maker", "set_number"])
    op.create_table(
        "size_tables",
        *numbers("edition_id", "line"),
        *texts("key", "name"),
        one_of("kind", "sizekind", "shaft", "bore"),
        *texts("unit"),
        *marks("together"),
        *figures("stock"),
        *texts("operation"),
        *figures(
            "housing_low",
            "housing_high",
            "clearance_low",
            "clearance_high",
            "clearance_limit",
            empty=True,
        ),
        *texts("finish_note", "source"),
        sa.PrimaryKeyConstraint("edition_id", "line"),
        sa.UniqueConstraint("edition_id", "key"),
        refers(["edition_id"], ["editions.id"], cascade=True),
    )
    op.create_table(
        "variants",
        *numbers("edition_id", "line"),
        *texts("key", "name", "prefix"),
        *numbers("first", "last"),
        *texts("years", "note"),
        sa.PrimaryKeyConstraint("edition_id", "line"),
        sa.UniqueConstraint("edition_id", "key"),
        refers(["edition_id"], ["editions.id"], cascade=True),
    )
    op.create_table(
        "consequences",
        *numbers("edition_id", "line"),
        *texts("key"),
        one_of(
            "if_so",
            "when",
            "stripped",
            "seen",
            "reuse",
            "rework",
            "renew",
            "wrong part",
            "operation",
        ),
        *texts("of_sort", "of_key", "of_within"),
        *texts("observation", empty=True),
        *texts("at_least"),
        one_of("demands", "then", "renew", "operation", "check", "advise"),
        *texts("to_sort", "to_key", "to_within", "operation", "because", "source"),
        one_of("weight", "weight", "needed", "advised", "optional"),
        *numbers("file_line"),
        sa.PrimaryKeyConstraint("edition_id", "line"),
        sa.UniqueConstraint("edition_id", "key"),
        refers(["edition_id"], ["editions.id"], cascade=True),
        refers(
            ["edition_id", "observation"],
            ["observations.edition_id", "observations.key"],
            cascade=True,
        ),
    )
    op.create_table(
        "grades",
        *numbers("edition_id", "line"),
        *texts("size_table", "key", "name"),
        *numbers("sequence"),
        *figures("step"),
        *figures(
            "finish_low",
            "finish_high",
            "worn",
            "wall_low",
            "wall_high",
            "lined_low",
            "lined_high",
            "clearance_low",
            "clearance_high",
            empty=True,
        ),
        *texts("half_step_of"),
        *figures("takes_up", empty=True),
        sa.PrimaryKeyConstraint("edition_id", "line"),
        sa.UniqueConstraint("edition_id", "size_table", "key"),
        refers(
            ["edition_id", "size_table"],
            ["size_tables.edition_id", "size_tables.key"],
            cascade=True,
        ),
        refers(["edition_id"], ["editions.id"], cascade=True),
    )
    op.create_table(
        "judgements",
        *numbers("edition_id", "line"),
        *texts("key", "observation", "at_least", "of_sort", "of_key", "of_within"),
        one_of("verdict", "verdict", "reuse", "rework", "renew", "wrong part", "recheck"),
        *texts("operation", "because", "source"),
        *numbers("file_line"),
        sa.PrimaryKeyConstraint("edition_id", "line"),
        sa.UniqueConstraint("edition_id", "key"),
        refers(
            ["edition_id", "observation"],
            ["observations.edition_id", "observations.key"],
            cascade=True,
        ),
        refers(["edition_id"], ["editions.id"], cascade=True),
    )
    op.create_table(
        "link_needs",
        *numbers("edition_id", "line", "rank"),
        *texts("part_maker", "part_number"),
        sa.PrimaryKeyConstraint("edition_id", "line", "rank"),
        refers(["part_maker", "part_number"], ["parts.part_maker", "parts.part_number"]),
        refers(["edition_id", "line"], ["links.edition_id", "links.line"], cascade=True),
    )
    op.create_table(
        "part_attributes",
        *numbers("edition_id", "line", "rank"),
        *texts("attribute", "value"),
        sa.PrimaryKeyConstraint("edition_id", "line", "rank"),
        refers(
            ["edition_id", "line"],
            ["catalogue_parts.edition_id", "catalogue_parts.line"],
            cascade=True,
        ),
    )
    op.create_index("ix_part_attributes_attribute_value", "part_attributes", ["attribute", "value"])
    op.create_table(
        "positions",
        *numbers("edition_id", "line"),
        *texts("key", "assembly"),
        *numbers("sequence"),
        *texts("name", "kind"),
        *numbers("quantity"),
        *lists("variants"),
        *marks("must_look"),
        *texts("sized_by", empty=True),
        *texts("matched", "caution", "note"),
        sa.PrimaryKeyConstraint("edition_id", "line"),
        sa.UniqueConstraint("edition_id", "key"),
        refers(["edition_id"], ["editions.id"], cascade=True),
        refers(
            ["edition_id", "sized_by"], ["size_tables.edition_id", "size_tables.key"], cascade=True
        ),
        refers(
            ["edition_id", "assembly"], ["assemblies.edition_id", "assemblies.key"], cascade=True
        ),
        sa.CheckConstraint("quantity >= 0", name="quantity_not_below_none"),
    )
    op.create_table(
        "features",
        *numbers("edition_id", "line"),
        *texts("key", "position", "name", "kind", "unit"),
        *figures("low", "high", "wear_low", "wear_high", "ovality", "taper", empty=True),
        *texts("size_table", empty=True),
        *lists("stations", "directions"),
        *texts("instrument"),
        one_of("if_out", "verdict", "reuse", "rework", "renew", "wrong part", "recheck"),
        *texts("operation", "source"),
        *marks("part_tells", "critical", "at_build"),
        *texts("scores", "goes_with", "note"),
        sa.PrimaryKeyConstraint("edition_id", "line"),
        sa.UniqueConstraint("edition_id", "key"),
        refers(["edition_id"], ["editions.id"], cascade=True),
        refers(["edition_id", "position"], ["positions.edition_id", "positions.key"], cascade=True),
        refers(
            ["edition_id", "size_table"],
            ["size_tables.edition_id", "size_tables.key"],
            cascade=True,
        ),
    )
    op.create_table(
        "fits",
        *numbers("edition_id", "line"),
        *texts("position", "part_maker", "part_number"),
        *lists("variants"),
        *numbers("first", "last", empty=True),
        *texts("grade"),
        *numbers("quantity", empty=True),
        *texts("note"),
        sa.PrimaryKeyConstraint("edition_id", "line"),
        refers(["part_maker", "part_number"], ["parts.part_maker", "parts.part_number"]),
        refers(["edition_id"], ["editions.id"], cascade=True),
        refers(["edition_id", "position"], ["positions.edition_id", "positions.key"], cascade=True),
    )
    op.create_index("ix_fits_edition_id_position", "fits", ["edition_id", "position"])
    op.create_index("ix_fits_part_maker_part_number", "fits", ["part_maker", "part_number"])


def downgrade():
    for table in (
        "fits",
        "features",
        "positions",
        "part_attributes",
        "link_needs",
        "judgements",
        "grades",
        "consequences",
        "variants",
        "size_tables",
        "set_items",
        "observations",
        "links",
        "labour",
        "catalogue_parts",
        "assemblies",
        "editions",
        "parts",
        "families",
    ):
        op.drop_table(table)
