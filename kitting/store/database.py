"""The database and the unit of work: commit is explicit, leaving without it rolls back."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from functools import cached_property
from pathlib import Path

from sqlalchemy import URL, Connection, Engine
from sqlalchemy.exc import DBAPIError

from kitting.errors import BadInput, Problem
from kitting.store import migrate
from kitting.store.address import database_url, default_file, named_database
from kitting.store.building import Building
from kitting.store.catalogue import Catalogue
from kitting.store.connect import make_engine, reading, references_known
from kitting.store.estimates import Estimates
from kitting.store.faults import place_of, plain_faults
from kitting.store.in_hand import InHandStore
from kitting.store.jobs import Jobs
from kitting.store.kits import Kits
from kitting.store.links import Links
from kitting.store.orders import Orders
from kitting.store.price_accepting import PriceAccepting
from kitting.store.price_lists import PriceLists
from kitting.store.price_review import PriceReview
from kitting.store.search import Search
from kitting.store.shelf import Shelf
from kitting.store.trade import TradeStore

SCHEMA = "0018"
"""The revision of the tables that this program works with."""

WAIT_SECONDS = 10


class UnitOfWork:
    """What is read and written together; nothing is kept until `commit`."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection
        self.catalogue = Catalogue(connection)
        self.trade = TradeStore(connection)
        self.jobs = Jobs(connection)
        self.estimates = Estimates(connection)
        kits = Kits(connection)
        self.orders = Orders(connection, kits)
        self.shelf = Shelf(connection)
        self.in_hand = InHandStore(connection, self.orders)
        self.building = Building(connection)
        self.prices = PriceLists(connection)
        self.price_review = PriceReview(connection)
        self.search = Search(connection)
        self.links = Links(connection)
        self.price_accepting = PriceAccepting(self.price_review, self.links, self.search)

    def commit(self) -> None:
        """Keep everything that was written so far."""
        self._connection.commit()


class Database:
    """One database by its URL; without one, what `KITTING_DATABASE` names or the user's own file.

    Nothing is opened before the first use. A database without tables gets them then; a SQLite file
    with older tables is brought up to date after a copy of it was kept beside it.
    """

    def __init__(self, url: str | URL | None = None, wait_seconds: int = WAIT_SECONDS) -> None:
        self.url = named_database() if url is None else database_url(url)
        self._wait_seconds = wait_seconds
        self._prepared = False

    @cached_property
    def engine(self) -> Engine:
        """The engine, made when first asked for."""
        return make_engine(self.url, self._wait_seconds)

    @property
    def is_sqlite(self) -> bool:
        """Whether it is one file on this machine."""
        return self.url.get_backend_name() == "sqlite"

    @property
    def file(self) -> Path | None:
        """The file, or None where a server keeps the data."""
        return Path(self.url.database) if self.is_sqlite and self.url.database else None

    @contextmanager
    def work(self) -> Iterator[UnitOfWork]:
        """Read and write; `commit` keeps what was written, leaving without it keeps nothing."""
        self.prepare()
        with plain_faults(self.url), self.engine.connect() as connection:
            yield UnitOfWork(connection)

    @contextmanager
    def bulk(self) -> Iterator[UnitOfWork]:
        """As `work`, for very many rows whose references the caller looked up before."""
        self.prepare()
        with (
            plain_faults(self.url),
            self.engine.connect() as connection,
            references_known(connection),
        ):
            yield UnitOfWork(connection)

    @contextmanager
    def read(self) -> Iterator[UnitOfWork]:
        """Read only, everything as of one moment, never in another's way."""
        self.prepare()
        with plain_faults(self.url), self.engine.connect() as connection:
            yield UnitOfWork(reading(connection))

    def version(self) -> str | None:
        """Return the revision of the tables, or None where there are none yet."""
        self._make_folder()
        with plain_faults(self.url), self.engine.connect() as connection:
            return migrate.current(reading(connection))

    def prepare(self) -> None:
        """See to it that the tables are those that this program knows.

        Raises:
            BadInput: they are newer, or older ones on a server that other benches share.
        """
        if self._prepared:
            return
        found = self.version()
        if found is not None and (found > SCHEMA or (found < SCHEMA and not self.is_sqlite)):
            raise BadInput(other_version(self.url, found))
        if found != SCHEMA:
            self.upgrade()
        self._prepared = True

    def upgrade(self) -> None:
        """Bring the tables to this program's version; of an older SQLite file a copy is kept."""
        found = self.version()
        if found == SCHEMA:
            return
        if found is not None and found > SCHEMA:
            raise BadInput(other_version(self.url, found))
        if found is not None and self.file is not None:
            from kitting.store.backup import copy_sqlite

            kept = self.file.with_name(f"{self.file.stem}-{found}{self.file.suffix}")
            copy_sqlite(self.file, kept)
        with plain_faults(self.url):
            try:
                migrate.upgrade(self.engine)
            except DBAPIError:
                # Another bench may have made the tables in the same moment.
                if self.version() != SCHEMA:
                    raise

    def close(self) -> None:
        """Let go of every connection."""
        self.engine.dispose()

    def _make_folder(self) -> None:
        # Only our own folder is made unasked: a mistyped path is better refused than created.
        if self.file == default_file():
            self.file.parent.mkdir(parents=True, exist_ok=True)


def other_version(url: URL, found: str | None) -> Problem:
    """Say that the tables are not those that this program knows, and what to do."""
    place = place_of(url)
    if found is None:
        return Problem(place, "it has no tables yet", "they are made when it is first used")
    if found > SCHEMA:
        return Problem(
            place,
            f"its tables are of version {found}, this program knows {SCHEMA}",
            "use the newer program",
        )
    return Problem(
        place,
        f"its tables are of version {found}, this program needs {SCHEMA}",
        "stop the other benches, then bring it up to date: `kitting doctor --upgrade`",
    )
