"""What deliveries brought for a job: pieces, and costs that add up to what was paid."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from kitting.buying.delivered import carriage_to, coming_to, delivered_to, made_up_for
from kitting.buying.deliveries import Delivery, DeliveryLine
from kitting.buying.orders import LineFor, OrderState
from kitting.buying.replies import Answer, Reply, ReplyLine, Word
from kitting.buying.standing import OrderRecord, Step
from kitting.job.hand import Source
from kitting.job.pricing import rounded
from tests.builders import number
from tests.buying.orders import DAY, JOB, a_line, an_order


def delivered(record: OrderRecord, *goods: int) -> OrderRecord:
    """The record with one delivery that brought so many good pieces of each line."""
    lines = tuple(
        DeliveryLine(line.id, good) for line, good in zip(record.order.lines, goods, strict=True)
    )
    came = Delivery(record.order.number, DAY, "Joan", lines)
    return replace(record, deliveries=(came,))


def test_what_came_sound_is_in_hand_with_its_cost() -> None:
    record = OrderRecord(an_order(a_line("hob:W101", 2, "18.00", positions=("shells",))))
    assert delivered_to([record], JOB) == ()
    (piece,) = delivered_to([delivered(record, 2)], JOB)
    assert (piece.position, piece.part, piece.quantity) == ("shells", number("hob:W101"), 2)
    assert (piece.source, piece.cost, piece.place) == (
        Source.DELIVERY, Decimal("36.00"), "order P1001",
    )  # fmt: skip
    assert delivered_to([delivered(record, 2)], "24-009") == ()


def test_a_short_delivery_brings_what_came_at_its_share_of_the_cost() -> None:
    record = OrderRecord(an_order(a_line("hob:W320", 3, "10.00")))
    (piece,) = delivered_to([delivered(record, 1)], JOB)
    assert (piece.quantity, piece.cost) == (1, Decimal("10.00"))


def test_what_was_accepted_as_short_is_paid_by_those_who_have_it() -> None:
    needs = tuple(LineFor(job, "1.01", ("nuts",), 4) for job in ("24-001", "24-002"))
    order = an_order(replace(a_line("hob:W320", 8, "1.80"), needed_by=needs))
    line = order.lines[0].id
    short = Reply("P1001", 1, (ReplyLine(line, packs=6),), DAY)
    taken = Answer(line, 1, Word.ACCEPT, "K. Ferris", DAY)
    found = delivered(OrderRecord(order, replies=(short,), answers=(taken,)), 6)
    costs = [piece.cost for job in ("24-001", "24-002") for piece in delivered_to([found], job)]
    assert costs == [Decimal("7.20"), Decimal("3.60")]


def test_the_carriage_of_a_parcel_that_came_is_paid_when_the_rest_is_cancelled() -> None:
    record = OrderRecord(an_order(a_line("hob:W320", 3, "10.00")))
    gone = (Step(OrderState.CANCELLED, "K. Ferris", DAY),)
    assert carriage_to([replace(record, steps=gone)], JOB) == 0
    came = delivered(record, 2)
    assert carriage_to([replace(came, steps=gone)], JOB) == carriage_to([came], JOB) > 0


def test_a_set_brings_the_parts_in_it_when_it_came() -> None:
    line = a_line("hob:W900", 1, "24.00", in_set=True)
    gaskets = tuple(
        LineFor(JOB, key, (position,), 1, in_set=True, stands_for=number(part))
        for key, position, part in (
            ("1.02", "case-gasket", "hob:W210"), ("3.03", "head-gasket", "hob:W310"),
        )
    )  # fmt: skip
    record = OrderRecord(an_order(replace(line, needed_by=gaskets)))
    pieces = delivered_to([delivered(record, 1)], JOB)
    assert [(p.position, p.part, p.cost) for p in pieces] == [
        ("case-gasket", number("hob:W210"), Decimal("12.00")),
        ("head-gasket", number("hob:W310"), Decimal("12.00")),
    ]
    assert delivered_to([delivered(record, 0)], JOB) == ()


@given(
    needs=st.lists(st.integers(1, 9), min_size=1, max_size=5),
    price=st.decimals(Decimal("0.01"), 999, places=2),
    worth=st.decimals(Decimal("0.1"), 3, places=4),
)
def test_the_shares_of_all_jobs_add_up_to_what_the_line_cost(
    needs: list[int], price: Decimal, worth: Decimal
) -> None:
    total = sum(needs)
    line = replace(
        a_line("hob:W140", total, str(price)),
        needed_by=tuple(
            LineFor(f"24-{at:03}", "1.01", ("rod-bolts",), count) for at, count in enumerate(needs)
        ),
    )
    record = delivered(OrderRecord(an_order(line, worth=worth)), total)
    costs = [
        piece.cost or Decimal(0)
        for at in range(len(needs))
        for piece in delivered_to([record], f"24-{at:03}")
    ]
    assert len(costs) == len(needs)
    assert sum(costs, Decimal(0)) == rounded(price * total * worth, "GBP")
    assert min(costs) >= 0


def test_carriage_is_shared_by_what_each_job_ordered() -> None:
    line = a_line("hob:W101", 2, "18.00")
    other = replace(line.needed_by[0], job="24-002", pieces=1)
    shared = replace(line, needed_by=(replace(line.needed_by[0], pieces=1), other))
    record = OrderRecord(an_order(shared))
    assert carriage_to([record], JOB) == Decimal("3.25")
    assert carriage_to([record], "24-002") == Decimal("3.25")
    assert carriage_to([OrderRecord(an_order(shared, approved=False))], JOB) == 0


def test_carriage_and_what_only_made_the_order_up_are_borne_whole_by_its_jobs() -> None:
    line = a_line("hob:W101", 3, "18.00")
    needs = tuple(replace(line.needed_by[0], job=f"24-{at}", pieces=1) for at in range(3))
    topping = replace(a_line("hob:W205", 1, "9.75"), needed_by=())
    order = an_order(replace(line, quantity=3, needed_by=needs), topping)
    here = delivered(OrderRecord(order), 3, 1)
    jobs = [need.job for need in needs]
    assert [carriage_to([here], job) for job in jobs] == [
        Decimal("2.17"), Decimal("2.16"), Decimal("2.17"),
    ]  # fmt: skip
    assert sum(made_up_for([here], job) for job in jobs) == Decimal("9.75")
    assert made_up_for([OrderRecord(order)], jobs[0]) == 0


def test_the_day_is_that_of_the_last_delivery() -> None:
    record = delivered(OrderRecord(an_order(a_line("hob:W101", 2, "18.00"))), 1)
    later = replace(record.deliveries[0], day=date(2024, 6, 1))
    (piece,) = delivered_to([replace(record, deliveries=(record.deliveries[0], later))], JOB)
    assert piece.when == date(2024, 6, 1)


def test_what_is_on_order_and_not_here_comes_by_its_order_on_its_day() -> None:
    record = OrderRecord(an_order(a_line("hob:W320", 5, "10.00", positions=("barrel-nuts",))))
    (coming,) = coming_to([record], JOB)
    assert (coming.quantity, coming.place, coming.when) == (5, "order P1001", DAY + timedelta(3))
    assert coming_to([record], "24-009") == ()
    came = DeliveryLine(record.order.lines[0].id, 2, to_follow=2)
    part = replace(record, deliveries=(Delivery("P1001", DAY, "Joan", (came,)),))
    assert [each.quantity for each in coming_to([part], JOB)] == [2]
    assert coming_to([delivered(record, 2)], JOB) == ()
    cancelled = Step(OrderState.CANCELLED, "Joan", DAY)
    assert coming_to([replace(record, steps=(cancelled,))], JOB) == ()
    (drafted,) = coming_to([replace(record, order=replace(record.order, approved_by=""))], JOB)
    assert drafted.place == "draft P1001"


def test_a_set_on_order_brings_each_of_its_parts() -> None:
    line = a_line("hob:W900", 1, "24.00", in_set=True)
    gaskets = tuple(
        LineFor(JOB, "1.02", (at,), 2, in_set=True, stands_for=number(part))
        for at, part in (("case-gasket", "hob:W210"), ("head-gasket", "hob:W310"))
    )
    record = OrderRecord(an_order(replace(line, needed_by=gaskets)))
    assert [(each.position, each.part, each.quantity) for each in coming_to([record], JOB)] == [
        ("case-gasket", number("hob:W210"), 2),
        ("head-gasket", number("hob:W310"), 2),
    ]
