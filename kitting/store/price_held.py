"""Rows of a list that stand in it several times, beside the database until all of it was read."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from types import TracebackType
from typing import IO, Any

from kitting.buying.price_lists.matching import Key
from kitting.buying.price_lists.rows import PriceRow
from kitting.store.price_spool import unnamed_file

_FILES = 64
"""Rows of one mark are in one file, and one file at a time is in memory."""


class HeldRows:
    """Files without names, made when the first row comes and gone when it is closed."""

    def __init__(self) -> None:
        self._files: dict[int, IO[str]] = {}

    def __enter__(self) -> HeldRows:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        for file in self._files.values():
            file.close()

    def add(self, rows: Sequence[tuple[int, Key, PriceRow]]) -> None:
        """Put some rows, each with its mark and part, after those that are there."""
        for mark, part, row in rows:
            at = mark % _FILES
            if at not in self._files:
                self._files[at] = unnamed_file()
            self._files[at].write(json.dumps((mark, part, row)))
            self._files[at].write("\n")

    def groups(self) -> Iterator[list[tuple[int, Key, list[PriceRow]]]]:
        """Yield the rows of one mark together, in the list's order, a file of them at once."""
        for at in sorted(self._files):
            found: dict[int, tuple[int, Key, list[PriceRow]]] = {}
            self._files[at].seek(0)
            for line in self._files[at]:
                mark, part, values = json.loads(line)
                group = found.setdefault(mark, (mark, (part[0], part[1]), []))
                group[2].append(_row(values))
            yield list(found.values())


def _row(values: list[Any]) -> PriceRow:
    row = PriceRow(*values)
    return row._replace(breaks=tuple((packs, price) for packs, price in row.breaks))
