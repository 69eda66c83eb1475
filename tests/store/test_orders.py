"""Orders in the database: frozen by revision, and only added to."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime, timedelta, tzinfo
from decimal import Decimal
from typing import Self

import pytest
from sqlalchemy import URL, select

from kitting.buying.deliveries import Delivery, DeliveryLine, Return, Why
from kitting.buying.orders import Order, OrderState
from kitting.buying.proven import Settled
from kitting.buying.replies import Answer, Reply, ReplyLine, Word
from kitting.buying.standing import OrderRecord, Step
from kitting.buying.steps import Measured
from kitting.errors import BadInput, KittingError, NotFound
from kitting.job.findings import Reading
from kitting.store import order_history
from kitting.store.database import Database, UnitOfWork
from kitting.store.orders import Orders
from kitting.store.tables import metadata
from tests.builders import number, q
from tests.buying.orders import DAY, an_order
from tests.store.samples import JOB, TRADE, count, with_job
from tests.store.test_two_benches import at_once

DRAFT = an_order(approved=False)
SHELL, BOLT, NUT, SPRING, GASKET = (line.id for line in DRAFT.lines)
LATER = date(2024, 5, 9)
APPROVAL = Step(OrderState.APPROVED, "K. Ferris", DAY)
SENT = Step(OrderState.SENT, "K. Ferris", DAY, "by mail")
CANCELLED = Step(OrderState.CANCELLED, "K. Ferris", LATER, "they close for August")
WALL = Reading("wall", "", "", ".0609", q(".0609"), "micrometer")
REPLY = Reply(
    "P1001",
    1,
    (
        ReplyLine(NUT, 1, Decimal("3.55"), date(2024, 5, 20), "", "one box left"),
        ReplyLine(SPRING, None, None, None, "R 205", "", number("dal:R205")),
    ),
    LATER,
    "U. Held",
    "4711",
)
ACCEPT = Answer(NUT, 1, Word.ACCEPT, "K. Ferris", LATER, "four will do")
DELIVERY = Delivery(
    "P1001",
    LATER,
    "J. Marlowe",
    (
        DeliveryLine(SHELL, 1, readings=(WALL,), inside=1),
        DeliveryLine(NUT, 3, damaged=1, to_follow=1, note="box torn"),
        DeliveryLine(SPRING, 1, to_measure=True),
    ),
    "LN 77",
)
TAKEN = Settled(SPRING, 1, Word.ACCEPT, "K. Ferris", LATER, "no rig here; the maker's slip is in")
BACK = Return(NUT, 1, Why.DAMAGED, "J. Marlowe", LATER, "by post")


def kept(database: Database, *steps: Callable[[UnitOfWork], object]) -> OrderRecord:
    """Do things to the shop's first order, each in a unit of work of its own."""
    with_job(database)
    for step in (lambda work: work.orders.make_order(DRAFT), *steps):
        with database.work() as work:
            step(work)
            work.commit()
    with database.read() as work:
        return work.orders.record("P1001")


def approves(work: UnitOfWork) -> OrderRecord:
    return work.orders.approve_order("P1001", 1, APPROVAL)


def answers(work: UnitOfWork) -> OrderRecord:
    return work.orders.add_answer("P1001", ACCEPT)


def replies(work: UnitOfWork) -> int:
    return work.orders.add_reply(REPLY)


def receives(work: UnitOfWork) -> int:
    return work.orders.add_delivery(DELIVERY)


def sends(work: UnitOfWork) -> OrderRecord:
    return work.orders.add_step("P1001", SENT)


def cancels(work: UnitOfWork) -> OrderRecord:
    return work.orders.add_step("P1001", CANCELLED)


def measures(work: UnitOfWork) -> OrderRecord:
    again = replace(WALL, text=".0615", value=q(".0615"))
    return work.orders.add_measured(
        "P1001",
        SHELL,
        Measured(1, DELIVERY.lines[0].readings, (again,), (0, 1, 0), "J. Marlowe"),
    )


def settles(work: UnitOfWork) -> OrderRecord:
    return work.orders.add_settled("P1001", TAKEN)


def returns(work: UnitOfWork) -> OrderRecord:
    return work.orders.add_return("P1001", BACK)


def test_a_draft_comes_back_as_it_was_made(database: Database) -> None:
    assert kept(database) == OrderRecord(DRAFT)


def test_numbers_run_on_and_say_nothing(database: Database) -> None:
    with_job(database)
    with database.work() as work:
        made = [work.orders.make_order(DRAFT).number for _ in range(3)]
        work.commit()
    assert made == ["P1001", "P1002", "P1003"]


