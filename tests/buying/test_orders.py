"""One order a supplier, and what must never stand in one."""

from dataclasses import replace
from decimal import Decimal

from kitting.buying.drafting import orders_of
from kitting.buying.orders import Order
from kitting.job.estimate import LineKind
from tests.sheets.values import a_ready_job, number


def the_order(key: str, orders: tuple[Order, ...]) -> Order:
    return next(order for order in orders if order.supplier.key == key)


def test_every_priced_line_that_is_not_held_is_ordered_once_from_its_supplier() -> None:
    path = a_ready_job()
    held = {line.key for line in path.kit.lines if line.hold}
    wanted = sorted(
        str(line.part)
        for line in path.estimate.of(LineKind.PART, LineKind.SET)
        if line.quote and line.kit_line not in held
    )
    ordered = sorted(str(line.part) for o in orders_of(path) for line in o.lines)
    assert ordered == wanted


def test_what_waits_for_the_grinder_is_named_without_a_quantity_and_not_ordered() -> None:
    order = the_order("ashby", orders_of(a_ready_job()))
    assert [item.part for item in order.held] == [number("W110"), number("W120")]
    assert {line.part for line in order.lines}.isdisjoint({number("W110"), number("W120")})


def test_lines_of_two_bags_become_one_line_with_its_packs_worked_out_on_the_sum() -> None:
    path = a_ready_job()
    nuts = next(line for line in path.estimate.lines if line.part == number("W320"))
    assert nuts.quote is not None
    twice = replace(path, estimate=replace(path.estimate, lines=(*path.estimate.lines, nuts)))
    line = next(
        line for line in the_order("brook", orders_of(twice)).lines if line.part == number("W320")
    )
    assert (line.quantity, line.packs, line.net) == (8, 2, Decimal("6.40"))


def test_a_price_past_its_day_is_asked_about() -> None:
    lines = the_order("ashby", orders_of(a_ready_job())).lines
    asked = {line.part.number: line.remark for line in lines}
    assert asked["W140"] == "Your price held until 31 Mar 2024: please confirm"
    assert asked["W150"] == ""


def test_goods_below_the_least_order_say_how_far() -> None:
    order = the_order("brook", orders_of(a_ready_job()))
    assert order.short_by == Decimal(200) - order.goods > 0
    assert the_order("ashby", orders_of(a_ready_job())).short_by == 0


def test_carriage_is_the_suppliers_and_free_from_his_value_on() -> None:
    ashby = the_order("ashby", orders_of(a_ready_job()))
    assert (ashby.goods, ashby.carriage, ashby.total) == (
        Decimal("53.20"),
        Decimal("6.50"),
        Decimal("59.70"),
    )
    free = replace(ashby, supplier=replace(ashby.supplier, free_over=ashby.goods))
    assert free.total == free.goods


def test_an_order_is_in_the_suppliers_own_currency() -> None:
    order = the_order("sued", orders_of(a_ready_job()))
    assert (order.currency, order.goods) == ("EUR", Decimal("8.35"))


def test_an_order_is_a_draft_until_a_named_person_has_approved_it() -> None:
    (order, *_) = orders_of(a_ready_job())
    assert order.draft
    assert not replace(order, approved_by="K. Ferris").draft


def test_references_differ_from_job_to_job_and_tell_nothing_of_it() -> None:
    path = a_ready_job()
    other_job = replace(path.bench.job, number="24-002")
    other = replace(path, bench=replace(path.bench, job=other_job))
    mine = {order.number for order in orders_of(path)}
    assert len(mine) == 3
    assert mine.isdisjoint(order.number for order in orders_of(other))
    assert all("001" not in reference for reference in mine)


def test_a_line_that_nobody_offers_is_in_no_order() -> None:
    path = a_ready_job()
    lines = tuple(
        replace(line, quote=None) if line.part == number("W150") else line
        for line in path.estimate.lines
    )
    fewer = replace(path, estimate=replace(path.estimate, lines=lines))
    assert number("W150") in {line.part for o in orders_of(path) for line in o.lines}
    assert number("W150") not in {line.part for o in orders_of(fewer) for line in o.lines}
