"""The next draft: only what no earlier order brings, and not where it fell short."""

from collections.abc import Iterable
from dataclasses import replace

from kitting.buying.approval import check_approval
from kitting.buying.deliveries import Delivery, DeliveryLine
from kitting.buying.drafting import Before, drafts_of, orders_of
from kitting.buying.orders import Order, OrderState
from kitting.buying.standing import OrderRecord, Step, before_of
from kitting.errors import BadInput
from kitting.job.findings import Approval
from kitting.job.hand import Hand, InHand, Source
from kitting.job.path import JobPath
from tests.sheets.values import a_job, a_ready_job, number

PATH = a_ready_job()
JOB = PATH.bench.job.number


def approved(order: Order) -> Order:
    return replace(order, approved_by="K. Ferris", approved_on=order.day)


def bought(orders: Iterable[Order]) -> dict[str, int]:
    return {str(line.part): line.quantity for order in orders for line in order.lines}


def record_of(key: str, came: DeliveryLine | None = None) -> OrderRecord:
    order = approved(next(o for o in orders_of(PATH) if o.supplier.key == key))
    lines = (came,) if came else ()
    deliveries = (Delivery(order.number, PATH.day, "J. Marlowe", lines),) if lines else ()
    return OrderRecord(order, deliveries=deliveries)


def refusal(order: Order, path: JobPath = PATH, before: Before | None = None) -> str:
    try:
        check_approval(order, {JOB: path}, before or Before())
    except BadInput as error:
        return str(error)
    return ""


def test_what_an_order_brings_is_not_ordered_again() -> None:
    records = [OrderRecord(approved(order)) for order in orders_of(PATH)]
    assert drafts_of(PATH, before_of(records)).orders == ()
    some = drafts_of(PATH, before_of(records[1:])).orders
    assert [order.supplier.key for order in some] == [records[0].order.supplier.key]


def test_a_cancelled_order_is_ordered_again_and_may_go_to_the_same_supplier() -> None:
    step = Step(OrderState.CANCELLED, "K. Ferris", PATH.day)
    records = [OrderRecord(approved(order), (step,)) for order in orders_of(PATH)]
    assert bought(drafts_of(PATH, before_of(records)).orders) == bought(orders_of(PATH))


def test_only_the_missing_pieces_are_asked_for_and_not_where_they_fell_short() -> None:
    nuts = next(line for o in orders_of(PATH) for line in o.lines if line.part == number("W320"))
    brook = record_of("brook", DeliveryLine(nuts.id, 3))
    others = [
        OrderRecord(approved(order)) for order in orders_of(PATH) if order.supplier.key != "brook"
    ]
    drafts = drafts_of(PATH, before_of([brook, *others]))
    assert [(o.supplier.key, bought([o])) for o in drafts.orders] == [("ashby", {"hob:W320": 1})]


def test_a_part_that_nobody_else_sells_is_named_with_the_supplier_that_failed() -> None:
    ashby = next(order for order in orders_of(PATH) if order.supplier.key == "ashby")
    bolt = next(line for line in ashby.lines if line.part == number("W140"))
    record = record_of("ashby", DeliveryLine(bolt.id, 0))
    (sentence,) = drafts_of(PATH, before_of([record, *_others("ashby")])).without
    assert "nobody else sells it than where it failed: Ashby Spares, hob:W140: " in sentence
    assert sentence.endswith("To ask there again: --even-from ashby")


def _others(but: str) -> list[OrderRecord]:
    return [OrderRecord(approved(o)) for o in orders_of(PATH) if o.supplier.key != but]


def test_what_the_shelf_gives_is_not_ordered() -> None:
    line = next(line for line in PATH.kit.lines if line.part == number("W150"))
    piece = InHand(line.positions[0], line.part, 1, Source.SHELF, "J. Marlowe", PATH.day)
    path = replace(PATH, hand=Hand((piece,)))
    assert bought(orders_of(PATH)).keys() - bought(orders_of(path)).keys() == {"hob:W150"}


def test_a_ready_jobs_draft_may_be_approved() -> None:
    assert [refusal(order) for order in orders_of(PATH)] == ["", "", ""]


def test_a_job_that_is_not_ready_keeps_its_orders_from_being_approved() -> None:
    path = a_job()
    (order, *_) = orders_of(path)
    said = refusal(order, path)
    assert f"job {JOB}: it is not ready to order" in said
    assert "Relief spring" in said or "relief spring" in said


