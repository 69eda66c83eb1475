"""How a line of an order is told when another number was accepted for it."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from kitting.buying.deliveries import Delivery, DeliveryLine
from kitting.buying.orders import OrderState
from kitting.buying.replies import Answer, Reply, ReplyLine, Word
from kitting.buying.standing import OrderRecord, Step
from kitting.cli.order_common import Beside
from kitting.cli.order_screens import order_text, orders_text
from tests.builders import number
from tests.buying.orders import DAY, a_line, an_order


def test_a_line_is_told_in_what_is_agreed_where_that_is_counted_otherwise() -> None:
    """Eight halves were asked for, four pairs are accepted; three came whole and one damaged."""
    order = an_order(a_line("hob:W320", 8, "0.95"))
    (line,) = order.lines
    pairs = ReplyLine(line.id, 4, Decimal("1.80"), None, "W399", "", number("hob:W399"), 1, 2)
    record = OrderRecord(
        order,
        replies=(Reply(order.number, 1, (pairs,), DAY),),
        answers=(Answer(line.id, 1, Word.ACCEPT, "K. Ferris", DAY),),
        deliveries=(
            Delivery(order.number, date(2024, 5, 9), "Joan", (DeliveryLine(line.id, 3, 1),)),
        ),
    )
    (standing,) = record.lines
    assert (standing.needed, standing.good, standing.reopened) == (4, 3, 2)
    shown = order_text(record, {}, {}, {}, Beside())
    (row,) = (each.split() for each in shown.splitlines() if each.startswith(line.id))
    assert row[1:4] == ["W399", "for", "W320,"]
    due = f"{standing.due:%d %b}".split()
    assert row[-8:] == ["4", "1.80", *due, "4", "3", "0", "1"]


def test_packs_are_asked_at_the_price_of_one_and_pieces_are_needed() -> None:
    """A pack of ten for two pegs, and one more filter only to reach the least order."""
    topping = replace(a_line("hob:W205", 1, "9.75"), needed_by=())
    order = an_order(a_line("hob:W320", 1, "9.38", pack=10, quantity=2), topping)
    shown = order_text(OrderRecord(order), {}, {}, {}, Beside())
    pegs, filters = (
        next(row.split() for row in shown.splitlines() if row.startswith(line.id))
        for line in order.lines
    )
    due = f"{order.due(order.lines[0]):%d %b}".split()
    assert pegs[-8:] == ["1×10", "9.38", *due, "2", "0", "10", "0"]
    assert filters[-8:] == ["1", "9.75", *due, "0", "0", "1", "0"]


def test_an_order_of_which_nothing_comes_is_told_as_that() -> None:
    """Both lines answered none and accepted; with one of them agreed it is an order as any."""
    order = an_order(a_line("hob:W320", 8, "0.95"), a_line("hob:W205", 1, "9.75"))
    none = tuple(ReplyLine(each.id, 0) for each in order.lines)
    answers = tuple(Answer(each.id, 1, Word.ACCEPT, "K. Ferris", DAY) for each in order.lines)
    replies = (Reply(order.number, 1, none, DAY),)
    nothing = OrderRecord(order, replies=replies, answers=answers)
    closes = f"Nothing of it comes, by what was answered: 'kitting order cancel {order.number}'"
    assert closes in order_text(nothing, {}, {}, {}, Beside())
    assert "nothing of it comes" in orders_text([(nothing, Beside())])
    asking = replace(nothing, answers=answers[:1])
    some = replace(nothing, replies=(Reply(order.number, 1, none[:1], DAY),), answers=answers[:1])
    cancelled = replace(nothing, steps=(Step(OrderState.CANCELLED, "K. Ferris", DAY),))
    for other in (asking, some, cancelled, OrderRecord(order)):
        assert closes not in order_text(other, {}, {}, {}, Beside())
        assert "nothing of it comes" not in orders_text([(other, Beside())])


def test_lines_that_a_reply_leaves_out_are_told_until_he_speaks_of_them() -> None:
    """Three lines: one answered in a first reply, one in a second, the last comes unannounced."""
    order = an_order(*(a_line(part, 1, "9.75") for part in ("hob:W205", "hob:W320", "hob:W310")))
    one, two, three = (line.id for line in order.lines)
    first = Reply(order.number, 1, (ReplyLine(one, 1),), DAY)
    second = Reply(order.number, 1, (ReplyLine(two, remark="in a week or so"),), DAY)
    came = Delivery(order.number, date(2024, 5, 9), "Joan", (DeliveryLine(three, 1),))
    sent = OrderRecord(order)
    half = replace(sent, replies=(first,))
    most = replace(sent, replies=(first, second))
    all_told = replace(most, deliveries=(came,))
    cancelled = replace(half, steps=(Step(OrderState.CANCELLED, "K. Ferris", DAY),))
    for record, left in (
        (sent, []),
        (half, [two, three]),
        (most, [three]),
        (all_told, []),
        (cancelled, []),
    ):
        assert [line.id for line in record.unanswered] == left
        shown = order_text(record, {}, {}, {}, Beside())
        assert ("No answer" in shown) is bool(left)
        assert not left or f"No answer  {', '.join(left)}" in shown.splitlines()
        listed = orders_text([(record, Beside())])
        assert ("no answer to" in listed) is bool(left)
    assert "no answer to 2 lines" in orders_text([(half, Beside())])
    assert "no answer to 1 line" in orders_text([(most, Beside())])
