"""What happens to a line after it came: a later reply, and pieces that turn up after all."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.buying.deliveries import Delivery, DeliveryLine, check_delivery
from kitting.buying.drafting import drafts_of, orders_of
from kitting.buying.orders import Order, OrderState, numbered
from kitting.buying.replies import Answer, Change, Reply, ReplyLine, Word, question_of
from kitting.buying.standing import LineStanding, OrderRecord, Step, before_of
from kitting.buying.steps import check_answers, question_at
from kitting.buying.turned_up import (
    check_after_all,
    check_turned_up,
    drafts_that_ask,
    missed_before,
)
from kitting.errors import BadInput
from tests.buying.orders import a_line, an_order
from tests.sheets.values import a_ready_job, number

NUTS = an_order(a_line("hob:W320", 2, "3.20", pack=4, quantity=6))
LINE = NUTS.lines[0].id
DAY = date(2024, 5, 9)
PATH = a_ready_job()
JOB = PATH.bench.job.number


def came(*lines: DeliveryLine, replies: Sequence[Reply] = (), **more: Any) -> OrderRecord:
    deliveries = tuple(Delivery("P1001", DAY, "J. Marlowe", (line,)) for line in lines)
    return OrderRecord(NUTS, deliveries=deliveries, replies=tuple(replies), **more)


def said(**what: Any) -> Reply:
    return Reply("P1001", 1, (ReplyLine(LINE, **what),), DAY)


def word(choice: Word, reply: int = 1, delivered: int = 0) -> Answer:
    return Answer(LINE, reply, choice, "K. Ferris", DAY, delivered=delivered)


def stands(found: OrderRecord) -> LineStanding:
    return found.lines[0]


WORSE: list[dict[str, Any]] = [
    {"packs": 0},
    {"packs": 1},
    {"pack_price": Decimal("9.99")},
    {"day": date(2024, 9, 1)},
    {"substitute": "R320"},
]
AS_ASKED: dict[str, Any] = {"packs": 2, "pack_price": Decimal("3.20")}


@pytest.mark.parametrize("what", WORSE)
def test_a_reply_to_what_is_here_asks_nothing_and_is_told(what: dict[str, Any]) -> None:
    found = came(DeliveryLine(LINE, 8), replies=[said(**what)])
    line = stands(found)
    assert found.questions == ()
    assert found.state is OrderState.DELIVERED
    assert (line.good, line.coming, line.reopened, line.packs) == (8, 0, 0, 2)
    assert line.told is not None
    assert len(line.told.told_sentences("GBP")) == 1
    assert "open" not in line.told.told_sentences("GBP")[0]
    with pytest.raises(BadInput, match="what was to come of it is here: the reply asks nothing"):
        question_at(found, LINE)


def test_another_number_is_not_accepted_for_a_line_that_is_partly_here() -> None:
    offered = said(substitute="R320")
    found = came(DeliveryLine(LINE, 4, to_follow=4), replies=[offered])
    with pytest.raises(BadInput, match="4 of hob:W320 are here, and R320 is offered for all"):
        check_answers(found, word(Word.ACCEPT))
    check_answers(found, word(Word.REFUSE))
    refused = stands(replace(found, answers=(word(Word.REFUSE),)))
    assert (refused.good, refused.coming, refused.reopened) == (4, 0, 2)
    check_answers(came(replies=[offered]), word(Word.ACCEPT))


@pytest.mark.parametrize("choice", list(Word))
@pytest.mark.parametrize("what", WORSE)
def test_goods_that_are_here_are_not_opened_by_an_answer_given_afterwards(
    what: dict[str, Any], choice: Word
) -> None:
    line = stands(came(DeliveryLine(LINE, 8), replies=[said(**what)], answers=(word(choice),)))
    assert (line.good, line.coming, line.reopened, line.packs) == (8, 0, 0, 2)


def test_of_a_line_that_is_half_here_a_reply_asks_only_of_the_rest() -> None:
    half = DeliveryLine(LINE, 4, to_follow=4)
    found = came(half, replies=[said(packs=0)])
    (question,) = found.questions
    assert question.missing == 2
    refused = replace(found, answers=(word(Word.REFUSE),))
    accepted = replace(found, answers=(word(Word.ACCEPT),))
    for after in (refused, accepted):
        line = stands(after)
        assert (line.good, line.coming, line.reopened, line.packs) == (4, 0, 2, 1)
        assert after.agreed == Decimal("3.20") + Decimal("6.50")


def may_come(found: OrderRecord) -> int:
    return stands(found).coming + stands(found).late


def test_a_piece_that_turns_up_after_it_was_missed_is_good_and_closes_the_line() -> None:
    short = came(DeliveryLine(LINE, 5))
    assert (stands(short).reopened, stands(short).late, may_come(short)) == (1, 3, 3)
    late = DeliveryLine(LINE, 1)
    check_delivery(NUTS, Delivery("P1001", DAY, "J", (late,)), {LINE: may_come(short)})
    line = stands(came(DeliveryLine(LINE, 5), late))
    assert (line.good, line.wrong, line.reopened) == (6, 0, 0)


def test_more_than_was_ordered_still_goes_down_as_wrong() -> None:
    short = came(DeliveryLine(LINE, 5))
    four = Delivery("P1001", DAY, "J", (DeliveryLine(LINE, 4),))
    with pytest.raises(BadInput, match="4 pieces came and 3 were still to come"):
        check_delivery(NUTS, four, {LINE: may_come(short)})


def test_nothing_turns_up_of_what_was_refused_or_cancelled() -> None:
    dear = said(pack_price=Decimal("9.99"))
    refused = OrderRecord(NUTS, replies=(dear,), answers=(word(Word.REFUSE),))
    assert may_come(refused) == 0
    cancelled = (Step(OrderState.CANCELLED, "K. Ferris", DAY),)
    assert may_come(came(DeliveryLine(LINE, 5), steps=cancelled)) == 0


def test_the_same_note_is_the_same_parcel_though_it_was_measured_since() -> None:
    booked = Delivery("P1001", DAY, "J", (DeliveryLine(LINE, 5),), "LN 77")
    measured = replace(booked.lines[0], inside=5, to_measure=True)
    assert booked.same_as(replace(booked, lines=(measured,)))
    assert not booked.same_as(replace(booked, lines=(DeliveryLine(LINE, 4),)))


def approved(order: Order, at: int) -> Order:
    made = numbered(order, f"P{1001 + at}", 1)
    return replace(made, approved_by="K. Ferris", approved_on=PATH.day)


BOUGHT = [OrderRecord(approved(order, at)) for at, order in enumerate(orders_of(PATH))]


def short_of_nuts() -> tuple[OrderRecord, str]:
    """The order of four nuts, of which three came, and its line of them."""
    record = next(r for r in BOUGHT if any(li.line.part == number("W320") for li in r.lines))
    nuts = next(each.line for each in record.lines if each.line.part == number("W320"))
    three = Delivery(record.order.number, PATH.day, "J. Marlowe", (DeliveryLine(nuts.id, 3),))
    return replace(record, deliveries=(three,)), nuts.id


def one_more(record: OrderRecord, line: str) -> Delivery:
    return Delivery(record.order.number, PATH.day, "J. Marlowe", (DeliveryLine(line, 1),))


def bought_again(record: OrderRecord, *, approve: bool) -> OrderRecord:
    """The order that asks elsewhere for what fell short."""
    others = [each for each in BOUGHT if each.order.number != record.order.number]
    (order,) = drafts_of(PATH, before_of([record, *others])).orders
    return OrderRecord(approved(order, 9) if approve else numbered(order, "P1010", 1))


def test_what_turns_up_and_was_not_bought_elsewhere_is_taken() -> None:
    record, line = short_of_nuts()
    assert missed_before(record, DeliveryLine(line, 1)) == 1
    check_turned_up(record, one_more(record, line), {JOB: PATH}, BOUGHT)
    draft = bought_again(record, approve=False)
    check_turned_up(record, one_more(record, line), {JOB: PATH}, [*BOUGHT, draft])
    assert drafts_that_ask(record, line, [*BOUGHT, draft]) == ("P1010",)


def test_what_comes_after_all_of_a_line_that_is_here_is_asked_about_and_then_taken() -> None:
    short = came(
        DeliveryLine(LINE, 4),
        replies=(said(packs=1), said(packs=2, pack_price=Decimal("3.20"))),
        answers=(word(Word.ACCEPT),),
    )
    (question,) = short.questions
    assert (question.changes, question.after_all) == ((Change.AFTER_ALL,), 2)
    taken = replace(short, answers=(word(Word.ACCEPT), word(Word.ACCEPT, 2, delivered=1)))
    assert (stands(taken).coming, stands(taken).reopened, taken.questions) == (4, 0, ())
    refused = replace(short, answers=(word(Word.ACCEPT), word(Word.REFUSE, 2, delivered=1)))
    assert (stands(refused).late, stands(refused).good) == (0, 4)


def test_what_comes_after_all_is_weighed_in_the_measure_it_was_ordered_in() -> None:
    record, key = short_of_nuts()
    line = record.by_line[key].line
    need = replace(line.needed_by[0], pieces=8, stands_for=line.part, per=2, makes=1)
    halves = replace(
        line, part=number("W399"), quantity=8, pack=1, packs=8, net=line.pack_price * 8,
        needed_by=(need,),
    )  # fmt: skip
    others = [each for each in BOUGHT if each.order.number != record.order.number]
    given_up = OrderRecord(
        replace(record.order, lines=(halves,)),
        replies=(Reply(record.order.number, 1, (ReplyLine(key, packs=0),), DAY),),
        answers=(replace(word(Word.ACCEPT), line=key),),
    )
    asked = question_of(given_up.order, 2, ReplyLine(key, packs=8), 8)
    assert asked is not None
    check_after_all(given_up, asked, {JOB: PATH}, others)
    asked = question_of(given_up.order, 2, ReplyLine(key, packs=8), 10)
    assert asked is not None
    with pytest.raises(BadInput, match="2 pieces of what would come after all is missing no more"):
        check_after_all(given_up, asked, {JOB: PATH}, others)


def test_what_turns_up_after_it_was_bought_elsewhere_is_said_to_be_so() -> None:
    record, line = short_of_nuts()
    again = bought_again(record, approve=True)
    with pytest.raises(BadInput) as refused:
        check_turned_up(record, one_more(record, line), {JOB: PATH}, [*BOUGHT, again])
    assert f"line {line}: 1 piece of it turned up after order P1010 asked for it again" in str(
        refused.value
    )
    assert f"(--wrong {line}=PIECES), or cancel P1010" in str(refused.value)
    cancelled = replace(again, steps=(Step(OrderState.CANCELLED, "K. Ferris", PATH.day),))
    check_turned_up(record, one_more(record, line), {JOB: PATH}, [*BOUGHT, cancelled])


counts = st.integers(0, 6)
proofs = st.none() | st.tuples(counts, counts, counts)
parcels = st.tuples(counts, counts, counts, counts, proofs)


@given(
    st.lists(parcels, max_size=4),
    st.lists(st.sampled_from([*WORSE, AS_ASKED]), max_size=3),
    st.lists(
        st.tuples(st.integers(1, 3), st.sampled_from(list(Word)), st.integers(0, 4)), max_size=2
    ),
)
def test_whatever_is_said_and_comes_nothing_is_below_zero_and_no_needed_piece_is_lost(
    brought: list[tuple[int, int, int, int, tuple[int, int, int] | None]],
    replies: list[dict[str, Any]],
    answers: list[tuple[int, Word, int]],
) -> None:
    """Parcels as they may be booked, late ones too, under any replies and answers, in any order."""
    what_was_said: dict[str, Any] = {
        "replies": [said(**each) for each in replies],
        "answers": tuple(word(choice, at, come) for at, choice, come in answers),
    }
    taken: list[DeliveryLine] = []
    for good, damaged, wrong, follow, figures in brought:
        room = may_come(came(*taken))
        count = min(good, room)
        inside, outside, near = figures or (0, 0, 0)
        taken.append(
            DeliveryLine(
                LINE,
                count,
                damaged=min(damaged, room - count),
                wrong=wrong,
                to_follow=min(follow, room - count),
                inside=min(inside, count),
                outside=min(outside, count - min(inside, count)),
                near=max(0, min(near, count - inside - outside)),
                to_measure=figures is not None,
            )
        )
    line = stands(came(*taken, **what_was_said))
    here = line.good + line.unproven
    pieces = (line.good, line.unmeasured, line.doubtful, line.coming, line.reopened, line.late)
    assert min(pieces) >= 0
    assert min(line.may_go.values()) >= 0
    assert here == sum(c.good - c.outside for c in taken)
    assert line.reopened == max(0, line.line.quantity - here - line.coming)
    assert here + line.coming <= line.line.pieces
    assert line.packs * line.line.pack >= here
