"""Whatever quantity a way takes, however little comes and however often it is planned anew: what is
drafted, here and coming makes just what the kit needs, and the bag says so."""

from dataclasses import replace
from functools import cache

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
from kitting.buying.replies import Answer, Reply, ReplyLine, Word
from kitting.buying.standing import OrderRecord, before_of
from kitting.catalog.model import PartNumber
from kitting.job.hand import Hand
from tests.buying.markets import a_supplier, an_offer
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
