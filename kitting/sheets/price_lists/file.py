"""Opening a price list: what the file really is, whatever it is called, and what is refused."""

from __future__ import annotations

import hashlib
import zipfile
from dataclasses import dataclass
from typing import TYPE_CHECKING

from kitting.errors import BadInput, Problem

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from kitting.sheets.price_lists.marks import Table

_MEGABYTE = 1_000_000
_MOST_UNPACKED = 2_500 * _MEGABYTE
_MOST_WORDS = 400 * _MEGABYTE  # a workbook's list of texts, which is held in memory
_MOST_TIMES = 200  # how many times its packed size a part may unpack to; text comes to a tenth
_LARGE = 20 * _MEGABYTE
_OLE = bytes.fromhex("d0cf11e0a1b11ae1")
_SAVE_AS = "open it in a spreadsheet program and save it as .xlsx or .csv"
_OTHERS = {
    b"%PDF": "a printed page (PDF)",
    b"\x89PNG": "a picture",
    b"\xff\xd8\xff": "a picture",
    b"GIF8": "a picture",
    b"\x1f\x8b": "a packed file",
    b"7z\xbc\xaf": "a packed file",
    b"Rar!": "a packed file",
    b"{\\rtf": "a letter (RTF)",
    b"SQLite format 3": "a database",
}
_SUFFIXES = {"text": {".csv", ".tsv", ".txt"}, "xlsx": {".xlsx"}, "ods": {".ods"}}
_NAMES = {"text": "a text file", "xlsx": "a workbook", "ods": "an OpenDocument sheet"}


@dataclass(frozen=True, slots=True)
class PriceListFile:
    """A file that can be read as a list: what it is, and what should be said of it."""

    path: Path
    kind: str
    note: str

    def tables(self) -> Iterator[Table]:
        """Yield its sheets, each to be read before the next."""
        if self.kind == "xlsx":
            from kitting.sheets.price_lists.book import read_book

            yield from read_book(self.path)
        elif self.kind == "ods":
            from kitting.sheets.price_lists.ods import read_ods

            yield from read_ods(self.path)
        else:
            from kitting.sheets.price_lists.text import read_text

            yield read_text(self.path)

    def content(self) -> str:
        """The SHA-256 of the file, as hexadecimal text."""
        with self.path.open("rb") as stream:
            return hashlib.file_digest(stream, "sha256").hexdigest()


def open_price_list(path: Path) -> PriceListFile:
    """Look into a file and say how it is to be read.

    Raises:
        BadInput: it cannot be read as a list, or must not be: a macro sheet, a file that unpacks
            without end, one protected by a password.
    """
    try:
        kind = _kind(path)
    except OSError as error:
        raise BadInput(
            Problem(path.name, f"the file cannot be read ({error.strerror})", "check its name")
        ) from None
    note = ""
    if path.suffix.lower() not in _SUFFIXES[kind]:
        name = path.suffix or "without an ending"
        note = f"{path.name} is named {name}, yet it is {_NAMES[kind]}; read as what it is"
    return PriceListFile(path, kind, note)


def _kind(path: Path) -> str:
    if path.is_dir():
        raise BadInput(Problem(path.name, "this is a folder", "name the list itself"))
    with path.open("rb") as stream:
        head = stream.read(64)
    if not head.strip(b"\x00\xef\xbb\xbf \r\n\t"):
        raise BadInput(Problem(path.name, "the file is empty", "give the list that was sent"))
    if head.startswith(_OLE):
        raise BadInput(Problem(path.name, *_of_ole(path)))
    for start, what in _OTHERS.items():
        if head.startswith(start):
            raise BadInput(Problem(path.name, f"this is {what}, not a list", _SAVE_AS))
    if not head.startswith(b"PK"):
        return "text"
    try:
        with zipfile.ZipFile(path) as packed:
            return _of_package(path, packed)
    except (zipfile.BadZipFile, NotImplementedError):
        raise BadInput(Problem(path.name, "the workbook is damaged", "ask for it again")) from None


def _of_ole(path: Path) -> tuple[str, str]:
    locked = "EncryptedPackage".encode("utf-16-le")
    with path.open("rb") as stream:
        before = b""
        while some := stream.read(_MEGABYTE):
            if locked in before + some:
                return "the workbook is protected by a password", "save a copy without it"
            before = some[-len(locked) :]
    return "this is an old-style workbook", _SAVE_AS


def _of_package(path: Path, packed: zipfile.ZipFile) -> str:
    names = {name.lower() for name in packed.namelist()}
    _refuse_endless(path, packed)
    if any("vbaproject" in n or "/macrosheets/" in n or n.startswith("basic/") for n in names):
        raise BadInput(
            Problem(
                path.name,
                "the workbook carries macros, which are never run here",
                "save it as a workbook without macros (.xlsx)",
            )
        )
    if "xl/workbook.xml" in names:
        return "xlsx"
    if "content.xml" in names and "mimetype" in names:
        if "META-INF/manifest.xml" in packed.namelist():
            manifest = packed.read("META-INF/manifest.xml")
            if b"encryption-data" in manifest:
                raise BadInput(
                    Problem(
                        path.name,
                        "the workbook is protected by a password",
                        "save a copy without it",
                    )
                )
        return "ods"
    raise BadInput(
        Problem(path.name, "this is a packed file but no workbook", "unpack it, name what is in it")
    )


def _refuse_endless(path: Path, packed: zipfile.ZipFile) -> None:
    parts = packed.infolist()
    unpacked = sum(part.file_size for part in parts)
    squeezed = any(
        part.file_size > _LARGE and part.file_size > _MOST_TIMES * part.compress_size
        for part in parts
    )
    words = sum(part.file_size for part in parts if "sharedstrings" in part.filename.lower())
    if unpacked > _MOST_UNPACKED or squeezed or words > _MOST_WORDS:
        raise BadInput(
            Problem(
                path.name,
                f"the workbook unpacks to {unpacked // _MEGABYTE} MB, far more than its size says",
                "ask for the list as .csv",
            )
        )
