"""What no kit asks for any more of goods bought outright: told, and sent back as surplus."""

from dataclasses import replace
from decimal import Decimal

from kitting.buying.deliveries import Delivery, DeliveryLine, Return, Why
from kitting.buying.going_back import Wanted, unwanted_of, whose_unused
from kitting.buying.standing import OrderRecord, before_of
from kitting.job.hand import Hand, InHand, Source
from kitting.job.path import JobPath
from tests.builders import number
from tests.buying.orders import DAY, JOB, a_line, an_order
from tests.sheets.values import a_ready_job

PATH = a_ready_job()
NUTS = a_line("hob:W320", 1, "3.20", pack=6, quantity=4, positions=("barrel-nuts",))
ORDER = an_order(NUTS)
(LINE,) = (line.id for line in ORDER.lines)
CAME = OrderRecord(ORDER, deliveries=(Delivery("P1001", DAY, "Joan", (DeliveryLine(LINE, 6),)),))


def unwanted(record: OrderRecord, path: JobPath, *others: OrderRecord) -> dict[str, int]:
    """What of an order no kit asks for, beside others that were made before and after it."""
    return dict(unwanted_of(record, {JOB: path}, (record, *others)))


def without_nuts(path: JobPath = PATH) -> JobPath:
    """The job as its kit asks for no nuts any more."""
    lines = tuple(line for line in path.kit.lines if "barrel-nuts" not in line.positions)
    return replace(path, kit=replace(path.kit, lines=lines))


def test_what_the_kit_asks_for_is_wanted_and_the_surplus_of_a_pack_is_no_part_of_it() -> None:
    assert unwanted(CAME, PATH) == {}
    assert CAME.lines[0].may_go[Why.SURPLUS] == 2


def test_what_left_the_kit_is_wanted_no_more_before_it_comes_and_when_it_is_here() -> None:
    assert unwanted(OrderRecord(ORDER), without_nuts()) == {LINE: 4}
    assert unwanted(CAME, without_nuts()) == {LINE: 4}
    on_return = replace(ORDER, lines=(replace(ORDER.lines[0], on_return=True),))
    assert unwanted(OrderRecord(on_return), without_nuts()) == {}


def test_what_was_bought_to_reach_a_least_order_was_never_wanted() -> None:
    topping = an_order(replace(a_line("hob:W205", 1, "9.75"), needed_by=()), NUTS)
    assert unwanted(OrderRecord(topping), PATH) == {topping.lines[0].id: 1}


def test_wanted_no_more_it_goes_back_and_opens_nothing_nor_is_it_a_failure() -> None:
    for pieces, here, left in ((2, 4, 0), (5, 1, 0), (6, 0, 0)):
        back = (Return(LINE, pieces, Why.SURPLUS, "Joan", DAY),)
        gone = replace(CAME, returns=back)
        (line,) = gone.lines
        assert (line.good, line.reopened) == (here, left)
        assert before_of([gone]).failures.every == ()


def test_of_what_two_orders_bring_the_later_is_what_the_kit_can_do_without() -> None:
    later = OrderRecord(replace(ORDER, number="P1002"))
    assert unwanted(CAME, PATH, later) == {}
    assert unwanted_of(later, {JOB: PATH}, (CAME, later)) == {LINE: 4}
    in_part = replace(CAME, deliveries=(Delivery("P1001", DAY, "Joan", (DeliveryLine(LINE, 3),)),))
    assert unwanted_of(later, {JOB: PATH}, (in_part, later)) == {LINE: 3}
    drafted = OrderRecord(replace(later.order, approved_by="", approved_on=None))
    assert unwanted_of(CAME, {JOB: PATH}, (drafted, CAME)) == {}


def test_what_the_shelf_has_given_meanwhile_an_order_brings_for_nobody() -> None:
    taken = InHand("barrel-nuts", number("hob:W320"), 3, Source.SHELF, "Joan", DAY)
    path = replace(PATH, hand=Hand((taken,)))
    assert unwanted(OrderRecord(ORDER), path) == {LINE: 3}
    on_return = OrderRecord(replace(ORDER, lines=(replace(ORDER.lines[0], on_return=True),)))
    later = OrderRecord(replace(ORDER, number="P1002"))
    # What may go back at any time is done without first.
    assert unwanted_of(later, {JOB: PATH}, (on_return, later)) == {}


def test_what_a_job_that_is_not_built_waits_for_is_asked_for_by_nobody() -> None:
    assert unwanted(replace(CAME, given_up=frozenset({(JOB, "")})), PATH) == {LINE: 4}


def test_it_is_said_whose_the_unused_pieces_are() -> None:
    other = "24-999"
    needs = (NUTS.needed_by[0], replace(NUTS.needed_by[0], job=other))
    line = replace(NUTS, packs=2, quantity=8, net=Decimal("6.40"), needed_by=needs)
    order = an_order(line)
    (key,) = (each.id for each in order.lines)
    here = replace(CAME, order=order)
    came = (Delivery("P1001", DAY, "Joan", (DeliveryLine(key, 8),)),)
    here = replace(here, deliveries=came)
    # While the other's four are to come nothing that lies here is unused.
    declined = frozenset({(other, "barrel-nuts")})
    four = (Delivery("P1001", DAY, "Joan", (DeliveryLine(key, 4, to_follow=4),)),)
    half = replace(here, deliveries=four, given_up=declined)
    (line_now,) = half.lines
    assert unwanted_of(half, {JOB: PATH, other: PATH}, (half,)) == {key: 4}
    assert Wanted({JOB: PATH, other: PATH}.get, [half]).idle("P1001", line_now, 4) == 0
    paths = {JOB: PATH, other: without_nuts()}
    assert whose_unused(here, key, paths, (here,)) == {(other, "barrel-nuts"): 4}
