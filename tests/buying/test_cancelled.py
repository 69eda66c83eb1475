"""An order of which the rest is cancelled: what came stays, and what failed with it."""

from dataclasses import replace
from decimal import Decimal

from kitting.buying.delivered import carriage_to
from kitting.buying.deliveries import DeliveryLine, Return, Why
from kitting.buying.orders import OrderState
from kitting.buying.standing import Step, before_of
from tests.buying.test_standing import LATER, LINE, record


def test_what_came_damaged_is_a_failure_when_the_rest_is_cancelled_and_the_rest_is_none() -> None:
    gone = (Step(OrderState.CANCELLED, "K. Ferris", LATER),)
    assert before_of([replace(record(), steps=gone)]).failures.every == ()
    came = record(DeliveryLine(LINE, 4, damaged=2), steps=gone)
    (failure,) = before_of([came]).failures.every
    assert failure.what == "2 damaged"
    back = (Return(LINE, 2, Why.DAMAGED, "K. Ferris", LATER),)
    assert len(before_of([replace(came, returns=back)]).failures.every) == 1
    assert came.agreed == replace(came, steps=()).agreed - Decimal("3.20")
    assert replace(record(), steps=gone).agreed == 0


def test_the_carriage_of_what_had_come_is_the_jobs_too() -> None:
    """Free from a sum that the rest would have reached."""
    came = record(
        DeliveryLine(LINE, 4, to_follow=4), steps=(Step(OrderState.CANCELLED, "K. Ferris", LATER),)
    )
    supplier = replace(came.order.supplier, free_over=came.order.goods, carriage=Decimal("6.50"))
    cut = replace(came, order=replace(came.order, supplier=supplier))
    assert cut.agreed_carriage == Decimal("6.50")
    (job,) = cut.order.jobs
    assert carriage_to([cut], job) == Decimal("6.50")
    assert replace(cut, steps=()).agreed_carriage == 0
