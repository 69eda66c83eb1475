"""Loading a price list: read, match and compare it first; store it when somebody has agreed."""

from __future__ import annotations

import dataclasses
import sys
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from hashlib import sha256
from typing import TYPE_CHECKING

from kitting.catalog.nearest import nearest
from kitting.errors import BadInput, NotFound, Problem
from kitting.sheets.price_lists.by_sheet import (
    Choice,
    SheetColumns,
    by_columns,
    by_sheet,
    remembered_by_sheet,
)
from kitting.sheets.price_lists.dates import Order
from kitting.sheets.price_lists.fields import Field
from kitting.sheets.price_lists.file import open_price_list
from kitting.sheets.price_lists.size import Counted
from kitting.sheets.price_lists.terms import ListTerms

if TYPE_CHECKING:
    from pathlib import Path

    from kitting.buying.price_lists.report import ChangeReport
    from kitting.catalog.trade import Supplier, Trade
    from kitting.sheets.price_lists.fields import Mapping as Columns
    from kitting.sheets.price_lists.file import PriceListFile
    from kitting.sheets.price_lists.terms import Tally
    from kitting.store import Database
    from kitting.store.database import UnitOfWork
    from kitting.store.price_lists import KeptList, NewList
    from kitting.store.price_spool import PriceSpool

_MANY_BLANK = 1000
"""Empty rows in a list that are worth a word: somebody's spreadsheet went to its last row."""

Advance = Callable[[int], None]
"""Told how many more rows are done."""


@dataclass(frozen=True, slots=True)
class LoadOptions:
    """What the caller said of a list."""

    supplier: str
    told: Mapping[Field, str]
    dearer_by: Decimal
    most: int
    today: date
    currency: str = ""
    valid_from: date | None = None
    valid_until: date | None = None
    decimal: str = ""
    put_aside: bool = False
    per: int = 0
    told_of: Mapping[str, Mapping[Field, str]] = dataclasses.field(default_factory=dict)
    days: Order | None = None


@dataclass(frozen=True, slots=True)
class Look:
    """What a list would change. `same` says that it is the very list that holds.

    `sheets` are the columns of its sheets, those that have the same together.
    Prices are compared for today, or for the `day` on which the whole list begins.
    """

    name: str
    supplier: Supplier
    sheets: tuple[SheetColumns, ...]
    terms: ListTerms
    report: ChangeReport
    tally: Tally
    notes: tuple[str, ...]
    before: KeptList | None
    new: NewList
    same: bool
    day: date

    @property
    def columns(self) -> Columns:
        """The columns of its first sheet."""
        return self.sheets[0].columns


def look_at(
    database: Database, path: Path, options: LoadOptions, spool: PriceSpool, advance: Advance
) -> Look:
    """Read a list and compare it with the one that holds; its rows are put on the spool.

    Raises:
        NotFound: no such supplier.
        BadInput: the file cannot be taken, or rows of it unless they are to be put aside.
    """
    from kitting.store.rows import plain_rows

    file = open_price_list(path)
    with database.read() as work, plain_rows():
        trade = work.trade.trade(())
        supplier = _supplier(trade, options.supplier)
        terms = _terms(trade, supplier, options)
        before = work.prices.held(supplier.key)
        return _compared(work, file, supplier, terms, options, before, spool, advance)


def _compared(
    work: UnitOfWork,
    file: PriceListFile,
    supplier: Supplier,
    terms: ListTerms,
    options: LoadOptions,
    before: KeptList | None,
    spool: PriceSpool,
    advance: Advance,
) -> Look:
    from kitting.cli.price_passes import Passes
    from kitting.store.price_lists import NewList

    numbers = work.prices.numbers(supplier.key, before)
    remembered, of_sheets = by_sheet(work.prices.columns(supplier.key))
    choice = Choice(options.told, remembered, numbers.some_known, options.told_of, of_sheets)
    passes = Passes(file, terms, choice, numbers, spool)
    last_line = before.last_line if before else 0
    day = max(options.today, options.valid_from or options.today)
    reader, comparison = passes.go(options.dearer_by, options.most, last_line, day, advance)
    _refuse_faults(file, reader.tally, options)
    _refuse_nothing(file, comparison.report, reader.tally, before)
    if before is not None:
        comparison.gone(*numbers.gone(comparison.seen, options.today, options.most))
    sheets = by_columns(reader.sheets)
    report = comparison.finish()
    remember = remembered_by_sheet(reader.sheets)
    new = NewList(
        supplier.key,
        file.path.name,
        _content(file, remember, options),
        before.id if before else None,
        supplier.days,
        remember,
        tuple(report.superseded),
    )
    same = before is not None and before.content == new.content and not report.changes
    notes = (*reader.notes, *_notes(reader.tally, sheets[0].columns, terms, options))
    return Look(
        file.path.name, supplier, sheets, terms, report, reader.tally, notes, before, new, same,
        day,
    )  # fmt: skip


def keep(database: Database, look: Look, spool: PriceSpool, advance: Advance) -> None:
    """Store the list that was looked at, whole or not at all.

    Raises:
        BadInput: another list of the supplier came in meanwhile.
    """
    from kitting.store.rows import plain_rows

    with database.bulk() as work, plain_rows():
        work.prices.store(look.new, spool, advance)
        work.commit()


