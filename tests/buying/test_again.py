"""What a line left open, and where it was bought meanwhile."""

from dataclasses import replace

import pytest

from kitting.buying.again import Again, ordered_again, ordered_again_each, still_missing
from kitting.buying.deliveries import Delivery, DeliveryLine, Return, Why
from kitting.buying.orders import OrderState
from kitting.buying.standing import OrderRecord, Step
from kitting.job.hand import Hand, InHand, Source
from kitting.job.path import JobPath
from tests.buying.orders import DAY, JOB, a_line, an_order
from tests.sheets.values import a_ready_job

PATH = a_ready_job()
CANCELLED = (Step(OrderState.CANCELLED, "K. Ferris", DAY),)


def nuts(
    number: str, pieces: int, *, job: str = JOB, place: str = "barrel-nuts", approved: bool = True
) -> OrderRecord:
    """An order of so many nuts, for one place of one job."""
    line = a_line("hob:W320", pieces, "3.20", job=job, positions=(place,))
    return OrderRecord(replace(an_order(line, approved=approved), number=number))


def short(record: OrderRecord, came: int) -> OrderRecord:
    """The same delivered, so much of it."""
    (line,) = record.order.lines
    came_now = (DeliveryLine(line.id, came),)
    return replace(record, deliveries=(Delivery(record.order.number, DAY, "Joan", came_now),))


def told(record: OrderRecord, every: tuple[OrderRecord, ...], path: JobPath = PATH) -> Again:
    """What became of what an order of the job left open."""
    return ordered_again(record, every, still_missing(path, every))


FAILED = replace(nuts("P1001", 4), steps=CANCELLED)


def test_side_by_side_a_missing_piece_is_told_once_at_the_order_that_stands() -> None:
    """One nut short at P1001, bought again in P1002, and that was cancelled."""
    fell_short = short(nuts("P1001", 4), 3)
    bought = replace(nuts("P1002", 1), steps=CANCELLED)
    both = (fell_short, bought)
    missing = still_missing(PATH, both)
    assert [ordered_again(each, both, missing).lines for each in both] == [1, 1]
    told_once = ordered_again_each(both, both, missing)
    assert {number: each.lines for number, each in told_once.items()} == {"P1001": 1, "P1002": 0}
    turned = ordered_again_each(both[::-1], both, missing)
    assert {number: each.lines for number, each in turned.items()} == {"P1001": 1, "P1002": 0}


def test_side_by_side_each_of_two_missing_pieces_is_told_where_it_failed() -> None:
    both = (short(nuts("P1001", 2), 1), short(nuts("P1002", 2), 1))
    told_each = ordered_again_each(both, both, still_missing(PATH, both))
    assert [each.lines for each in told_each.values()] == [1, 1]


@pytest.mark.parametrize(
    ("later", "says"),
    [
        ((), Again(1)),
        ((nuts("P1002", 4),), Again(0, ("P1002",))),
        ((nuts("P1002", 4, approved=False),), Again(0, (), ("P1002",))),
        ((nuts("P1002", 3),), Again(1, ("P1002",))),
        ((nuts("P1002", 3), nuts("P1003", 1, approved=False)), Again(0, ("P1002",), ("P1003",))),
        ((nuts("P1002", 4, job="24-9"),), Again(1)),
        ((nuts("P1002", 4, place="elsewhere"),), Again(1)),
        ((replace(nuts("P1002", 4), steps=CANCELLED),), Again(1)),
        ((short(nuts("P1002", 4), 1), nuts("P1003", 3)), Again(0, ("P1002", "P1003"))),
    ],
    ids=str,
)
def test_a_line_is_ordered_again_where_a_later_order_brings_it_to_the_same_place_of_the_job(
    later: tuple[OrderRecord, ...], says: Again
) -> None:
    assert told(FAILED, (FAILED, *later)) == says


