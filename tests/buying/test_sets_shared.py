"""Several sets on one line of an order: each job has its own, the first the first."""

from dataclasses import replace

import pytest

from kitting.buying.delivered import coming_to, delivered_to
from kitting.buying.deliveries import Delivery, DeliveryLine, Return, Why
from kitting.buying.orders import LineFor, OrderLine
from kitting.buying.standing import OrderRecord, before_of
from tests.builders import number
from tests.buying.orders import DAY, a_line, an_order

SEAL, GASKET = number("hob:W210"), number("hob:W310")
FIRST, SECOND = "24-001", "24-002"


def sets(count: int, *needs: tuple[str, str, int]) -> OrderLine:
    """So many sets for these: the job, the part in the set, how many of it."""
    of = {"seal": SEAL, "gasket": GASKET}
    return replace(
        a_line("hob:W900", count, "24.00"),
        needed_by=tuple(
            LineFor(job, "1.02", (part,), pieces, in_set=True, stands_for=of[part])
            for job, part, pieces in needs
        ),
    )


TWO = sets(2, (FIRST, "seal", 2), (FIRST, "gasket", 1), (SECOND, "seal", 2), (SECOND, "gasket", 1))


def came(line: OrderLine, good: int, *, damaged: int = 0, to_follow: int = 0) -> OrderRecord:
    order = an_order(line)
    brought = DeliveryLine(order.lines[0].id, good, damaged=damaged, to_follow=to_follow)
    return OrderRecord(order, deliveries=(Delivery("P1001", DAY, "Joan", (brought,)),))


def test_of_two_sets_of_which_one_is_damaged_the_first_job_has_the_good_one() -> None:
    record = came(TWO, 1, damaged=1)
    assert [piece.quantity for piece in delivered_to([record], FIRST)] == [2, 1]
    assert delivered_to([record], SECOND) == ()
    assert {each.need.job for each in before_of([record]).coming} == {FIRST}
    assert record.lines[0].reopened == 1


def test_while_one_set_follows_the_second_job_waits_for_it_alone() -> None:
    record = came(TWO, 1, to_follow=1)
    assert coming_to([record], FIRST) == ()
    assert [piece.quantity for piece in coming_to([record], SECOND)] == [2, 1]
    assert {each.need.job for each in before_of([record]).coming} == {FIRST, SECOND}


@pytest.mark.parametrize(
    ("line", "wanted"),
    [
        (TWO, {FIRST: 1, SECOND: 1}),
        (sets(2, (FIRST, "seal", 1), (SECOND, "gasket", 1)), {FIRST: 1, SECOND: 1}),
        (sets(3, (FIRST, "seal", 4), (SECOND, "seal", 2)), {FIRST: 2, SECOND: 1}),
        # One set may hold enough for both.
        (sets(1, (FIRST, "seal", 2), (SECOND, "seal", 2)), {FIRST: 1, SECOND: 1}),
    ],
)
def test_a_job_needs_as_many_sets_as_its_parts_may_take(
    line: OrderLine, wanted: dict[str, int]
) -> None:
    assert line.sets_by_job == wanted


def test_sets_that_two_jobs_share_are_there_for_both_when_all_have_come() -> None:
    shared = sets(1, (FIRST, "seal", 2), (SECOND, "seal", 2))
    for job in (FIRST, SECOND):
        assert [piece.quantity for piece in delivered_to([came(shared, 1)], job)] == [2]
        assert delivered_to([came(shared, 0, damaged=1)], job) == ()


def test_what_one_job_has_given_up_comes_last_to_it() -> None:
    needs = tuple(LineFor(job, "2.11", ("collets",), 8) for job in (FIRST, SECOND))
    halves = replace(a_line("hob:W320", 16, "2.64"), needed_by=needs)
    half_of_it = came(halves, 8)
    for given_up in ((FIRST, "collets"), (FIRST, "")):
        found = replace(half_of_it, given_up=frozenset({given_up}))
        assert delivered_to([found], FIRST) == ()
        (mine,) = delivered_to([found], SECOND)
        assert (mine.quantity, mine.cost) == (8, delivered_to([half_of_it], FIRST)[0].cost)
    (all_of_it,) = delivered_to([replace(came(halves, 16), given_up=frozenset({given_up}))], FIRST)
    assert all_of_it.quantity == 8
    first_set = replace(came(TWO, 1), given_up=frozenset({(FIRST, "")}))
    assert delivered_to([first_set], FIRST) == ()
    assert len(delivered_to([first_set], SECOND)) == 2


def test_what_went_back_of_one_jobs_leaves_the_other_its_own() -> None:
    needs = tuple(LineFor(job, "7.05", ("shells",), 2) for job in (FIRST, SECOND))
    shells = replace(a_line("hob:W120", 4, "12.00", on_return=True), needed_by=needs)
    here = came(shells, 4)
    line = here.order.lines[0].id
    for job, other in ((FIRST, SECOND), (SECOND, FIRST)):
        back = Return(line, 2, Why.SALE_OR_RETURN, "Joan", DAY, job=job, position="shells")
        gone = (back,)
        found = replace(here, returns=gone)
        assert delivered_to([found], job) == ()
        (mine,) = delivered_to([found], other)
        assert (mine.quantity, mine.cost) == (2, delivered_to([here], other)[0].cost)
        assert {each.need.job for each in before_of([found]).coming} == {other}
        # Where the other gives its own up, what lies here is for the first again.
        again = replace(found, given_up=frozenset({(other, "")}))
        assert [piece.quantity for piece in delivered_to([again], job)] == [2]


def test_what_went_back_for_one_place_leaves_another_of_the_same_job_its_own() -> None:
    places = ((FIRST, "left"), (FIRST, "right"), (SECOND, "left"))
    needs = tuple(LineFor(job, "1.02", (at,), 1) for job, at in places)
    here = came(replace(a_line("hob:W320", 3, "1.10"), needed_by=needs), 3)
    line = here.order.lines[0].id
    back = Return(line, 1, Why.SURPLUS, "Joan", DAY, job=FIRST, position="right")
    found = replace(here, returns=(back,))
    assert [piece.position for piece in delivered_to([found], FIRST)] == ["left"]
    assert [piece.position for piece in delivered_to([found], SECOND)] == ["left"]
