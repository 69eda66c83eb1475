"""What a supplier says last of an order is what counts, also when he has said it before."""

from dataclasses import replace
from decimal import Decimal

from kitting.buying.replies import Word
from kitting.store.database import Database
from tests.store.test_orders import ACCEPT, NUT, REPLY, answers, approves, kept, replies

(TOLD,) = (each for each in REPLY.lines if each.line == NUT)
DEARER = replace(TOLD, pack_price=Decimal("99.95"))


def test_what_a_supplier_goes_back_to_is_news_and_asked_about_anew(database: Database) -> None:
    kept(database, approves, replies, answers)
    for number, line, word in ((2, DEARER, Word.REFUSE), (3, TOLD, Word.ACCEPT)):
        said = replace(REPLY, lines=(line,))
        with database.work() as work:
            assert work.orders.add_reply(said) == number
            assert work.orders.add_reply(said) == 0
            question = work.orders.record("P1001").by_line[NUT].question
            assert question is not None
            assert (question.reply, question.said) == (number, line)
            after = work.orders.add_answer("P1001", replace(ACCEPT, reply=number, word=word))
            assert after.by_line[NUT].refused is (word is Word.REFUSE)
            work.commit()
    with database.read() as work:
        assert work.orders.record("P1001").by_line[NUT].said == TOLD


def test_a_line_of_which_he_says_the_same_again_keeps_its_answer(database: Database) -> None:
    kept(database, approves, replies, answers)
    with database.work() as work:
        other = next(each for each in REPLY.lines if each.line != NUT)
        assert work.orders.add_reply(replace(REPLY, lines=(replace(other, remark="late"),))) == 2
        assert work.orders.add_reply(REPLY) == 3
        assert work.orders.record("P1001").by_line[NUT].question is None