def test_what_a_later_order_brings_answers_one_of_two_lines_that_failed() -> None:
    two = an_order(*(a_line("hob:W320", 2, "3.20", positions=("barrel-nuts",)) for _ in "ab"))
    first, other = two.lines
    failed = OrderRecord(replace(two, lines=(first, replace(other, id="ZZZZZ"))), CANCELLED)
    assert told(failed, (failed, nuts("P1002", 2))) == Again(1, ("P1002",))
    assert told(failed, (failed, nuts("P1002", 4))) == Again(0, ("P1002",))


def test_what_an_earlier_order_brings_is_no_answer_to_what_fails_later() -> None:
    every = (nuts("P1001", 2), short(nuts("P1002", 2), 0))
    assert told(every[1], every) == Again(1)


def test_of_what_is_short_only_the_missing_pieces_are_to_be_bought_again() -> None:
    first = short(nuts("P1001", 4), 3)
    assert told(first, (first,)) == Again(1)
    assert told(first, (first, nuts("P1002", 1))) == Again(0, ("P1002",))


def test_of_a_draft_that_was_dropped_nothing_is_to_be_told() -> None:
    draft = replace(nuts("P1001", 4, approved=False), steps=CANCELLED)
    assert told(draft, (draft,)) == Again()


def test_an_order_drafted_beside_the_one_that_failed_brought_its_own() -> None:
    """Three of four nuts from one, one from another, in one plan."""
    first, second = short(nuts("P1001", 3), 0), nuts("P1002", 1)
    assert told(first, (first, second)) == Again(1)
    again = nuts("P1003", 3)
    assert told(first, (first, second, again)) == Again(0, ("P1003",))


def test_of_two_orders_that_failed_one_that_comes_later_does_not_answer_both() -> None:
    first, second = short(nuts("P1001", 2), 0), short(nuts("P1002", 2), 0)
    every = (first, second, nuts("P1003", 2))
    assert (told(first, every).lines, told(second, every).lines) == (1, 1)
    every = (first, second, nuts("P1003", 4))
    assert told(first, every) == told(second, every) == Again(0, ("P1003",))


def test_what_came_off_the_shelf_need_not_be_ordered_again() -> None:
    (line,) = (each for each in PATH.kit.lines if "barrel-nuts" in each.positions)
    shelf = InHand("barrel-nuts", line.part, 4, Source.SHELF, "Joan", DAY)
    assert told(FAILED, (FAILED,), replace(PATH, hand=Hand((shelf,)))) == Again()


def test_for_a_job_that_is_closed_nothing_is_bought_again() -> None:
    assert ordered_again(FAILED, (FAILED,), ()) == Again()


def test_what_went_back_and_is_needed_all_the_same_is_to_be_ordered_again() -> None:
    line = a_line("hob:W320", 4, "3.20", positions=("barrel-nuts",), on_return=True)
    order = an_order(line)
    (key,) = (each.id for each in order.lines)
    back = (Return(key, 4, Why.SALE_OR_RETURN, "Joan", DAY),)
    gone = replace(short(OrderRecord(order), 4), returns=back)
    assert gone.lines[0].reopened == 0
    assert told(gone, (gone,)) == Again(1)
    lines = tuple(each for each in PATH.kit.lines if "barrel-nuts" not in each.positions)
    unused = replace(PATH, kit=replace(PATH.kit, lines=lines))
    assert told(gone, (gone,), unused) == Again()


def test_a_line_for_two_jobs_is_told_for_each_of_them() -> None:
    """Another job's share was bought again, this one's was not."""
    line = a_line("hob:W320", 8, "3.20", positions=("barrel-nuts",))
    needs = tuple(replace(line.needed_by[0], job=job, pieces=4) for job in ("24-9", JOB))
    both = an_order(replace(line, needed_by=needs))
    failed = OrderRecord(both, CANCELLED)
    assert told(failed, (failed, nuts("P1002", 4, job="24-9"))) == Again(1, ("P1002",))
