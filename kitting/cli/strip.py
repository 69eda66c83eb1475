"""`kitting strip`: a blank sheet out, a filled sheet in, single findings, and what is there."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from kitting.catalog.nearest import nearest
from kitting.cli.answer import Answer, reads
from kitting.cli.opened import Day, today
from kitting.cli.out_file import out_file
from kitting.cli.screen import heading, paragraph, table
from kitting.errors import NotFound

if TYPE_CHECKING:
    from collections.abc import Mapping

    from kitting.catalog.family import Family
    from kitting.job.findings import Bench, Finding
    from kitting.job.strip import MergeResult, StripReport
    from kitting.measure import Quantity

EXPORTS = Path("exports")


@click.group()
def strip() -> None:
    """Strip sheets out and in; findings one by one; what the bench has said so far."""


@strip.command()
@click.argument("number", required=False)
@click.option("--family", "key", default="", help="A family's key, for a sheet without a job.")
@click.option("--variant", default="", help="The variant, with --family.")
@click.option("--to", "path", type=click.Path(path_type=Path), help="The file or folder.")
@click.option("--overwrite", is_flag=True, help="Write over a file that is there.")
def sheet(number: str | None, key: str, variant: str, path: Path | None, overwrite: bool) -> None:
    """Write a blank strip sheet for a job, or for a family and variant.

    \b
    Examples:
      kitting strip sheet 26-041
      kitting strip sheet --family corvane-650 --variant mark-2 --to blank.xlsx
    """
    from kitting.sheets.strip.sheet_out import write_strip_sheet
    from kitting.store import Database

    if (number is None) == (not key):
        raise click.UsageError("name a job, or a family with --family and --variant")
    with Database().read() as work:
        job = work.jobs.job(number) if number else None
        family = (
            work.catalogue.family(job.family, job.edition) if job else work.catalogue.family(key)
        )
    wanted = job.variant if job else variant
    if wanted not in family.variant_by_key:
        raise NotFound(f"variant of {family.name}", wanted, family.variant_by_key)
    name = f"{number or key}-strip-sheet.xlsx".replace("/", "-")
    file = out_file(path, EXPORTS / name)
    write_strip_sheet(family, wanted, file, job, overwrite=overwrite)
    click.echo(f"Blank strip sheet written: {file}")


@strip.command()
@click.argument("number")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--take", default="", help="Whose word holds where two people differ.")
@click.option("--only-look", is_flag=True, help="Say what it would change; store nothing.")
def load(number: str, file: Path, take: str, only_look: bool) -> None:
    """Read a filled strip sheet into a job: whole, or not at all.

    Every problem is named with its sheet and cell. Loading the same sheet twice changes nothing.
    Where it disagrees with what another person found, nothing is stored until you measure again
    or say whose word holds with --take NAME (or 'earlier', 'later').

    \b
    Example:
      kitting strip load 26-041 26-041-filled.xlsx
    """
    from kitting.sheets.strip.sheet_in import read_strip_sheet
    from kitting.store import Database

    with Database().work() as work:
        history = work.jobs.bench(number)
        family = work.catalogue.family(history.job.family, history.job.edition)
        report = read_strip_sheet(file, family, history.job)
        uncertainty = work.trade.trade(()).shop.uncertainty
        merged = _merged(history, report, family, take, uncertainty)
        if not only_look:
            work.jobs.add_findings(number, merged[1], merged[0].stripped)
            work.commit()
    _say_merged(merged[0], report, only_look=only_look)


def _merged(
    bench: Bench,
    report: StripReport,
    family: Family,
    take: str,
    uncertainty: Mapping[str, Quantity],
) -> tuple[MergeResult, tuple[Finding, ...]]:
    from kitting.job.strip import merge_findings

    merged = merge_findings(bench, report, family, take=take, uncertainty=uncertainty)
    fresh = merged.accepted().findings[len(bench.findings) :]
    return merged, fresh


def _say_merged(merged: MergeResult, report: StripReport, *, only_look: bool) -> None:
    for warning in report.warnings:
        click.echo(f"note: {warning}")
    if merged.changes_nothing:
        click.echo("Nothing new: the job has all of this already.")
        return
    would = "would add" if only_look else "added"
    stripped = f"; stripped: {', '.join(merged.stripped)}" if merged.stripped else ""
    said = f"{len(merged.added)} findings {would}, {len(merged.altered)} altered{stripped}."
    click.echo(paragraph(said))


@strip.command()
@click.argument("number")
@click.argument("position")
@click.argument("pieces", nargs=-1, required=True)
@click.option("--who", required=True, help="Who looked.")
@click.option("--when", "day", type=Day(), default=None, help="On which day [today].")
def add(number: str, position: str, pieces: tuple[str, ...], who: str, day: date | None) -> None:
    """Add what was found of one position, piece by piece.

    \b
    A piece is one of:
      'FEATURE STATION DIRECTION = FIGURE'    a reading
      'seen OBSERVATION=GRADE'      something seen, with a depth where measured
      'fitted NUMBER'  'fitted NAME=VALUE'   what was in it
      'sound'  'note WORDS'

    \b
    Example:
      kitting strip add 26-041 idler-spindle "outer 0 = 0.6237" \\
          --who "J. Marlowe"
    """
    from kitting.job.strip import StripReport
    from kitting.job.strip_words import finding_from_words
    from kitting.store import Database

    with Database().work() as work:
        bench = work.jobs.bench(number)
        family = work.catalogue.family(bench.job.family, bench.job.edition)
        finding, warnings = finding_from_words(
            family, position, pieces, who=who, when=day or today()
        )
        assembly = family.position_by_key[position].assembly
        report = StripReport((finding,), (assembly,), who, "", warnings)
        uncertainty = work.trade.trade(()).shop.uncertainty
        merged, fresh = _merged(bench, report, family, who, uncertainty)
        work.jobs.add_findings(number, fresh, merged.stripped)
        work.commit()
    _say_merged(merged, report, only_look=False)


@strip.command()
@click.argument("number")
@click.option("--assembly", default="", help="Only this assembly's findings.")
@click.option("--find", "words", default="", help="Only findings with this in any column.")
@click.option("--all", "history", is_flag=True, help="Also what was corrected since.")
@reads("job:StripShape")
def show(number: str, assembly: str, words: str, history: bool) -> Answer:
    """Show what the bench has said of a job.

    \b
    Example:
      kitting strip show 26-041 --assembly bottom-end
    """
    from kitting.store import Database

    with Database().read() as work:
        bench = work.jobs.bench_history(number) if history else work.jobs.bench(number)
        family = work.catalogue.family(bench.job.family, bench.job.edition)
    if assembly and assembly not in family.assembly_by_key:
        raise NotFound("assembly", assembly, nearest(assembly, family.assembly_by_key, 3))

    def shape() -> object:
        from kitting.cli.shapes.job import strip_shape

        return strip_shape(family, bench)

    return shape, lambda: _findings_text(family, bench, assembly, words)


def _findings_text(family: Family, bench: Bench, assembly: str, words: str) -> str:
    order = {p.key: at for at, p in enumerate(family.positions_on(bench.job.variant))}
    found = sorted(bench.findings, key=lambda finding: order.get(finding.position, 0))
    rows = [
        row
        for finding in found
        if assembly in {"", family.position_by_key[finding.position].assembly}
        and words.casefold() in " ".join(row := _row(family, finding)).casefold()
    ]
    stripped = ", ".join(family.assembly_by_key[key].name for key in bench.stripped) or "nothing"
    parts = [
        heading(f"Job {bench.job.number} · {family.name} · engine {bench.job.engine_number}"),
        paragraph(f"Stripped: {stripped}.", hang=2),
        table(("position", "found", "who"), rows) if rows else "No findings here.",
        f"{len(rows)} of {len(bench.findings)} findings.",
    ]
    return "\n\n".join(parts)


def _row(family: Family, finding: Finding) -> tuple[str, str, str]:
    said = []
    for key in dict.fromkeys(reading.feature for reading in finding.readings):
        texts = [reading.text for reading in finding.readings if reading.feature == key]
        said.append(f"{family.feature_by_key[key].name} {', '.join(texts)}")
    said += [f"{family.observation_by_key[s.observation].name}: {s.grade}" for s in finding.seen]
    if finding.fitted:
        measured = [f"{name} {value}" for name, value in (finding.fitted.attributes or {}).items()]
        said.append(f"fitted {' '.join(filter(None, (finding.fitted.number, *measured)))}")
    if finding.sound:
        said.append("sound")
    if finding.note:
        said.append(f"note: {finding.note}")
    return family.position_by_key[finding.position].name, "; ".join(said), finding.who
