"""Leaving a unit of work without commit keeps nothing, whichever writer was at work."""

from collections.abc import Callable
from dataclasses import replace

import pytest
from sqlalchemy import func, select

from kitting.errors import KittingError
from kitting.store.database import Database, UnitOfWork
from kitting.store.tables import metadata
from tests.builders import an_offer
from tests.store.samples import CRANK, ESTIMATE, JOB, OVERRIDE, SIZE_DECISION, TRADE, WREN, with_job

Writer = Callable[[UnitOfWork], object]

WRITERS: dict[str, Writer] = {
    "load_family": lambda work: work.catalogue.load_family(replace(WREN, edition="2030-1")),
    "load_trade": lambda work: work.trade.load_trade(replace(TRADE, rates=(), offers=())),
    "load_list": lambda work: work.trade.offers.load_list(
        "brook", [an_offer("brook", "hob:NEW", "1.00")], "new", origin="new.csv"
    ),
    "end_lists_but_of": lambda work: work.trade.offers.end_lists_but_of(["ashby"]),
    "open_job": lambda work: work.jobs.open_job(replace(JOB, number="24-002")),
    "add_findings": lambda work: work.jobs.add_findings(JOB.number, [CRANK], ["bottom-end"]),
    "add_override": lambda work: work.jobs.add_override(JOB.number, OVERRIDE),
    "add_size_decision": lambda work: work.jobs.add_size_decision(JOB.number, SIZE_DECISION),
    "keep_estimate": lambda work: work.estimates.keep_estimate(ESTIMATE),
}
READERS = {
    "families", "family", "history", "holding", "is_loaded", "last_content", "trade", "bench",
    "bench_history", "job", "jobs", "estimate", "estimates",
}  # fmt: skip


class Stopped(Exception):
    """Something of the caller's went wrong in the middle."""


def stop_after(database: Database, writer: Writer) -> None:
    with database.work() as work:
        writer(work)
        raise Stopped


def everything(database: Database) -> dict[str, object]:
    """Every row of every table."""
    with database.engine.connect() as connection:
        return {
            name: sorted(map(repr, connection.execute(select(table))))
            for name, table in metadata.tables.items()
        }


@pytest.mark.parametrize("writer", WRITERS)
def test_leaving_without_commit_keeps_nothing(database: Database, writer: str) -> None:
    with_job(database)
    before = everything(database)
    with database.work() as work:
        WRITERS[writer](work)
    assert everything(database) == before


@pytest.mark.parametrize("writer", WRITERS)
def test_an_error_in_the_middle_keeps_nothing(database: Database, writer: str) -> None:
    with_job(database)
    before = everything(database)
    with pytest.raises(Stopped):
        stop_after(database, WRITERS[writer])
    assert everything(database) == before


@pytest.mark.parametrize("writer", WRITERS)
def test_commit_keeps_it(database: Database, writer: str) -> None:
    with_job(database)
    before = everything(database)
    with database.work() as work:
        WRITERS[writer](work)
        work.commit()
    assert everything(database) != before


@pytest.mark.parametrize("writer", WRITERS)
def test_a_reader_cannot_write(database: Database, writer: str) -> None:
    with_job(database)
    before = everything(database)
    with pytest.raises(KittingError, match="read-only"), database.read() as work:
        WRITERS[writer](work)
    assert everything(database) == before


def test_every_writer_is_tried_here() -> None:
    subjects = ("Catalogue", "TradeStore", "Offers", "Jobs", "Estimates")
    from kitting.store import catalogue, estimates, jobs, offers, trade

    public = {
        name
        for module in (catalogue, estimates, jobs, offers, trade)
        for subject in subjects
        for name, method in vars(getattr(module, subject, object)).items()
        if callable(method) and not name.startswith("_")
    }
    assert public - READERS == set(WRITERS)


def test_what_was_committed_stays_when_the_rest_is_left(database: Database) -> None:
    with_job(database)
    with database.work() as work:
        work.jobs.open_job(replace(JOB, number="24-002"))
        work.commit()
        work.jobs.open_job(replace(JOB, number="24-003"))
    with database.engine.connect() as connection:
        jobs = metadata.tables["jobs"]
        assert connection.execute(select(func.count()).select_from(jobs)).scalar() == 2
