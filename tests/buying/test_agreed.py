"""What is agreed after several replies: the last word counts, and blanks change nothing."""

from dataclasses import replace
from decimal import Decimal

from kitting.buying.replies import Change, Reply, Word
from kitting.buying.standing import OrderRecord
from tests.builders import number
from tests.buying.test_standing import LATER, NUTS, said, stands, word


def test_what_a_later_reply_leaves_blank_stays_as_it_was_agreed() -> None:
    dearer, later = said(packs=1, pack_price=Decimal("3.40")), said(day=LATER)
    found = OrderRecord(NUTS, replies=(dearer, later), answers=(word(Word.ACCEPT),))
    waits = stands(found)
    assert (waits.packs, waits.pack_price) == (1, Decimal("3.40"))
    assert [each.changes for each in found.questions] == [(Change.LATER,)]
    agreed = stands(replace(found, answers=(word(Word.ACCEPT), word(Word.ACCEPT, 2))))
    assert (agreed.packs, agreed.pack_price, agreed.due) == (1, Decimal("3.40"), LATER)
    assert agreed.reopened == 2


def test_a_cheaper_price_stays_where_a_later_reply_gives_none() -> None:
    found = OrderRecord(NUTS, replies=(said(pack_price=Decimal("3.00")), said(remark="soon")))
    assert (stands(found).pack_price, found.questions) == (Decimal("3.00"), ())


def test_what_was_refused_stays_open_while_a_later_word_is_asked_about() -> None:
    replies = (said(packs=1), said(packs=1, day=LATER))
    found = OrderRecord(NUTS, replies=replies, answers=(word(Word.REFUSE),))
    assert (stands(found).coming, stands(found).reopened) == (0, 6)
    assert len(found.questions) == 1


def test_what_was_given_up_comes_again_only_by_somebodys_word() -> None:
    as_asked = said(packs=2, pack_price=Decimal("3.20"))
    for first in (said(packs=0), said(packs=1, day=LATER)):
        for told in (Word.ACCEPT, Word.REFUSE):
            found = OrderRecord(NUTS, replies=(first, as_asked), answers=(word(told),))
            (question,) = found.questions
            given_up = 6 if told is Word.REFUSE else {0: 6, 1: 2}[first.lines[0].packs or 0]
            assert (question.changes, question.after_all) == ((Change.AFTER_ALL,), given_up)
            assert stands(found).reopened == given_up
            assert f"{given_up} pieces that had been open again" in question.sentences("GBP")[0]
            taken = replace(found, answers=(word(told), word(Word.ACCEPT, 2)))
            assert (stands(taken).coming, stands(taken).reopened) == (8, 0)
            left = replace(found, answers=(word(told), word(Word.REFUSE, 2)))
            assert (stands(left).coming, stands(left).reopened) == (8 - given_up - 2, given_up)


def test_what_was_never_given_up_is_taken_as_asked_without_a_word() -> None:
    found = OrderRecord(NUTS, replies=(said(packs=1), said(packs=2, pack_price=Decimal("3.20"))))
    assert (stands(found).coming, found.questions) == (8, ())


OTHER = number("hob:W999")


def another(packs: int | None, price: str | None, **more: object) -> Reply:
    """What he says of another number that makes two of what was asked for."""
    given = {"packs": packs, "pack_price": Decimal(price) if price else None, **more}
    return said(substitute="AW999", part=OTHER, per=1, makes=2, **given)


def test_as_asked_after_another_number_was_agreed_is_the_number_that_was_asked_for() -> None:
    as_asked = said(packs=2, pack_price=Decimal("3.20"))
    found = OrderRecord(NUTS, replies=(another(1, "5.50"), as_asked), answers=(word(Word.ACCEPT),))
    line = stands(found)
    assert (line.part, line.packs, line.pack_price, line.per) == (
        NUTS.lines[0].part, 2, Decimal("3.20"), 1,
    )  # fmt: skip
    assert found.questions == ()


