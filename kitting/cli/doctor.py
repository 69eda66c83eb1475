"""`kitting doctor`: database, migrations, catalogue, and what is missing."""

from __future__ import annotations

import shutil
from importlib.metadata import version
from pathlib import Path
from typing import TYPE_CHECKING

import click

from kitting.cli.answer import Answer, reads
from kitting.cli.screen import paragraph, table

if TYPE_CHECKING:
    from kitting.store import Health

EXPORTS = Path("exports")
# More families than this are counted.
_NAMED = 6


@click.command()
@click.option("--upgrade", is_flag=True, help="Bring the tables up to date first.")
@click.option("--backup", type=click.Path(path_type=Path), help="Keep a copy of the database here.")
@reads("doctor:DoctorShape")
def doctor(upgrade: bool, backup: Path | None) -> Answer:
    """Look at the database, its tables, the catalogue, and say what is missing.

    It changes nothing, unless asked to upgrade or to keep a copy.

    \b
    Examples:
      kitting doctor
      kitting doctor --backup kitting-2026-11.sqlite
    """
    from kitting.store import Database, back_up, examine

    database = Database()
    if upgrade:
        database.upgrade()
    if backup is not None:
        back_up(database, backup)
        click.echo(f"A copy is in {backup}.", err=True)
    health = examine(database)
    office = shutil.which("soffice") or shutil.which("libreoffice")

    def shape() -> object:
        from kitting.cli.shapes.catalog import problem_shapes
        from kitting.cli.shapes.doctor import DoctorShape

        return DoctorShape(
            fit=not health.problems,
            program=version("kitting"),
            database=health.place,
            kind=health.kind,
            reachable=health.reachable,
            tables_version=health.version,
            tables_wanted=health.wanted,
            families=[
                {"family": f.family, "edition": f.edition, "latest": "yes" if f.latest else "no"}
                for f in health.families
            ],
            trade_loaded=health.trade_loaded,
            jobs=health.jobs,
            spreadsheet_program=office,
            sheets_folder=str(EXPORTS.resolve()),
            problems=problem_shapes(health.problems),
        )

    return shape, lambda: _text(health, office)


def _text(health: Health, office: str | None) -> str:
    tables = health.version or "none yet"
    state = "current" if health.is_current else f"wanted {health.wanted}"
    rows = [
        ("program", f"kitting {version('kitting')}"),
        ("database", f"{health.place} ({health.kind})"),
        ("tables", f"version {tables}, {state}"),
        ("families", families_words(health)),
        ("prices", "loaded" if health.trade_loaded else "not loaded"),
        ("jobs", str(health.jobs)),
        ("sheets go to", str(EXPORTS.resolve())),
        ("spreadsheet", office or "no program found here; sheets can still be written"),
    ]
    lines = [paragraph(f"- {problem}", indent=2, hang=2) for problem in health.problems]
    verdict = "Nothing is missing." if not lines else "Missing or wrong:"
    return "\n\n".join((table(("what", "found"), rows), "\n".join((verdict, *lines))))


def families_words(health: Health) -> str:
    """The families with the edition in force of each; of many how many, and the first few."""
    named = [f"{each.family} {each.edition}" for each in health.families if each.latest]
    if len(named) <= _NAMED:
        return ", ".join(named) or "none"
    return f"{len(named):,}: {', '.join(named[:_NAMED])} and more (kitting catalog show)"