@contextmanager
def progress(words: str, total: int | None = None) -> Iterator[Advance]:
    """Show on standard error how far it is, where that is a terminal."""
    if not (sys.stderr and sys.stderr.isatty()):
        yield lambda _rows: None
        return
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeElapsedColumn

    columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn())
    console = Console(stderr=True)
    with Progress(*columns, TimeElapsedColumn(), console=console, transient=True) as bar:
        task = bar.add_task(words, total=total)
        yield lambda rows: bar.advance(task, rows)


def _supplier(trade: Trade, key: str) -> Supplier:
    supplier = trade.supplier_by_key.get(key)
    if supplier is None:
        raise NotFound("supplier", key, nearest(key, trade.supplier_by_key, 3))
    return supplier


def _terms(trade: Trade, supplier: Supplier, options: LoadOptions) -> ListTerms:
    first = options.valid_from or options.today
    last = options.valid_until or _year_after(first)
    if last < first:
        raise BadInput(
            Problem("--valid-until", f"it ends on {last}, before it begins on {first}", "turn them")
        )
    rated = frozenset({rate.currency for rate in trade.rates} | {trade.shop.currency})
    currency = options.currency or supplier.currency
    if currency not in rated:
        raise BadInput(
            Problem(
                "--currency",
                f"there is no exchange rate for '{currency}'",
                "add it to the shop's rates.csv and load that",
            )
        )
    makers = {
        name.casefold(): maker.key for maker in trade.makers for name in (maker.name, maker.key)
    }
    return ListTerms(
        currency,
        first,
        last,
        rated,
        makers,
        options.decimal,
        options.per,
        options.days,
        currency_told=bool(options.currency),
    )


def _year_after(day: date) -> date:
    try:
        return day.replace(year=day.year + 1) - timedelta(days=1)
    except ValueError:  # the 29th of February
        return day.replace(year=day.year + 1, day=28)


def _refuse_faults(file: PriceListFile, tally: Tally, options: LoadOptions) -> None:
    if not tally.faulty or options.put_aside:
        return
    more = tally.found - len(tally.problems)
    untold = f", {more:,} more like these" if more else ""
    raise BadInput(
        tally.problems,
        f"{file.path.name}: {tally.faulty:,} of {tally.rows:,} rows cannot be taken{untold}; "
        "nothing was stored. Mend them, or load the rest and keep these for review with "
        "--put-aside.",
    )


def _refuse_nothing(
    file: PriceListFile, report: ChangeReport, tally: Tally, before: KeptList | None
) -> None:
    if not report.counts["offers"] and not report.counts["strays"]:
        raise BadInput(
            Problem(file.path.name, f"none of its {tally.rows:,} rows names a part", "look at it")
        )
    held = before.offers if before else 0
    if not report.counts["offers"] and (held or tally.faulty >= report.counts["strays"]):
        wrong = f"none of its {tally.rows:,} rows can be taken"
        wrong += f", and the list that holds has {held:,} offers" if held else ""
        right = "look at its prices and numbers, and which column is which"
        raise BadInput(Problem(file.path.name, wrong, right))


def _content(file: PriceListFile, columns: Mapping[str, str], options: LoadOptions) -> str:
    """The fingerprint of a list as it was understood: the file, its columns, what was said."""
    said = [f"{key}={columns[key]}" for key in sorted(columns)]
    said += [options.currency, options.decimal, str(options.put_aside)]
    said += [str(options.valid_from or ""), str(options.valid_until or "")]
    said += [f"per={options.per}"] if options.per else []
    said += [f"days={options.days}"] if options.days else []
    return sha256("\n".join([file.content(), *said]).encode("utf-8", "surrogatepass")).hexdigest()


def _notes(tally: Tally, columns: Columns, terms: ListTerms, options: LoadOptions) -> Iterator[str]:
    if tally.since and columns.column(Field.VALID_FROM) is None and options.valid_from is None:
        text, day = tally.since.text, tally.since
        yield f"'{text}' stands there: if the prices hold from then on, say --valid-from {day}"
    endless = columns.column(Field.VALID_UNTIL) is None and options.valid_until is None
    if endless and tally.until:
        text, day = tally.until.text, tally.until
        yield (
            f"'{text}' stands there: if the prices hold until then, say --valid-until {day}; they "
            f"are taken from {terms.valid_from} until {terms.valid_until}"
        )
    elif endless:
        yield (
            f"the list says no last day: its prices are taken from {terms.valid_from} until "
            f"{terms.valid_until} (--valid-from, --valid-until)"
        )
    if tally.rounded:
        said = "price has" if tally.rounded == 1 else "prices have"
        rounded = "was" if tally.rounded == 1 else "were"
        yield f"{tally.rounded:,} {said} more than 4 decimals and {rounded} rounded half up to 4"
    if pieces := tally.counted[Counted.PIECES]:
        yield f"quantities taken as pieces, a price being for several: in {pieces:,} rows"
    if unsure := tally.counted[Counted.UNSURE]:
        yield (
            f"quantities that may be pieces or packs, in {unsure:,} rows: taken as packs, so that "
            "no price is too low; where pieces are meant, head their columns so ('50 pcs')"
        )
    for column, count in tally.unread.items():
        yield f"{count:,} cells of {column} say nothing that could be read; passed over"
    for kind, count in tally.passed.items():
        if kind != "blank" or count >= _MANY_BLANK:
            yield f"rows passed over as {kind}: {count:,}"
    if tally.faulty:
        yield f"rows that cannot be taken and are put aside for review: {tally.faulty:,}"
