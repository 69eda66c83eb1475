"""A comma-separated text file as rows with their line numbers; nothing is understood yet."""

import csv
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from kitting.catalog.columns import MAY_BE_LEFT_OUT
from kitting.catalog.nearest import did_you_mean
from kitting.errors import Problems

LARGEST_BYTES = 32 * 1024 * 1024
_UTF16 = (b"\xff\xfe", b"\xfe\xff")
_NOT_TEXT = (b"PK\x03\x04", b"\xd0\xcf\x11\xe0", b"%PDF")


@dataclass(frozen=True, slots=True)
class RawRow:
    """One row as it stands in the file: where, and its cells by column, trimmed."""

    file: str
    line: int
    cells: dict[str, str]

    @property
    def place(self) -> str:
        """Where it stands, as a person would look for it."""
        return f"{self.file} line {self.line}"


def read_rows(path: Path, columns: Sequence[str], problems: Problems) -> list[RawRow]:
    """Return the rows of a file, noting what cannot be taken; such rows are left out.

    A column that the heading lacks is noted once, unless it may be left out, and is then absent
    from every row's cells.
    """
    lines = _lines(path, problems)
    if lines is None:
        return []
    heading: _Heading | None = None
    rows: list[RawRow] = []
    for number, line in lines:
        place = f"{path.name} line {number}"
        cells = _split(line, place, problems)
        if cells is None:
            continue
        if heading is None:
            heading = _heading(path.stem, cells, line, place, columns, problems)
            if heading is None:
                return []
        else:
            row = _row(path.name, number, cells, heading, problems)
            if row is not None:
                rows.append(row)
    if heading is None:
        problems.add(path.name, "the file is empty", f"its heading row is {','.join(columns)}")
    return rows


def _lines(path: Path, problems: Problems) -> list[tuple[int, str]] | None:
    """Return the lines that say something, numbered from 1; None when the file is no text."""
    raw = _bytes(path, problems)
    if raw is None:
        return None
    if raw.startswith(_UTF16):
        problems.add(path.name, "the file is written as UTF-16", "save it as UTF-8")
        return None
    if raw.startswith(_NOT_TEXT) or b"\0" in raw:
        problems.add(path.name, "this is no text file", "save it as comma-separated text, UTF-8")
        return None
    kept: list[tuple[int, str]] = []
    body = raw.removeprefix(b"\xef\xbb\xbf").replace(b"\r\n", b"\n").replace(b"\r", b"\n")
    for number, line in enumerate(body.split(b"\n"), start=1):
        try:
            text = line.decode("utf-8")
        except UnicodeDecodeError as error:
            problems.add(
                f"{path.name} line {number}",
                f"byte {error.start + 1} is not UTF-8",
                "save the file as UTF-8",
            )
            continue
        if text.strip(" \t,") and not text.startswith("#"):
            kept.append((number, text))
    return kept


def _bytes(path: Path, problems: Problems) -> bytes | None:
    try:
        size = path.stat().st_size
        if size > LARGEST_BYTES:
            problems.add(
                path.name,
                f"the file is {size / 1_000_000:,.0f} MB, more than a catalogue file can be",
                f"keep each file under {LARGEST_BYTES // 1_000_000} MB",
            )
            return None
        return path.read_bytes()
    except FileNotFoundError:
        problems.add(path.name, "the file is missing", f"put it into {path.parent.name}/")
    except IsADirectoryError:
        problems.add(path.name, "this is a folder", "a file belongs here")
    except OSError as error:
        problems.add(path.name, f"it cannot be read: {error.strerror}", "check its permissions")
    return None


def _split(line: str, place: str, problems: Problems) -> list[str] | None:
    try:
        return [cell.strip() for cell in next(csv.reader([line], strict=True))]
    except csv.Error:
        problems.add(
            place,
            "a quotation mark is opened and not closed as it should be",
            'quote a whole cell, double a quotation mark within it ("a ""b"" c"), '
            "and keep a row on one line",
        )
        return None


@dataclass(frozen=True, slots=True)
class _Heading:
    """The columns' names, and how many cells a row has: some programs write empty ones after.

    The last columns, where they are among the `spared`, a row may leave out.
    """

    names: tuple[str, ...]
    width: int
    spared: frozenset[str] = frozenset()


def _heading(
    file: str, cells: list[str], line: str, place: str, columns: Sequence[str], problems: Problems
) -> _Heading | None:
    for mark, name in ((";", "semicolons"), ("\t", "tabs")):
        if "," not in line and mark in line:
            problems.add(place, f"the cells are separated by {name}", "save it comma-separated")
            return None
    named = max((at for at, cell in enumerate(cells, start=1) if cell), default=0)
    heading = tuple(cell.lower() for cell in cells[:named])
    if not set(heading) & set(columns):
        problems.add(place, "this is no heading row", f"it begins with {','.join(columns)}")
        return None
    for at, name in enumerate(heading):
        if name in heading[:at]:
            problems.add(place, f"the column {name} is there twice", "keep one of them")
    missing = [column for column in columns if column not in heading]
    for name in heading:
        if name not in columns:
            problems.add(place, f"'{name}' is no column here", did_you_mean(name, missing))
    spared = MAY_BE_LEFT_OUT.get(file.partition("-")[0], frozenset())
    for column in (column for column in missing if column not in spared):
        problems.add(place, f"the column {column} is missing", "add it; its cells may be empty")
    return _Heading(heading, len(cells), spared)


def _row(
    file: str, line: int, cells: list[str], heading: _Heading, problems: Problems
) -> RawRow | None:
    beyond = len(cells) > heading.width or any(cells[len(heading.names) :])
    lacking = heading.names[len(cells) :]
    spared = bool(lacking) and heading.spared.issuperset(lacking)
    if beyond or (len(cells) < heading.width and not spared):
        problems.add(
            f"{file} line {line}",
            f"the row has {len(cells)} cells and the heading {len(heading.names)}",
            "quote a text that has a comma in it" if beyond else "add the commas that lack",
        )
        return None
    return RawRow(file, line, dict(zip(heading.names, cells, strict=False)))
