"""`kitting catalog`: check the files, load them, show a family, find a part."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from kitting.catalog.nearest import nearest
from kitting.cli.answer import Answer, reads
from kitting.cli.screen import heading, paragraph, table
from kitting.errors import BadInput, NotFound

if TYPE_CHECKING:
    from kitting.catalog.check_notes import CheckReport
    from kitting.catalog.family import Family
    from kitting.store import KeptEdition


@click.group()
def catalog() -> None:
    """Check the catalogue's files, load them, show a family, find a part."""


_FOLDER = click.argument("folder", type=click.Path(path_type=Path, file_okay=False), required=False)


@catalog.command()
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


@catalog.command()
@_FOLDER
def load(folder: Path | None) -> None:
    """Load a catalogue whole, or not at all; loading it again changes nothing.

    Jobs that were opened under an older edition of a family keep it.

    \b
    Examples:
      kitting catalog load
      kitting catalog load my-catalogue/
    """
    from kitting.catalog.files import read_family, read_trade
    from kitting.catalog.shipped import catalogue_folders
    from kitting.store import Database

    root, report = _checked(folder)
    if report.faults:
        raise BadInput(report.faults)
    families, trades = catalogue_folders(root)
    said = []
    with Database().work() as work:
        for place in families:
            family = read_family(place)
            loaded = work.catalogue.load_family(family)
            state = "loaded" if loaded.changed else "there already, unchanged"
            said.append(f"{family.name}, edition {loaded.edition}: {state}")
        for place in trades:
            changed = work.trade.load_trade(read_trade(place))
            lists = ", ".join(changed.price_lists)
            state = (
                f"loaded (price lists: {lists or 'as before'})"
                if changed.changed
                else ("there already, unchanged")
            )
            said.append(f"Suppliers, prices and the shop's terms: {state}")
        work.commit()
    click.echo("\n".join(said))


@catalog.command()
@click.argument("family", required=False)
@click.option("--edition", default=None, help="Another edition than the latest.")
@click.option("--assembly", default="", help="Only this assembly's positions.")
@click.option("--find", "words", default="", help="Only positions with this in any column.")
@reads("catalog:ShownShape")
def show(family: str | None, edition: str | None, assembly: str, words: str) -> Answer:
    """Show a family: how much it describes, and its positions; without FAMILY, the families.

    \b
    Examples:
      kitting catalog show
      kitting catalog show corvane-650 --assembly bottom-end
    """
    from kitting.store import Database

    with Database().read() as work:
        kept = work.catalogue.families()
        found = work.catalogue.family(family, edition) if family else None

    def shape() -> object:
        from kitting.cli.shapes.catalog import EditionShape, ShownShape, family_shape

        editions = [EditionShape(k.family, k.name, k.edition, k.years, k.latest) for k in kept]
        return ShownShape(editions, family_shape(found) if found else None)

    if found is None:
        return shape, lambda: _families_text(kept)
    return shape, lambda: _family_text(found, assembly, words)


def _families_text(kept: tuple[KeptEdition, ...]) -> str:
    if not kept:
        return "No engine family is loaded yet: kitting catalog load"
    rows = [(k.family, k.name, k.edition, k.years, "latest" if k.latest else "") for k in kept]
    return table(("family", "name", "edition", "years", ""), rows)


def _family_text(family: Family, assembly: str, words: str) -> str:
    from kitting.cli.shapes.catalog import family_counts

    if assembly and assembly not in family.assembly_by_key:
        raise NotFound("assembly", assembly, nearest(assembly, family.assembly_by_key, 3))
    counts = ", ".join(f"{count} {name}" for name, count in family_counts(family).items())
    variants = [
        (v.key, v.name, f"{v.prefix}{v.first} to {v.prefix}{v.last}", v.years)
        for v in family.variants
    ]
    rows = [
        (p.key, p.name, p.kind, str(p.quantity), p.assembly)
        for p in family.positions
        if assembly in {"", p.assembly}
        and words.casefold() in f"{p.key} {p.name} {p.kind}".casefold()
    ]
    return "\n\n".join(
        (
            heading(f"{family.name} · edition {family.edition}"),
            paragraph(family.summary),
            paragraph(counts + "."),
            table(("variant", "name", "engine numbers", "years"), variants),
            table(("position", "name", "kind", "qty", "assembly"), rows, right="3"),
        )
    )


@catalog.command()
@click.argument("words", nargs=-1, required=True)
@click.option("--family", "key", default="", help="Only this family [all].")
@reads("catalog:FoundShape")
def find(words: tuple[str, ...], key: str) -> Answer:
    """Find parts: by number in any spelling, by words, or by attributes.

    A number that is not there is answered with near ones as a question; none is ever taken.

    \b
    Examples:
      kitting catalog find C61-1067
      kitting catalog find timing bush
      kitting catalog find seal 30x47x7
    """
    from kitting.cli.finding import find_answer

    return find_answer(" ".join(words), key)