def test_what_waits_for_the_grinder_is_approved_only_on_sale_or_return() -> None:
    held = next(line for line in PATH.kit.lines if line.hold)
    (order, *_) = orders_of(PATH)
    need = replace(order.lines[0].needed_by[0], positions=held.positions)
    line = replace(order.lines[0], needed_by=(need,))
    bare = replace(order, lines=(line, *order.lines[1:]))
    assert "it waits until" in refusal(bare)
    back = replace(order, lines=(replace(line, on_return=True), *order.lines[1:]))
    assert "it waits until" not in refusal(back)


def test_a_part_that_the_kit_has_come_to_ask_for_otherwise_is_refused() -> None:
    (order, *_) = orders_of(PATH)
    other = replace(order.lines[0], part=number("W310"))
    said = refusal(replace(order, lines=(other, *order.lines[1:])))
    assert f"job {JOB} asks for {order.lines[0].part} there by now" in said


def test_what_comes_counts_when_the_kit_has_come_to_ask_for_just_that_number() -> None:
    """It was bought to stand for a number that the kit now names no more."""
    (order, *_) = orders_of(PATH)
    (first, *rest) = order.lines
    need = replace(first.needed_by[0], stands_for=number("W310"))
    instead = replace(order, lines=(replace(first, needed_by=(need,)), *rest))
    records = [OrderRecord(approved(instead)), *_others(order.supplier.key)]
    assert drafts_of(PATH, before_of(records)).orders == ()


def test_pieces_that_come_already_are_not_approved_a_second_time() -> None:
    (order, *_) = orders_of(PATH)
    before = before_of([OrderRecord(approved(order))])
    assert "or they come already; make the draft again" in refusal(order, before=before)


def test_no_set_is_approved_a_second_time() -> None:
    order = next(
        each for each in orders_of(PATH) if any(n.in_set for e in each.lines for n in e.needed_by)
    )
    only = replace(order, lines=tuple(e for e in order.lines if e.needed_by[0].in_set))
    assert "all that it asked for of this set" in refusal(
        only, before=before_of([OrderRecord(approved(only))])
    )
    assert refusal(only) == ""


def test_of_a_draft_that_asks_for_more_than_is_wanted_by_now_the_approval_says_how_many() -> None:
    order, at = next(
        (order, at)
        for order in orders_of(PATH)
        for at, line in enumerate(order.lines)
        if len(line.needed_by) == 1 and line.quantity > 1 and not line.needed_by[0].in_set
    )
    line = order.lines[at]
    (need,) = line.needed_by
    few = (replace(need, pieces=1),)
    one = replace(line, packs=1, pack=1, quantity=1, net=line.pack_price, needed_by=few)
    came = replace(order, number="P1999", lines=(one,))
    said = refusal(order, before=before_of([OrderRecord(approved(came))]))
    wanted, asked = need.pieces - 1, need.pieces
    assert f"line {line.id} ({line.name}): job {JOB} wants {wanted} of the {asked} asked" in said
    assert "it has the others, or they come already; make the draft again" in said


def test_what_the_customer_declined_is_neither_ordered_nor_approved() -> None:
    line = next(line for line in PATH.kit.lines if line.part == number("W150"))
    day = PATH.day
    no = [
        Approval(1, line.key, position, "", line.name, agreed=False, who="K. Ferris", when=day)
        for position in line.positions
    ]
    path = replace(PATH, bench=replace(PATH.bench, approvals=tuple(no)))
    assert bought(orders_of(PATH)).keys() - bought(orders_of(path)).keys() == {"hob:W150"}
    order = next(o for o in orders_of(PATH) if any(x.part == line.part for x in o.lines))
    assert f"the customer of job {JOB} will not have it" in refusal(order, path)


def test_it_is_told_where_more_is_drafted_than_the_suppliers_list_says_he_has() -> None:
    bolts = number("W140")
    for packs, told in (
        (0, []),
        (1, ["Ashby Spares has no more than 1 of hob:W140 by his list, and 2 are asked for"]),
        (2, []),
    ):
        offers = (replace(e, stock=packs) if e.part == bolts else e for e in PATH.trade.offers)
        path = a_ready_job(replace(PATH.trade, offers=tuple(offers)))
        drafts = drafts_of(path, Before())
        assert bought(drafts.orders) == bought(orders_of(PATH))
        said = [each.partition(";")[0] for each in drafts.told if "by his list" in each]
        assert said == told
