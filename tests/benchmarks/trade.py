"""A seeded trade of any size in a SQLite file, made once and kept in the machine's temp folder.

All of it is invented. Beside the catalogue that comes with the program stand families of 500 parts
with places, attributes and links (chains, splits, merges, interchange, some loops), a fifth as many
links as parts; forty suppliers offer three parts for each there is. Rows are streamed, so that
memory does not grow with the trade; the search rows are made by the program itself.
"""

import json
import random
import sqlite3
import sys
import tempfile
import time
from collections.abc import Iterable, Iterator
from contextlib import closing
from dataclasses import dataclass, replace
from itertools import islice, pairwise
from pathlib import Path
from typing import Any

from kitting.catalog.files import read_family, read_trade
from kitting.catalog.model import PartNumber, normal_number
from kitting.catalog.shipped import catalogue_folders, shipped_folder
from kitting.catalog.trade import Supplier
from kitting.store.database import SCHEMA, Database
from kitting.store.search_rows import rebuild

SUPPLIERS, OFFERS_A_PART, IN_A_FAMILY, MAKERS = 40, 3, 500, 20
_FIRST_EDITION = 1000
# To be counted up where the trade, or what the program makes of it, is another than before.
_MADE_AS = 3
_LETTERS = "ABCDEFGHJKLMNPRSTUVWXYZ"
_KINDS = (
    "bush", "shell", "seal", "gasket", "nut", "bolt", "spring", "piston", "ring", "washer", "stud",
    "pin", "gear", "chain", "valve", "guide", "seat", "rocker", "tappet", "pump", "filter", "cover",
    "bearing", "shim", "circlip", "cable", "lever", "screw", "sleeve", "plug",
)  # fmt: skip
_WHERE = (
    "timing", "main", "big-end", "gudgeon", "camshaft", "layshaft", "mainshaft", "idler", "clutch",
    "primary", "gearbox", "kickstart", "inlet", "exhaust", "sump", "oil", "breather", "magneto",
    "dynamo", "rocker", "tappet", "cylinder", "head", "crankcase", "selector",
)  # fmt: skip
_WHICH = (
    "", ", left", ", right", ", inner", ", outer", ", early", ", late", ", .010 under",
    ", .020 under", ", 20 over",
)  # fmt: skip
_MATERIALS = ("bronze", "steel", "white metal", "fibre", "aluminium", "cast iron")


@dataclass(frozen=True, slots=True)
class BigTrade:
    """A trade in a file, and how long it took to make (0 where it was there)."""

    file: Path
    parts: int
    seconds: float
    search_seconds: float

    @property
    def database(self) -> Database:
        """The database, to be closed by whoever asks."""
        return Database(f"sqlite:///{self.file}")


def big_trade(parts: int) -> BigTrade:
    """Return a trade of so many parts, made now or earlier."""
    folder = Path(tempfile.gettempdir()) / "kitting-benchmarks"
    folder.mkdir(exist_ok=True)
    file = folder / f"trade-{parts}-{SCHEMA}-{_MADE_AS}.sqlite"
    noted = file.with_suffix(".json")
    if not noted.exists():
        for old in folder.glob(f"trade-{parts}-*"):
            old.unlink()
        noted.write_text(json.dumps(_make(file, parts)), encoding="utf-8")
    return BigTrade(file, parts, *json.loads(noted.read_text(encoding="utf-8")))


def _make(file: Path, parts: int) -> tuple[float, float]:
    sys.stderr.write(f"making a trade of {parts:,} parts, once: {file}\n")
    start = time.perf_counter()
    _with_shipped_catalogue(file)
    with closing(sqlite3.connect(file)) as connection:
        for setting in ("synchronous=OFF", "cache_size=-256000", "foreign_keys=OFF"):
            connection.execute(f"PRAGMA {setting}")
        with connection:
            _write_families(connection, parts)
            _write_offers(connection, parts)
    filled = time.perf_counter()
    database = Database(f"sqlite:///{file}")
    with database.engine.connect() as connection_:
        rebuild(connection_)
        connection_.commit()
    database.close()
    with closing(sqlite3.connect(file)) as connection:
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        connection.execute("PRAGMA optimize")
    return time.perf_counter() - start, time.perf_counter() - filled


