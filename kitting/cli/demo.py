"""`kitting demo`: one invented job from a filled-in strip sheet to its workbooks.

It keeps a database of its own beside the workbooks, so that nothing of the user's is touched, and
walks the same functions as the commands do.
"""

from __future__ import annotations

from datetime import date
from importlib.resources import as_file, files
from pathlib import Path
from typing import TYPE_CHECKING

import click

from kitting.cli.screen import heading, paragraph, show
from kitting.errors import BadInput, Problem

if TYPE_CHECKING:
    from kitting.catalog.family import Family
    from kitting.job.findings import Bench, Job
    from kitting.job.path import JobPath
    from kitting.store import Database

# The day the demo plays on, so that its prices hold and its workbooks are the same each time.
DAY = date(2026, 11, 25)
NUMBER = "26-117"
FOLDER = Path("exports") / "demo"


@click.command()
@click.option(
    "--to",
    "folder",
    type=click.Path(path_type=Path, file_okay=False),
    default=FOLDER,
    show_default=True,
    help="The folder to write into.",
)
def demo(folder: Path) -> None:
    """Run the worked job: a touring twin that stood twenty winters, then ran one summer.

    It writes the strip sheet blank and filled, loads it, follows it to the kit and the prices, and
    writes every workbook. All of it is invented.

    \b
    Example:
      kitting demo --to exports/demo
    """
    from kitting.sheets.jobs.papers import write_papers
    from kitting.store import Database

    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        wrong = f"no folder can be made there ({error.strerror})"
        raise BadInput(Problem(str(folder), wrong, "choose another folder")) from None
    file = folder / "demo.sqlite"
    for old in folder.glob("demo.sqlite*"):
        old.unlink()
    database = Database(f"sqlite:///{file}")
    try:
        job = _open(database)
        blank, filled = _first_look(database, job, folder)
        first = _walk(database)
        _second_look(database)
        second = _walk(database)
    finally:
        database.close()
    written = write_papers(second, folder)
    show(*_page(first, second))
    show(
        heading("Written"),
        "\n".join(f"  {each}" for each in (blank, filled, *written)),
        paragraph(
            f"Look further, for example: KITTING_DATABASE=sqlite:///{file} kitting kit {NUMBER}"
        ),
        paragraph(
            "All of this is invented. In earnest: the maker's manual and a competent engineer come "
            "first; crack-test what rotates; used oil and old gaskets are hazardous."
        ),
    )


def _open(database: Database) -> Job:
    from kitting.catalog.files import read_family, read_trade
    from kitting.catalog.shipped import catalogue_folders, shipped_folder
    from kitting.job.findings import Job

    families, trades = catalogue_folders(shipped_folder())
    with database.work() as work:
        for place in families:
            work.catalogue.load_family(read_family(place))
        for place in trades:
            work.trade.load_trade(read_trade(place))
        twin = work.catalogue.family("corvane-650")
        job = Job(
            number=NUMBER,
            family=twin.key,
            edition=twin.edition,
            variant="mark-2",
            engine_number="CV23417",
            customer="R. Aldous",
            opened=DAY,
            note="Lost oil pressure when hot, then knocked",
        )
        work.jobs.open_job(job)
        work.commit()
    return job


def _first_look(database: Database, job: Job, folder: Path) -> tuple[Path, Path]:
    """Write the blank sheet, fill it as the bench did, and load it."""
    from kitting.sheets.strip.fill import fill_strip_sheet, read_entries
    from kitting.sheets.strip.sheet_in import read_strip_sheet
    from kitting.sheets.strip.sheet_out import write_strip_sheet

    blank = folder / f"{NUMBER}-strip-sheet-blank.xlsx"
    filled = folder / f"{NUMBER}-strip-sheet-filled.xlsx"
    with database.work() as work:
        family = work.catalogue.family(job.family, job.edition)
        write_strip_sheet(family, job.variant, blank, job, overwrite=True)
        with as_file(files("kitting") / "demo" / "first-look.csv") as entries:
            fill_strip_sheet(blank, read_entries(entries), filled)
        report = read_strip_sheet(filled, family, job)
        work.jobs.add_findings(job.number, report.findings, report.stripped)
        work.commit()
    return blank, filled


def _second_look(database: Database) -> None:
    """Answer what was left open, and let the owner decide what lies on its limit."""
    from kitting.catalog.model import Verdict
    from kitting.job.findings import Override
    from kitting.job.strip_words import finding_from_words

    said = {
        "timing-cover": ("sound", "note Bright mark where the nut rubbed, no depth to it"),
        "idler-spindle": ("inner 0 = 0.6237", "inner 90 = 0.6236", "outer 0 = 0.6237"),
    }
    with database.work() as work:
        bench = work.jobs.bench(NUMBER)
        family = work.catalogue.family(bench.job.family, bench.job.edition)
        findings = [
            finding_from_words(family, position, pieces, who="J. Marlowe", when=DAY)[0]
            for position, pieces in said.items()
        ]
        work.jobs.add_findings(NUMBER, findings)
        why = "stands on its limit; a valve costs less than a second strip"
        owner = Override("valve-exhaust-left", Verdict.RENEW, "", "K. Ferris", why, DAY)
        work.jobs.add_override(NUMBER, owner)
        work.commit()


def _walk(database: Database) -> JobPath:
    from kitting.job.path import walk

    with database.read() as work:
        bench: Bench = work.jobs.bench(NUMBER)
        family: Family = work.catalogue.family(bench.job.family, bench.job.edition)
        trade = work.trade.trade(part.number for part in family.parts)
    return walk(family, trade, bench, DAY)


def _page(first: JobPath, second: JobPath) -> list[str]:
    from kitting.cli.demo_page import demo_page

    return demo_page(first, second)
