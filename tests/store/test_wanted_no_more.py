"""What comes for several jobs goes to those that want it still, as their benches say today."""

from dataclasses import replace

import pytest

from kitting.buying.deliveries import Delivery, DeliveryLine
from kitting.buying.going_back import built_into
from kitting.catalog.model import Verdict
from kitting.cli.opened import path_within
from kitting.job.build_figures import NOT_BUILT
from kitting.job.findings import Finding, Seen
from kitting.store.database import Database, UnitOfWork
from tests.buying.orders import a_line, an_order
from tests.store.samples import CLOSING, JOB, OVERRIDE, with_job
from tests.store.test_sought import APPROVED, BY, NEED, OTHER, delivered

CHIPPED = Finding("barrel-nuts", seen=(Seen("chipped", "yes"),), who="Joan", when=BY.when)
REUSE = replace(OVERRIDE, position="barrel-nuts", verdict=Verdict.REUSE)


def ordered_for_two(database: Database) -> str:
    """Eight nuts for two jobs that both want four new ones; the line's id."""
    with_job(database)
    line = replace(a_line("hob:W320", 8, "1.10"), needed_by=(NEED, replace(NEED, job=OTHER)))
    with database.work() as work:
        work.jobs.open_job(replace(JOB, number=OTHER))
        for job in (JOB.number, OTHER):
            work.jobs.add_findings(job, [CHIPPED], ["top-end"])
        made = work.orders.make_order(an_order(line, approved=False))
        work.orders.approve_order(made.number, 1, APPROVED)
        work.commit()
    (key,) = (each.id for each in made.lines)
    return key


def come(work: UnitOfWork, key: str, pieces: int, to_follow: int = 0) -> None:
    line = DeliveryLine(key, pieces, to_follow=to_follow)
    work.orders.add_delivery(Delivery("P1001", BY.when, "Joan", (line,), f"note {pieces}"))


@pytest.mark.parametrize("to_follow", [0, 4])
def test_what_came_goes_to_the_job_whose_kit_asks_for_it_after_the_others_verdict_changed(
    database: Database, to_follow: int
) -> None:
    key = ordered_for_two(database)
    with database.work() as work:
        come(work, key, 4, to_follow)
        work.commit()
    assert delivered(database) == [4, 0]
    for verdict, shares in ((Verdict.REUSE, [0, 4]), (Verdict.RENEW, [4, 0])):
        with database.work() as work:
            work.jobs.add_override(JOB.number, replace(REUSE, verdict=verdict))
            work.commit()
        assert delivered(database) == shares
        with database.read() as work:
            (record,) = work.orders.records_for(OTHER)
            assert (record,) == work.orders.records()
            assert record == work.orders.record("P1001")


def close(work: UnitOfWork, note: str = "") -> None:
    path = path_within(work, JOB.number)
    built_in = built_into(path, work.orders.records_for(JOB.number))
    work.building.close(replace(CLOSING, note=note), {} if note else built_in)


@pytest.mark.parametrize("before", [0, 3])
def test_what_comes_after_an_engine_was_built_goes_to_the_job_that_is_open(
    database: Database, before: int
) -> None:
    key = ordered_for_two(database)
    with database.work() as work:
        if before:
            come(work, key, before, 8 - before)
        close(work)
        come(work, key, 4 - before)
        work.commit()
    assert delivered(database) == [before, 4 - before]


def test_what_a_built_engine_did_not_need_is_not_in_it_and_one_not_built_has_nothing(
    database: Database,
) -> None:
    key = ordered_for_two(database)
    with database.work() as work:
        come(work, key, 8)
        work.jobs.add_override(JOB.number, REUSE)
        path = path_within(work, JOB.number)
        built_in = built_into(path, work.orders.records_for(JOB.number))
        assert list(built_in.values()) == [0]
        work.jobs.add_override(JOB.number, replace(REUSE, verdict=Verdict.RENEW))
        close(work, f"{NOT_BUILT}sold")
        assert work.orders.record("P1001").built_in == {}
