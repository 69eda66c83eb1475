"""What accepting and what refusing a reply's line comes to: money, carriage, and who waits."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from math import ceil

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.buying.choices import Choice, choices_of
from kitting.buying.deliveries import Delivery, DeliveryLine
from kitting.buying.elsewhere import cheapest_elsewhere
from kitting.buying.orders import OrderState
from kitting.buying.other_numbers import OtherNumber
from kitting.buying.replies import Answer, Reply, ReplyLine, Word
from kitting.buying.standing import OrderRecord, Step
from kitting.buying.turned_up import Missed
from kitting.catalog.trade import Offer, Supplier, Trade
from kitting.job.pricing import Market
from tests.builders import an_offer, number
from tests.buying.orders import ASHBY, DAY, JOB, a_line, an_order
from tests.wren import tiny_family, tiny_trade

TRADE = tiny_trade()
BROOK = TRADE.supplier_by_key["brook"]
TODAY = date(2024, 5, 4)
FAMILIES = {JOB: tiny_family()}
ORDER = an_order(
    a_line("hob:W320", 2, "3.20", pack=4, positions=("barrel-nuts",)),
    a_line("hob:W310", 10, "9.90", positions=("head-gasket",)),
)
NUT, GASKET = (line.id for line in ORDER.lines)
DRAFT = replace(
    an_order(a_line("hob:W101", 1, "20.00"), approved=False, supplier=BROOK), number="P1002"
)


def replied(order_line: ReplyLine, record: OrderRecord | None = None) -> OrderRecord:
    said = Reply("P1001", 1, (order_line,), DAY)
    return replace(record or OrderRecord(ORDER), replies=(said,))


def weighed(
    record: OrderRecord, *others: OrderRecord, trade: Trade = TRADE
) -> tuple[Choice, Choice]:
    (question,) = record.questions
    return choices_of(question, record, Market(trade, TODAY), FAMILIES, (record, *others))


def only_here(trade: Trade = TRADE) -> Trade:
    return replace(trade, offers=tuple(o for o in trade.offers if o.supplier == "ashby"))


def test_the_rest_elsewhere_is_reckoned_with_its_carriage() -> None:
    accept, refuse = weighed(replied(ReplyLine(NUT, packs=1)))
    (way,) = accept.elsewhere
    assert (accept.missing, way.supplier.key) == (4, "brook")
    assert (way.quote.home, way.carriage) == (Decimal("3.20"), Decimal("4.00"))
    assert accept.more == Decimal("4.00")
    assert (refuse.missing, refuse.more) == (8, Decimal("10.50"))
    assert "8 pieces from Brook and Daughter: GBP 6.40, carriage 4.00" in refuse.sentences[0]


def test_goods_added_to_a_waiting_draft_bear_no_carriage_of_their_own() -> None:
    accept, refuse = weighed(replied(ReplyLine(NUT, packs=1)), OrderRecord(DRAFT))
    assert accept.more == Decimal("0.00")
    assert "in all no more than as asked" in accept.sentences
    assert [way.joins for way in refuse.elsewhere] == ["P1002"]
    assert "carriage 0.00 on draft P1002" in refuse.sentences[0]


def test_a_draft_that_was_cancelled_takes_nothing_more() -> None:
    cancelled = OrderRecord(DRAFT, (Step(OrderState.CANCELLED, "K. Ferris", DAY),))
    accept, _ = weighed(replied(ReplyLine(NUT, packs=1)), cancelled)
    assert accept.more == Decimal("4.00")


def test_free_carriage_that_is_lost_is_told_and_counted() -> None:
    none, _ = weighed(replied(ReplyLine(NUT, packs=0)))
    assert (none.carriage_before, none.carriage) == (Decimal(0), Decimal("6.50"))
    assert (
        "carriage here GBP 6.50 instead of 0.00: the goods come to 99.00, and it is free from "
        "100.00"
    ) in none.sentences


def test_a_dearer_price_can_win_free_carriage() -> None:
    order = replace(ORDER, lines=ORDER.lines[1:])
    record = replied(ReplyLine(GASKET, pack_price=Decimal("10.10")), OrderRecord(order))
    accept, refuse = weighed(record)
    assert (accept.carriage_before, accept.carriage) == (Decimal("6.50"), Decimal(0))
    assert accept.more == Decimal("-4.50")
    assert "in all GBP 4.50 less than as asked" in accept.sentences
    assert refuse.carriage == 0
    assert any("nothing is left of the order" in each for each in refuse.sentences)


def test_goods_that_fall_below_the_least_order_are_told() -> None:
    strict = replace(ORDER, supplier=replace(ASHBY, least_order=Decimal("100.00")))
    none, _ = weighed(replied(ReplyLine(NUT, packs=0), OrderRecord(strict)))
    assert "the goods here are then GBP 1.00 below the least order" in none.sentences


def test_pieces_that_are_here_are_not_bought_again_measured_or_not() -> None:
    for to_measure in (False, True):
        came = DeliveryLine(NUT, 4, to_follow=4, to_measure=to_measure)
        part_here = OrderRecord(ORDER, deliveries=(Delivery("P1001", DAY, "J. Marlowe", (came,)),))
        accept, refuse = weighed(replied(ReplyLine(NUT, packs=0), part_here))
        assert (accept.missing, refuse.missing) == (4, 4)


@pytest.mark.parametrize(("packs", "missing"), [(1, 10), (2, 9), (19, 1)])
def test_packs_confirmed_of_a_line_that_is_partly_here_are_the_lines_in_all(
    packs: int, missing: int
) -> None:
    """Halves, two for one, were accepted; one came, and he now says that there are only so many."""
    halves = ReplyLine(GASKET, 20, Decimal("4.95"), substitute="H", per=2, part=number("hob:W9"))
    order = replace(ORDER, lines=ORDER.lines[1:])
    came = DeliveryLine(GASKET, 1, to_follow=19)
    record = OrderRecord(
        order,
        replies=(
            Reply("P1001", 1, (halves,), DAY),
            Reply("P1001", 1, (replace(halves, packs=packs),), DAY),
        ),
        answers=(Answer(GASKET, 1, Word.ACCEPT, "K. Ferris", DAY),),
        deliveries=(Delivery("P1001", DAY, "J. Marlowe", (came,)),),
    )
    accept, refuse = weighed(record)
    assert (accept.missing, refuse.missing) == (missing, 10)
    taken = replace(
        record, answers=(*record.answers, Answer(GASKET, 2, Word.ACCEPT, "K", DAY, delivered=1))
    )
    line = taken.by_line[GASKET]
    assert line.made(line.good + line.coming) == 10 - missing


def test_what_is_here_of_a_refused_line_stays_and_is_paid_for() -> None:
    """Refusing the rest saves one pack of two, whatever he says of it."""
    came = DeliveryLine(NUT, 4, to_follow=4)
    part_here = OrderRecord(ORDER, deliveries=(Delivery("P1001", DAY, "J. Marlowe", (came,)),))
    accept, refuse = weighed(replied(ReplyLine(NUT, packs=1), part_here))
    assert (accept.goods, refuse.goods) == (Decimal("102.20"), Decimal("102.20"))
    assert accept.more == refuse.more == Decimal("4.00")


def test_what_no_kit_misses_any_more_is_not_bought_elsewhere() -> None:
    """Declined meanwhile, or taken off the shelf: refusing it saves its price."""
    record = replied(ReplyLine(NUT, pack_price=Decimal("4.00")))
    market, (question,) = Market(TRADE, TODAY), record.questions
    _, refuse = choices_of(question, record, market, FAMILIES, (record,), (), lambda _: Missed(0))
    assert (refuse.missing, refuse.elsewhere, refuse.more) == (0, (), Decimal("0.10"))
    assert "no kit misses 8 pieces of what is then open" in refuse.sentences


def test_no_stage_of_a_job_waits_that_has_its_pieces() -> None:
    """The first of two jobs has its gasket; the other waits for what is bought elsewhere."""
    two = a_line("hob:W310", 1, "9.90", positions=("head-gasket",))
    other = replace(two.needed_by[0], job="24-002")
    two = replace(two, quantity=2, packs=2, net=2 * two.net, needed_by=(*two.needed_by, other))
    order = an_order(two)
    line = order.lines[0].id
    came = Delivery("P1001", DAY, "J. Marlowe", (DeliveryLine(line, 1, to_follow=1),))
    record = replied(ReplyLine(line, packs=1), OrderRecord(order, deliveries=(came,)))
    (question,) = record.questions
    families = FAMILIES | {"24-002": tiny_family()}
    market = Market(only_here(), TODAY)
    for choice in choices_of(question, record, market, families, (record,)):
        assert [wait.job for wait in choice.stages] == ["24-002"]


def test_where_nobody_else_sells_it_the_stage_cannot_start() -> None:
    accept, refuse = weighed(replied(ReplyLine(NUT, packs=1)), trade=only_here())
    for choice in (accept, refuse):
        assert (choice.elsewhere, choice.more) == ((), None)
        (wait,) = choice.stages
        assert (wait.stage, wait.until) == ("3 top end", None)
    assert refuse.sentences[0].startswith("nobody else sells it, or one number that does as well")
    assert "'kitting order plan' looks at sets, several numbers" in refuse.sentences[0]


@pytest.mark.parametrize(("job", "asked"), [(JOB, False), ("24-9", True)])
def test_a_supplier_that_fell_short_with_it_is_not_asked_again_for_that_job(
    job: str, asked: bool
) -> None:
    nuts = a_line("hob:W320", 1, "3.20", pack=4, job=job)
    short = replace(an_order(nuts, supplier=BROOK), number="P1003")
    refused = OrderRecord(
        short,
        replies=(Reply("P1003", 1, (ReplyLine(short.lines[0].id, packs=0),), DAY),),
        answers=(Answer(short.lines[0].id, 1, Word.ACCEPT, "K. Ferris", DAY),),
    )
    accept, _ = weighed(replied(ReplyLine(NUT, packs=1)), refused)
    assert bool(accept.elsewhere) is asked


def test_a_stage_waits_for_a_later_day_unless_another_of_its_parts_is_later_anyway() -> None:
    late = DAY + timedelta(days=30)
    accept, refuse = weighed(replied(ReplyLine(NUT, day=late)))
    (wait,) = accept.stages
    assert wait.sentence == (
        "stage '3 top end' of job 24-001 waits for part W320 until 01 Jun 2024, 27 days longer"
    )
    assert refuse.stages[0].until == TODAY + timedelta(days=3)
    slow = replace(ORDER, lines=(ORDER.lines[0], replace(ORDER.lines[1], days=60)))
    (wait,) = weighed(replied(ReplyLine(NUT, day=late), OrderRecord(slow)))[0].stages
    assert (wait.days, wait.waits_for) == (0, "part W310")
    assert "anyway" in wait.sentence


def test_a_day_that_keeps_no_stage_waiting_says_so_of_what_is_bought_elsewhere() -> None:
    quick = tuple(replace(o, days=0) if o.supplier == "brook" else o for o in TRADE.offers)
    accept, _ = weighed(replied(ReplyLine(NUT, packs=1)), trade=replace(TRADE, offers=quick))
    assert accept.stages == ()
    assert "no stage waits longer for it" in accept.sentences


_PRICES = st.decimals(Decimal("0.01"), 20, places=2)


@given(
    packs=st.none() | st.integers(0, 9),
    price=st.none() | _PRICES,
    free=st.none() | _PRICES,
    measure=st.tuples(st.integers(1, 4), st.integers(1, 4)),
    brought=st.integers(0, 7),
)
def test_what_a_choice_costs_is_what_the_order_then_agrees_to_and_the_goods_elsewhere(
    packs: int | None,
    price: Decimal | None,
    free: Decimal | None,
    measure: tuple[int, int],
    brought: int,
) -> None:
    """Of the number ordered, or of another that is counted in its own measure; what is `brought`
    already stays."""
    order = replace(ORDER, supplier=replace(ASHBY, free_over=free and free * 6))
    said = ReplyLine(NUT, packs=packs, pack_price=price)
    if measure != (1, 1) or (packs or 0) > 2:
        part = number("dal:R320")
        said = replace(said, substitute="R320", part=part, per=measure[0], makes=measure[1])
    came = DeliveryLine(NUT, brought, to_follow=8 - brought)
    here = (Delivery("P1001", DAY, "J. Marlowe", (came,)),) if brought else ()
    record = replied(said, OrderRecord(order, deliveries=here))
    if not record.questions:
        return
    for choice in weighed(record):
        answer = Answer(NUT, 1, choice.word, "K. Ferris", DAY, delivered=len(here))
        after = replace(record, answers=(answer,))
        elsewhere = sum((way.cost for way in choice.elsewhere), Decimal(0))
        assert choice.more == after.agreed - record.agreed + elsewhere
        assert choice.missing == after.by_line[NUT].reopened


AS_ASKED = ReplyLine(NUT, 2, Decimal("3.20"))


def after_all(said: ReplyLine = AS_ASKED, brought: int = 0) -> OrderRecord:
    """One of two packs was accepted, `brought` pieces of it came; now he has more after all."""
    short = Reply("P1001", 1, (ReplyLine(NUT, packs=1),), DAY)
    came = Delivery("P1001", DAY, "J. Marlowe", (DeliveryLine(NUT, brought),))
    return OrderRecord(
        ORDER,
        replies=(short, Reply("P1001", 1, (said,), DAY)),
        answers=(Answer(NUT, 1, Word.ACCEPT, "K. Ferris", DAY),),
        deliveries=(came,) if brought else (),
    )


def test_refusing_what_comes_after_all_leaves_what_was_agreed_and_buys_only_the_rest() -> None:
    accept, refuse = weighed(after_all())
    assert (accept.missing, accept.elsewhere, accept.more) == (0, (), Decimal("3.20"))
    assert "in all GBP 3.20 more than as agreed by now" in accept.sentences
    assert (refuse.missing, [way.pieces for way in refuse.elsewhere]) == (4, [4])
    assert (refuse.carriage, refuse.more) == (refuse.carriage_before, Decimal("7.20"))
    assert refuse.sentences[0] == "what was agreed stays: 1 of 2 packs"
    assert "4 pieces from Brook and Daughter: GBP 3.20, carriage 4.00" in refuse.sentences[1]
    assert "in all GBP 7.20 more than as agreed by now" in refuse.sentences


def test_refusing_what_another_order_brings_by_now_changes_nothing() -> None:
    record = after_all()
    market, (question,) = Market(TRADE, TODAY), record.questions
    accept, refuse = choices_of(
        question, record, market, FAMILIES, (record,), (), lambda _: Missed(0, ("P1005",))
    )
    assert (refuse.missing, refuse.elsewhere, refuse.more) == (0, (), Decimal(0))
    assert refuse.sentences == (
        "what was agreed stays: 1 of 2 packs",
        "order P1005 brings 4 pieces of what was open",
        "in all no more than as agreed by now",
    )
    assert accept.sentences[0] == "it cannot be accepted: nobody misses 4 pieces of it any more"


@given(
    packs=st.integers(1, 2),
    price=st.none() | _PRICES,
    free=st.none() | _PRICES,
    brought=st.integers(0, 4),
)
def test_what_a_word_on_what_comes_after_all_costs_is_what_the_order_then_agrees_to(
    packs: int, price: Decimal | None, free: Decimal | None, brought: int
) -> None:
    found = after_all(ReplyLine(NUT, packs, price), brought)
    order = replace(ORDER, supplier=replace(ASHBY, free_over=free and free * 6))
    record = replace(found, order=order)
    if not (record.questions and record.questions[0].after_all):
        return
    for choice in weighed(record):
        word = Answer(NUT, 2, choice.word, "K. Ferris", DAY, delivered=len(record.deliveries))
        after = replace(record, answers=(*record.answers, word))
        elsewhere = sum((way.cost for way in choice.elsewhere), Decimal(0))
        assert choice.more == after.agreed - record.agreed + elsewhere
        assert choice.missing == after.by_line[NUT].reopened


@given(
    terms=st.lists(
        st.tuples(
            st.decimals("0.01", "20.00", places=2),
            st.integers(1, 6),
            st.integers(0, 9),
            st.sampled_from((0, 0, 30)),
            st.sampled_from(range(3)),
        ),
        min_size=1,
        max_size=5,
    ),
    pieces=st.integers(1, 12),
)
def test_no_other_offer_that_its_supplier_takes_is_cheaper(
    terms: list[tuple[Decimal, int, int, int, int]], pieces: int
) -> None:
    """By the number itself, by one of which three make two, and by one of which two make three."""
    numbers = (
        OtherNumber(number("hob:W320")),
        OtherNumber(number("hob:W321"), Fraction(3, 2)),
        OtherNumber(number("hob:W322"), Fraction(2, 3)),
    )
    suppliers, offers, costs = [], [], []
    for at, (price, pack, carriage, least, which) in enumerate(terms):
        key, part = f"s{at}", numbers[which].part
        suppliers.append(Supplier(key, key, "", "GBP", Decimal(carriage), None, Decimal(least), 3))
        offers.append(
            Offer(key, "N", part, pack, price, (), "GBP", date(2024, 1, 1), date(2024, 12, 31), 3)
        )
        packs = ceil(pieces * numbers[which].measure / pack)
        if price * packs >= least:
            costs.append(price * packs + carriage)
    trade = replace(TRADE, suppliers=tuple(suppliers), offers=tuple(offers))
    (found,) = cheapest_elsewhere(Market(trade, TODAY), numbers, pieces, (), ())
    if costs:
        assert found.short_by == 0
        assert found.cost == min(costs)
    else:
        assert found.short_by > 0


def test_another_number_that_does_as_well_is_bought_where_nobody_else_has_it() -> None:
    """Ashby sells the spring alone; the other make's, two of which make one, is Brook's."""
    spring = a_line("hob:W205", 3, "9.75", positions=("relief-spring",))
    order = an_order(spring)
    record = replied(ReplyLine(order.lines[0].id, packs=1), OrderRecord(order))
    other = OtherNumber(number("dal:R205"), Fraction(2))
    (question,) = record.questions
    trade = replace(
        TRADE, offers=(an_offer("ashby", "hob:W205", "9.75"), an_offer("brook", "dal:R205", "3.00"))
    )
    accept, refuse = choices_of(
        question,
        record,
        Market(trade, TODAY),
        FAMILIES,
        (record,),
        (OtherNumber(number("hob:W205")), other),
    )
    assert accept.sentences[0].startswith("4 pieces of dal:R205 from Brook and Daughter: GBP 12.00")
    assert accept.more == Decimal("12.00") + 4 - Decimal("19.50")
    assert refuse.sentences[0].startswith("6 pieces of dal:R205 from Brook")
    assert not any("cannot start" in each for each in refuse.sentences)


@pytest.mark.parametrize("day", [date(2023, 12, 31), date(2025, 1, 1)])
def test_a_price_that_is_not_valid_on_the_day_is_no_way_out(day: date) -> None:
    market = Market(TRADE, day)
    assert cheapest_elsewhere(market, [OtherNumber(number("hob:W320"))], 4, (), ()) == ()
