"""What earlier orders brought beside the need is named before it is bought again."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from kitting.buying.deliveries import Delivery, DeliveryLine
from kitting.buying.going_back import Wanted
from kitting.buying.orders import LineFor, Order, OrderState
from kitting.buying.spares import Spare, spares_of
from kitting.buying.standing import OrderRecord, Step
from kitting.catalog.model import PartNumber, SetItem
from kitting.job.path import JobPath
from tests.builders import number
from tests.buying.orders import DAY, JOB, a_line, an_order
from tests.buying.test_going_back import PATH, without_nuts

NUTS, SEAL, GASKET, SET = map(number, ("hob:W320", "hob:W210", "hob:W310", "hob:W900"))
ITEMS = (SetItem(SET, SEAL, 2), SetItem(SET, GASKET, 1))


def spares(
    records: Sequence[OrderRecord],
    sets: Iterable[SetItem],
    wanted: set[PartNumber],
    path: JobPath | None = None,
) -> tuple[Spare, ...]:
    """What orders bring of wanted parts for nobody; `path` is their job today, if it is told."""
    return spares_of(records, sets, wanted, Wanted(lambda _: path, records))


def came(order: Order, good: int) -> OrderRecord:
    line = DeliveryLine(order.lines[0].id, good)
    return OrderRecord(order, deliveries=(Delivery("P1001", DAY, "Joan", (line,)),))


def test_the_rest_of_a_pack_is_named_where_it_lies_here() -> None:
    order = an_order(a_line("hob:W320", 1, "3.20", pack=6, quantity=4))
    (spare,) = spares([came(order, 6)], (), {NUTS})
    assert (spare.pieces, spare.order, spare.due) == (2, "P1001", None)
    assert "put what lies here on the shelf" in spare.sentence
    assert spares([came(order, 6)], (), {SEAL}) == ()
    assert spares([came(order, 3)], (), {NUTS}) == ()


def test_the_rest_of_a_pack_is_named_with_its_day_while_it_is_still_to_come() -> None:
    order = an_order(a_line("hob:W320", 2, "3.20", pack=6, quantity=8))
    due = order.due(order.lines[0])
    (spare,) = spares([OrderRecord(order)], (), {NUTS})
    assert (spare.pieces, spare.due) == (4, due)
    assert f"is to bring 4 pieces of hob:W320 more than is needed, by {due:%d %b %Y}" in (
        spare.sentence
    )
    line = DeliveryLine(order.lines[0].id, 10, to_follow=2)
    part = OrderRecord(order, deliveries=(Delivery("P1001", DAY, "Joan", (line,)),))
    assert [(each.pieces, each.due) for each in spares([part], (), {NUTS})] == [
        (2, None),
        (2, due),
    ]
    drafted = replace(order, approved_by="", approved_on=None)
    cancelled = OrderRecord(order, (Step(OrderState.CANCELLED, "K. Ferris", DAY),))
    assert spares([OrderRecord(drafted), cancelled], (), {NUTS}) == ()


def test_what_a_set_holds_beside_the_need_is_named_with_the_set() -> None:
    need = LineFor(JOB, "1.02", ("seal",), 1, in_set=True, stands_for=SEAL)
    order = an_order(replace(a_line("hob:W900", 1, "24.00"), needed_by=(need,)))
    found = spares([came(order, 1)], ITEMS, {SEAL, GASKET})
    assert {(each.part, each.pieces, each.out_of) for each in found} == {
        (SEAL, 1, SET),
        (GASKET, 1, SET),
    }
    assert "out of the set" in found[0].sentence
    to_come = spares([OrderRecord(order)], ITEMS, {SEAL, GASKET})
    assert [(each.part, each.pieces) for each in to_come] == [(SEAL, 1), (GASKET, 1)]
    assert all(each.due and "is to bring" in each.sentence for each in to_come)


def test_what_a_job_has_given_up_is_named_where_it_lies_here_and_while_it_is_to_come() -> None:
    order = an_order(a_line("hob:W320", 1, "3.20", pack=6, quantity=4))
    gone = frozenset({(JOB, "")})
    (spare,) = spares([replace(came(order, 6), given_up=gone)], (), {NUTS})
    assert (spare.pieces, spare.due) == (6, None)
    assert "kitting shelf in hob:W320 6 --where PLACE --from-order P1001" in spare.sentence
    (due,) = spares([OrderRecord(order, given_up=gone)], (), {NUTS})
    assert (due.pieces, due.due) == (6, order.due(order.lines[0]))


def test_what_the_kit_asks_for_no_more_is_named_and_what_it_asks_for_is_not() -> None:
    order = an_order(a_line("hob:W320", 1, "1.10", pack=4, positions=("barrel-nuts",)))
    assert spares([came(order, 4)], (), {NUTS}, PATH) == ()
    (spare,) = spares([came(order, 4)], (), {NUTS}, without_nuts())
    assert spare.pieces == 4


def test_what_is_in_an_engine_that_was_built_is_no_spare_and_what_came_later_is() -> None:
    order = an_order(a_line("hob:W320", 1, "1.10", pack=4, positions=("barrel-nuts",)))
    (line,) = order.lines
    built = replace(came(order, 4), built_in={line.id: {(JOB, ("barrel-nuts",)): 3}})
    (spare,) = spares([built], (), {NUTS})
    assert spare.pieces == 1


def test_what_was_declined_out_of_a_set_is_named_and_the_whole_set_where_all_of_it_was() -> None:
    seal = LineFor(JOB, "1.02", ("seal",), 2, in_set=True, stands_for=SEAL)
    gasket = LineFor(JOB, "1.03", ("gasket",), 1, in_set=True, stands_for=GASKET)
    order = an_order(replace(a_line("hob:W900", 1, "24.00"), needed_by=(seal, gasket)))
    here = came(order, 1)
    assert spares([here], ITEMS, {SEAL, GASKET, SET}) == ()
    no_seal = replace(here, given_up=frozenset({(JOB, "seal")}))
    (spare,) = spares([no_seal], ITEMS, {SEAL, GASKET, SET})
    assert (spare.part, spare.pieces, spare.out_of) == (SEAL, 2, SET)
    assert "if it is not there already (kitting shelf in)" in spare.sentence
    on_shelf = replace(spare, on_shelf=3)
    assert "if it is not there already (3 of it lie free there)" in on_shelf.sentence
    neither = replace(here, given_up=frozenset({(JOB, "")}))
    found = {each.part: each.pieces for each in spares([neither], ITEMS, {SEAL, GASKET, SET})}
    assert found == {SET: 1, SEAL: 2, GASKET: 1}
