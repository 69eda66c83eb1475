"""Rows of a new price list on their way, beside the database in files without names.

The offers wait until somebody has agreed to them; rows of a number that stands several times wait
until all of the list was read.
"""

from __future__ import annotations

import json
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import ExitStack
from typing import IO, Any, Self
from zlib import crc32

from kitting.buying.price_lists.matching import Key
from kitting.buying.price_lists.report import OfferRow, Stray
from kitting.buying.price_lists.rows import PriceRow

_BETWEEN = "\x1f"  # no text of a list holds it: readers make blanks of control marks
_AT_ONCE = 20_000


_FILES = 64
"""Held rows of one number are in one file, and one file at a time is in memory; which one follows
from the number, so that the same list is stored the same way each time."""


class _Files:
    """Files without names that are gone when it is closed."""

    def __init__(self) -> None:
        self._open = ExitStack()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self._open.close()

    def _file(self) -> IO[str]:
        return self._open.enter_context(
            tempfile.TemporaryFile("w+", encoding="utf-8", errors="surrogatepass", newline="\n")
        )


class PriceSpool(_Files):
    """Offers, a line each, and rows for a person to look at."""

    def __init__(self) -> None:
        super().__init__()
        self._offers = self._file()
        self._strays = self._file()
        self.offers_count = 0

    def add(self, offers: Sequence[OfferRow], strays: Sequence[Stray]) -> None:
        """Put some rows after those that are there."""
        self.offers_count += len(offers)
        self._offers.writelines(
            [
                f"{number}\x1f{normal}\x1f{maker}\x1f{part}\x1f{pack}\x1f{price}\x1f{currency}\x1f"
                f"{first}\x1f{last}\x1f{'' if days is None else days}\x1f"
                f"{'' if stock is None else stock}\x1f{quality}\x1f"
                f"{json.dumps(breaks) if breaks else ''}\n"
                for (
                    number, normal, maker, part, pack, price, currency, first, last, days, stock,
                    quality, breaks,
                ) in offers
            ]
        )  # fmt: skip
        if strays:
            self._strays.write(json.dumps(strays))
            self._strays.write("\n")

    def clear(self) -> None:
        """Take away all that is there."""
        self.offers_count = 0
        for file in (self._offers, self._strays):
            file.seek(0)
            file.truncate()

    def offers(self) -> Iterator[list[list[str]]]:
        """Yield the offers in the list's order, some thousands at once, every value as text."""
        self._offers.seek(0)
        while lines := self._offers.readlines(_AT_ONCE * 100):
            yield [line[:-1].split(_BETWEEN) for line in lines]

    def strays(self) -> Iterator[list[list[Any]]]:
        """Yield the rows for a person to look at."""
        self._strays.seek(0)
        for line in self._strays:
            yield json.loads(line)


class HeldRows(_Files):
    """Rows that stand in a list several times; their files are made when the first row comes."""

    def __init__(self) -> None:
        super().__init__()
        self._files: dict[int, IO[str]] = {}

    def add(self, rows: Sequence[tuple[int, Key, PriceRow]]) -> None:
        """Put some rows, each with its mark and part, after those that are there."""
        for mark, part, row in rows:
            at = crc32(row.normal.encode("utf-8", "surrogatepass")) % _FILES
            if at not in self._files:
                self._files[at] = self._file()
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
