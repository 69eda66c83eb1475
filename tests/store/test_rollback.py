"""Leaving a unit of work without commit keeps nothing, whichever writer was at work."""

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

import pytest
from sqlalchemy import func, select

from kitting.errors import KittingError
from kitting.store.database import Database, UnitOfWork
from kitting.store.shelf import Shelf
from kitting.store.tables import metadata
from tests.builders import an_offer
from tests.store.samples import (
    APPROVAL,
    CAME,
    CLOSING,
    CRANK,
    ESTIMATE,
    FIGURE,
    JOB,
    OVERRIDE,
    SHELLS,
    SIGNED,
    SIZE_DECISION,
    TRADE,
    WORK_BACK,
    WORKED,
    WREN,
    with_job,
)

Writer = Callable[[UnitOfWork], object]


def put_in(work: UnitOfWork) -> None:
    work.shelf.put_in(SHELLS, 2, "bin 4", Decimal("1.10"), SIGNED)


def stocked(work: UnitOfWork, taken: int = 0) -> Shelf:
    """The shelf with some shells on it, of which the job has so many."""
    put_in(work)
    if taken:
        work.shelf.take(JOB.number, "shells", SHELLS, taken, SIGNED)
    return work.shelf


def put_back(work: UnitOfWork) -> None:
    work.catalogue.load_family(replace(WREN, edition="2030-1"))
    work.catalogue.put_back(WREN.key, WREN.edition)


WRITERS: dict[str, Writer] = {
    "put_back": put_back,
    "load_family": lambda work: work.catalogue.load_family(replace(WREN, edition="2030-1")),
    "load_trade": lambda work: work.trade.load_trade(replace(TRADE, rates=(), offers=())),
    "load_list": lambda work: work.trade.offers.load_list(
        "brook", [an_offer("brook", "hob:NEW", "1.00")], "new", origin="new.csv"
    ),
    "end_lists_but_of": lambda work: work.trade.offers.end_lists_but_of(["ashby"]),
    "take_up": lambda work: (
        work.trade.offers.end_lists_but_of(["ashby"]),
        work.trade.offers.take_up(["ashby", "brook"]),
        work.trade.offers.end_lists_but_of(["brook"]),
    ),
    "open_job": lambda work: work.jobs.open_job(replace(JOB, number="24-002")),
    "add_findings": lambda work: work.jobs.add_findings(JOB.number, [CRANK], ["bottom-end"]),
    "add_hours": lambda work: work.in_hand.add_hours(JOB.number, WORKED),
    "add_override": lambda work: work.jobs.add_override(JOB.number, OVERRIDE),
    "add_size_decision": lambda work: work.jobs.add_size_decision(JOB.number, SIZE_DECISION),
    "add_approvals": lambda work: work.jobs.add_approvals(JOB.number, [APPROVAL]),
    "keep_estimate": lambda work: work.estimates.keep_estimate(ESTIMATE),
    "put_in": put_in,
    "take_out": lambda work: stocked(work).take_out(SHELLS, 1, SIGNED),
    "count": lambda work: work.shelf.count(SHELLS, 2, SIGNED, where="bin 4"),
    "take": lambda work: stocked(work).take(JOB.number, "shells", SHELLS, 1, SIGNED),
    "give_back": lambda work: stocked(work, taken=1).give_back(
        JOB.number, "shells", SHELLS, 1, SIGNED
    ),
    "add_pieces": lambda work: work.in_hand.add_pieces(JOB.number, [CAME]),
    "add_work": lambda work: work.in_hand.add_work(JOB.number, WORK_BACK),
    "add_figures": lambda work: work.building.add_figures(JOB.number, [FIGURE]),
    "close": lambda work: work.building.close(CLOSING),
}
READERS = {
    "families", "family", "history", "holding", "holding_of", "is_loaded", "last_content", "trade",
    "bench", "bench_history", "job", "jobs", "hold", "estimate", "estimates", "part", "names",
    "items", "free", "moves", "taken", "hand", "figures", "closing", "fitting",
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
def test_only_a_commit_keeps_what_a_writer_wrote(database: Database, writer: str) -> None:
    with_job(database)
    before = everything(database)
    with database.work() as work:
        WRITERS[writer](work)
    assert everything(database) == before, "left without commit"
    with pytest.raises(Stopped):
        stop_after(database, WRITERS[writer])
    assert everything(database) == before, "stopped by an error in the middle"
    with pytest.raises(KittingError, match="read-only"), database.read() as work:
        WRITERS[writer](work)
    assert everything(database) == before, "written by a reader"
    with database.work() as work:
        WRITERS[writer](work)
        work.commit()
    assert everything(database) != before, "committed"


def test_every_writer_is_tried_here() -> None:
    subjects = (
        "Catalogue", "TradeStore", "Offers", "Jobs", "Estimates", "Shelf", "InHandStore", "Building"
    )  # fmt: skip
    from kitting.store import (
        building,
        catalogue,
        estimates,
        in_hand,
        jobs,
        offers,
        shelf,
        trade,
    )

    public = {
        name
        for module in (catalogue, estimates, jobs, offers, trade, shelf, in_hand, building)
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
