"""What a line left open, and where it was bought meanwhile."""

from dataclasses import replace

import pytest

from kitting.buying.again import Again, ordered_again
from kitting.buying.deliveries import Delivery, DeliveryLine
from kitting.buying.orders import OrderState
from kitting.buying.standing import OrderRecord, Step
from tests.buying.orders import DAY, JOB, a_line, an_order

CANCELLED = (Step(OrderState.CANCELLED, "K. Ferris", DAY),)


def nuts(
    number: str, pieces: int, *, job: str = JOB, place: str = "barrel-nuts", approved: bool = True
) -> OrderRecord:
    """An order of so many nuts, for one place of one job."""
    line = a_line("hob:W320", pieces, "3.20", job=job, positions=(place,))
    return OrderRecord(replace(an_order(line, approved=approved), number=number))


def short(record: OrderRecord, came: int) -> OrderRecord:
    """The same delivered, so much of it."""
    (line,) = record.order.lines
    came_now = (DeliveryLine(line.id, came),)
    return replace(record, deliveries=(Delivery(record.order.number, DAY, "Joan", came_now),))


FAILED = replace(nuts("P1001", 4), steps=CANCELLED)


@pytest.mark.parametrize(
    ("later", "says"),
    [
        ((), Again(1)),
        ((nuts("P1002", 4),), Again(0, ("P1002",))),
        ((nuts("P1002", 4, approved=False),), Again(0, (), ("P1002",))),
        ((nuts("P1002", 3),), Again(1, ("P1002",))),
        ((nuts("P1002", 3), nuts("P1003", 1, approved=False)), Again(0, ("P1002",), ("P1003",))),
        ((nuts("P1002", 4, job="24-9"),), Again(1)),
        ((nuts("P1002", 4, place="elsewhere"),), Again(1)),
        ((replace(nuts("P1002", 4), steps=CANCELLED),), Again(1)),
        ((short(nuts("P1002", 4), 1), nuts("P1003", 3)), Again(0, ("P1002", "P1003"))),
    ],
    ids=str,
)
def test_a_line_is_ordered_again_where_a_later_order_brings_it_to_the_same_place_of_the_job(
    later: tuple[OrderRecord, ...], says: Again
) -> None:
    assert ordered_again(FAILED, (FAILED, *later)) == says


def test_what_a_later_order_brings_answers_one_of_two_lines_that_failed() -> None:
    two = an_order(*(a_line("hob:W320", 2, "3.20", positions=("barrel-nuts",)) for _ in "ab"))
    first, other = two.lines
    failed = OrderRecord(replace(two, lines=(first, replace(other, id="ZZZZZ"))), CANCELLED)
    assert ordered_again(failed, (failed, nuts("P1002", 2))) == Again(1, ("P1002",))
    assert ordered_again(failed, (failed, nuts("P1002", 4))) == Again(0, ("P1002",))


def test_what_an_earlier_order_brings_is_no_answer_to_what_fails_later() -> None:
    every = (nuts("P1001", 4), short(nuts("P1002", 2), 0))
    assert ordered_again(every[1], every) == Again(1)


def test_of_what_is_short_only_the_missing_pieces_are_to_be_bought_again() -> None:
    first = short(nuts("P1001", 4), 3)
    assert ordered_again(first, (first,)) == Again(1)
    assert ordered_again(first, (first, nuts("P1002", 1))) == Again(0, ("P1002",))


def test_of_a_draft_that_was_dropped_nothing_is_to_be_ordered_again() -> None:
    draft = replace(nuts("P1001", 4, approved=False), steps=CANCELLED)
    assert ordered_again(draft, (draft,)) == Again()
