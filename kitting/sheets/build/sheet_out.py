"""Writing a blank build sheet: a sheet an assembly in build order, the plan beside each box."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.errors import BadInput, Problem
from kitting.job.build import plan_build
from kitting.sheets import style
from kitting.sheets.build.layout import build_blocks
from kitting.sheets.files import save_workbook
from kitting.sheets.strip.draw import HEADINGS, Lists, draw_blocks, head_sheet
from kitting.sheets.strip.draw_cover import Common
from kitting.sheets.strip.keys import Column, Role
from kitting.sheets.strip.layout import INSTRUMENTS

if TYPE_CHECKING:
    from pathlib import Path

    from kitting.job.path import JobPath

_HEADINGS = {**HEADINGS, Column.LIMITS: "Plan"}


def write_build_sheet(path: JobPath, file: Path, *, overwrite: bool = False) -> int:
    """Write the build sheet of a job; returns how many features it asks for.

    Raises:
        BadInput: nothing is to be measured, or the file is there or cannot be written.
    """
    plan = plan_build(path)
    if not plan:
        raise BadInput(
            Problem(
                f"job {path.bench.job.number}",
                "nothing of it is to be measured at assembly: no assembly is stripped",
                "load its strip sheet first",
            )
        )
    family, job = path.family, path.bench.job
    common = Common(family, family.variant_by_key[job.variant], job)
    instruments = dict.fromkeys(each.feature.instrument for each in plan if each.feature.instrument)
    lists = Lists({INSTRUMENTS: tuple(instruments)})
    book = style.new_workbook()
    book.remove(book.worksheets[0])
    lists_sheet = book.create_sheet("Lists")
    lists.write(lists_sheet)
    style.put_text(lists_sheet["A1"], str(common.key(Role.LISTS)))
    for at, (assembly, blocks) in enumerate(build_blocks(plan, job).items()):
        sheet = book.create_sheet(style.sheet_title(assembly.name, book), index=at)
        title = f"Build {at + 1}  {assembly.name}"
        head_sheet(sheet, common.key(Role.BUILD, assembly.key), title, common.beside, _HEADINGS)
        draw_blocks(sheet, blocks, lists)
    book.active = 0
    save_workbook(book, file, replace=overwrite)
    return len(plan)
