"""Two benches reach for the last parts on the shelf at the same instant, on either database."""

import contextlib
import io
import json
import multiprocessing
import os
from concurrent.futures import ProcessPoolExecutor
from multiprocessing.synchronize import Barrier

from sqlalchemy import URL

from kitting.cli.main import guarded
from tests.journeys.test_several_benches import typed

JOBS = ("26-041", "26-042")
NUTS, ROUNDS = "WF BN516U", 5

WAITING: list[Barrier] = []


def ready(start: Barrier) -> None:
    """Keep what both benches wait at."""
    WAITING.append(start)


def prepared(url: str) -> str:
    """Two jobs that each need four nuts; returns the line's key."""
    typed(url, "catalog", "load")
    for at, job in enumerate(JOBS):
        engine = f"CV2341{7 + at}"
        typed(url, "job", "open", job, "--family", "corvane-650", "--engine", engine)
        typed(url, "strip", "add", job, "big-end-nuts-left", "note bent", "--who", "J.")
    kit = json.loads(typed(url, "kit", JOBS[0], "--json"))
    return next(
        str(line["line"]) for line in kit["lines"] if "big-end-nuts-left" in line["positions"]
    )


def takes(url: str, job: str, line: str) -> tuple[int, str]:
    """Wait for the other bench, then take; the exit status and what was said."""
    os.environ["KITTING_DATABASE"] = url
    out, err = io.StringIO(), io.StringIO()
    WAITING[0].wait(60)
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        status = guarded(["shelf", "take", job, line])
    return status, out.getvalue() + err.getvalue()


def test_the_last_parts_go_to_one_of_two_benches(database_url: URL) -> None:
    url = database_url.render_as_string(hide_password=False)
    processes = multiprocessing.get_context("spawn")
    start = processes.Barrier(2)
    with ProcessPoolExecutor(
        2, mp_context=processes, initializer=ready, initargs=(start,)
    ) as benches:
        line = benches.submit(prepared, url).result()
        for _ in range(ROUNDS):
            benches.submit(typed, url, "shelf", "in", NUTS, "4", "--where", "bin 9").result()
            told = list(benches.map(takes, [url] * 2, JOBS, [line] * 2))
            assert sorted(status for status, _ in told) == [0, 2], told
            lost = next(said for status, said in told if status == 2)
            assert "4 wanted, and none of it lies free" in lost
            winner = JOBS[[status for status, _ in told].index(0)]
            shelf = json.loads(benches.submit(typed, url, "shelf", "show", "--json").result())
            assert shelf["items"] == []
            assert [(each["job"], each["quantity"]) for each in shelf["taken"]] == [(winner, 4)]
            benches.submit(typed, url, "shelf", "give-back", winner, line).result()
            benches.submit(typed, url, "shelf", "out", NUTS, "4").result()
