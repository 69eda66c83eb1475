"""Writing a blank strip sheet: a cover, a sheet an assembly, and the sizes to compare with."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.errors import BadInput, NotFound, Problem
from kitting.sheets import style
from kitting.sheets.files import save_workbook
from kitting.sheets.strip.draw import Lists, draw_blocks, head_sheet
from kitting.sheets.strip.draw_cover import Common, draw_cover, draw_sizes
from kitting.sheets.strip.keys import Role
from kitting.sheets.strip.layout import assemblies_on, assembly_blocks, choice_lists

if TYPE_CHECKING:
    from pathlib import Path

    from openpyxl import Workbook

    from kitting.catalog.family import Family
    from kitting.job.findings import Job


def write_strip_sheet(
    family: Family, variant: str, path: Path, job: Job | None = None, *, overwrite: bool = False
) -> None:
    """Write a blank strip sheet for a variant, with the job's numbers on it where there is one.

    Args:
        family: the edition of the family that the job is on.
        variant: the variant's key.
        path: where to; a file that is there is kept unless `overwrite` is said.
        job: the job that the sheet is for.
        overwrite: whether to write over a file that is there.

    Raises:
        NotFound: the family has no such variant.
        BadInput: the job is of another family, edition or variant, or the file cannot be written.
    """
    if variant not in family.variant_by_key:
        raise NotFound("variant", variant, family.variant_by_key)
    if job is not None and (job.family, job.edition, job.variant) != (
        family.key,
        family.edition,
        variant,
    ):
        raise BadInput(
            Problem(
                f"job {job.number}",
                f"it is on {job.family} {job.variant}, edition {job.edition}",
                f"not on {family.key} {variant}, edition {family.edition}",
            )
        )
    book = style.new_workbook()
    _fill_book(book, Common(family, family.variant_by_key[variant], job))
    save_workbook(book, path, replace=overwrite)


def _fill_book(book: Workbook, common: Common) -> None:
    family, variant = common.family, common.variant
    cover = book.worksheets[0]
    cover.title = "Cover"
    lists = Lists(choice_lists(family))
    list_sheet = book.create_sheet("Lists")
    lists.write(list_sheet)
    style.put_text(list_sheet["A1"], str(common.key(Role.LISTS)))
    contents = []
    assemblies = assemblies_on(family, variant)
    for at, assembly in enumerate(assemblies, start=1):
        sheet = book.create_sheet(style.sheet_title(assembly.name, book), index=at)
        blocks = assembly_blocks(family, variant, assembly)
        title = f"{at}  {assembly.name}"
        head_sheet(sheet, common.key(Role.ASSEMBLY, assembly.key), title, common.beside)
        draw_blocks(sheet, blocks, lists)
        contents.append((sheet.title, f"{at}  {assembly.name}: {len(blocks) - 1} places to look"))
    if family.size_tables:
        sizes = book.create_sheet(style.sheet_title("Sizes", book), index=len(assemblies) + 1)
        draw_sizes(sizes, common)
        contents.append((sizes.title, "Sizes: what each grade measures"))
    draw_cover(cover, common, contents)
    book.active = 0