def test_everything_that_happens_to_an_order_comes_back(database: Database) -> None:
    found = kept(
        database,
        *(approves, sends, replies, answers, receives, returns, measures, settles, cancels),
    )
    assert found.order == replace(DRAFT, approved_by="K. Ferris", approved_on=DAY)
    assert found.steps == (APPROVAL, SENT, CANCELLED)
    assert found.replies == (REPLY,)
    assert found.answers == (ACCEPT,)
    assert found.returns == (BACK,)
    assert found.settled == (TAKEN,)
    (came,) = found.deliveries
    assert replace(came, lines=()) == replace(DELIVERY, lines=())
    assert came.lines[1:] == DELIVERY.lines[1:]
    assert (came.lines[0].by_figures, came.lines[0].readings[0].text) == ((0, 1, 0), ".0615")
    assert found.state is OrderState.CANCELLED


class _Slow(datetime):
    """The clock of a bench that is an hour behind."""

    @classmethod
    def now(cls, tz: tzinfo | None = None) -> Self:
        return super().now(tz) - timedelta(hours=1)


@pytest.mark.parametrize("first", ["answer", "delivery"])
def test_an_answer_knows_what_had_come_when_it_was_given_whatever_the_clocks(
    database: Database, monkeypatch: pytest.MonkeyPatch, first: str
) -> None:
    steps = [answers, receives] if first == "answer" else [receives, answers]
    kept(database, approves, replies, steps[0])
    monkeypatch.setattr(order_history, "datetime", _Slow)
    with database.work() as work:
        steps[1](work)
        work.commit()
    with database.read() as work:
        (answer,) = work.orders.record("P1001").answers
    assert answer == replace(ACCEPT, delivered=0 if first == "answer" else 1)


def test_figures_measured_before_are_kept_beside_the_later_ones(database: Database) -> None:
    kept(database, approves, receives, measures)
    rows = metadata.tables["delivery_readings"]
    with database.engine.connect() as connection:
        texts = connection.execute(select(rows.c.text).order_by(rows.c.rank)).scalars().all()
    assert texts == [".0609", ".0615"]


def test_a_draft_made_anew_is_the_next_revision_and_the_first_stays(database: Database) -> None:
    fewer = replace(DRAFT, lines=DRAFT.lines[1:])
    found = kept(database, lambda work: work.orders.remake_order("P1001", fewer))
    assert (found.order.revision, found.order.lines) == (2, DRAFT.lines[1:])
    with database.read() as work:
        assert work.orders.order("P1001", 1) == DRAFT


def test_a_draft_made_anew_alike_is_no_new_revision(database: Database) -> None:
    later = replace(DRAFT, day=LATER)
    assert kept(database, lambda work: work.orders.remake_order("P1001", later)).order == DRAFT


def test_later_prices_do_not_change_an_order(database: Database) -> None:
    kept(database, approves)
    dearer = tuple(replace(each, price=each.price * 2, breaks=()) for each in TRADE.offers)
    with database.work() as work:
        work.trade.load_trade(replace(TRADE, offers=dearer, suppliers=TRADE.suppliers))
        work.commit()
    with database.read() as work:
        assert work.orders.record("P1001").order.lines == DRAFT.lines


def test_a_reply_loaded_twice_changes_nothing(database: Database) -> None:
    once = kept(database, approves, replies)
    with database.work() as work:
        assert work.orders.add_reply(replace(REPLY, day=date(2024, 6, 1))) == 0
        work.commit()
    with database.read() as work:
        assert work.orders.record("P1001") == once


def test_a_delivery_note_booked_twice_changes_nothing(database: Database) -> None:
    once = kept(database, approves, receives)
    with database.work() as work:
        assert work.orders.add_delivery(replace(DELIVERY, day=date(2024, 6, 1))) == 0
        work.commit()
    with database.read() as work:
        assert work.orders.record("P1001") == once


@pytest.mark.parametrize(
    ("before", "act", "sentence"),
    [
        ([approves], approves, "it was approved already, by K. Ferris on 02 May 2024"),
        ([cancels], approves, "it is cancelled: it cannot be approved"),
        ([], sends, "it is draft: it cannot be sent; approve it first"),
        ([approves, sends], sends, "it is sent: it was sent already"),
        ([], replies, "it is draft: it cannot be answered"),
        ([], receives, "it is draft: nothing of it was ordered"),
        ([approves, cancels], receives, "it is cancelled: nothing of it was to come"),
        ([approves, cancels], cancels, "it is cancelled: it was cancelled already"),
        ([approves], answers, "the supplier's reply asks nothing of it that is still open"),
        ([approves, replies, answers], answers, "asks nothing of it that is still open"),
        ([approves], measures, "nothing of it has come"),
        ([approves], settles, "nothing of it has come"),
        ([approves, receives, settles], settles, "K. Ferris said so already"),
        ([approves, receives, measures], measures, "somebody else has measured it meanwhile"),
        ([approves], returns, "1 of it cannot go back as damaged; nothing of this line may go"),
    ],
)
def test_what_may_not_be_done_is_refused_and_nothing_is_stored(
    database: Database,
    before: list[Callable[[UnitOfWork], object]],
    act: Callable[[UnitOfWork], object],
    sentence: str,
) -> None:
    found = kept(database, *before)
    with database.work() as work:
        with pytest.raises(BadInput) as refused:
            act(work)
        work.commit()
    assert sentence in str(refused.value)
    with database.read() as work:
        assert work.orders.record("P1001") == found


