"""What is to come of a line that a delivery has named, after words that were given later."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.buying.deliveries import DeliveryLine
from kitting.buying.here import Promise, arrived
from kitting.buying.orders import OrderState
from kitting.buying.proven import Parcel, proofs_of
from kitting.buying.replies import Answer, Reply, Word
from kitting.buying.standing import OrderRecord, Step
from tests.builders import number
from tests.buying.orders import DAY
from tests.buying.test_after_delivery import LINE, came, said, stands

AS_ASKED: dict[str, Any] = {"packs": 2, "pack_price": Decimal("3.20")}


def word(choice: Word, reply: int, delivered: int = 0) -> Answer:
    return Answer(LINE, reply, choice, "K. Ferris", DAY, delivered=delivered)


def short(*lines: DeliveryLine) -> OrderRecord:
    """One of two packs of four was accepted for the six, before anything came."""
    return came(*lines, replies=(said(packs=1),), answers=(word(Word.ACCEPT, 1),))


def also(found: OrderRecord, reply: Reply, choice: Word, delivered: int) -> OrderRecord:
    at = len(found.replies) + 1
    answers = (*found.answers, word(choice, at, delivered))
    return replace(found, replies=(*found.replies, reply), answers=answers)


def test_what_comes_after_all_of_a_line_that_is_closed_is_to_come_and_not_open_again() -> None:
    closed = short(DeliveryLine(LINE, 4))
    assert (stands(closed).coming, stands(closed).reopened) == (0, 2)
    line = stands(after := also(closed, said(**AS_ASKED), Word.ACCEPT, 1))
    assert (line.good, line.coming, line.reopened, line.late) == (4, 4, 0, 0)
    assert after.state is OrderState.PART_DELIVERED
    assert [each.need.pieces for each in line.shared(line.secured)] == [6]
    left = stands(also(closed, said(**AS_ASKED), Word.REFUSE, 1))
    assert (left.coming, left.reopened, left.packs) == (0, 2, 1)


def test_the_next_delivery_closes_it_again_but_for_what_follows() -> None:
    after = also(short(DeliveryLine(LINE, 4)), said(**AS_ASKED), Word.ACCEPT, 1)
    for second, (coming, reopened) in {
        DeliveryLine(LINE, 4): (0, 0),
        DeliveryLine(LINE, 1): (0, 1),
        DeliveryLine(LINE, 1, to_follow=3): (3, 0),
        DeliveryLine(LINE, 0, damaged=4): (0, 2),
    }.items():
        both = came(DeliveryLine(LINE, 4), second, replies=after.replies, answers=after.answers)
        assert (stands(both).coming, stands(both).reopened) == (coming, reopened)


def test_what_came_damaged_stays_open_beside_what_comes_after_all() -> None:
    closed = short(DeliveryLine(LINE, 2, damaged=2))
    line = stands(also(closed, said(**AS_ASKED), Word.ACCEPT, 1))
    assert (line.good, line.coming, line.reopened, line.late) == (2, 4, 0, 2)
    line = stands(short(DeliveryLine(LINE, 0, damaged=4)))
    assert line.reopened == 6
    line = stands(also(short(DeliveryLine(LINE, 0, damaged=4)), said(**AS_ASKED), Word.ACCEPT, 1))
    assert (line.coming, line.reopened) == (4, 2)


def test_what_was_refused_and_came_all_the_same_as_wrong_is_to_come_once_it_is_accepted() -> None:
    dear = came(
        DeliveryLine(LINE, 0, wrong=8),
        replies=(said(pack_price=Decimal("9.99")),),
        answers=(word(Word.REFUSE, 1),),
    )
    assert (stands(dear).coming, stands(dear).reopened) == (0, 6)
    line = stands(also(dear, said(**AS_ASKED), Word.ACCEPT, 1))
    assert (line.coming, line.reopened, line.wrong) == (8, 0, 8)


def test_of_what_was_refused_when_some_was_here_only_the_rest_comes_after_all() -> None:
    part = came(
        DeliveryLine(LINE, 4, to_follow=4),
        replies=(said(pack_price=Decimal("9.99")),),
        answers=(word(Word.REFUSE, 1, delivered=1),),
    )
    assert (stands(part).coming, stands(part).reopened) == (0, 2)
    asked = replace(part, replies=(*part.replies, said(**AS_ASKED)))
    (question,) = asked.questions
    assert (question.after_all, question.missing) == (2, 0)
    line = stands(also(part, said(**AS_ASKED), Word.ACCEPT, 1))
    assert (line.good, line.coming, line.reopened) == (4, 4, 0)
    assert replace(part, replies=(*part.replies, said(packs=1))).questions == ()


def test_what_comes_after_all_and_then_does_not_is_open_once_more() -> None:
    after = also(short(DeliveryLine(LINE, 2, damaged=2)), said(**AS_ASKED), Word.ACCEPT, 1)
    line = stands(also(after, said(packs=1), Word.ACCEPT, 1))
    assert (line.coming, line.reopened) == (0, 4)


def test_another_number_that_comes_after_all_comes_whole() -> None:
    closed = short(DeliveryLine(LINE, 0, damaged=4))
    other = said(packs=2, substitute="R320", part=number("dal:R320"))
    line = stands(also(closed, other, Word.ACCEPT, 1))
    assert (line.part, line.coming, line.reopened) == (number("dal:R320"), 8, 0)


def test_nothing_comes_after_all_of_an_order_that_was_cancelled() -> None:
    after = also(short(DeliveryLine(LINE, 4)), said(**AS_ASKED), Word.ACCEPT, 1)
    cancelled = (Step(OrderState.CANCELLED, "K. Ferris", DAY),)
    line = stands(replace(after, steps=cancelled))
    assert (line.coming, line.reopened, line.late) == (0, 2, 0)


COUNTS = st.integers(0, 5)


@given(
    asked=st.integers(1, 12),
    words=st.lists(st.tuples(st.integers(0, 12), st.integers(0, 3), st.booleans()), max_size=4),
    parcels=st.lists(st.tuples(COUNTS, COUNTS, COUNTS), max_size=3),
)
def test_what_is_to_come_is_what_was_promised_less_what_came_and_never_less_than_none(
    asked: int, words: list[tuple[int, int, bool]], parcels: list[tuple[int, int, int]]
) -> None:
    promises = [Promise(asked)]
    for pieces, delivered, anew in sorted(words, key=lambda told: told[1]):
        promises.append(Promise(pieces, delivered, anew))
    brought = [DeliveryLine(LINE, *each[:2], to_follow=each[2]) for each in parcels]
    each = [Parcel(at, came, proofs_of(came, None)) for at, came in enumerate(brought, start=1)]
    here, last = arrived(promises, each, cancelled=False), promises[-1].pieces
    assert here.whole == sum(came.good for came in brought)
    assert 0 <= here.coming <= max(0, last - here.whole)
    assert here.coming + here.late == max(0, last - here.whole)
    assert here.closed == (bool(parcels) and not here.coming)
    if not parcels:
        assert here.coming == last
    raised = Promise(last + 3, len(parcels))
    after = arrived([*promises, raised], each, cancelled=False)
    assert after.coming == max(0, min(last + 3 - here.whole, here.coming + 3))


@pytest.mark.parametrize("delivered", [0, 1])
def test_a_word_given_before_the_delivery_is_met_or_closed_by_it(delivered: int) -> None:
    """The same words and parcels: only what was said after the parcel is still to come."""
    line = stands(also(short(DeliveryLine(LINE, 4)), said(**AS_ASKED), Word.ACCEPT, delivered))
    assert (line.coming, line.reopened) == ((4, 0) if delivered else (0, 2))
