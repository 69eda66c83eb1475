"""A price list's load killed outright, twenty times at moments by chance, on either database."""

import os
import random
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import URL, text

from kitting.store import Database
from tests.sheets.price_lists import csv_file

# A load into PostgreSQL takes twice as long; what is killed there is the same code.
KILLS = {"sqlite": 20, "postgresql": 6}
HOLDING = text(
    "SELECT their_number, price, pack, valid_from FROM offers JOIN price_lists ON list_id = id "
    "WHERE ended_at IS NULL AND price_lists.supplier = 'marlbeck' ORDER BY list_id, line"
)


def start(url: URL, *words: str) -> subprocess.Popen[bytes]:
    """A bench of its own that types one command."""
    return subprocess.Popen(
        [sys.executable, "-c", "from kitting.cli.main import run; run()", *words],
        env=os.environ | {"KITTING_DATABASE": url.render_as_string(hide_password=False)},
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )


def load(url: URL, file: Path) -> subprocess.Popen[bytes]:
    return start(url, "prices", "load", str(file), "--supplier", "marlbeck", "--confirm")


def offers(url: URL) -> list[Any]:
    """The offers that hold, read past the program; on SQLite the file is looked over too."""
    database = Database(url)
    try:
        with database.engine.connect() as connection:
            if database.is_sqlite:
                assert connection.exec_driver_sql("PRAGMA integrity_check").all() == [("ok",)]
            return [tuple(row) for row in connection.execute(HOLDING)]
    finally:
        database.close()


def test_a_load_killed_at_any_moment_leaves_the_list_before_whole(
    database_url: URL, tmp_path: Path
) -> None:
    assert start(database_url, "catalog", "load").wait() == 0
    rows = [[f"88-{at}", "C61-6151", f"{1 + at / 100:.2f}"] for at in range(6_000)]
    heads = ["Code", "Makers number", "Net"]
    lists = [
        csv_file(tmp_path / "usual.csv", [heads, *rows]),
        csv_file(tmp_path / "longer.csv", [heads, *rows, ["88-X", "C61-6151", "9.99"]]),
    ]
    begun = time.perf_counter()
    assert load(database_url, lists[0]).wait() == 0
    took = time.perf_counter() - begun
    before, killed, chance = offers(database_url), 0, random.Random(20)
    assert len(before) == len(rows)
    kills = KILLS[database_url.get_backend_name()]
    for _ in range(kills):
        running = load(database_url, lists[1])
        time.sleep(chance.uniform(0.2, 1) * took)
        running.send_signal(signal.SIGKILL)
        status = running.wait()
        found = offers(database_url)
        if status == 0 or len(found) != len(before):  # done before it was killed: now the old one
            assert len(found) in {len(rows), len(rows) + 1}
            before = found
            lists.reverse()
            took *= 0.9  # the machine is quicker now than when it was timed
        else:
            assert found == before
            killed += 1
    assert killed >= kills // 3
    assert load(database_url, lists[1]).wait() == 0
    assert len(offers(database_url)) != len(before)


def begun_by(process: int) -> list[int]:
    """The processes that a process has begun and that live."""
    try:
        return [*map(int, Path(f"/proc/{process}/task/{process}/children").read_text().split())]
    except OSError:
        return []


def until(what: Callable[[], object]) -> None:
    """Wait for something that comes soon."""
    end = time.monotonic() + 60
    while not what():
        assert time.monotonic() < end, "it did not come"
        time.sleep(0.01)


@pytest.mark.skipif((os.cpu_count() or 1) < 2, reason="on one core the load reads by itself")
def test_a_long_lists_reader_ends_with_the_load_that_was_killed(tmp_path: Path) -> None:
    url = URL.create("sqlite", database=str(tmp_path / "shop.sqlite"))
    assert start(url, "catalog", "load").wait() == 0
    rows = ([f"88-{at}", "C61-6151", "seal, long described", "1.50"] for at in range(150_000))
    heads, before = ["Code", "Makers number", "What", "Net"], offers(url)
    running = load(url, csv_file(tmp_path / "long.csv", [heads, *rows]))
    until(lambda: begun_by(running.pid) or running.poll() is not None)
    (reader,) = begun_by(running.pid)
    running.send_signal(signal.SIGKILL)
    running.wait()
    until(lambda: not Path(f"/proc/{reader}").exists())
    assert offers(url) == before
