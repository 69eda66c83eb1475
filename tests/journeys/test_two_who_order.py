"""Two people order for one job at the same instant, on a server: nothing is bought twice.

On a file the second waits for the first from its first look on; a server lets both look.
"""

import contextlib
import io
import json
import multiprocessing
import os
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

from sqlalchemy import URL

from kitting.cli.main import guarded
from kitting.store import Database
from tests.journeys.measured import JOB
from tests.journeys.shop import DAY
from tests.journeys.test_several_benches import typed
from tests.journeys.test_two_at_the_shelf import WAITING, ready

WHO = ("--who", "K. Ferris")


def prepared(url: str, filled: str) -> None:
    """The twin, measured, and ready to be ordered for."""
    typed(url, "catalog", "load")
    typed(url, "job", "open", JOB, "--family", "corvane-650", "--engine", "CV23417")
    typed(url, "strip", "load", JOB, filled)
    typed(url, "strip", "add", JOB, "timing-cover", "sound", *WHO)
    typed(url, "strip", "add", JOB, "idler-spindle", "outer 0 = .6237", *WHO)
    why = ("--reason", "on its limit")
    typed(url, "decide", "verdict", JOB, "valve-exhaust-left", "renew", *WHO, *why)


def drafted_once_more(url: str, number: str) -> str:
    """A second draft of the same, as an older program or a slip may have left one."""
    database = Database(url)
    with database.work() as work:
        made = work.orders.make_order(work.orders.record(number).order)
        work.commit()
    database.close()
    return made.number


def does(url: str, words: tuple[str, ...]) -> tuple[int, str]:
    """Wait for the other, then type; the exit status and what was said."""
    os.environ["KITTING_DATABASE"] = url
    out, err = io.StringIO(), io.StringIO()
    WAITING[0].wait(60)
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        status = guarded(list(words))
    return status, out.getvalue() + err.getvalue()


def test_what_two_draft_and_approve_at_once_is_bought_once(
    postgres_url: URL, measured_database: Path
) -> None:
    url = postgres_url.render_as_string(hide_password=False)
    processes = multiprocessing.get_context("spawn")
    start = processes.Barrier(2)
    with ProcessPoolExecutor(
        2, mp_context=processes, initializer=ready, initargs=(start,)
    ) as benches:
        filled = str(measured_database.with_name("filled.xlsx"))
        benches.submit(prepared, url, filled).result()
        make = ("order", "make", JOB, "--on", DAY)
        first, second = benches.map(does, [url] * 2, [make] * 2)
        assert (first[0], second[0]) == (0, 0), (first, second)
        assert ("unchanged" in first[1]) != ("unchanged" in second[1])
        listed = json.loads(benches.submit(typed, url, "order", "list", "--json").result())
        of = Counter(each["supplier"] for each in listed["orders"])
        assert set(of.values()) == {1}, of
        again = benches.submit(drafted_once_more, url, "P1001").result()
        words = [("order", "approve", each, *WHO, "--on", DAY) for each in ("P1001", again)]
        told = list(benches.map(does, [url] * 2, words))
        assert sorted(status for status, _ in told) == [0, 2], told
        lost = next(said for status, said in told if status == 2)
        assert "or they come already" in lost