def test_what_was_approved_is_not_made_anew(database: Database) -> None:
    with pytest.raises(BadInput, match="what was approved stays as it was"):
        kept(database, approves, lambda work: work.orders.remake_order("P1001", DRAFT))


def test_what_was_made_anew_since_it_was_looked_at_is_not_approved(database: Database) -> None:
    fewer = replace(DRAFT, lines=DRAFT.lines[1:])
    with pytest.raises(BadInput, match="it was made anew meanwhile: it is at revision 2"):
        kept(database, lambda work: work.orders.remake_order("P1001", fewer), approves)


def test_an_amount_too_fine_to_keep_is_refused_whole(database: Database) -> None:
    with_job(database)
    odd = replace(DRAFT.lines[0], pack_price=Decimal("0.00001"), net=Decimal("0.00"))
    with database.work() as work:
        with pytest.raises(BadInput, match="too fine for an amount of money"):
            work.orders.make_order(replace(DRAFT, lines=(odd,)))
        work.commit()
    assert [count(database, t) for t in ("orders", "order_revisions", "order_lines")] == [0, 0, 0]


def test_an_order_that_was_never_made_is_not_found(database: Database) -> None:
    kept(database)
    with pytest.raises(NotFound) as refused, database.read() as work:
        work.orders.record("P2001")
    assert str(refused.value) == "no order 'P2001'; did you mean P1001?"


def test_orders_are_found_by_their_job(database: Database) -> None:
    kept(database)
    with database.read() as work:
        assert [each.order.number for each in work.orders.records_for(JOB.number)] == ["P1001"]
        assert work.orders.records_for("24-999") == ()
        assert len(work.orders.records()) == 1


WRITERS: dict[str, Callable[[UnitOfWork], object]] = {
    "make_order": lambda work: work.orders.make_order(DRAFT),
    "remake_order": lambda work: work.orders.remake_order(
        "P1002", replace(DRAFT, lines=DRAFT.lines[1:])
    ),
    "approve_order": lambda work: work.orders.approve_order("P1002", 1, APPROVAL),
    "add_step": sends,
    "add_reply": lambda work: work.orders.add_reply(replace(REPLY, reference="4712")),
    "add_answer": answers,
    "add_delivery": lambda work: work.orders.add_delivery(
        Delivery("P1001", LATER, "J", (DeliveryLine(GASKET, 3),))
    ),
    "add_measured": measures,
    "add_settled": settles,
    "add_return": returns,
}


def everything(database: Database) -> dict[str, object]:
    with database.engine.connect() as connection:
        return {
            name: sorted(map(repr, connection.execute(select(table))))
            for name, table in metadata.tables.items()
        }


@pytest.mark.parametrize("writer", WRITERS)
def test_leaving_without_commit_keeps_nothing_and_a_reader_cannot_write(
    database: Database, writer: str
) -> None:
    kept(database, WRITERS["make_order"], approves, replies, receives)
    before = everything(database)
    with database.work() as work:
        WRITERS[writer](work)
    assert everything(database) == before
    with pytest.raises(KittingError, match="read-only"), database.read() as work:
        WRITERS[writer](work)
    with database.work() as work:
        WRITERS[writer](work)
        work.commit()
    assert everything(database) != before


def test_every_writer_of_orders_is_tried_here() -> None:
    public = {name for name in vars(Orders) if not name.startswith("_")}
    assert public - {"record", "order", "records", "records_for", "hold"} == set(WRITERS)


def approves_at_once(url: str, bench: int) -> bool:
    database = Database(url)
    try:
        with database.work() as work:
            step = replace(APPROVAL, who=f"bench {bench}")
            work.orders.approve_order("P1001", 1, step)
            work.commit()
    except BadInput:
        return False
    finally:
        database.close()
    return True


def makes_orders(url: str, bench: int) -> str:
    database = Database(url)
    made = []
    for _ in range(5):
        with database.work() as work:
            made.append(work.orders.make_order(DRAFT).number)
            work.commit()
    database.close()
    return " ".join(made)


def test_of_two_who_approve_at_once_one_is_refused(database: Database, database_url: URL) -> None:
    kept(database)
    assert sorted(map(bool, at_once(approves_at_once, database_url))) == [False, True]


def test_two_who_make_orders_at_once_never_get_one_number(
    database: Database, database_url: URL
) -> None:
    with_job(database)
    made = " ".join(map(str, at_once(makes_orders, database_url))).split()
    assert sorted(made) == [f"P{number}" for number in range(1001, 1011)]


def test_an_orders_sums_are_worked_out_from_its_lines_and_never_kept_beside_them() -> None:
    columns = {column.name for column in metadata.tables["order_revisions"].columns}
    assert not columns & {"goods", "total", "net"}
    assert isinstance(DRAFT, Order)
