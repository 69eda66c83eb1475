"""Price lists for tests of the store: from a file, as the door loads them."""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

from kitting.cli.price_loading import LoadOptions, Look, keep, look_at
from kitting.store.database import Database
from kitting.store.price_spool import PriceSpool
from tests.sheets.price_lists import csv_file

TODAY = date(2024, 6, 1)
HEAD = ("Part no", "Makers number", "Pack", "Net", "Superseded by", "Price breaks")
OPTIONS = LoadOptions("brook", {}, Decimal(5), 20, TODAY)


@contextmanager
def looked_at(
    database: Database, path: Path, rows: Sequence[Sequence[object]], **said: Any
) -> Iterator[tuple[Look, PriceSpool]]:
    """A list written, read and compared, and its rows on their way."""
    csv_file(path, [HEAD, *rows], ";")
    options = replace(OPTIONS, **said)
    with PriceSpool() as spool:
        yield look_at(database, path, options, spool, lambda _: None), spool


def load(database: Database, path: Path, *rows: Sequence[object], **said: Any) -> Look:
    """A list loaded as the command loads it."""
    with looked_at(database, path, rows, **said) as (look, spool):
        if not look.same:
            keep(database, look, spool, lambda _: None)
    return look
