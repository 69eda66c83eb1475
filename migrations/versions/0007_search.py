"""Search rows: parts, attributes and words put so that finding reads an index."""

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None

BIG = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
PLAIN = sa.String().with_variant(sa.String(collation="C"), "postgresql")
KEYS = ["edition_id", "line"]

# The rows themselves are made by the program when it has brought the tables up to date.
WORD_INDEX = (
    """CREATE VIRTUAL TABLE search_index USING fts5(
        words, content='search_parts', content_rowid='id',
        detail='none', columnsize=0, tokenize='ascii')""",
    """CREATE TRIGGER search_parts_in AFTER INSERT ON search_parts BEGIN
        INSERT INTO search_index(rowid, words) VALUES (new.id, new.words); END""",
    """CREATE TRIGGER search_parts_out AFTER DELETE ON search_parts BEGIN
        INSERT INTO search_index(search_index, rowid, words)
        VALUES ('delete', old.id, old.words); END""",
)


def texts(*names):
    return [sa.Column(name, sa.String(), nullable=False) for name in names]


def numbers(*names, empty=False):
    return [sa.Column(name, BIG, autoincrement=False, nullable=empty) for name in names]


def upgrade():
    op.create_table(
        "search_parts",
        sa.Column("id", BIG, primary_key=True),
        *numbers("edition_id", "line"),
        *texts("part_maker", "part_number"),
        sa.Column("normal", PLAIN, nullable=False),
        sa.Column("reversed", PLAIN, nullable=False),
        *numbers("name_length"),
        *texts("words", "weights"),
        sa.UniqueConstraint("part_maker", "part_number"),
        sa.UniqueConstraint(*KEYS),
        sa.ForeignKeyConstraint(
            ["part_maker", "part_number"], ["parts.part_maker", "parts.part_number"]
        ),
        sa.ForeignKeyConstraint(
            KEYS, ["catalogue_parts.edition_id", "catalogue_parts.line"], ondelete="CASCADE"
        ),
    )
    for column in ("normal", "reversed"):
        op.create_index(f"ix_search_parts_{column}", "search_parts", [column])
    op.create_table(
        "search_attributes",
        *numbers(*KEYS),
        *texts("attribute", "said"),
        *numbers("own", "base", empty=True),
        sa.PrimaryKeyConstraint(*KEYS, "attribute"),
        sa.ForeignKeyConstraint(
            KEYS, ["search_parts.edition_id", "search_parts.line"], ondelete="CASCADE"
        ),
        sqlite_with_rowid=False,
    )
    for column in ("said", "own", "base"):
        op.create_index(
            f"ix_search_attributes_{column}_attribute", "search_attributes", [column, "attribute"]
        )
    op.create_table(
        "search_words",
        sa.Column("word", PLAIN, primary_key=True),
        sqlite_with_rowid=False,
    )
    if op.get_bind().dialect.name == "sqlite":
        for statement in WORD_INDEX:
            op.execute(statement)
    else:
        op.execute(
            "CREATE INDEX ix_search_parts_words ON search_parts "
            "USING gin (to_tsvector('simple'::regconfig, words::text))"
        )


def downgrade():
    if op.get_bind().dialect.name == "sqlite":
        op.execute("DROP TABLE search_index")
    for table in ("search_words", "search_attributes", "search_parts"):
        op.drop_table(table)
