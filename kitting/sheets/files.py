"""Workbook files: opened with care for what people hand in, saved whole or not at all."""

from __future__ import annotations

import os
import warnings
import zipfile
from pathlib import Path
from typing import TYPE_CHECKING

from kitting.errors import BadInput, Problem
from kitting.sheets.ods_book import is_ods, open_ods, wrong_with_ods

if TYPE_CHECKING:
    from collections.abc import Callable

    from openpyxl import Workbook

# A filled sheet is under 1 MB; far above that it is some other file, and opening it costs memory.
MOST_MEGABYTES = 25
MOST_MEGABYTES_UNPACKED = 250
_MEGABYTE = 1_000_000
_OLE = bytes.fromhex("d0cf11e0a1b11ae1")
_SAVE_AS = (
    "open it in the spreadsheet program, choose 'save as', take .xlsx or .ods as the kind of file, "
    "and give the new file"
)
_OTHER_KINDS = {
    ".xls": "an old-style workbook",
    ".csv": "plain text, without the sheet's keys",
    ".tsv": "plain text, without the sheet's keys",
    ".numbers": "another program's own format",
    ".pdf": "a printed page",
}


def open_workbook(path: Path, *, rich: bool = False) -> Workbook:
    """Return the workbook in `path` (.xlsx, .ods), with formulas as written.

    With `rich`, text of which only a part looks otherwise is openpyxl's rich text, part by part.

    Raises:
        BadInput: no such file, no workbook, protected by a password, open in a spreadsheet
            program, or far too large. The file is never changed.
    """
    import openpyxl

    _refuse(path, _wrong_with_file(path))
    _refuse(path, _wrong_with_content(path))
    try:
        if _is_ods(path):
            return open_ods(path, rich=rich)
        with path.open("rb") as stream, warnings.catch_warnings():
            # What other programs add to a workbook and openpyxl leaves out concerns nobody here.
            warnings.simplefilter("ignore")
            return openpyxl.load_workbook(stream, rich_text=rich)
    except OSError as error:
        raise BadInput(_unreadable(path, error)) from None
    except BadInput:
        raise
    except Exception as error:  # a damaged workbook fails in as many ways as it has parts
        raise BadInput(
            Problem(
                path.name,
                f"the workbook is damaged ({type(error).__name__})",
                "open it in a spreadsheet program, let it repair the file, and save it again",
            )
        ) from None


def save_workbook(book: Workbook, path: Path, *, replace: bool = False) -> None:
    """Save `book`, whole or not at all.

    Args:
        book: what to save.
        path: where to; its folder is made.
        replace: whether a file that is there may be written over.

    Raises:
        BadInput: the file is there already, is open elsewhere, or cannot be written.
    """
    _refuse_folder(path)
    if path.exists() and not replace:
        raise BadInput(
            Problem(
                path.name,
                "there is such a file already, perhaps filled in",
                "give another name, or move that file away",
            )
        )
    _save(book.save, path)


def save_bytes(content: bytes, path: Path) -> None:
    """Save a file that is no workbook over any that is there, whole or not at all.

    Raises:
        BadInput: the file cannot be written.
    """
    _save(lambda unfinished: unfinished.write_bytes(content), path)


def _save(write: Callable[[Path], object], path: Path) -> None:
    """Write beside the file first, and put it in its place when it is whole."""
    _refuse_folder(path)
    _refuse(path, _opened_elsewhere(path))
    unfinished = path.with_name(f".{path.name}.part")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        write(unfinished)
        os.replace(unfinished, path)
    except OSError as error:
        if unfinished.exists():
            unfinished.unlink()
        raise BadInput(
            Problem(path.name, f"cannot be written ({error.strerror})", "choose another folder")
        ) from None


def _refuse_folder(path: Path) -> None:
    if path.is_dir():
        raise BadInput(Problem(str(path), "this is a folder", "name the file to write in it"))


def _refuse(path: Path, problem: tuple[str, str] | None) -> None:
    if problem is not None:
        raise BadInput(Problem(path.name, *problem))


def _wrong_with_file(path: Path) -> tuple[str, str] | None:
    """What can be told without looking inside: wrong and right, or None."""
    if not path.exists():
        return "there is no such file", f"looked in {path.parent.resolve()}"
    if path.is_dir():
        return "this is a folder", "name the workbook itself"
    suffix = path.suffix.lower()
    if suffix in _OTHER_KINDS:
        return f"this is {_OTHER_KINDS[suffix]}, not a workbook that can be read", _SAVE_AS
    size = path.stat().st_size
    if size > MOST_MEGABYTES * _MEGABYTE:
        return (
            f"the file has {size // _MEGABYTE} MB; a filled sheet has less than 1",
            "remove pictures from it, or give the right file",
        )
    return _opened_elsewhere(path)


def _opened_elsewhere(path: Path) -> tuple[str, str] | None:
    for lock in (path.with_name(f"~${path.name}"), path.with_name(f".~lock.{path.name}#")):
        if lock.exists():
            return (
                "the workbook is open in a spreadsheet program",
                f"save and close it there first; if nobody has it open, delete '{lock.name}'",
            )
    return None


def _wrong_with_content(path: Path) -> tuple[str, str] | None:
    try:
        with path.open("rb") as stream:
            head = stream.read(len(_OLE))
            if head == _OLE:
                return _wrong_with_ole(head + stream.read())
        if not head:
            return "the file is empty", "give the workbook that was filled in"
        if not zipfile.is_zipfile(path):
            return "this is no workbook", "give the .xlsx file that was filled in"
        with zipfile.ZipFile(path) as packed:
            return _wrong_with_package(packed)
    except OSError as error:
        raise BadInput(_unreadable(path, error)) from None
    except zipfile.BadZipFile:
        return "the workbook is damaged", "fetch it again, or save it again where it was filled in"


def _is_ods(path: Path) -> bool:
    with zipfile.ZipFile(path) as packed:
        return is_ods(packed)


def _wrong_with_ole(content: bytes) -> tuple[str, str]:
    if "EncryptedPackage".encode("utf-16-le") in content:
        return "the workbook is protected by a password", "save a copy without the password"
    return "this is an old-style workbook", _SAVE_AS


def _wrong_with_package(packed: zipfile.ZipFile) -> tuple[str, str] | None:
    names = set(packed.namelist())
    if is_ods(packed):
        wrong = wrong_with_ods(packed)
        if wrong is not None:
            return wrong
    elif "[Content_Types].xml" not in names or not any(name.startswith("xl/") for name in names):
        return "this is a packed file but no workbook", "give the .xlsx file that was filled in"
    unpacked = sum(part.file_size for part in packed.infolist())
    if unpacked > MOST_MEGABYTES_UNPACKED * _MEGABYTE:
        return (
            f"the workbook unpacks to {unpacked // _MEGABYTE} MB, far more than a filled sheet",
            "give the right file, or clear the empty rows and pictures from it",
        )
    return None


def _unreadable(path: Path, error: OSError) -> Problem:
    return Problem(
        path.name, f"the file cannot be read ({error.strerror})", "look at its permissions"
    )
