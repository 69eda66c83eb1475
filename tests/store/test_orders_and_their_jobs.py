"""What orders are told of their jobs: what was given up, and whose pieces went back."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from kitting.buying.deliveries import Delivery, DeliveryLine, Why
from kitting.errors import BadInput
from kitting.job.build_figures import NOT_BUILT
from kitting.store.database import Database, UnitOfWork
from tests.store.samples import APPROVAL as CUSTOMERS_NO
from tests.store.samples import CLOSING, JOB, with_job
from tests.store.test_orders import APPROVAL, BACK, CANCELLED, DELIVERY, DRAFT, GASKET, LATER, kept


def test_what_its_job_has_given_up_is_told_with_an_order(database: Database) -> None:
    kept(database)
    declined = replace(CUSTOMERS_NO, position="rod-bolts")
    said: tuple[tuple[Callable[[UnitOfWork], object], set[tuple[str, str]]], ...] = (
        (lambda _: None, set()),
        (lambda work: work.jobs.add_approvals(JOB.number, [declined]), {(JOB.number, "rod-bolts")}),
        (lambda work: work.jobs.add_approvals(JOB.number, [replace(declined, agreed=True)]), set()),
        (
            lambda work: work.building.close(replace(CLOSING, note=f"{NOT_BUILT}sold")),
            {(JOB.number, "")},
        ),
    )
    for happens, given_up in said:
        with database.work() as work:
            happens(work)
            assert work.orders.record("P1001").given_up == given_up
            work.commit()


def test_what_goes_back_is_told_by_the_jobs_whose_it_was_and_the_surplus_first(
    database: Database,
) -> None:
    kept(database)
    with database.work() as work:
        work.orders.approve_order("P1001", 1, APPROVAL)
        came = Delivery("P1001", LATER, "J", (DeliveryLine(GASKET, 3),))
        work.orders.add_delivery(came)
        before = work.orders.record("P1001")
        line = before.by_line[GASKET]
        back = replace(BACK, line=line.line.id, pieces=line.good, why=Why.SURPLUS)
        after = work.orders.add_return(
            "P1001", back, line.good, {(JOB.number, "gasket"): line.good - 1}
        )
        gone = after.returns[len(before.returns) :]
    surplus = line.may_go[Why.SURPLUS]
    assert sum(each.pieces for each in gone) == line.good
    told = [(each.job, each.pieces) for each in gone]
    wanted = [("", surplus)] if surplus else []
    of_job = min(line.good - 1, line.good - surplus)
    rest = line.good - surplus - of_job
    assert told == [*wanted, (JOB.number, of_job), *([("", rest)] if rest else [])]


def test_what_was_ordered_before_a_job_was_closed_still_comes_but_nothing_more_is_bought(
    sqlite_database: Database,
) -> None:
    with_job(sqlite_database)
    with sqlite_database.work() as work:
        work.orders.make_order(DRAFT)
        work.orders.make_order(DRAFT)
        work.orders.approve_order("P1001", 1, APPROVAL)
        work.building.close(CLOSING)
        work.commit()
    closed = "it was closed by Joan on 01 May 2024"
    bigger = replace(DRAFT, lines=DRAFT.lines[:2])
    refused: tuple[Callable[[UnitOfWork], object], ...] = (
        lambda work: work.orders.approve_order("P1002", 1, APPROVAL),
        lambda work: work.orders.remake_order("P1002", bigger),
    )
    for buying in refused:
        with sqlite_database.work() as work, pytest.raises(BadInput, match=closed):
            buying(work)
    with sqlite_database.work() as work:
        assert work.orders.add_delivery(DELIVERY) == 1
        assert work.orders.add_step("P1002", CANCELLED).cancelled
        work.commit()
