"""A database with a measured job in it, made once and copied for each test that begins there."""

import shutil
from datetime import date
from importlib.resources import files
from pathlib import Path

from kitting.job.findings import Job
from kitting.sheets.strip.fill import fill_strip_sheet, read_entries
from kitting.sheets.strip.sheet_in import read_strip_sheet
from kitting.sheets.strip.sheet_out import write_strip_sheet
from kitting.store import Database

JOB = "26-041"


def make_measured(folder: Path, loaded: Path) -> Path:
    """Open the twin as a job and load the demo's strip sheet."""
    file = folder / "measured.sqlite"
    shutil.copy(loaded, file)
    database = Database(f"sqlite:///{file}")
    with database.work() as work:
        family = work.catalogue.family("corvane-650")
        job = Job(
            number=JOB,
            family=family.key,
            edition=family.edition,
            variant="mark-2",
            engine_number="CV23417",
            customer="R. Aldous",
            opened=date(2026, 11, 25),
        )
        work.jobs.open_job(job)
        write_strip_sheet(family, job.variant, folder / "blank.xlsx", job)
        entries = read_entries(Path(str(files("kitting") / "demo" / "first-look.csv")))
        fill_strip_sheet(folder / "blank.xlsx", entries, folder / "filled.xlsx")
        report = read_strip_sheet(folder / "filled.xlsx", family, job)
        work.jobs.add_findings(JOB, report.findings, report.stripped)
        work.commit()
    database.close()
    return file
