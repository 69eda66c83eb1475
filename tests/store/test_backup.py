"""Copies of the database that can be put back."""

from pathlib import Path

import pytest
from sqlalchemy import URL

from kitting.errors import BadInput
from kitting.store.backup import back_up
from kitting.store.database import Database
from tests.store.samples import CRANK, JOB, WREN, with_job


def test_a_copy_holds_everything_and_works_as_a_database(
    sqlite_database: Database, tmp_path: Path
) -> None:
    with_job(sqlite_database)
    copy = Database(f"sqlite:///{back_up(sqlite_database, tmp_path / 'friday.sqlite')}")
    with copy.read() as work:
        assert work.jobs.job(JOB.number) == JOB
        assert work.catalogue.family(WREN.key) == WREN
    copy.close()


def test_a_copy_made_while_a_bench_is_writing_holds_what_was_committed(
    sqlite_database: Database, tmp_path: Path
) -> None:
    with_job(sqlite_database)
    with sqlite_database.work() as work:
        work.jobs.add_findings(JOB.number, [CRANK])
        file = back_up(sqlite_database, tmp_path / "friday.sqlite")
        work.commit()
    copy = Database(f"sqlite:///{file}")
    with copy.read() as work:
        assert work.jobs.bench(JOB.number).findings == ()
    copy.close()


def test_an_earlier_copy_is_never_overwritten(sqlite_database: Database, tmp_path: Path) -> None:
    file = tmp_path / "friday.sqlite"
    file.write_text("last week's")
    with pytest.raises(BadInput) as refused:
        back_up(sqlite_database, file)
    assert str(refused.value) == f"{file}: this file is there already; name a new one"
    assert file.read_text() == "last week's"


def test_a_copy_that_cannot_be_written_leaves_nothing_behind(
    sqlite_database: Database, tmp_path: Path
) -> None:
    with pytest.raises(BadInput, match="the copy cannot be written"):
        back_up(sqlite_database, tmp_path / "no-such-folder" / "friday.sqlite")
    assert [file.name for file in tmp_path.iterdir() if "friday" in file.name] == []


def test_a_database_that_is_not_there_yet_is_not_copied(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="there is nothing to copy yet"):
        back_up(Database(f"sqlite:///{tmp_path / 'none.sqlite'}"), tmp_path / "copy.sqlite")


def test_a_server_is_backed_up_with_its_own_tools(tmp_path: Path) -> None:
    url = URL.create("postgresql", host="bench", database="kitting")
    with pytest.raises(
        BadInput, match=r"`pg_dump --format=custom .* put it back with `pg_restore`"
    ):
        back_up(Database(url), tmp_path / "friday.dump")
