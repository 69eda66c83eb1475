"""Migrations: they agree with the tables, and going back and forth keeps data."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import URL, Engine, inspect, select, text

from kitting.errors import BadInput
from kitting.store import migrate
from kitting.store.database import SCHEMA, Database
from kitting.store.search_rows import rebuild
from kitting.store.tables import catalogue, metadata, parts, search, trade
from kitting.store.tables.search import WORD_INDEX
from tests.builders import number
from tests.buying.orders import a_line, an_order
from tests.catalog.in_memory import find_parts
from tests.store.samples import CRANK, ESTIMATE, JOB, OVERRIDE, TRADE, WREN, with_job

REVISIONS = [
    each.revision
    for each in reversed(list(ScriptDirectory.from_config(migrate.config()).walk_revisions()))
]

# What later migrations added to a table, and going back takes away again.
LATER_COLUMNS = {"offers": ("quality",)}


@pytest.fixture
def bare(bare_url: URL) -> Iterator[Database]:
    """A database without tables, on either kind in turn."""
    database = Database(bare_url)
    yield database
    database.close()


def fill(database: Database) -> None:
    """Put a row into nearly every table."""
    with_job(database)
    with database.work() as work:
        work.jobs.add_findings(JOB.number, [CRANK], ["bottom-end"])
        work.jobs.add_override(JOB.number, OVERRIDE)
        work.estimates.keep_estimate(ESTIMATE)
        work.commit()


def rows(engine: Engine, *modules: Any) -> dict[str, list[str]]:
    """Every row of the tables of some modules."""
    names = {
        mapped.__tablename__
        for module in modules
        for mapped in vars(module).values()
        if isinstance(mapped, type) and mapped.__module__ == module.__name__
        if hasattr(mapped, "__tablename__")
    }
    with engine.connect() as connection:
        return {
            name: sorted(map(repr, connection.execute(select(*_first_columns(name)))))
            for name in names
        }


def _first_columns(table: str) -> list[Any]:
    later = LATER_COLUMNS.get(table, ())
    return [column for column in metadata.tables[table].columns if column.name not in later]


def described(engine: Engine) -> dict[str, Any]:
    """All that the database itself says of its tables, names of constraints too."""
    found = inspect(engine)
    return {
        name: {
            "columns": sorted(
                (each["name"], str(each["type"]), each["nullable"])
                for each in found.get_columns(name)
            ),
            "key": found.get_pk_constraint(name),
            "references": sorted(map(str, found.get_foreign_keys(name))),
            "unique": sorted(map(str, found.get_unique_constraints(name))),
            "checks": sorted(map(str, found.get_check_constraints(name))),
            "indexes": sorted(str((each["name"], each["column_names"], each["unique"]))
                              for each in found.get_indexes(name)),
        }
        for name in found.get_table_names()
        if name != "alembic_version"
    }  # fmt: skip


def is_mapped(name: str | None, kind: str, _parents: Any) -> bool:
    """Whether the tables' classes can speak of it: the word index is each database's own."""
    return not (
        (kind == "table" and str(name).startswith(WORD_INDEX))
        or (kind == "index" and name == "ix_search_parts_words")
    )


def test_the_migrations_make_just_the_tables_that_the_program_maps(bare: Database) -> None:
    bare.upgrade()
    with bare.engine.connect() as connection:
        context = MigrationContext.configure(
            connection, opts={"compare_type": True, "include_name": is_mapped}
        )
        assert compare_metadata(context, metadata) == []
    migrated = described(bare.engine)
    migrate.downgrade(bare.engine, "base")
    assert described(bare.engine) == {}
    metadata.create_all(bare.engine)
    assert described(bare.engine) == migrated


def test_the_newest_migration_is_the_version_that_the_program_wants() -> None:
    assert migrate.newest() == SCHEMA == REVISIONS[-1]


def test_every_constraint_has_a_name() -> None:
    nameless = [
        (table.name, constraint)
        for table in metadata.tables.values()
        for constraint in table.constraints
        if constraint.name is None
    ]
    assert nameless == []


def test_up_down_and_up_again_keeps_all_data_of_the_earlier_tables(bare: Database) -> None:
    fill(bare)
    everything = rows(bare.engine, catalogue, parts, trade)
    migrate.downgrade(bare.engine, "0002")
    assert rows(bare.engine, catalogue, parts, trade) == everything
    migrate.upgrade(bare.engine)
    assert rows(bare.engine, catalogue, parts, trade) == everything

    of_catalogue = rows(bare.engine, catalogue, parts)
    migrate.downgrade(bare.engine, "0001")
    assert rows(bare.engine, catalogue, parts) == of_catalogue
    migrate.upgrade(bare.engine)
    assert rows(bare.engine, catalogue, parts) == of_catalogue
    with bare.read() as work:
        assert work.catalogue.family(WREN.key) == WREN


def test_a_database_that_had_a_catalogue_before_it_had_search_rows_finds_all_the_same(
    bare: Database,
) -> None:
    fill(bare)
    migrate.downgrade(bare.engine, "0006")
    bare.upgrade()
    with bare.read() as work:
        for query in ("w-110", "W11O", "shell 0.010", "springs", "undersize=0.01 in"):
            assert work.search.find(query) == find_parts(query, [WREN], TRADE), query


def test_an_order_from_before_its_pieces_were_counted_otherwise_counts_them_one_for_one(
    bare: Database,
) -> None:
    fill(bare)
    halves = a_line("hob:W320", 1, "3.20", quantity=1)
    (need,) = halves.needed_by
    counted = replace(
        need, stands_for=number("hob:W321"), per=2, makes=1, goes_in=("hob:W320", "hob:W310")
    )
    draft = an_order(replace(halves, needed_by=(counted,)), approved=False)
    with bare.work() as work:
        kept = work.orders.make_order(draft)
        work.commit()
    with bare.read() as work:
        assert work.orders.order(kept.number, 1) == kept
    migrate.downgrade(bare.engine, "0007")
    migrate.upgrade(bare.engine)
    with bare.read() as work:
        (line,) = work.orders.order(kept.number, 1).lines
    assert line.needed_by == (replace(need, stands_for=number("hob:W321")),)


def test_search_rows_of_older_terms_are_emptied_and_made_anew(bare: Database) -> None:
    fill(bare)
    migrate.downgrade(bare.engine, "0007")
    with bare.engine.begin() as connection:
        rebuild(connection)
    migrate.upgrade(bare.engine, "0011")
    assert set(map(len, rows(bare.engine, search).values())) == {0}
    migrate.upgrade(bare.engine)
    with bare.read() as work:
        for query in ("shell 10 thou", "shell for the Wren single", "w-110"):
            assert work.search.find(query) == find_parts(query, [WREN], TRADE), query


def test_after_up_down_and_up_the_database_works_as_before(bare: Database) -> None:
    fill(bare)
    migrate.downgrade(bare.engine, "0001")
    migrate.upgrade(bare.engine)
    with bare.work() as work:
        work.trade.load_trade(TRADE)
        work.jobs.open_job(JOB)
        work.commit()
    with bare.read() as work:
        assert (work.trade.trade(), work.jobs.job(JOB.number)) == (TRADE, JOB)


@pytest.mark.parametrize("revision", REVISIONS)
def test_each_revision_can_be_left_and_reached_again(bare: Database, revision: str) -> None:
    migrate.upgrade(bare.engine, revision)
    at_first = described(bare.engine)
    migrate.upgrade(bare.engine)
    migrate.downgrade(bare.engine, revision)
    assert bare.version() == revision
    assert described(bare.engine) == at_first


def test_a_database_without_tables_gets_them_at_its_first_use(bare: Database) -> None:
    assert bare.version() is None
    with bare.work() as work:
        work.catalogue.load_family(WREN)
        work.commit()
    assert bare.version() == SCHEMA


def test_a_file_with_older_tables_is_brought_up_to_date_and_a_copy_kept(tmp_path: Path) -> None:
    file = tmp_path / "shop.sqlite"
    database = Database(f"sqlite:///{file}")
    fill(database)
    migrate.downgrade(database.engine, "0002")
    database.close()

    newer = Database(f"sqlite:///{file}")
    with newer.read() as work:
        assert work.catalogue.family(WREN.key) == WREN
    newer.close()
    copy = Database(f"sqlite:///{tmp_path / 'shop-0002.sqlite'}")
    assert copy.version() == "0002"
    copy.close()


def test_a_server_with_older_tables_is_not_changed_unasked(postgres_url: URL) -> None:
    database = Database(postgres_url)
    migrate.downgrade(database.engine, "0002")
    with pytest.raises(BadInput) as refused, database.read():
        pass
    assert str(refused.value).endswith(
        f"its tables are of version 0002, this program needs {SCHEMA}; "
        "stop the other benches, then bring it up to date: `kitting doctor --upgrade`"
    )
    database.upgrade()
    with database.read() as work:
        assert work.jobs.jobs() == ()
    database.close()


def test_newer_tables_than_the_program_knows_are_refused(database: Database) -> None:
    with database.engine.begin() as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    for use in (database.prepare, database.upgrade):
        with pytest.raises(BadInput) as refused:
            use()
        assert str(refused.value).endswith(
            f"its tables are of version 9999, this program knows {SCHEMA}; use the newer program"
        )


def test_a_migration_that_fails_leaves_the_tables_as_they_were(bare: Database) -> None:
    migrate.upgrade(bare.engine, "0001")
    before = described(bare.engine)
    with bare.engine.begin() as connection:
        connection.execute(text("CREATE TABLE price_lists (in_the_way INTEGER)"))
    with pytest.raises(Exception, match="price_lists"):
        migrate.upgrade(bare.engine)
    with bare.engine.begin() as connection:
        connection.execute(text("DROP TABLE price_lists"))
    assert described(bare.engine) == before
    assert bare.version() == "0001"
    bare.upgrade()


def test_a_migration_that_would_leave_a_row_without_its_owner_is_undone(tmp_path: Path) -> None:
    database = Database(f"sqlite:///{tmp_path / 'shop.sqlite'}")
    with_job(database)
    with database.engine.connect() as connection:
        connection.connection.cursor().execute("PRAGMA foreign_keys=OFF")
        connection.execute(text("DELETE FROM suppliers WHERE key = 'brook'"))
        connection.commit()
    with pytest.raises(RuntimeError, match="left a row without its owner"):
        migrate.downgrade(database.engine, "0002")
    assert database.version() == SCHEMA
    database.close()


def test_foreign_keys_are_on_again_after_a_migration(tmp_path: Path) -> None:
    database = Database(f"sqlite:///{tmp_path / 'shop.sqlite'}")
    database.upgrade()
    with database.engine.connect() as connection:
        assert connection.exec_driver_sql("PRAGMA foreign_keys").scalar() == 1
    database.close()


def test_the_migrations_are_found_beside_the_sources() -> None:
    assert (migrate.scripts() / "versions").is_dir()
