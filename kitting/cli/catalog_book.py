"""`kitting catalog export` and `import`: a family out to a workbook and back."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from kitting.errors import BadInput

if TYPE_CHECKING:
    from kitting.catalog.check_notes import CheckReport
    from kitting.catalog.pages import FamilyPages
    from kitting.sheets.families.book_in import FamilyBook


@click.command()
@click.argument("family")
@click.option(
    "--to",
    "path",
    type=click.Path(path_type=Path, dir_okay=False),
    required=True,
    help="The workbook to write.",
)
@click.option("--edition", default=None, help="Another edition than the one in force.")
@click.option("--overwrite", is_flag=True, help="Write over a file that is there.")
def export(family: str, path: Path, edition: str | None, overwrite: bool) -> None:
    """Write a family as a workbook that a person can edit in a spreadsheet.

    FAMILY is the key of a loaded family, or the folder of its text files; from a folder, the
    comments come too and every figure stays as it was typed; from the database 2.000 in comes as
    2 in, since it keeps the figure and not how it was written. A sheet a table, headings and notes
    in words, drop-downs for keys; every cell is text, so that 1/2-20 stays 1/2-20.

    \b
    Examples:
      kitting catalog export corvane-650 --to corvane.xlsx
      kitting catalog export catalog/corvane-650 --to corvane.xlsx
    """
    from kitting.sheets.families.book_out import write_family_book

    pages = _pages(family, edition)
    write_family_book(pages, path, overwrite=overwrite)
    rows = sum(1 for page in pages.pages.values() for line in page.lines if line.cells)
    click.echo(f"{pages.key}: {len(pages.pages)} sheets, {rows} rows, written to {path}.")


def _pages(family: str, edition: str | None) -> FamilyPages:
    from kitting.catalog.pages import pages_of, read_pages

    folder = Path(family)
    if (folder / "family.csv").is_file():
        return read_pages(folder)
    from kitting.store import Database

    with Database().read() as work:
        return pages_of(work.catalogue.family(family, edition))


@click.command("import")
@click.argument("file", type=click.Path(path_type=Path))
@click.option(
    "--to",
    "root",
    type=click.Path(path_type=Path, file_okay=False),
    default=None,
    help="Write text files into a folder of the family's key in this one.",
)
@click.option("--load", "also_load", is_flag=True, help="With --to: load it too.")
@click.option("--check-only", is_flag=True, help="Say what is wrong, and keep nothing.")
def import_book(file: Path, root: Path | None, also_load: bool, check_only: bool) -> None:
    """Take a family back from the workbook that `kitting catalog export` wrote.

    Every fault is named with its sheet and cell, all at once; then nothing is kept. Without
    options a sound family is loaded into the database. With --to it is written as text files, its
    comments in their places, and is loaded only with --load.

    \b
    Examples:
      kitting catalog import corvane.xlsx --check-only
      kitting catalog import corvane.xlsx
      kitting catalog import corvane.xlsx --to my-catalogue
    """
    from kitting.catalog.check import check_family
    from kitting.catalog.pages import write_pages
    from kitting.sheets.families.book_in import read_family_book

    book = read_family_book(file)
    report = check_family(book.family, book.sources)
    for warning in book.told(report.warnings):
        click.echo(f"warning: {warning}", err=True)
    if report.faults:
        raise BadInput(book.told(report.faults))
    said = [_sound(book, report)]
    if root is not None and not check_only:
        written = write_pages(book.pages, root / book.family.key)
        said.append(f"{len(written)} files written to {root / book.family.key}.")
    if (root is None or also_load) and not check_only:
        said.append(_load(book))
    click.echo("\n".join(said))


def _sound(book: FamilyBook, report: CheckReport) -> str:
    warnings = len(report.warnings)
    also = f", {warnings} warning{'s' if warnings > 1 else ''}" if warnings else ""
    return f"{book.family.name}, edition {book.family.edition}: sound{also}."


def _load(book: FamilyBook) -> str:
    from kitting.cli.catalog_editions import loaded_words
    from kitting.cli.circles_told import circles_told
    from kitting.store import Database

    with Database().work() as work:
        try:
            loaded = work.catalogue.load_family(book.family)
        except BadInput as error:
            raise BadInput(book.told(error.problems)) from None
        is_new = loaded.changed and loaded.in_force == loaded.edition
        fresh = {book.family.key: (book.family, book.sources)} if is_new else {}
        if circles := tuple(problem for _, problem in circles_told(work, fresh)):
            raise BadInput(book.told(circles))
        work.commit()
    words = loaded_words(loaded, book.family.key)
    return f"{words[0].upper()}{words[1:]}."
