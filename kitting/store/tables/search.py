"""Search rows: what the latest editions say of a part, put so that finding reads an index.

All of it follows from the catalogue's tables and is made anew when a family is loaded
(`kitting.store.search_rows`). The word index is each database's own: FTS5 on SQLite, kept by
triggers; an index over the same words on PostgreSQL.
"""

from typing import Any

from sqlalchemy import (
    Connection,
    ForeignKeyConstraint,
    Index,
    String,
    UniqueConstraint,
    event,
)
from sqlalchemy.orm import Mapped, mapped_column

from kitting.store.base import Base
from kitting.store.tables.parts import part_named

# Compared byte by byte, so that a beginning is a range of the index on every database.
PLAIN = String().with_variant(String(collation="C"), "postgresql")

WORD_INDEX = "search_index"
_ON_SQLITE = (
    """CREATE VIRTUAL TABLE search_index USING fts5(
        words, content='search_parts', content_rowid='id',
        detail='none', columnsize=0, tokenize='ascii')""",
    """CREATE TRIGGER search_parts_in AFTER INSERT ON search_parts BEGIN
        INSERT INTO search_index(rowid, words) VALUES (new.id, new.words); END""",
    """CREATE TRIGGER search_parts_out AFTER DELETE ON search_parts BEGIN
        INSERT INTO search_index(search_index, rowid, words)
        VALUES ('delete', old.id, old.words); END""",
)
_ON_POSTGRESQL = (
    """CREATE INDEX ix_search_parts_words ON search_parts
        USING gin (to_tsvector('simple'::regconfig, words::text))""",
)


class SearchPartRow(Base):
    """A part as the latest editions have it; where several families do, the last of them says.

    `words` are the terms of the word index, `weights` one figure for each of the first of them.
    """

    __tablename__ = "search_parts"
    __table_args__ = (
        UniqueConstraint("part_maker", "part_number"),
        UniqueConstraint("edition_id", "line"),
        part_named("part"),
        ForeignKeyConstraint(
            ["edition_id", "line"],
            ["catalogue_parts.edition_id", "catalogue_parts.line"],
            ondelete="CASCADE",
        ),
    )
    id: Mapped[int] = mapped_column(primary_key=True)
    edition_id: Mapped[int]
    line: Mapped[int]
    part_maker: Mapped[str]
    part_number: Mapped[str]
    normal: Mapped[str] = mapped_column(PLAIN, index=True)
    reversed: Mapped[str] = mapped_column(PLAIN, index=True)
    name_length: Mapped[int]
    words: Mapped[str]
    weights: Mapped[str]


class SearchAttributeRow(Base):
    """An attribute as compared: `said` tidied, and where it is a figure its whole millionths.

    `own` counts them in the unit that stands there, `base` in the base of its dimension.
    """

    __tablename__ = "search_attributes"
    __table_args__ = (
        ForeignKeyConstraint(
            ["edition_id", "line"],
            ["search_parts.edition_id", "search_parts.line"],
            ondelete="CASCADE",
        ),
        Index(None, "said", "attribute"),
        Index(None, "own", "attribute"),
        Index(None, "base", "attribute"),
        {"sqlite_with_rowid": False},  # so that its indexes hold the whole key
    )
    edition_id: Mapped[int] = mapped_column(primary_key=True)
    line: Mapped[int] = mapped_column(primary_key=True)
    attribute: Mapped[str] = mapped_column(primary_key=True)
    said: Mapped[str]
    own: Mapped[int | None]
    base: Mapped[int | None]


class SearchWordRow(Base):
    """A word that some part has and whose beginning will do."""

    __tablename__ = "search_words"
    __table_args__ = ({"sqlite_with_rowid": False},)
    word: Mapped[str] = mapped_column(PLAIN, primary_key=True)


@event.listens_for(SearchPartRow.__table__, "after_create")
def _make_word_index(_table: Any, connection: Connection, **_: Any) -> None:
    on_sqlite = connection.dialect.name == "sqlite"
    for statement in _ON_SQLITE if on_sqlite else _ON_POSTGRESQL:
        connection.exec_driver_sql(statement)


@event.listens_for(SearchPartRow.__table__, "after_drop")
def _drop_word_index(_table: Any, connection: Connection, **_: Any) -> None:
    if connection.dialect.name == "sqlite":
        connection.exec_driver_sql("DROP TABLE IF EXISTS search_index")