def _with_shipped_catalogue(file: Path) -> None:
    """The catalogue that comes with the program, and terms that name the forty suppliers too."""
    families, (trade,) = catalogue_folders(shipped_folder())
    terms = read_trade(trade)
    more = tuple(
        Supplier(_supplier(at), f"Supplier {at}", "Overby", "GBP", terms.suppliers[0].carriage,
                 None, terms.suppliers[0].least_order, 3)
        for at in range(SUPPLIERS)
    )  # fmt: skip
    database = Database(f"sqlite:///{file}")
    with database.work() as work:
        for family in families:
            work.catalogue.load_family(read_family(family))
        work.trade.load_trade(replace(terms, suppliers=(*terms.suppliers, *more)))
        work.commit()
    database.close()


def _supplier(at: int) -> str:
    return f"supplier-{at:02}"


def _insert(
    connection: sqlite3.Connection, table: str, columns: str, rows: Iterable[tuple[Any, ...]]
) -> None:
    marks = ", ".join("?" * (columns.count(",") + 1))
    connection.executemany(" ".join(("INSERT INTO", table, f"({columns}) VALUES ({marks})")), rows)


def numbers(parts: int) -> Iterator[tuple[str, str]]:
    """The makers and numbers of a trade, the same each time; each maker has his own style."""
    each = -(-parts // MAKERS)
    left = parts
    for maker in range(MAKERS):
        chance = random.Random(maker)
        made = islice(_style(maker, chance), min(each, left))
        for number in made:
            yield f"mk{maker:02}", number
        left -= min(each, left)


def _style(maker: int, chance: random.Random) -> Iterator[str]:
    mark = _LETTERS[maker] + _LETTERS[-1 - maker]
    used: set[int] = set()
    while True:
        digits = chance.randrange(10**8)
        if digits in used:
            continue
        used.add(digits)
        if maker % 3 == 0:
            yield f"{mark} {digits // 10**4:04}-{digits % 10**4:04}"
        elif maker % 3 == 1:
            yield f"{mark}{digits:08}"
        else:
            # Sizes of one part stand side by side, told apart by one mark.
            for grade in ("", "/010", "/020")[: chance.choice((1, 1, 1, 1, 3))]:
                yield f"{digits:08}-{mark}{grade}"


def _write_families(connection: sqlite3.Connection, parts: int) -> None:
    every = numbers(parts)
    editions = range(_FIRST_EDITION, _FIRST_EDITION - (-parts // IN_A_FAMILY))
    for edition in editions:
        _write_family(connection, edition, list(islice(every, IN_A_FAMILY)))


def _write_family(
    connection: sqlite3.Connection, edition: int, part_numbers: list[tuple[str, str]]
) -> None:
    chance = random.Random(edition)
    key = f"family-{edition}"
    _insert(connection, "families", "key", [(key,)])
    _insert(
        connection,
        "editions",
        "id, family, edition, content_hash, loaded_at, name, maker, years, unit, summary",
        [(edition, key, "1", key, "2026-01-01", f"Family {edition}", "mk00", "", "in", "")],
    )
    _insert(
        connection, "parts", "part_maker, part_number, normal",
        ((maker, number, normal_number(number)) for maker, number in part_numbers),
    )  # fmt: skip
    _insert(
        connection, "assemblies", "edition_id, line, key, name, sequence, stage, caution",
        [(edition, 1, "all", "All", 1, "1 all", "")],
    )  # fmt: skip
    places = [f"{where} {kind}" for where, kind in zip(_WHERE, _KINDS, strict=False)]
    _insert(
        connection,
        "positions",
        "edition_id, line, key, assembly, sequence, name, kind, quantity, variants, must_look, "
        "matched, caution, note",
        ((edition, line, f"p{line}", "all", line, name, name.split()[1], 1, "[]", 0, "", "", "")
         for line, name in enumerate(places, 1)),
    )  # fmt: skip
    _write_parts(connection, edition, part_numbers, chance, len(places))
    _write_links(connection, edition, part_numbers, chance)


def _write_parts(
    connection: sqlite3.Connection,
    edition: int,
    part_numbers: list[tuple[str, str]],
    chance: random.Random,
    places: int,
) -> None:
    rows, attributes, fits = [], [], []
    for line, (maker, number) in enumerate(part_numbers, 1):
        kind = chance.choice(_KINDS)
        name = f"{chance.choice(_WHERE).capitalize()} {kind}{chance.choice(_WHICH)}"
        rows.append((edition, line, maker, number, name, kind, "S", ""))
        inch = f"{chance.randrange(1250, 30000) / 10000:.4f} in"
        for rank, (attribute, value) in enumerate(
            (
                ("bore", f"{chance.randrange(5, 120)} mm" if chance.random() < 0.5 else inch),
                ("width", f"{chance.randrange(2, 40)} mm"),
                ("material", chance.choice(_MATERIALS)),
            ),
            1,
        ):
            attributes.append((edition, line, rank, attribute, value))
        fits.append(
            (edition, line, f"p{chance.randrange(places) + 1}", maker, number, "[]", "", "")
        )
    named = "edition_id, line, part_maker, part_number, name, kind, vat, note"
    _insert(connection, "catalogue_parts", named, rows)
    _insert(connection, "part_attributes", "edition_id, line, rank, attribute, value", attributes)
    named = "edition_id, line, position, part_maker, part_number, variants, grade, note"
    _insert(connection, "fits", named, fits)


def _write_links(
    connection: sqlite3.Connection,
    edition: int,
    part_numbers: list[tuple[str, str]],
    chance: random.Random,
) -> None:
    links = []
    wanted = len(part_numbers) // 5
    pool = chance.sample(part_numbers, len(part_numbers))
    for at, (kind, old, new, record) in enumerate(islice(_shapes(pool, chance), wanted), 1):
        links.append(
            (edition, at, f"r{record}", kind, *old, 1, *new, 1, "[]", "", "", 0, "", "invented")
        )
    named = (
        "edition_id, line, record, kind, old_maker, old_number, old_quantity, new_maker, "
        "new_number, new_quantity, variants, with_grade, operation, use_up, note, source"
    )
    _insert(connection, "links", named, links)


def _shapes(
    pool: list[tuple[str, str]], chance: random.Random
) -> Iterator[tuple[str, tuple[str, str], tuple[str, str], int]]:
    """Links by shape, over and over: a chain, a split, a merge, either way, one way, a loop."""
    record = 0
    while True:
        record += 1
        some = [pool.pop() for _ in range(chance.randint(3, 6))]
        shape = record % 12
        if shape == 0:
            for old, new in zip(some, (*some[1:], some[0]), strict=True):
                record += 1
                yield "superseded", old, new, record
        elif shape in {1, 2}:
            for new in some[1:]:
                yield "superseded", some[0], new, record
        elif shape in {3, 4}:
            for old in some[1:]:
                yield "superseded", old, some[0], record
        else:
            kinds = {5: "either way", 6: "one way", 7: "either way"}
            for old, new in pairwise(some):
                record += 1
                yield kinds.get(shape, "superseded"), old, new, record


def _write_offers(connection: sqlite3.Connection, parts: int) -> None:
    each = parts * OFFERS_A_PART // SUPPLIERS
    for at in range(SUPPLIERS):
        list_id = 1000 + at
        _insert(
            connection, "price_lists", "id, supplier, origin, content_hash, loaded_at",
            [(list_id, _supplier(at), "list.csv", str(at), "2026-01-01")],
        )  # fmt: skip
        _insert(
            connection,
            "offers",
            "list_id, line, supplier, their_number, their_normal, part_maker, part_number, pack, "
            "price, currency, valid_from, valid_until, days, stock",
            _offers(at, list_id, parts, each),
        )


def _offers(at: int, list_id: int, parts: int, each: int) -> Iterator[tuple[Any, ...]]:
    """A supplier's list: every so-manieth part from his own beginning, in the trade's order."""
    chance = random.Random(1000 + at)
    step = SUPPLIERS / OFFERS_A_PART
    wanted = (int((line + at / SUPPLIERS) * step) % parts for line in range(each))
    line, next_at = 0, next(wanted, None)
    for place, (maker, number) in enumerate(numbers(parts)):
        if place == next_at:
            line += 1
            theirs = f"{_LETTERS[at % 23]}{at:02}-{chance.randrange(10**8):08}"
            yield (
                list_id, line, _supplier(at), theirs, normal_number(theirs), maker, number, 1,
                chance.randrange(5000, 900000), "GBP", "2026-01-01", "2027-12-31", 3,
                chance.choice((None, 0, 4, 20)),
            )  # fmt: skip
            next_at = next(wanted, None)


def linked_numbers(trade: BigTrade, most: int) -> list[PartNumber]:
    """Numbers that links name, spread over the whole trade."""
    with closing(sqlite3.connect(trade.file)) as connection:
        rows = connection.execute(
            "SELECT DISTINCT old_maker, old_number FROM links WHERE edition_id >= ?",
            (_FIRST_EDITION,),
        ).fetchall()
    chosen = random.Random(5).sample(rows, min(most, len(rows)))
    return [PartNumber(maker, number) for maker, number in chosen]


def plain_numbers(trade: BigTrade) -> list[str]:
    """Every plain number of the trade's parts, once."""
    with closing(sqlite3.connect(trade.file)) as connection:
        rows = connection.execute("SELECT DISTINCT normal FROM search_parts ORDER BY normal")
        return [row[0] for row in rows]
