"""Price lists for tests: written as suppliers write them, read by the real reader."""

import csv
import io
from collections.abc import Collection, Sequence
from datetime import date
from pathlib import Path

import openpyxl
import pytest

from kitting.buying.price_lists.rows import PriceRow
from kitting.errors import BadInput
from kitting.sheets.price_lists.by_sheet import Choice
from kitting.sheets.price_lists.fields import Field
from kitting.sheets.price_lists.file import open_price_list
from kitting.sheets.price_lists.headings import parse_map, parse_sheet_maps
from kitting.sheets.price_lists.list_in import PriceListReader
from kitting.sheets.price_lists.terms import ListTerms

TERMS = ListTerms(
    "GBP",
    date(2026, 9, 1),
    date(2027, 8, 31),
    frozenset({"GBP", "EUR", "USD"}),
    {"hob & son": "hob", "hob": "hob"},
)


def list_of(
    path: Path,
    *maps: str,
    terms: ListTerms = TERMS,
    remembered: dict[Field, str] | None = None,
    known: Collection[str] = (),
    remembered_of: dict[str, dict[Field, str]] | None = None,
) -> tuple[PriceListReader, list[PriceRow]]:
    """The reader after reading a list, and its rows."""
    choice = Choice(
        parse_map(maps),
        remembered or {},
        lambda numbers: set(known) & set(numbers),
        parse_sheet_maps(maps),
        remembered_of or {},
    )
    reader = PriceListReader(open_price_list(path), terms, choice)
    return reader, [row for some in reader.chunks() for row in some]


def refused(
    path: Path,
    *maps: str,
    known: Collection[str] = (),
    remembered: dict[Field, str] | None = None,
) -> str:
    """The sentences with which a list is refused as a whole."""
    with pytest.raises(BadInput) as caught:
        list_of(path, *maps, known=known, remembered=remembered)
    return str(caught.value)


def problems(path: Path, *maps: str) -> list[str]:
    """The sentences of the rows that cannot be taken."""
    return [str(problem) for problem in list_of(path, *maps)[0].tally.problems]


def csv_file(path: Path, rows: Sequence[Sequence[object]], separator: str = ",") -> Path:
    """Write rows as text in UTF-8."""
    text = io.StringIO(newline="")
    csv.writer(text, delimiter=separator).writerows(rows)
    path.write_text(text.getvalue(), encoding="utf-8", newline="")
    return path


def workbook(path: Path, **sheets: Sequence[list[object]]) -> Path:
    """Write a workbook, its sheets by name."""
    book = openpyxl.Workbook()
    for at, (name, rows) in enumerate(sheets.items()):
        sheet = book.create_sheet() if at else book.worksheets[0]
        sheet.title = name
        for row in rows:
            sheet.append(row)
    book.save(path)
    return path


def prices(rows: Sequence[PriceRow]) -> list[tuple[str, int]]:
    """Number and price of each row that is an offer."""
    return [(row.number, row.price) for row in rows if not row.why]


def fields(reader: PriceListReader) -> dict[Field, str]:
    """Heading by field, as taken."""
    assert reader.columns is not None
    return {column.field: column.heading for column in reader.columns.columns}
