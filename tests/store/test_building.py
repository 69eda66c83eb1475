"""The build in the database: figures, what came, and that a closed job is only read."""

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

import pytest

from kitting.errors import BadInput
from kitting.store.database import Database, UnitOfWork
from tests.builders import q
from tests.buying.orders import an_order
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
    WORK_BACK,
    WORKED,
    with_job,
)


def test_figures_come_back_as_typed_and_the_last_of_a_place_holds(database: Database) -> None:
    with_job(database)
    later = replace(FIGURE, text="36.46 mm", value=q("36.46 mm"), uncertainty=q("0.5 thou"))
    with database.work() as work:
        assert work.building.add_figures(JOB.number, [FIGURE]) == (FIGURE,)
        assert work.building.add_figures(JOB.number, [FIGURE]) == ()
        assert work.building.add_figures(JOB.number, [later]) == (later,)
        work.commit()
    with database.read() as work:
        assert work.building.figures(JOB.number) == (later,)
        assert work.building.history(JOB.number) == (FIGURE, later)


def test_what_came_is_kept_with_its_cost_and_the_last_word_on_work_holds(
    database: Database,
) -> None:
    with_job(database)
    with database.work() as work:
        work.in_hand.add_pieces(JOB.number, [CAME])
        work.in_hand.add_work(JOB.number, WORK_BACK)
        work.in_hand.add_work(JOB.number, replace(WORK_BACK, back=False, cost=None))
        work.commit()
    with database.read() as work:
        hand = work.in_hand.hand(JOB.number)
    assert hand.pieces == (CAME,)
    assert not hand.is_back("regrind")


def test_hours_are_added_up_and_never_fall_below_none(database: Database) -> None:
    with_job(database)
    with database.work() as work:
        assert work.in_hand.add_hours(JOB.number, WORKED) == Decimal("2.5")
        more = replace(WORKED, hours=Decimal("-0.75"))
        assert work.in_hand.add_hours(JOB.number, more) == Decimal("1.75")
        with pytest.raises(BadInput, match=r"take off 1\.75 at the most"):
            work.in_hand.add_hours(JOB.number, replace(WORKED, hours=Decimal(-2)))
        work.commit()
    with database.read() as work:
        hand = work.in_hand.hand(JOB.number)
    assert hand.worked == (WORKED, more)
    assert (hand.hours("bottom-end"), hand.hours("top-end")) == (Decimal("1.75"), None)


def test_the_customers_last_word_on_a_line_holds(database: Database) -> None:
    with_job(database)
    with database.work() as work:
        work.jobs.add_approvals(JOB.number, [APPROVAL])
        work.commit()
    with database.read() as work:
        assert work.jobs.bench(JOB.number).declined == {("shells", "")}
    with database.work() as work:
        work.jobs.add_approvals(JOB.number, [replace(APPROVAL, agreed=True)])
        work.commit()
    with database.read() as work:
        assert work.jobs.bench(JOB.number).declined == frozenset()
        assert len(work.jobs.bench(JOB.number).approvals) == 2


ADDITIONS: dict[str, Callable[[UnitOfWork], object]] = {
    "findings": lambda work: work.jobs.add_findings(JOB.number, [CRANK]),
    "a decision": lambda work: work.jobs.add_override(JOB.number, OVERRIDE),
    "a size": lambda work: work.jobs.add_size_decision(JOB.number, SIZE_DECISION),
    "the customer's word": lambda work: work.jobs.add_approvals(JOB.number, [APPROVAL]),
    "an estimate": lambda work: work.estimates.keep_estimate(ESTIMATE),
    "parts": lambda work: work.in_hand.add_pieces(JOB.number, [CAME]),
    "work": lambda work: work.in_hand.add_work(JOB.number, WORK_BACK),
    "hours": lambda work: work.in_hand.add_hours(JOB.number, WORKED),
    "figures": lambda work: work.building.add_figures(JOB.number, [FIGURE]),
    "from the shelf": lambda work: work.shelf.take(JOB.number, "shells", SHELLS, 1, SIGNED),
    "to the shelf": lambda work: work.shelf.give_back(JOB.number, "shells", SHELLS, 1, SIGNED),
    "an order": lambda work: work.orders.make_order(an_order(approved=False)),
    "closed again": lambda work: work.building.close(CLOSING),
}


@pytest.mark.parametrize("what", ADDITIONS)
def test_a_closed_job_takes_nothing_more(sqlite_database: Database, what: str) -> None:
    with_job(sqlite_database)
    with sqlite_database.work() as work:
        work.shelf.put_in(SHELLS, 3, "bin 4", Decimal(0), SIGNED)
        work.shelf.take(JOB.number, "shells", SHELLS, 1, SIGNED)
        work.building.close(CLOSING)
        work.commit()
    closed = "job 24-001: it was closed by Joan on 01 May 2024 and is only read"
    with sqlite_database.work() as work, pytest.raises(BadInput, match=closed):
        ADDITIONS[what](work)
    with sqlite_database.read() as work:
        assert work.building.closing(JOB.number) == CLOSING
