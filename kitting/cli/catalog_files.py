"""`kitting catalog check` and `load`: the text files, checked and stored."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from kitting.cli.answer import Answer, reads
from kitting.errors import BadInput, Problems

if TYPE_CHECKING:
    from kitting.catalog.check_notes import CheckReport

_FOLDER = click.argument("folder", type=click.Path(path_type=Path, file_okay=False), required=False)


@click.command()
@_FOLDER
@reads("catalog:CheckShape")
def check(folder: Path | None) -> Answer:
    """Read every file and name each fault by file and line, all at once.

    FOLDER holds one folder an engine family and the folder 'trade', or is one family's own
    folder; without it, the catalogue that comes with the program. Exit status 2 when there are
    faults; warnings do not count.

    \b
    Example:
      kitting catalog check catalog
    """
    root, report = _checked(folder)

    def shape() -> object:
        from kitting.cli.shapes.catalog import CheckShape, problem_shapes

        return CheckShape(
            sound=not report.faults,
            folders=[str(root)],
            faults=problem_shapes(report.faults),
            warnings=problem_shapes(report.warnings),
        )

    if report.faults:
        click.get_current_context().call_on_close(_leave_with_faults)
    return shape, lambda: _report_text(root, report)


def _leave_with_faults() -> None:
    raise click.exceptions.Exit(2)


def _checked(folder: Path | None) -> tuple[Path, CheckReport]:
    from kitting.catalog.check import check_catalogue, check_family
    from kitting.catalog.files import read_family_with_sources
    from kitting.catalog.shipped import shipped_folder

    root = folder or shipped_folder()
    if (root / "family.csv").is_file():
        family, sources = read_family_with_sources(root)
        return root, check_family(family, sources)
    return root, check_catalogue(root)


def _report_text(root: Path, report: CheckReport) -> str:
    lines = [str(problem) for problem in report.faults]
    lines += [f"warning: {problem}" for problem in report.warnings]
    count = len(report.faults)
    verdict = "is sound" if not count else f"has {count} fault{'s' if count > 1 else ''}"
    also = f", {len(report.warnings)} warnings" if report.warnings else ""
    return "\n".join((*lines, f"{root} {verdict}{also}."))


@click.command()
@_FOLDER
def load(folder: Path | None) -> None:
    """Load a catalogue whole, or not at all; loading it again changes nothing.

    A new edition of a family comes into force; jobs that were opened under an older one keep it.
    An earlier edition that is loaded again stays an earlier one: see `kitting catalog put-back`.

    \b
    Examples:
      kitting catalog load
      kitting catalog load my-catalogue/
    """
    from kitting.catalog.files import read_family_with_sources, read_trade
    from kitting.catalog.shipped import catalogue_folders
    from kitting.cli.catalog_editions import loaded_words, trade_words
    from kitting.cli.circles_told import circles_told
    from kitting.store import Database

    root, report = _checked(folder)
    if report.faults:
        raise BadInput(report.faults)
    families, trades = catalogue_folders(root)
    said = []
    with Database().work() as work:
        fresh = {}
        for place in families:
            family, sources = read_family_with_sources(place)
            loaded = work.catalogue.load_family(family)
            if loaded.changed and loaded.in_force == loaded.edition:
                fresh[family.key] = (family, sources)
            state = loaded_words(loaded, family.key)
            said.append(f"{family.name}, edition {loaded.edition}: {state}")
        problems = Problems()
        for key, problem in circles_told(work, fresh):
            with problems.at(key):
                raise BadInput(problem)
        problems.raise_if_any()
        for place in trades:
            said += trade_words(work.trade.load_trade(read_trade(place)))
        work.commit()
    click.echo("\n".join(said))
