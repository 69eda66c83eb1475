"""How an order stands after replies, answers, deliveries and returns."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.buying.deliveries import Delivery, DeliveryLine, Return, Why, check_delivery
from kitting.buying.orders import Order, OrderState, numbered
from kitting.buying.replies import Answer, Change, Reply, ReplyLine, Word, check_reply
from kitting.buying.standing import LineStanding, OrderRecord, Step, before_of
from kitting.errors import BadInput
from tests.builders import number
from tests.buying.orders import DAY, JOB, a_line, an_order, random_order

NUTS = an_order(a_line("hob:W320", 2, "3.20", pack=4, quantity=6))
LINE = NUTS.lines[0].id
LATER = date(2024, 5, 9)


def record(*lines: DeliveryLine, order: Order = NUTS, steps: tuple[Step, ...] = ()) -> OrderRecord:
    deliveries = tuple(Delivery(order.number, LATER, "J. Marlowe", (line,)) for line in lines)
    return OrderRecord(order, steps, deliveries=deliveries)


def said(**what: Any) -> Reply:
    return Reply("P1001", 1, (ReplyLine(LINE, **what),), LATER)


def word(choice: Word, reply: int = 1) -> Answer:
    return Answer(LINE, reply, choice, "K. Ferris", LATER)


def stands(found: OrderRecord) -> LineStanding:
    return found.lines[0]


def test_an_order_goes_from_draft_to_delivered_in_the_trades_words() -> None:
    draft = OrderRecord(replace(NUTS, approved_by="", approved_on=None))
    assert draft.state is OrderState.DRAFT
    steps = (Step(OrderState.APPROVED, "K. Ferris", DAY),)
    assert OrderRecord(NUTS, steps).state is OrderState.APPROVED
    sent = (*steps, Step(OrderState.SENT, "K. Ferris", DAY))
    assert OrderRecord(NUTS, sent).state is OrderState.SENT
    assert OrderRecord(NUTS, sent, (said(packs=2),)).state is OrderState.ANSWERED
    assert record(DeliveryLine(LINE, 4, to_follow=4)).state is OrderState.PART_DELIVERED
    assert record(DeliveryLine(LINE, 8)).state is OrderState.DELIVERED
    cancelled = (*sent, Step(OrderState.CANCELLED, "K. Ferris", DAY))
    assert OrderRecord(NUTS, cancelled).state is OrderState.CANCELLED


def test_what_comes_as_asked_asks_nothing() -> None:
    reply = said(packs=2, pack_price=Decimal("3.20"), day=NUTS.due(NUTS.lines[0]))
    assert OrderRecord(NUTS, replies=(reply,)).questions == ()


def test_a_lower_price_and_an_earlier_day_are_taken_without_a_question() -> None:
    found = OrderRecord(NUTS, replies=(said(pack_price=Decimal("3.10"), day=date(2024, 5, 3)),))
    assert found.questions == ()
    assert (stands(found).pack_price, stands(found).due) == (Decimal("3.10"), date(2024, 5, 3))
    assert found.agreed == Decimal("6.20") + Decimal("6.50")


@pytest.mark.parametrize(
    ("what", "change", "sentence"),
    [
        (
            {"pack_price": Decimal("3.55")},
            Change.DEARER,
            "3.55 a pack instead of 3.20: GBP 0.70 more",
        ),
        ({"packs": 1}, Change.SHORT, "1 of 2 packs: 2 pieces would be open again"),
        ({"packs": 0}, Change.SHORT, "0 of 2 packs: 6 pieces would be open again"),
        ({"day": date(2024, 5, 12)}, Change.LATER, "on 12 May 2024: 7 days later than due"),
        ({"substitute": "R320"}, Change.SUBSTITUTE, "R320 in the place of AW320 (hob:W320)"),
    ],
)
def test_what_is_worse_than_asked_is_a_question_with_its_effect(
    what: dict[str, Any], change: Change, sentence: str
) -> None:
    (question,) = OrderRecord(NUTS, replies=(said(**what),)).questions
    assert question.changes == (change,)
    assert question.sentences("GBP") == (sentence,)


def test_an_open_question_holds_the_line_as_it_was_asked() -> None:
    found = stands(OrderRecord(NUTS, replies=(said(packs=1, pack_price=Decimal(9)),)))
    assert (found.packs, found.pack_price, found.reopened) == (2, Decimal("3.20"), 0)


def test_an_accepted_short_line_opens_what_does_not_come() -> None:
    found = OrderRecord(NUTS, replies=(said(packs=1),), answers=(word(Word.ACCEPT),))
    assert found.questions == ()
    assert (stands(found).packs, stands(found).coming, stands(found).reopened) == (1, 4, 2)


def test_a_refused_line_is_open_again_whole() -> None:
    dear = said(pack_price=Decimal("9.99"))
    found = OrderRecord(NUTS, replies=(dear,), answers=(word(Word.REFUSE),))
    assert (stands(found).refused, stands(found).reopened, found.agreed) == (
        True,
        6,
        Decimal(0),
    )


def test_an_accepted_substitute_is_what_comes() -> None:
    other = said(substitute="R320", part=number("dal:R320"))
    found = stands(OrderRecord(NUTS, replies=(other,), answers=(word(Word.ACCEPT),)))
    assert (found.part, found.their_number) == (number("dal:R320"), "R320")


HALVES: dict[str, Any] = {"substitute": "R321", "part": number("dal:R321"), "per": 2}


def halves(packs: int | None, *came: DeliveryLine, **more: Any) -> OrderRecord:
    """Four pairs were ordered, one a pack; so many halves are offered for them and accepted."""
    pairs = an_order(replace(a_line("hob:W320", 4, "3.00"), their_number="AW320"))
    line = pairs.lines[0].id
    reply = Reply("P1001", 1, (ReplyLine(line, packs=packs, **HALVES, **more),), LATER)
    given = tuple(
        Delivery("P1001", LATER, "J. Marlowe", (replace(each, line=line),)) for each in came
    )
    answers = (Answer(line, 1, Word.ACCEPT, "K. Ferris", LATER),)
    return OrderRecord(pairs, replies=(reply,), answers=answers, deliveries=given)


def asked_of_halves(packs: int | None, **more: Any) -> tuple[tuple[Change, ...], list[str]]:
    (question,) = replace(halves(packs, **more), answers=()).questions
    return question.changes, list(question.sentences("GBP"))


def test_eight_halves_for_four_pairs_cover_the_line() -> None:
    found = stands(halves(8, pack_price=Decimal("1.50")))
    assert (found.coming, found.reopened, found.needed, found.secured) == (8, 0, 8, 8)
    changes, says = asked_of_halves(8, pack_price=Decimal("1.50"))
    assert changes == (Change.SUBSTITUTE,)
    assert says[1] == (
        "2 of it for 1 of hob:W320: the 8 pieces that he offers make 4, and 4 were asked for"
    )
    here = stands(halves(8, DeliveryLine("", 8)))
    assert (here.good, here.coming, here.reopened) == (8, 0, 0)


def test_too_few_halves_leave_pairs_open_and_too_many_are_told() -> None:
    short = stands(halves(5))
    assert (short.coming, short.secured, short.reopened) == (5, 5, 2)
    changes, says = asked_of_halves(5, pack_price=Decimal(1))
    assert changes == (Change.SUBSTITUTE, Change.SHORT)
    assert says[2] == "5 of 4 packs: 2 pieces of hob:W320 would be open again"
    assert asked_of_halves(None, pack_price=Decimal(1))[0] == (Change.SUBSTITUTE, Change.SHORT)
    more = stands(halves(11, DeliveryLine("", 11)))
    assert (more.reopened, more.may_go[Why.SURPLUS]) == (0, 3)
    changes, says = asked_of_halves(11, pack_price=Decimal(1))
    assert changes == (Change.SUBSTITUTE, Change.SURPLUS)
    assert says[2] == "11 of 4 packs: 3 pieces more than do for it"


def test_what_comes_in_another_measure_is_dearer_by_what_it_makes() -> None:
    assert asked_of_halves(8, pack_price=Decimal("1.75"))[1][-1] == (
        "8 × 1.75 instead of 4 × 3.00: GBP 2.00 more"
    )
    assert asked_of_halves(8)[1][-1] == (
        "8 × 3.00 instead of 4 × 3.00, as he gives no other price: GBP 12.00 more"
    )


def test_what_is_measured_of_them_is_of_the_number_that_was_agreed() -> None:
    agreed = stands(halves(8)).as_agreed
    assert (agreed.part, agreed.quantity, agreed.pieces) == (number("dal:R321"), 8, 8)
    assert [need.pieces for need in agreed.needed_by] == [8]
    plain = stands(OrderRecord(NUTS))
    assert plain.as_agreed is plain.line


def test_damaged_halves_open_the_pairs_that_they_would_have_made() -> None:
    found = halves(8, DeliveryLine("", 5, damaged=3))
    assert (stands(found).reopened, stands(found).damaged) == (2, 3)
    what_came, what_was_asked = before_of([found]).failures.every
    assert (what_came.part, what_came.what) == (number("dal:R321"), "3 damaged")
    assert what_was_asked.part == number("hob:W320")
    assert what_was_asked.what == "he had dal:R321 in its place"
    (fewer, _) = before_of([halves(8, DeliveryLine("", 4, damaged=3))]).failures.every
    assert fewer.what == "3 damaged, 1 short"


def test_what_comes_instead_is_brought_to_the_kit_by_what_it_makes() -> None:
    (coming,) = before_of([halves(8)]).coming
    lot = coming.need.lot(coming.part)
    assert (lot.part, lot.pieces) == (number("dal:R321"), 8)
    assert lot.stands is not None
    assert (lot.stands.part, lot.stands.per, lot.stands.makes) == (number("hob:W320"), 2, 1)


def test_a_second_reply_that_says_the_same_leaves_the_answer_given() -> None:
    replies = (said(packs=1), replace(said(packs=1), who="another clerk"))
    found = OrderRecord(NUTS, replies=replies, answers=(word(Word.ACCEPT),))
    assert found.questions == ()


def test_a_second_reply_that_says_otherwise_asks_anew() -> None:
    replies = (said(packs=1), said(packs=0))
    found = OrderRecord(NUTS, replies=replies, answers=(word(Word.ACCEPT),))
    assert [question.reply for question in found.questions] == [2]


def test_a_short_delivery_opens_the_line_but_for_what_follows() -> None:
    assert stands(record(DeliveryLine(LINE, 5))).reopened == 1
    followed = stands(record(DeliveryLine(LINE, 5, to_follow=3)))
    assert (followed.coming, followed.reopened) == (3, 0)
    both = stands(record(DeliveryLine(LINE, 5, to_follow=3), DeliveryLine(LINE, 3)))
    assert (both.good, both.coming, both.reopened) == (8, 0, 0)


def test_pieces_beyond_the_need_may_be_short_without_opening_anything() -> None:
    assert stands(record(DeliveryLine(LINE, 6))).reopened == 0


def test_damaged_and_wrong_pieces_open_the_line_and_may_go_back() -> None:
    found = stands(record(DeliveryLine(LINE, 3, damaged=1, wrong=4)))
    assert found.reopened == 3
    assert (found.may_go[Why.DAMAGED], found.may_go[Why.WRONG]) == (1, 4)


def test_what_is_measured_as_the_wrong_part_opens_the_line() -> None:
    found = stands(record(DeliveryLine(LINE, 8, outside=8)))
    assert (found.good, found.wrong, found.reopened) == (0, 8, 6)


def test_one_piece_outside_opens_one_piece_and_one_may_go_back() -> None:
    came = DeliveryLine(LINE, 6, inside=5, outside=1, to_measure=True)
    found = stands(record(came))
    assert (found.good, found.wrong, found.reopened, found.may_go[Why.WRONG]) == (5, 1, 1, 1)


def test_what_is_too_near_the_drawing_to_call_waits_and_opens_nothing() -> None:
    found = stands(record(DeliveryLine(LINE, 8, near=8)))
    assert (found.good, found.doubtful, found.reopened) == (0, 8, 0)


def test_surplus_may_go_back_and_no_more_than_that() -> None:
    found = record(DeliveryLine(LINE, 8))
    assert stands(found).may_go[Why.SURPLUS] == 2
    back = (Return(LINE, 2, Why.SURPLUS, "J. Marlowe", LATER),)
    after = stands(replace(found, returns=back))
    assert (after.good, after.may_go[Why.SURPLUS], after.reopened) == (6, 0, 0)


def test_an_unused_grade_on_sale_or_return_may_go_back_whole() -> None:
    order = an_order(a_line("hob:W120", 1, "12.00", on_return=True))
    line = order.lines[0].id
    found = stands(record(DeliveryLine(line, 1), order=order))
    assert found.may_go[Why.SALE_OR_RETURN] == 1
    assert stands(record(DeliveryLine(LINE, 6))).may_go[Why.SALE_OR_RETURN] == 0


def test_cancelling_opens_what_has_not_come_and_leaves_what_has() -> None:
    steps = (Step(OrderState.CANCELLED, "K. Ferris", LATER),)
    found = stands(record(DeliveryLine(LINE, 4, to_follow=4), steps=steps))
    assert (found.good, found.coming, found.reopened) == (4, 0, 2)


def test_orders_tell_the_next_draft_what_comes_and_where_it_fell_short() -> None:
    before = before_of([record(DeliveryLine(LINE, 5))])
    assert [(each.part, each.need.pieces) for each in before.coming] == [(number("hob:W320"), 5)]
    assert before.failures.barred((JOB,)) == {("ashby", number("hob:W320"))}
    (failure,) = before.failures.every
    assert failure.sentence == "Ashby Spares, hob:W320: 1 short (P1001, for job 24-001)"
    assert before_of([record()], leave_out=["P1001"]).coming == ()


@pytest.mark.parametrize(
    ("came", "what"),
    [
        (DeliveryLine(LINE, 3, damaged=2), "2 damaged, 1 short"),
        (DeliveryLine(LINE, 5, wrong=1), "1 wrong"),
        (DeliveryLine(LINE, 4, damaged=1, to_follow=2), ""),
    ],
)
def test_a_failure_says_what_was_wrong(came: DeliveryLine, what: str) -> None:
    assert [each.what for each in before_of([record(came)]).failures.every] == [what] * bool(what)


def test_what_goes_back_unused_is_no_failure_and_opens_nothing_but_comes_no_more() -> None:
    """The kit settled on another size: the shells of this one go back, on sale or return."""
    shells = an_order(a_line("hob:W101", 2, "18.00", positions=("shells",), on_return=True))
    line = shells.lines[0].id
    came = record(DeliveryLine(line, 2), order=shells)
    back = replace(came, returns=(Return(line, 1, Why.SALE_OR_RETURN, "Joan", LATER),))
    found = stands(back)
    assert (found.good, found.reopened, found.fell_short) == (1, 0, False)
    before = before_of([back])
    assert [each.need.pieces for each in before.coming] == [1]
    assert before.failures.every == ()


def test_a_failure_bars_the_supplier_for_its_own_job_until_he_is_asked_again() -> None:
    failures = before_of([record(DeliveryLine(LINE, 5))]).failures
    nuts = number("hob:W320")
    assert failures.barred(("24-009",)) == frozenset()
    assert "--even-from ashby" in failures.why({nuts: (JOB,)}, JOB)
    assert failures.why({nuts: ("24-009",)}, "24-009") == ""
    again = replace(failures, again=frozenset({"ashby"}))
    assert again.barred((JOB,)) == frozenset()
    assert len(again.told({("ashby", nuts)})) == 1


def test_a_set_that_does_not_come_brings_none_of_its_parts() -> None:
    a_set = an_order(a_line("hob:W900", 1, "24.00", positions=("case-gasket",), in_set=True))
    whole = OrderRecord(a_set)
    assert len(before_of([whole]).coming) == 1
    line = a_set.lines[0].id
    assert before_of([record(DeliveryLine(line, 0, damaged=1), order=a_set)]).coming == ()


@pytest.mark.parametrize(
    ("came", "sentence"),
    [
        (DeliveryLine(LINE, 9), "9 pieces came and 8 were still to come"),
        (DeliveryLine(LINE, 7, damaged=2), "9 pieces came and 8 were still to come"),
        (DeliveryLine(LINE, 7, to_follow=2), "2 are said to follow and 1 are missing"),
        (DeliveryLine(LINE, -1), "a count is below zero"),
        (DeliveryLine("ZZZZZ", 1), "the order has no such line"),
    ],
)
def test_counts_that_cannot_be_are_refused(came: DeliveryLine, sentence: str) -> None:
    with pytest.raises(BadInput, match=sentence):
        check_delivery(NUTS, Delivery("P1001", LATER, "J", (came,)), {LINE: 8})


@pytest.mark.parametrize(
    ("reply", "sentence"),
    [
        (replace(said(packs=1), order="P1002"), "reply to P1002: this is order P1001"),
        (replace(said(packs=1), revision=2), "it answers revision 2, and the order is at 1"),
        (said(packs=3), "3 packs are confirmed where 2 were asked for"),
        (said(pack_price=Decimal(-1)), "'-1' is no price"),
        (said(day=date(2023, 5, 1)), "01 May 2023 cannot be the day for an order of 02 May 2024"),
        (Reply("P1001", 1, (ReplyLine("ZZZZZ", 1),), LATER), "order P1001 has no such line"),
    ],
)
def test_a_reply_that_cannot_be_one_is_refused(reply: Reply, sentence: str) -> None:
    with pytest.raises(BadInput) as refused:
        check_reply(NUTS, reply)
    assert sentence in str(refused.value)


counts = st.integers(0, 6)


@given(st.lists(st.tuples(counts, counts, counts, counts), max_size=5), st.booleans())
def test_every_needed_piece_is_here_or_doubtful_or_coming_or_open(
    parcels: list[tuple[int, int, int, int]], cancelled: bool
) -> None:
    """Whatever parcels come, in any order, no needed piece is lost or counted twice."""
    steps = (Step(OrderState.CANCELLED, "K. Ferris", LATER),) if cancelled else ()
    taken: list[DeliveryLine] = []
    for good, damaged, wrong, follow in parcels:
        coming = stands(record(*taken)).coming
        came = DeliveryLine(LINE, min(good, coming), wrong=wrong)
        came = replace(came, damaged=min(damaged, coming - came.good))
        taken.append(replace(came, to_follow=min(follow, coming - came.good)))
    found = stands(record(*taken, steps=steps))
    here = found.good + found.doubtful + found.coming
    assert found.reopened == max(0, found.line.quantity - here)
    assert found.good + found.coming <= found.line.pieces
    assert found.secured + found.reopened == found.line.quantity
    assert found.damaged + found.wrong == sum(c.damaged + c.wrong for c in taken)


@pytest.mark.parametrize("seed", range(40))
def test_line_letters_are_unlike_one_another_and_stay_from_revision_to_revision(seed: int) -> None:
    order = random_order(seed)
    letters = [line.id for line in order.lines]
    assert len(set(letters)) == len(letters)
    assert all(len(each) == 5 and each.isalpha() for each in letters)
    again = numbered(replace(order, lines=order.lines[1:]), order.number, 2)
    assert [line.id for line in again.lines] == letters[1:]
    other = numbered(order, "P1002", 1)
    assert not set(letters) & {line.id for line in other.lines}


def test_an_exchange_rate_of_nought_is_refused() -> None:
    with pytest.raises(BadInput) as refused:
        an_order(currency="EUR", worth=Decimal(0))
    assert str(refused.value) == (
        "order P1001: the exchange rate of EUR is 0; say what 1 EUR is worth in GBP"
    )