def test_another_number_named_again_keeps_the_packs_and_price_agreed_for_it() -> None:
    again = another(None, None, day=LATER)
    found = OrderRecord(NUTS, replies=(another(1, "5.50"), again), answers=(word(Word.ACCEPT),))
    assert [each.changes for each in found.questions] == [(Change.LATER,)]
    agreed = stands(replace(found, answers=(word(Word.ACCEPT), word(Word.ACCEPT, 2))))
    assert (agreed.part, agreed.packs, agreed.pack_price, agreed.due, agreed.makes) == (
        OTHER, 1, Decimal("5.50"), LATER, 2,
    )  # fmt: skip
    dearer = said(pack_price=Decimal("7.00"))
    found = OrderRecord(NUTS, replies=(another(1, "5.50"), dearer), answers=(word(Word.ACCEPT),))
    (question,) = found.questions
    assert (question.said.part, question.said.packs) == (OTHER, 1)


def test_what_nobody_has_answered_still_stands_where_a_later_word_leaves_it_blank() -> None:
    found = OrderRecord(NUTS, replies=(said(packs=1), said(day=LATER)))
    (question,) = found.questions
    assert set(question.changes) == {Change.SHORT, Change.LATER}
    agreed = stands(replace(found, answers=(word(Word.ACCEPT, 2),)))
    assert (agreed.packs, agreed.due, agreed.reopened) == (1, LATER, 2)
    as_asked = said(packs=2, pack_price=Decimal("3.20"))
    assert replace(found, replies=(*found.replies[:1], as_asked)).questions == ()


def test_a_remark_or_a_day_alone_brings_back_nothing_that_was_given_up() -> None:
    for more in ({"remark": "we are sorry"}, {"day": LATER}):
        for first, told in ((said(packs=0), Word.ACCEPT), (said(packs=1), Word.REFUSE)):
            found = OrderRecord(NUTS, replies=(first, said(**more)), answers=(word(told),))
            assert (found.questions, stands(found).coming) == ((), 0)
            assert stands(found).said == found.replies[1].lines[0]


AS_ASKED = {"packs": 2, "pack_price": Decimal("3.20")}


def test_as_asked_after_a_later_day_was_agreed_means_the_day_that_was_asked_for() -> None:
    """As it means the price that was asked for; a price alone leaves the day as it was agreed."""
    later = said(day=LATER, pack_price=Decimal("3.40"))
    dear = OrderRecord(NUTS, replies=(later,), answers=(word(Word.ACCEPT),))
    assert (stands(dear).due, stands(dear).pack_price) == (LATER, Decimal("3.40"))
    back = replace(dear, replies=(later, said(**AS_ASKED)))
    assert back.questions == ()
    assert (stands(back).due, stands(back).pack_price) == (
        NUTS.due(NUTS.lines[0]), Decimal("3.20"),
    )  # fmt: skip
    for more in ({"pack_price": Decimal("3.20")}, {"packs": 2}, {**AS_ASKED, "day": LATER}):
        kept = replace(dear, replies=(later, said(**more)))
        assert (stands(kept).due, kept.questions) == (LATER, ())


def test_as_asked_takes_back_a_later_day_that_nobody_has_answered() -> None:
    found = OrderRecord(NUTS, replies=(said(day=LATER), said(**AS_ASKED, remark="found some")))
    assert (found.questions, stands(found).due) == ((), NUTS.due(NUTS.lines[0]))


def test_as_asked_after_all_is_for_the_day_asked_for_though_a_later_one_was_agreed() -> None:
    short = said(packs=1, day=LATER)
    found = OrderRecord(NUTS, replies=(short, said(**AS_ASKED)), answers=(word(Word.ACCEPT),))
    (question,) = found.questions
    assert (question.changes, question.later) == ((Change.AFTER_ALL,), 0)
    taken = stands(replace(found, answers=(word(Word.ACCEPT), word(Word.ACCEPT, 2))))
    assert (taken.packs, taken.due) == (2, NUTS.due(NUTS.lines[0]))
