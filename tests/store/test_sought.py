"""Orders are told what others and the shelf have brought to the places of their jobs."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction

from kitting.buying.deliveries import Delivery, DeliveryLine
from kitting.buying.orders import LineFor, OrderState
from kitting.buying.standing import Step
from kitting.job.hand import InHand, Source
from kitting.job.shelf import Signature
from kitting.store.database import Database
from tests.builders import number
from tests.buying.orders import DAY, a_line, an_order
from tests.store.samples import JOB, with_job

OTHER = "24-002"
NUTS, BY = number("hob:W320"), Signature("Joan", date(2024, 5, 9))
APPROVED = Step(OrderState.APPROVED, "K. Ferris", DAY)
NEED = LineFor(JOB.number, "1.04", ("barrel-nuts",), 4, stands_for=NUTS, whole=4)


def two_jobs(database: Database) -> str:
    """Eight nuts for two jobs, of which four came; the line's id."""
    with_job(database)
    line = replace(a_line("hob:W320", 8, "1.10"), needed_by=(NEED, replace(NEED, job=OTHER)))
    with database.work() as work:
        work.jobs.open_job(replace(JOB, number=OTHER))
        made = work.orders.make_order(an_order(line, approved=False))
        work.orders.approve_order(made.number, 1, APPROVED)
        (key,) = (each.id for each in made.lines)
        work.orders.add_delivery(Delivery(made.number, BY.when, "Joan", (DeliveryLine(key, 4),)))
        work.shelf.put_in(NUTS, 9, "bin 4", Decimal(0), BY)
        work.commit()
    return key


def delivered(database: Database) -> list[int]:
    """What deliveries have brought to the two jobs, as each of their hands has it."""
    with database.read() as work:
        hands = (work.in_hand.hand(job) for job in (JOB.number, OTHER))
        return [
            sum(each.quantity for each in hand.pieces if each.source is Source.DELIVERY)
            for hand in hands
        ]


def test_what_a_job_takes_off_the_shelf_or_marks_leaves_the_other_what_came(
    database: Database,
) -> None:
    key = two_jobs(database)
    assert delivered(database) == [4, 0]
    with database.work() as work:
        work.shelf.take(JOB.number, "barrel-nuts", NUTS, 3, BY)
        by_hand = InHand("barrel-nuts", NUTS, 1, Source.BY_HAND, "Joan", BY.when)
        work.in_hand.add_pieces(JOB.number, [by_hand])
        work.commit()
    assert delivered(database) == [0, 4]
    with database.work() as work:
        for records in (work.orders.records(), work.orders.records_for(OTHER)):
            assert records == (work.orders.record("P1001"),)
            assert records[0].sought == {key: (Fraction(0), Fraction(4))}
        work.shelf.give_back(JOB.number, "barrel-nuts", NUTS, 3, BY)
        work.commit()
    assert delivered(database) == [3, 1]


def test_what_another_order_brings_to_one_job_leaves_the_other_what_came(
    database: Database,
) -> None:
    two_jobs(database)
    again = replace(a_line("hob:W320", 4, "1.30"), needed_by=(NEED,))
    with database.work() as work:
        made = work.orders.make_order(an_order(again, approved=False))
        work.commit()
    # A draft brings nothing yet.
    assert delivered(database) == [4, 0]
    with database.work() as work:
        work.orders.approve_order(made.number, 1, APPROVED)
        (key,) = (each.id for each in made.lines)
        work.orders.add_delivery(Delivery(made.number, BY.when, "Joan", (DeliveryLine(key, 4),)))
        work.commit()
    assert delivered(database) == [4, 4]
    with database.read() as work:
        (first,) = work.orders.records_for(OTHER)
        assert first == work.orders.record("P1001")
