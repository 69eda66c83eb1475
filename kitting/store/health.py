"""Whether the database is fit for work, and what is missing; it changes nothing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from kitting.errors import BadInput, Problem
from kitting.store.catalogue import KeptEdition
from kitting.store.connect import reading
from kitting.store.database import SCHEMA, other_version
from kitting.store.faults import place_of, plain_faults

if TYPE_CHECKING:
    from kitting.store.database import Database


@dataclass(frozen=True, slots=True)
class Health:
    """What was found; `problems` empty means fit for work."""

    place: str
    kind: str
    reachable: bool
    version: str | None
    wanted: str
    families: tuple[KeptEdition, ...] = ()
    trade_loaded: bool = False
    jobs: int = 0
    problems: tuple[Problem, ...] = ()

    @property
    def is_current(self) -> bool:
        """Whether the tables are those that this program knows."""
        return self.version == self.wanted


def examine(database: Database) -> Health:
    """Look at the database without creating or changing anything."""
    place, kind = place_of(database.url), database.url.get_backend_name()
    if database.file is not None and not database.file.exists():
        nothing = Problem(place, "there is no database yet", "it is made when first used")
        return Health(place, kind, False, None, SCHEMA, problems=(nothing,))
    try:
        version = database.version()
    except BadInput as error:
        return Health(place, kind, False, None, SCHEMA, problems=error.problems)
    if version != SCHEMA:
        return Health(
            place, kind, True, version, SCHEMA, problems=(other_version(database.url, version),)
        )
    try:
        return _inside(database, place, kind)
    except BadInput as error:
        return Health(place, kind, True, version, SCHEMA, problems=error.problems)


def _inside(database: Database, place: str, kind: str) -> Health:
    with database.read() as work:
        families = work.catalogue.families()
        trade_loaded = work.trade.is_loaded()
        jobs = len(work.jobs.jobs())
    problems = list(_sqlite_faults(database)) if database.is_sqlite else []
    load = "load it with `kitting catalog load`"
    if not families:
        problems.append(Problem(place, "it holds no engine family", load))
    if not trade_loaded:
        problems.append(Problem(place, "it holds no suppliers, prices and shop settings", load))
    return Health(place, kind, True, SCHEMA, SCHEMA, families, trade_loaded, jobs, tuple(problems))


def _sqlite_faults(database: Database) -> tuple[Problem, ...]:
    """What SQLite itself finds: damage to the file, rows whose owner is gone.

    A server looks after both by itself.
    """
    with plain_faults(database.url), database.engine.connect() as any_connection:
        connection = reading(any_connection)
        damage = connection.exec_driver_sql("PRAGMA quick_check(5)").scalars().all()
        orphans = connection.exec_driver_sql("PRAGMA foreign_key_check").all()
    place, restore = place_of(database.url), "restore a backup"
    found = [Problem(place, f"it is damaged: {each}", restore) for each in damage if each != "ok"]
    if orphans:
        tables = ", ".join(sorted({str(row[0]) for row in orphans}))
        found.append(Problem(place, f"{len(orphans)} rows refer to nothing, in {tables}", restore))
    return tuple(found)
