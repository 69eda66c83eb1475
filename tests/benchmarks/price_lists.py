"""How quickly a long price list is loaded, beside the bare driver writing the same rows.

The list is loaded by the command itself, in a process of its own, start-up and report included:
once as the supplier's first and once, with every third price changed, against the first. The floor
is `executemany` of the very rows that the load stored, in one transaction, by the standard
library's sqlite3: into the same table with its keys beside the same parts, and into a bare one.
"""

import csv
import os
import shutil
import sqlite3
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

from kitting.store.database import Database
from tests.store.samples import TRADE

Row = tuple[str, str, str, str]

ROWS = 1_000_000
_RUN = "import sys; from kitting.cli.main import guarded; sys.exit(guarded(sys.argv[1:]))"
_PEAK = "VmHWM"  # of a process; what the system counts for a child takes in its parent's
_LOOKED_EVERY = 0.25
_STEP = 7919  # a prime: parts are offered in another order than they are kept in


def measure(rows: int = ROWS) -> list[Row]:
    """Load a list of so many rows twice; returns (name, figure, unit, note) of each finding."""
    with tempfile.TemporaryDirectory(prefix="kitting-bench-") as folder:
        return list(_measured(Path(folder), rows))


def _measured(folder: Path, rows: int) -> Iterator[Row]:
    database = folder / "trade.sqlite"
    _with_parts(database, rows)
    empty = Path(shutil.copy(database, folder / "empty.sqlite"))
    first, second = (_write_list(folder / f"list-{turn}.csv", rows, turn) for turn in (1, 2))
    name = f"price list of {rows:,} rows"
    seconds, megabytes = _load(database, first)
    stored = _stored(database)
    keyed, bare = _floor(empty, stored, keyed=True), _floor(folder / "bare", stored, keyed=False)
    yield f"{name}, the first", f"{seconds:.1f}", "s", f"{len(stored):,} offers stored"
    yield "the driver alone, same table and keys", f"{keyed:.1f}", "s", "the floor"
    yield "the driver alone, no keys at all", f"{bare:.1f}", "s", "no table of ours can be this"
    yield "load / floor", f"{seconds / keyed:.2f}", "×", "to be at most 3"
    yield "load / no keys", f"{seconds / bare:.2f}", "×", ""
    yield "memory at most", f"{megabytes:.0f}", "MB", "to be under 500"
    seconds, megabytes = _load(database, second)
    again = _floor(empty, _stored(database), keyed=True, at=2)
    yield f"{name}, against the last", f"{seconds:.1f}", "s", "a third of its prices changed"
    yield "load / floor", f"{seconds / again:.2f}", "×", "the floor writes beside the first list"
    yield "memory at most", f"{megabytes:.0f}", "MB", ""


def _with_parts(file: Path, rows: int) -> None:
    database = Database(f"sqlite:///{file}")
    with database.work() as work:
        work.trade.load_trade(TRADE)
        work.commit()
    database.close()
    with closing(sqlite3.connect(file)) as connection, connection:
        connection.executemany(
            "INSERT INTO parts (part_maker, part_number, normal) VALUES (?, ?, ?)",
            ((f"mk{at % 40:02}", _number(at), _number(at).replace("-", "")) for at in range(rows)),
        )


def _number(at: int) -> str:
    return f"{'ABCDEFGH'[at % 8]}{at % 97:02}-{at:07}"


def _write_list(file: Path, rows: int, turn: int) -> Path:
    with file.open("w", newline="", encoding="utf-8") as stream:
        writer = csv.writer(stream)
        writer.writerow(("Part no", "Maker's number", "Description", "Pack", "Net price"))
        for line in range(rows):
            at = line * _STEP % rows
            pence = 100 + at % 9000 + (line % 3 == 0) * (turn - 1) * 7
            writer.writerow(
                (f"SU-{line:07}", _number(at), f"seal {at % 77} x {at % 31}", 1, pence / 100)
            )
    return file


def _load(database: Path, file: Path) -> tuple[float, float]:
    """Seconds and megabytes of a load by the command; of its processes the peaks are added up."""
    start = time.perf_counter()
    with subprocess.Popen(
        [sys.executable, "-c", _RUN, "prices", "load", str(file), "--supplier", "brook",
         "--confirm"],
        env=os.environ | {"KITTING_DATABASE": f"sqlite:///{database}"},
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        text=True,
    ) as ran:  # fmt: skip
        peaks: dict[int, int] = {}
        while ran.poll() is None:
            for process in (ran.pid, *_children(ran.pid)):
                peaks[process] = _peak(process) or peaks.get(process, 0)
            time.sleep(_LOOKED_EVERY)
        seconds = time.perf_counter() - start
        if ran.returncode:
            said = ran.stderr.read() if ran.stderr else ""
            raise RuntimeError(f"the load ended with {ran.returncode}: {said}")
    return seconds, sum(peaks.values()) / 1024


def _children(process: int) -> list[int]:
    try:
        return [*map(int, Path(f"/proc/{process}/task/{process}/children").read_text().split())]
    except OSError:
        return []


def _peak(process: int) -> int:
    """The greatest memory that a process ever had, in kB; 0 of one that is no more."""
    try:
        lines = Path(f"/proc/{process}/status").read_text().splitlines()
    except OSError:
        return 0
    return next((int(line.split()[1]) for line in lines if line.startswith(_PEAK)), 0)


def _stored(database: Path) -> list[tuple[object, ...]]:
    with closing(sqlite3.connect(database)) as connection:
        return connection.execute(
            "SELECT offers.* FROM offers JOIN price_lists ON id = list_id WHERE ended_at IS NULL "
            "AND origin <> '' ORDER BY line"
        ).fetchall()


def _floor(file: Path, rows: list[tuple[object, ...]], *, keyed: bool, at: int = 1) -> float:
    """Seconds that the bare driver takes for the same rows, set up as the program sets it up."""
    with closing(sqlite3.connect(file, isolation_level=None)) as connection:
        for setting in ("journal_mode=WAL", "synchronous=NORMAL", "cache_size=-64000"):
            connection.execute(f"PRAGMA {setting}")
        if keyed:
            connection.execute("PRAGMA foreign_keys=ON")
            list_id = 1000 + at
            connection.execute(
                "INSERT INTO price_lists VALUES (?, 'brook', 'floor', '', '2026-01-01', NULL)",
                (list_id,),
            )
            rows = [(list_id, *row[1:]) for row in rows]
        else:
            columns = ", ".join(f"c{at}" for at in range(len(rows[0])))
            connection.execute(f"CREATE TABLE offers ({columns})")
        insert = " ".join(("INSERT INTO offers VALUES (", ", ".join("?" * len(rows[0])), ")"))
        start = time.perf_counter()
        connection.execute("BEGIN IMMEDIATE")
        connection.executemany(insert, rows)
        connection.execute("COMMIT")
        return time.perf_counter() - start


if __name__ == "__main__":
    for row in measure(int(sys.argv[1]) if len(sys.argv) > 1 else ROWS):
        sys.stdout.write("  ".join(row) + "\n")
