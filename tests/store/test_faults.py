"""What a database refuses: one sentence each, on real databases."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import URL, event, text
from sqlalchemy.exc import DBAPIError

from kitting.catalog.family import Family
from kitting.errors import BadInput
from kitting.store.database import Database
from tests.conftest import PostgresServer
from tests.store.samples import JOB, NUTS, TRADE, WREN, with_job

HIDDEN = "mother's maiden name"


@contextmanager
def opened(url: str | URL, wait_seconds: int = 0) -> Iterator[Database]:
    database = Database(url, wait_seconds=wait_seconds)
    try:
        yield database
    finally:
        database.close()


def sentence_of(url: str | URL) -> str:
    """The one sentence that opening a database gives, after the database's own name."""
    with opened(url) as database, pytest.raises(BadInput) as refused, database.read():
        pass
    assert len(refused.value.problems) == 1
    assert HIDDEN not in str(refused.value)
    return str(refused.value)


def load(database: Database, family: Family = WREN) -> None:
    with database.work() as work:
        work.catalogue.load_family(family)


def add_nuts(database: Database) -> None:
    with database.work() as work:
        work.jobs.add_findings(JOB.number, [NUTS])


def test_a_file_that_is_no_database(tmp_path: Path) -> None:
    file = tmp_path / "notes.txt"
    file.write_text("Shells for the twin, ask Joan\n" * 40)
    assert sentence_of(f"sqlite:///{file}") == (
        f"database {file}: the file is no database; name another file, or move this one away"
    )


def test_a_file_in_a_folder_that_is_not_there(tmp_path: Path) -> None:
    file = tmp_path / "no-such-folder" / "kitting.sqlite"
    assert sentence_of(f"sqlite:///{file}") == (
        f"database {file}: the file cannot be opened; "
        "check that its folder exists and may be written to"
    )
    assert not file.parent.exists()


def test_a_damaged_file(sqlite_url: URL) -> None:
    file = Path(str(sqlite_url.database))
    whole = file.read_bytes()
    file.write_bytes(whole[:4096] + b"\x00" * 4096 * 3 + whole[4096 * 4 :])
    with opened(sqlite_url) as database, pytest.raises(BadInput) as refused:
        load(database)
    assert str(refused.value) == f"database {file}: the file is damaged; restore a backup"


def test_a_file_that_another_program_is_writing(sqlite_url: URL) -> None:
    with closing(sqlite3.connect(str(sqlite_url.database), isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        with opened(sqlite_url) as database, pytest.raises(BadInput) as refused:
            load(database)
    assert str(refused.value) == (
        f"database {sqlite_url.database}: it is busy with another program's work; "
        "try again in a moment"
    )


def test_a_reader_does_not_wait_for_a_writer(sqlite_url: URL) -> None:
    with closing(sqlite3.connect(str(sqlite_url.database), isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        with opened(sqlite_url) as database, database.read() as work:
            assert work.jobs.jobs() == ()


def test_a_full_disk_leaves_the_database_as_it_was(sqlite_url: URL) -> None:
    with opened(sqlite_url) as database:

        @event.listens_for(database.engine, "connect")
        def no_more_room(connection: Any, _record: Any) -> None:
            pages = connection.execute("PRAGMA page_count").fetchone()[0]
            connection.execute(f"PRAGMA max_page_count={pages}")

        with pytest.raises(BadInput) as refused:
            load(database, replace(WREN, summary="A long story. " * 9999))
        assert str(refused.value) == (
            f"database {sqlite_url.database}: the disk is full; make room; nothing was stored"
        )
        with database.read() as work:
            assert work.catalogue.families() == ()


def test_a_row_that_another_bench_holds_on_a_server(postgres_url: URL) -> None:
    with opened(postgres_url, wait_seconds=10) as theirs, opened(postgres_url) as ours:
        with_job(theirs)
        with theirs.work() as work:
            work.jobs.add_findings(JOB.number, [NUTS])
            with pytest.raises(BadInput, match="busy with another bench's work; try again"):
                add_nuts(ours)


def test_a_server_that_ends_the_connection(postgres_url: URL) -> None:
    with opened(postgres_url, wait_seconds=10) as database, pytest.raises(BadInput) as refused:
        load_while_the_server_stops(database)
    assert str(refused.value).endswith("the server is being stopped; try again when it runs")


def load_while_the_server_stops(database: Database) -> None:
    with database.work() as work:
        work.trade.load_trade(TRADE)
        end_all_connections(database.url)
        work.trade.load_trade(TRADE)


def end_all_connections(url: URL) -> None:
    with opened(url) as other, other.engine.connect() as connection:
        connection.execute(
            text(
                "SELECT pg_terminate_backend(pid) FROM pg_stat_activity "
                "WHERE pid <> pg_backend_pid() AND datname = current_database()"
            )
        )


def test_a_server_that_does_not_answer(tmp_path: Path) -> None:
    url = URL.create(
        "postgresql", "joan", HIDDEN, database="kitting", query={"host": str(tmp_path)}
    )
    sentence = sentence_of(url)
    assert sentence.startswith("database postgresql://joan:***@/kitting?host=")
    assert "it cannot be reached (" in sentence
    assert sentence.endswith(
        "check that the server runs and that user, password and host are right"
    )


def test_a_database_that_the_server_has_not(postgres_server: PostgresServer) -> None:
    sentence = sentence_of(postgres_server.address.set(database="attic"))
    assert 'database "attic" does not exist' in sentence


def test_a_wrong_password(postgres_server: PostgresServer, postgres_url: URL) -> None:
    postgres_server.run("CREATE ROLE joan LOGIN PASSWORD 'right'")
    file = Path(str(postgres_server.ask("SHOW hba_file")))
    usual = file.read_text()
    try:
        file.write_text(f"local all joan scram-sha-256\n{usual}")
        postgres_server.run("SELECT pg_reload_conf()")
        sentence = sentence_of(postgres_url.set(username="joan", password=HIDDEN))
    finally:
        file.write_text(usual)
        postgres_server.run("SELECT pg_reload_conf()", "DROP ROLE joan")
    assert 'password authentication failed for user "joan"' in sentence
    assert "user, password and host are right" in sentence


def test_a_user_without_rights(postgres_server: PostgresServer, postgres_url: URL) -> None:
    postgres_server.run("CREATE ROLE peter LOGIN")
    try:
        sentence = sentence_of(postgres_url.set(username="peter"))
    finally:
        postgres_server.run("DROP ROLE peter")
    assert sentence.endswith("this user may not do that; give the user rights to the tables")


@pytest.mark.parametrize("text", ["a null \0 in it", "half a character \ud83d"])
def test_a_text_that_cannot_be_stored_on_a_server(postgres_url: URL, text: str) -> None:
    with opened(postgres_url) as database, pytest.raises(BadInput) as refused:
        load(database, replace(WREN, summary=text))
    assert str(refused.value).endswith(
        "a text holds a character that cannot be stored; remove it from the text"
    )


def test_a_fault_of_our_own_is_not_taken_for_the_users(database: Database) -> None:
    with pytest.raises(DBAPIError), database.read(), database.engine.connect() as connection:
        connection.execute(text("SELECT nothing FROM nowhere"))
