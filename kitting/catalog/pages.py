"""A family's files as they stand: rows of texts and the reader's comments, neither understood.

What a person typed is kept as typed, comments in their places, so that a family can leave for
another program and come back.
"""

from __future__ import annotations

import csv
import io
import os
import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from kitting.catalog.columns import FAMILY_FILES
from kitting.catalog.files import read_family
from kitting.catalog.writing import family_rows
from kitting.errors import BadInput, Problem

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from pathlib import Path

    from kitting.catalog.family import Family

_BREAK = re.compile(r"\r\n|\r|\n")


@dataclass(frozen=True, slots=True)
class PageLine:
    """A row's cells in the order of its columns; or a comment, which begins with a hash."""

    cells: tuple[str, ...] = ()
    comment: str = ""


@dataclass(frozen=True, slots=True)
class Page:
    """One file: the comments above its heading, then its lines."""

    head: tuple[str, ...] = ()
    lines: tuple[PageLine, ...] = ()


@dataclass(frozen=True, slots=True)
class FamilyPages:
    """Every file of a family by its name, without the ending."""

    key: str
    pages: Mapping[str, Page]


def pages_of(family: Family) -> FamilyPages:
    """Return the pages that say what a family is; no comments."""
    rows = family_rows(family)
    return FamilyPages(
        family.key,
        {
            file: Page(lines=tuple(PageLine(tuple(cells)) for cells in rows[file]))
            for file in FAMILY_FILES
        },
    )


def read_pages(folder: Path) -> FamilyPages:
    """Return the pages of a family's folder, once it reads as a family.

    Raises:
        BadInput: it does not, with every problem of every file.
    """
    read_family(folder)
    return FamilyPages(
        folder.resolve().name,
        {file: _page(folder / f"{file}.csv", columns) for file, columns in FAMILY_FILES.items()},
    )


def write_pages(family: FamilyPages, folder: Path) -> tuple[Path, ...]:
    """Write every file of a family into `folder`; return the files.

    Each is written beside the old one first, and takes its place when all of them stand.

    Raises:
        BadInput: the folder cannot be written to; what was there stays.
    """
    written: list[tuple[Path, Path]] = []
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for file, page in family.pages.items():
            path = folder / f"{file}.csv"
            unfinished = path.with_name(f".{path.name}.part")
            written.append((unfinished, path))
            unfinished.write_text(_text(file, page), encoding="utf-8", newline="")
        for unfinished, path in written:
            os.replace(unfinished, path)
    except OSError as error:
        for unfinished, _ in written:
            if unfinished.is_file():
                unfinished.unlink()
        raise BadInput(
            Problem(str(folder), f"cannot be written ({error.strerror})", "choose another folder")
        ) from None
    return tuple(path for _, path in written)


def _page(path: Path, columns: Sequence[str]) -> Page:
    head: list[str] = []
    lines: list[PageLine] = []
    heading: list[str] = []
    for line in _BREAK.split(path.read_text(encoding="utf-8-sig")):
        if line.startswith("#") and heading:
            lines.append(PageLine(comment=line.strip()))
        elif line.startswith("#"):
            head.append(line.strip())
        elif line.strip(" \t,"):
            cells = [cell.strip() for cell in next(csv.reader([line]))]
            if heading:
                by_name = dict(zip(heading, cells, strict=False))
                lines.append(PageLine(tuple(by_name.get(column, "") for column in columns)))
            else:
                heading = [cell.lower() for cell in cells]
    return Page(tuple(head), tuple(lines))


def _text(file: str, page: Page) -> str:
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    text.writelines(f"{comment}\n" for comment in page.head)
    writer.writerow(FAMILY_FILES[file])
    before: PageLine | None = None
    for line in page.lines:
        if line.comment:
            # A comment opens a part of the file: an empty line before it, none within it.
            text.write(line.comment if before and before.comment else f"\n{line.comment}")
            text.write("\n")
        else:
            writer.writerow(line.cells)
        before = line
    return text.getvalue()
