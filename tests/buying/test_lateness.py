"""What a later day in a reply means for the job: whether its last part comes later by it."""

from dataclasses import replace
from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st

from kitting.buying.deliveries import Delivery, DeliveryLine
from kitting.buying.lateness import effects_on_date
from kitting.buying.orders import OrderState
from kitting.buying.replies import Answer, Reply, ReplyLine, Word
from kitting.buying.standing import OrderRecord, Step
from tests.buying.orders import a_line, an_order

ORDER = an_order(a_line("hob:W320", 2, "3.20"), a_line("hob:W205", 1, "9.75"))
NUT, SPRING = (line.id for line in ORDER.lines)
DUE = date(2024, 5, 5)
SLOW = replace(an_order(replace(a_line("hob:W101", 1, "18.00"), days=20)), number="P1002")


def told(day: date, order: OrderRecord | None = None) -> OrderRecord:
    found = order or OrderRecord(ORDER)
    return replace(found, replies=(Reply("P1001", 1, (ReplyLine(NUT, day=day),), DUE),))


def says(record: OrderRecord, *others: OrderRecord) -> list[str]:
    (question,) = record.questions
    return [each.sentence for each in effects_on_date(question, "P1001", (record, *others))]


def test_a_later_day_moves_the_jobs_last_part_when_nothing_comes_after_it() -> None:
    assert says(told(date(2024, 5, 12))) == [
        "the last part for job 24-001 then comes on 12 May 2024, 7 days later than 05 May 2024"
    ]


def test_a_later_day_moves_nothing_while_another_order_comes_after_it() -> None:
    assert says(told(date(2024, 5, 12)), OrderRecord(SLOW)) == [
        "job 24-001 waits for part W101 until 22 May 2024 anyway: its last part comes no later"
    ]


def test_what_is_cancelled_or_here_is_not_waited_for() -> None:
    cancelled = OrderRecord(SLOW, (Step(OrderState.CANCELLED, "K. Ferris", DUE),))
    came = Delivery("P1002", DUE, "J. Marlowe", (DeliveryLine(SLOW.lines[0].id, 1),))
    for other in (cancelled, OrderRecord(SLOW, deliveries=(came,))):
        (sentence,) = says(told(date(2024, 5, 12)), other)
        assert sentence.startswith("the last part for job 24-001 then comes on 12 May 2024")


def test_what_would_come_after_all_is_waited_for_though_nothing_of_it_is_to_come() -> None:
    line = ORDER.lines[0]
    none = Reply("P1001", 1, (ReplyLine(NUT, packs=0),), DUE)
    all_of_it = ReplyLine(NUT, line.packs, line.pack_price, date(2024, 5, 24))
    record = OrderRecord(
        ORDER,
        replies=(none, Reply("P1001", 1, (all_of_it,), DUE)),
        answers=(Answer(NUT, 1, Word.ACCEPT, "K. Ferris", DUE),),
    )
    assert record.by_line[NUT].coming == 0
    assert says(record, OrderRecord(SLOW)) == [
        "the last part for job 24-001 then comes on 24 May 2024, 2 days later than 22 May 2024"
    ]


def test_each_job_of_a_shared_line_is_told_for_itself() -> None:
    line = ORDER.lines[0]
    both = replace(line, needed_by=(*line.needed_by, replace(line.needed_by[0], job="24-002")))
    shared = told(date(2024, 5, 6), OrderRecord(replace(ORDER, lines=(both, ORDER.lines[1]))))
    assert [each.split(" then")[0] for each in says(shared, OrderRecord(SLOW))] == [
        "job 24-001 waits for part W101 until 22 May 2024 anyway: its last part comes no later",
        "the last part for job 24-002",
    ]


def test_an_earlier_day_or_none_has_no_effect_to_tell() -> None:
    dear = OrderRecord(ORDER, replies=(Reply("P1001", 1, (ReplyLine(NUT, packs=1),), DUE),))
    assert says(dear) == []


@given(st.integers(1, 400), st.integers(0, 400))
def test_the_job_is_never_told_a_day_before_the_line_or_the_slowest_other(
    late: int, slow: int
) -> None:
    day = DUE + timedelta(late)
    other = replace(SLOW, lines=(replace(SLOW.lines[0], days=slow),))
    record = told(day)
    (effect,) = effects_on_date(record.questions[0], "P1001", (record, OrderRecord(other)))
    slowest = other.due(other.lines[0])
    assert effect.offered == max(day, slowest)
    assert effect.days == max(0, (effect.offered - max(DUE, slowest)).days)
