"""Whatever quantity a way takes, however little comes and however often it is planned anew: what is
drafted, here and coming makes just what the kit needs, and the bag says so."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from functools import cache
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kitting.buying.delivered import delivered_to
from kitting.buying.deliveries import Delivery, DeliveryLine
from kitting.buying.drafting import Before, StillOpen, orders_of
from kitting.buying.drafting_plan import orders_of_plan, still_to_plan
from kitting.buying.orders import numbered
from kitting.buying.planning.demand import LineWay, PlanProblem
from kitting.buying.planning.of_jobs import problem_of
from kitting.buying.planning.plan import make_plan
from kitting.buying.planning.values import Aim
from kitting.buying.replies import Answer, Change, Reply, ReplyLine, Word
from kitting.buying.standing import OrderRecord, before_of
from kitting.buying.steps import check_answers
from kitting.catalog.model import PartNumber
from kitting.job.hand import Hand
from tests.buying.markets import a_supplier, an_offer
from tests.buying.orders import DAY, a_line, an_order
from tests.sheets.values import a_ready_job, number

PATH = a_ready_job()
JOB = PATH.bench.job.number
NUTS = next(line for line in PATH.kit.lines if line.quantity == 4)
# Parts that the family knows; here they stand for nuts in other quantities.
PARTS = tuple(map(number, ("W310", "W205", "W140", "W150")))
RECIPES = st.lists(
    st.tuples(st.sampled_from(PARTS), st.integers(1, 9)),
    min_size=1,
    max_size=3,
    unique_by=lambda each: each[0],
)


@cache
def problem() -> PlanProblem:
    """The nuts alone, and two suppliers that sell everything."""
    whole = problem_of((PATH,))
    lines = tuple(line for line in whole.lines if line.key == NUTS.key)
    suppliers = tuple(a_supplier(key) for key in ("ashby", "brook"))
    offers = tuple(
        an_offer(key, part, price)
        for key, price in (("ashby", "1.00"), ("brook", "1.10"))
        for part in (*PARTS, NUTS.part)
        if part is not None
    )
    return replace(whole, lines=lines, offers=offers, suppliers=suppliers, sets=(), rates={})


def made_of(records: list[OrderRecord]) -> int:
    """How many nuts the orders make of what they bring."""
    return StillOpen(PATH, before_of(records)).made(NUTS).whole


def one_less(record: OrderRecord, at: int) -> OrderRecord:
    """The same with one piece fewer of one line, or without it."""
    lines = list(record.order.lines)
    (need,) = lines[at].needed_by
    few = replace(need, pieces=need.pieces - 1)
    less = replace(lines[at], needed_by=(few,))
    lines[at : at + 1] = [less] if few.pieces else []
    return replace(record, order=replace(record.order, lines=tuple(lines)))


def part_delivered(record: OrderRecord, luck: st.DataObject) -> OrderRecord:
    """The order approved, and so much of each line delivered; the rest never comes."""
    came = tuple(
        DeliveryLine(line.id, luck.draw(st.integers(0, line.quantity), label=str(line.part)))
        for line in record.order.lines
    )
    order = replace(record.order, approved_by="K. Ferris", approved_on=PATH.day)
    return replace(
        record, order=order, deliveries=(Delivery(order.number, PATH.day, "Joan", came),)
    )


@settings(max_examples=25, deadline=None)
@given(recipes=st.lists(RECIPES, min_size=1, max_size=3), luck=st.data())
def test_what_is_drafted_and_comes_makes_what_is_needed_and_not_a_piece_more(
    recipes: list[list[tuple[PartNumber, int]]], luck: st.DataObject
) -> None:
    records: list[OrderRecord] = []
    for recipe in recipes:
        (line,) = problem().lines
        way = LineWay(tuple(recipe))
        asked = replace(problem(), lines=(replace(line, ways=(way,)),))
        before = Before(before_of(records).coming)
        rest = still_to_plan(asked, (PATH,), before)
        assert bool(rest.lines) == (made_of(records) < NUTS.quantity)
        orders = orders_of_plan(make_plan(rest, Aim.CHEAPEST), (PATH,))
        drafts = [OrderRecord(numbered(o, f"P{len(records) + n}", 1)) for n, o in enumerate(orders)]
        assert made_of([*records, *drafts]) >= NUTS.quantity
        for at, draft in enumerate(drafts):
            for line_at in range(len(draft.order.lines)):
                fewer = [*drafts[:at], one_less(draft, line_at), *drafts[at + 1 :]]
                assert made_of([*records, *fewer]) < NUTS.quantity
        records += [part_delivered(each, luck) for each in drafts]
        here = replace(PATH, hand=Hand(delivered_to(records, JOB)))
        assert here.hand.count(NUTS) == made_of(records)


def test_one_piece_that_makes_two_serves_the_two_needs_that_it_was_accepted_for() -> None:
    """A seal for the left and one for the right were asked for; a pair of seals is accepted."""
    pair = number("W399")
    (left,) = a_line("hob:W320", 1, "3.20", job="24-8").needed_by
    needs = (left, replace(left, job="24-9"))
    order = an_order(replace(a_line("hob:W320", 2, "3.20"), needed_by=needs))
    (asked,) = order.lines
    said = ReplyLine(asked.id, 1, None, None, "W399", "", pair, 1, 2)
    reply = Reply(order.number, order.revision, (said,), PATH.day)
    yes = Answer(asked.id, 1, Word.ACCEPT, "K. Ferris", PATH.day)
    record = OrderRecord(order, replies=(reply,), answers=(yes,))
    (standing,) = record.lines
    assert (standing.needed, standing.reopened) == (1, 0)
    comes = [(each.need.job, each.need.pieces) for each in before_of([record]).coming]
    assert comes == [("24-8", 1), ("24-9", 1)]
    came = Delivery(order.number, PATH.day, "Joan", (DeliveryLine(asked.id, 1),))
    here = replace(record, deliveries=(came,))
    shares = [piece for job in ("24-8", "24-9") for piece in delivered_to([here], job)]
    assert [piece.quantity for piece in shares] == [1, 1]
    assert sum(piece.cost or 0 for piece in shares) == standing.pack_price


@pytest.mark.parametrize(
    ("what", "asks"),
    [
        ({"day": date(2024, 5, 3)}, None),
        ({"remark": "on its way"}, None),
        ({"day": date(2024, 9, 1)}, (Change.LATER,)),
        ({"packs": 3}, (Change.SHORT,)),
        ({"pack_price": Decimal("9.99")}, (Change.DEARER,)),
    ],
)
def test_what_is_said_after_another_number_was_accepted_is_said_of_that_number(
    what: dict[str, Any], asks: tuple[Change, ...] | None
) -> None:
    """Two pairs were asked for, four halves are accepted, two of them are here."""
    order = an_order(a_line("hob:W320", 2, "3.20"))
    (line,) = order.lines
    half = ReplyLine(line.id, 4, Decimal("1.60"), None, "W399", "", number("W399"), 2, 1)
    yes = Answer(line.id, 1, Word.ACCEPT, "K. Ferris", DAY)
    came = Delivery(order.number, DAY, "Joan", (DeliveryLine(line.id, 2, to_follow=2),))
    later = Reply(order.number, 1, (ReplyLine(line.id, **what),), DAY)
    replies = (Reply(order.number, 1, (half,), DAY), later)
    record = OrderRecord(order, replies=replies, answers=(yes,), deliveries=(came,))
    (standing,) = record.lines
    assert (standing.part, standing.needed, standing.good) == (number("W399"), 4, 2)
    assert (standing.coming, standing.reopened) == (2, 0)
    assert (standing.question and standing.question.changes) == asks
    if asks is not None:
        for word in Word:
            answer = Answer(line.id, 2, word, "K. Ferris", DAY)
            check_answers(record, answer)
            (after,) = replace(record, answers=(yes, answer)).lines
            assert (after.part, after.needed, after.good) == (number("W399"), 4, 2)
            assert after.reopened == (1 if word is Word.REFUSE or what.get("packs") else 0)


@pytest.mark.parametrize(("whole", "made"), [(4, 4), (8, 2), (2, 8)])
def test_what_a_supplier_sends_instead_is_counted_by_what_the_kit_says_of_it(
    whole: int, made: int
) -> None:
    """Four nuts were ordered, a pack; he offers a pack of four of another number, accepted."""
    other = number("W310")
    line = replace(NUTS, serves=frozenset({*NUTS.serves, other}), counts=((other, whole),))
    path = replace(PATH, kit=replace(PATH.kit, lines=(line,)))
    order = next(o for o in orders_of(PATH) if any(x.part == NUTS.part for x in o.lines))
    asked = next(each for each in order.lines if each.part == NUTS.part)
    approved = replace(order, approved_by="K. Ferris", approved_on=PATH.day)
    said = ReplyLine(asked.id, 1, None, None, "W310", "", other)
    reply = Reply(order.number, order.revision, (said,), PATH.day)
    yes = Answer(asked.id, 1, Word.ACCEPT, "K. Ferris", PATH.day)
    record = OrderRecord(approved, replies=(reply,), answers=(yes,))
    assert StillOpen(path, before_of([record])).made(line).whole == made
    came = Delivery(order.number, PATH.day, "Joan", (DeliveryLine(asked.id, 4),))
    hand = Hand(delivered_to([replace(record, deliveries=(came,))], JOB))
    assert (hand.count(line), hand.missing(line)) == (made, max(0, 4 - made))
