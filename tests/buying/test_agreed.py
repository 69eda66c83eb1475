"""What is agreed after several replies: the last word counts, and blanks change nothing."""

from dataclasses import replace
from decimal import Decimal

from kitting.buying.replies import Change, Word
from kitting.buying.standing import OrderRecord
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
