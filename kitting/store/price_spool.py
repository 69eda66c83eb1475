"""Rows of a new price list on their way: beside the database until somebody has agreed to them."""

from __future__ import annotations

import json
import tempfile
from collections.abc import Iterator, Sequence
from types import TracebackType
from typing import IO, Any

from kitting.buying.price_changes import OfferRow, Stray


class PriceSpool:
    """A file without a name that is gone when it is closed; some thousands of rows a line."""

    def __init__(self) -> None:
        self._offers = _file()
        self._strays = _file()
        self.offers_count = 0

    def __enter__(self) -> PriceSpool:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._offers.close()
        self._strays.close()

    def add(self, offers: Sequence[OfferRow], strays: Sequence[Stray]) -> None:
        """Put some rows after those that are there."""
        self.offers_count += len(offers)
        for file, rows in ((self._offers, offers), (self._strays, strays)):
            if rows:
                file.write(json.dumps(rows, ensure_ascii=True, separators=(",", ":")))
                file.write("\n")

    def offers(self) -> Iterator[list[list[Any]]]:
        """Yield the offers, some thousands at once, in the list's order."""
        return _rows(self._offers)

    def strays(self) -> Iterator[list[list[Any]]]:
        """Yield the rows for a person to look at."""
        return _rows(self._strays)


def _file() -> IO[str]:
    return tempfile.TemporaryFile("w+", encoding="ascii", newline="\n")


def _rows(file: IO[str]) -> Iterator[list[list[Any]]]:
    file.seek(0)
    for line in file:
        yield json.loads(line)
