"""What `kitting doctor` asks the store: is the database fit, and what is missing."""

from pathlib import Path

from sqlalchemy import text

from kitting.store import migrate
from kitting.store.database import SCHEMA, Database
from kitting.store.health import Health, examine
from tests.store.samples import WREN, with_job


def told(health: Health) -> list[str]:
    return [f"{problem.wrong}; {problem.right}" for problem in health.problems]


def test_a_database_with_everything_in_it_is_fit(database: Database) -> None:
    with_job(database)
    health = examine(database)
    assert health.problems == ()
    assert (health.reachable, health.is_current, health.version) == (True, True, SCHEMA)
    assert [(kept.family, kept.edition) for kept in health.families] == [(WREN.key, WREN.edition)]
    assert (health.trade_loaded, health.jobs) == (True, 1)


def test_an_empty_database_says_what_to_load(database: Database) -> None:
    assert told(examine(database)) == [
        "it holds no engine family; load it with `kitting catalog load`",
        "it holds no suppliers, prices and shop settings; load it with `kitting catalog load`",
    ]


def test_looking_creates_nothing(tmp_path: Path) -> None:
    database = Database(f"sqlite:///{tmp_path / 'kitting.sqlite'}")
    health = examine(database)
    assert told(health) == ["there is no database yet; it is made when first used"]
    assert not health.reachable
    assert list(tmp_path.iterdir()) == []


def test_older_tables_are_named_and_left_alone(database: Database) -> None:
    migrate.downgrade(database.engine, "0001")
    health = examine(database)
    assert (health.reachable, health.is_current, health.version) == (True, False, "0001")
    assert told(health) == [
        f"its tables are of version 0001, this program needs {SCHEMA}; "
        "stop the other benches, then bring it up to date: `kitting doctor --upgrade`"
    ]
    assert database.version() == "0001"


def test_a_database_without_tables_is_named(database: Database) -> None:
    migrate.downgrade(database.engine, "base")
    assert told(examine(database)) == ["it has no tables yet; they are made when it is first used"]


def test_a_file_that_is_no_database_is_named(tmp_path: Path) -> None:
    file = tmp_path / "kitting.sqlite"
    file.write_text("not a database, a shopping list\n" * 40)
    health = examine(Database(f"sqlite:///{file}"))
    assert not health.reachable
    assert told(health) == ["the file is no database; name another file, or move this one away"]


def test_rows_that_lost_their_owner_are_counted_by_table(sqlite_database: Database) -> None:
    with_job(sqlite_database)
    with sqlite_database.engine.connect() as connection:
        connection.connection.cursor().execute("PRAGMA foreign_keys=OFF")
        connection.execute(text("DELETE FROM suppliers WHERE key = 'brook'"))
        connection.commit()
    assert told(examine(sqlite_database)) == [
        "2 rows refer to nothing, in price_lists, supplier_terms; restore a backup"
    ]
