"""The worked job: on the demo's catalogue, on a million parts beside it, its sheets, its memory."""

import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from datetime import date
from importlib.resources import as_file, files
from pathlib import Path

from kitting.catalog.files import read_family, read_trade
from kitting.catalog.shipped import catalogue_folders, shipped_folder
from kitting.cli.opened import path_within
from kitting.job.findings import Job
from kitting.sheets.jobs.papers import write_papers
from kitting.sheets.strip.fill import fill_strip_sheet, read_entries
from kitting.sheets.strip.sheet_in import read_strip_sheet
from kitting.sheets.strip.sheet_out import write_strip_sheet
from kitting.store.database import Database
from tests.benchmarks.rows import Row, least
from tests.benchmarks.trade import big_trade

_DAY = date(2026, 11, 25)
_TIMES = 7
_LEAST = f"the least of {_TIMES}"
_PEAK = """
import sys
from kitting.cli.main import guarded
status = guarded(sys.argv[1:])
lines = open("/proc/self/status").read().splitlines()
sys.stderr.write(next(line for line in lines if line.startswith("VmHWM")))
sys.exit(status)
"""


def rows(parts: int) -> Iterator[Row]:
    """Walk the job; nothing of it is kept."""
    with tempfile.TemporaryDirectory(prefix="kitting-benchmarks-") as name:
        folder = Path(name)
        demo = Database(f"sqlite:///{folder / 'demo.sqlite'}")
        _load(demo)
        big = big_trade(parts).database
        whole, walk = _walked(demo, folder)
        whole_big, walk_big = _walked(big, folder)
        yield Row("a job from loaded strip sheet to kit and estimate", walk / 1000, "s", 1, _LEAST)
        yield Row("the same with the filled sheet read first", whole / 1000, "s", None, _LEAST)
        note = f"{whole_big / 1000:.2f} s; without reading the sheet {walk_big / walk:.2f} ×"
        yield Row(f"the same job beside {parts:,} parts", whole_big / whole, "×", 1.5, note)
        yield Row("all its sheets", _sheets(demo, folder) / 1000, "s", 5, "the least of 3")
        demo.close()
        big.close()
        peak = _peak("demo", "--to", str(folder / "demo-papers"))
        yield Row("memory of the whole demo", peak, "MB", 200, "database, sheets and all")


def _load(database: Database) -> None:
    families, trades = catalogue_folders(shipped_folder())
    with database.work() as work:
        for place in families:
            work.catalogue.load_family(read_family(place))
        for place in trades:
            work.trade.load_trade(read_trade(place))
        work.commit()


def _job(database: Database) -> Job:
    with database.read() as work:
        twin = work.catalogue.family("corvane-650")
    return Job("26-117", twin.key, twin.edition, "mark-2", "CV23417", "R. Aldous", _DAY)


def _filled(database: Database, job: Job, folder: Path) -> Path:
    blank, filled = folder / "blank.xlsx", folder / "filled.xlsx"
    with database.read() as work:
        family = work.catalogue.family(job.family, job.edition)
    write_strip_sheet(family, job.variant, blank, job, overwrite=True)
    with as_file(files("kitting") / "demo" / "first-look.csv") as entries:
        fill_strip_sheet(blank, read_entries(entries), filled)
    return filled


def _walked(database: Database, folder: Path) -> tuple[float, float]:
    """The least milliseconds from the filled sheet, and from the findings as loaded."""
    job = _job(database)
    sheet = _filled(database, job, folder)

    def whole(_: int) -> None:
        with database.work() as work:
            work.jobs.open_job(job)
            family = work.catalogue.family(job.family, job.edition)
            report = read_strip_sheet(sheet, family, job)
            work.jobs.add_findings(job.number, report.findings, report.stripped)
            path_within(work, job.number, _DAY)

    taken = least(whole, 0, _TIMES)
    with database.work() as work:
        work.jobs.open_job(job)
        report = read_strip_sheet(sheet, work.catalogue.family(job.family, job.edition), job)
        work.jobs.add_findings(job.number, report.findings, report.stripped)
        walk = least(lambda _: path_within(work, job.number, _DAY), 0, _TIMES)
    return taken, walk


def _sheets(database: Database, folder: Path) -> float:
    job = _job(database)
    sheet = _filled(database, job, folder)
    with database.work() as work:
        work.jobs.open_job(job)
        report = read_strip_sheet(sheet, work.catalogue.family(job.family, job.edition), job)
        work.jobs.add_findings(job.number, report.findings, report.stripped)
        path = path_within(work, job.number, _DAY)
    return least(lambda name: write_papers(path, folder / name), "papers", 3)


def _peak(*arguments: str) -> float:
    """The most memory that a command took, in megabytes."""
    ran = subprocess.run(
        [sys.executable, "-c", _PEAK, *arguments],
        env=os.environ | {"COLUMNS": "80"},
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        text=True,
        check=True,
    )
    return int(ran.stderr.split("VmHWM:")[1].split()[0]) / 1024
