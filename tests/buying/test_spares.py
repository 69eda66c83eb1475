"""What earlier orders brought beside the need is named before it is bought again."""

from dataclasses import replace

from kitting.buying.deliveries import Delivery, DeliveryLine
from kitting.buying.orders import LineFor, Order, OrderState
from kitting.buying.spares import spares_of
from kitting.buying.standing import OrderRecord, Step
from kitting.catalog.model import SetItem
from tests.builders import number
from tests.buying.orders import DAY, JOB, a_line, an_order

NUTS, SEAL, GASKET, SET = map(number, ("hob:W320", "hob:W210", "hob:W310", "hob:W900"))
ITEMS = (SetItem(SET, SEAL, 2), SetItem(SET, GASKET, 1))


def came(order: Order, good: int) -> OrderRecord:
    line = DeliveryLine(order.lines[0].id, good)
    return OrderRecord(order, deliveries=(Delivery("P1001", DAY, "Joan", (line,)),))


def test_the_rest_of_a_pack_is_named_where_it_lies_here() -> None:
    order = an_order(a_line("hob:W320", 1, "3.20", pack=6, quantity=4))
    (spare,) = spares_of([came(order, 6)], (), {NUTS})
    assert (spare.pieces, spare.order, spare.due) == (2, "P1001", None)
    assert "put what lies here on the shelf" in spare.sentence
    assert spares_of([came(order, 6)], (), {SEAL}) == ()
    assert spares_of([came(order, 3)], (), {NUTS}) == ()


def test_the_rest_of_a_pack_is_named_with_its_day_while_it_is_still_to_come() -> None:
    order = an_order(a_line("hob:W320", 2, "3.20", pack=6, quantity=8))
    due = order.due(order.lines[0])
    (spare,) = spares_of([OrderRecord(order)], (), {NUTS})
    assert (spare.pieces, spare.due) == (4, due)
    assert f"is to bring 4 pieces of hob:W320 more than is needed, by {due:%d %b %Y}" in (
        spare.sentence
    )
    line = DeliveryLine(order.lines[0].id, 10, to_follow=2)
    part = OrderRecord(order, deliveries=(Delivery("P1001", DAY, "Joan", (line,)),))
    assert [(each.pieces, each.due) for each in spares_of([part], (), {NUTS})] == [
        (2, None),
        (2, due),
    ]
    drafted = replace(order, approved_by="", approved_on=None)
    cancelled = OrderRecord(order, (Step(OrderState.CANCELLED, "K. Ferris", DAY),))
    assert spares_of([OrderRecord(drafted), cancelled], (), {NUTS}) == ()


def test_what_a_set_holds_beside_the_need_is_named_with_the_set() -> None:
    need = LineFor(JOB, "1.02", ("seal",), 1, in_set=True, stands_for=SEAL)
    order = an_order(replace(a_line("hob:W900", 1, "24.00"), needed_by=(need,)))
    found = spares_of([came(order, 1)], ITEMS, {SEAL, GASKET})
    assert {(each.part, each.pieces, each.out_of) for each in found} == {
        (SEAL, 1, SET),
        (GASKET, 1, SET),
    }
    assert "out of the set" in found[0].sentence
    to_come = spares_of([OrderRecord(order)], ITEMS, {SEAL, GASKET})
    assert [(each.part, each.pieces) for each in to_come] == [(SEAL, 1), (GASKET, 1)]
    assert all(each.due and "is to bring" in each.sentence for each in to_come)
