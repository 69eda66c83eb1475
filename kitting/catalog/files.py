"""Reading the catalogue's folders into a `Family` or a `Trade`, whole or not at all.

What is read here is only well formed; whether it hangs together is for `kitting.catalog.check`.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from types import MappingProxyType

from kitting.catalog import family_rows, trade_rows
from kitting.catalog.cells import key as key_cell
from kitting.catalog.columns import (
    FAMILY_FILES,
    FAMILY_KEYS,
    OFFER_COLUMNS,
    TRADE_FILES,
)
from kitting.catalog.early_references import early_references
from kitting.catalog.family import Family
from kitting.catalog.model import Part
from kitting.catalog.nearest import did_you_mean, nearest
from kitting.catalog.rows import Reading, Sources, own_key
from kitting.catalog.settings import Settings, shop_from
from kitting.catalog.size_tables import Grade, SizeTable
from kitting.catalog.textfile import RawRow
from kitting.catalog.trade import Offer, Supplier, Trade
from kitting.errors import BadInput, Problem, Problems
from kitting.measure import UNITS, Unit, unit_named

_OFFERS = "offers-"


def read_family(folder: Path) -> Family:
    """Return the family that a folder describes.

    Raises:
        BadInput: with every problem of every file, each at its line and column.
    """
    return read_family_with_sources(folder)[0]


def read_trade(folder: Path) -> Trade:
    """Return the suppliers, offers, operations, rates and shop's terms of a folder.

    Raises:
        BadInput: with every problem of every file, each at its line and column.
    """
    return read_trade_with_sources(folder)[0]


def read_family_with_sources(folder: Path) -> tuple[Family, Sources]:
    """Return the family and where each of its rows stands; raises as `read_family` does."""
    reading = _open(folder, FAMILY_FILES)
    with reading.problems.at(f"folder {folder.name}"):
        key_cell(folder.name)
    return _family_from(reading, folder.name)


def family_from_pages(
    key: str, pages: Mapping[str, Sequence[RawRow]], problems: Problems
) -> tuple[Family, Sources]:
    """Return the family that rows from elsewhere describe, and where each of them stands.

    Args:
        key: the family's key.
        pages: the rows by the name of the file that they would stand in, every file of a family.
        problems: what was found wrong when they were taken; told together with what is found here.

    Raises:
        BadInput: with every problem.
    """
    return _family_from(Reading(Path(key), FAMILY_FILES, pages, problems), key)


def _family_from(reading: Reading, key: str) -> tuple[Family, Sources]:
    settings = Settings("family", reading.rows("family"), FAMILY_KEYS, reading.problems)
    unit = settings.need("unit", unit_named, UNITS["in"])
    family = Family(
        key=key,
        name=settings.need("name", str, ""),
        maker=settings.need("maker", str, ""),
        years=settings.need("years", str, ""),
        edition=settings.need("edition", str, ""),
        unit=unit,
        summary=settings.need("summary", str, ""),
        variants=reading.keyed("variants", family_rows.variant, own_key),
        assemblies=reading.keyed("assemblies", family_rows.assembly, own_key),
        positions=reading.keyed("positions", family_rows.position, own_key),
        features=reading.keyed("features", family_rows.feature(unit), own_key),
        size_tables=_size_tables(reading, unit),
        observations=reading.keyed("observations", family_rows.observation, own_key),
        judgements=reading.keyed("judgements", family_rows.judgement, own_key),
        consequences=reading.keyed("consequences", family_rows.consequence, own_key),
        parts=reading.keyed("parts", family_rows.part, _part_key, column="part"),
        fits=reading.listed("fits", family_rows.fit),
        links=reading.listed("links", family_rows.link),
        set_items=reading.listed("sets", family_rows.set_item),
        labour=reading.listed("labour", family_rows.labour),
    )
    if reading.problems:
        told = tuple(reading.problems)
        reading.problems.extend(early_references(family, reading.places, told))
    reading.problems.raise_if_any()
    return family, MappingProxyType(reading.places)


def read_trade_with_sources(folder: Path) -> tuple[Trade, Sources]:
    """Return the trade and where each of its rows stands; raises as `read_trade` does."""
    reading = _open(folder, TRADE_FILES)
    suppliers = reading.keyed("suppliers", trade_rows.supplier, own_key)
    trade = Trade(
        shop=shop_from(reading.rows("shop"), reading.problems),
        suppliers=suppliers,
        offers=_offers(reading, suppliers),
        operations=reading.keyed("operations", trade_rows.operation, own_key),
        work_prices=reading.listed("work_prices", trade_rows.work_price),
        rates=reading.listed("rates", trade_rows.rate),
        makers=reading.keyed("makers", trade_rows.maker, own_key),
    )
    reading.problems.raise_if_any()
    return trade, MappingProxyType(reading.places)


def _open(folder: Path, files: Mapping[str, Sequence[str]]) -> Reading:
    """Start reading a folder; a file in it that is none of ours is a likely misspelling."""
    if not folder.is_dir():
        beside = [path.name for path in folder.parent.glob("*/")] if folder.parent.is_dir() else []
        raise BadInput(
            Problem("", f"there is no folder {folder}", did_you_mean(folder.name, beside))
        )
    reading = Reading(folder, files)
    known = [f"{file}.csv" for file in files]
    is_trade = files is TRADE_FILES
    listed = [*known, f"{_OFFERS}SUPPLIER.csv"] if is_trade else known
    for path in sorted(folder.glob("*.csv")):
        is_offers = is_trade and path.name.startswith(_OFFERS)
        if path.name not in known and not is_offers:
            lacking = [name for name in known if not (folder / name).exists()]
            near = nearest(path.name, lacking)
            reading.problems.add(
                path.name,
                "no file of that name belongs here",
                f"did you mean '{near[0]}'?" if near else f"the files are {', '.join(listed)}",
            )
    return reading


def _part_key(part: Part) -> str:
    """A part by its maker and plain number, so that two spellings of one number are one part."""
    return f"{part.number.maker}:{part.number.normal}" if part.number.number else ""


def _size_tables(reading: Reading, family_unit: Unit) -> tuple[SizeTable, ...]:
    """The size tables with their grades in them, each in its order."""
    tables = reading.keyed("size_tables", family_rows.size_table(family_unit), own_key)
    units = {table.key: table.unit for table in tables}
    make = family_rows.grade(units, family_unit)
    grades = reading.keyed("grades", make, lambda grade: f"{grade.table}/{grade.key}")
    _note_lost_grades(reading, tables, grades)
    in_order = sorted(grades, key=lambda grade: grade.sequence)
    return tuple(
        replace(table, grades=tuple(grade for grade in in_order if grade.table == table.key))
        for table in tables
    )


def _note_lost_grades(
    reading: Reading, tables: tuple[SizeTable, ...], grades: tuple[Grade, ...]
) -> None:
    """A grade of no table has no place in a `Family`, so it is noted while it is at hand."""
    known = [table.key for table in tables]
    for grade in grades:
        if grade.table and grade.table not in known:
            place = reading.places["grades", f"{grade.table}/{grade.key}"]
            reading.problems.add(
                f"{place}, column table",
                f"there is no size table '{grade.table}'",
                did_you_mean(grade.table, known),
            )


def _offers(reading: Reading, suppliers: tuple[Supplier, ...]) -> tuple[Offer, ...]:
    by_key = {supplier.key: supplier for supplier in suppliers}
    offers: list[Offer] = []
    for path in sorted(reading.folder.glob(f"{_OFFERS}*.csv")):
        key = path.stem.removeprefix(_OFFERS)
        if key not in by_key:
            reading.problems.add(
                path.name, f"there is no supplier '{key}'", did_you_mean(key, by_key)
            )
        make = trade_rows.offer(key, by_key.get(key))
        rows = reading.rows(path.stem, OFFER_COLUMNS)
        offers += reading.listed_from("offers", rows, make, start=len(offers))
    return tuple(offers)
