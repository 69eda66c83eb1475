"""Rows of a new price list on their way: beside the database until somebody has agreed to them."""

from __future__ import annotations

import json
import tempfile
from collections.abc import Iterator, Sequence
from types import TracebackType
from typing import IO, Any

from kitting.buying.price_lists.changes import OfferRow, Stray

_BETWEEN = "\x1f"  # no text of a list holds it: readers make blanks of control marks
_AT_ONCE = 20_000


class PriceSpool:
    """A file without a name that is gone when it is closed; a line an offer."""

    def __init__(self) -> None:
        self._offers = unnamed_file()
        self._strays = unnamed_file()
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


def unnamed_file() -> IO[str]:
    """A file for text that is gone when it is closed."""
    return tempfile.TemporaryFile("w+", encoding="utf-8", errors="surrogatepass", newline="\n")
