"""Two people put away or send back what no kit asks for, at the same instant.

It goes once, and what another job needs stays here.
"""

import contextlib
import io
import multiprocessing
import os
import time
from concurrent.futures import ProcessPoolExecutor

import pytest

from kitting.cli.from_order import take_from_order
from kitting.cli.main import guarded
from kitting.store.database import Database
from tests.store.samples import JOB
from tests.store.test_sought import BY, NUTS, delivered
from tests.store.test_wanted_no_more import close, come, ordered_for_two

AWAY = ("shelf", "in", str(NUTS), "4", "--where", "bin 4", "--from-order", "P1001")
BACK = ("order", "return", "P1001", "{line}", "4", "--why", "surplus", "--who", "K. Ferris")
WAITING = "select count(*) from pg_stat_activity where wait_event_type = 'Lock'"


def tried(url: str, *words: str) -> tuple[int, str]:
    """Type a command at a bench; the exit status and what was said."""
    os.environ["KITTING_DATABASE"] = url
    said = io.StringIO()
    with contextlib.redirect_stdout(said), contextlib.redirect_stderr(said):
        status = guarded(list(words))
    return status, said.getvalue()


def wait_until_another_waits(database: Database) -> None:
    """Until somebody waits for what is held here; a file does not say so, and is given a moment."""
    if database.is_sqlite:
        time.sleep(0.5)
        return
    patience = time.monotonic() + 60
    with database.engine.connect() as connection:
        while not connection.exec_driver_sql(WAITING).scalar():
            assert time.monotonic() < patience
            connection.rollback()
            time.sleep(0.02)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (AWAY, "brought 0 more than its jobs ask for, not 4"),
        (BACK, "4 of it cannot go back as surplus"),
    ],
    ids=["put away", "sent back"],
)
def test_who_comes_second_is_told_that_nothing_more_is_idle(
    database: Database, words: tuple[str, ...], told: str
) -> None:
    line = ordered_for_two(database)
    with database.work() as work:
        come(work, line, 8)
        close(work, "not built: sold")
        work.commit()
    assert delivered(database) == [4, 4]
    url = database.url.render_as_string(hide_password=False)
    typed = [word.format(line=line) for word in words]
    with ProcessPoolExecutor(1, mp_context=multiprocessing.get_context("spawn")) as other:
        other.submit(tried, url, "order", "show", "P1001").result()
        with database.work() as work:
            take_from_order(work, "P1001", NUTS, 4, BY, "bin 4")
            second = other.submit(tried, url, *typed)
            wait_until_another_waits(database)
            work.commit()
        status, said = second.result()
    assert (status, told in " ".join(said.split())) == (2, True), said
    assert delivered(database) == [0, 4]
    with database.read() as work:
        gone = work.orders.record("P1001").returns
    assert [(each.job, each.pieces) for each in gone] == [(JOB.number, 4)]
