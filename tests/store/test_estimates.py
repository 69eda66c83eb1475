"""Estimates as given: the prices of that day, whatever the price lists say later."""

from dataclasses import replace
from decimal import Decimal

import pytest

from kitting.errors import BadInput, NotFound
from kitting.job.estimate import LineKind
from kitting.store.database import Database
from kitting.store.estimates import KeptEstimate
from tests.store.samples import ESTIMATE, JOB, TRADE, count, with_job


def keep(database: Database, estimate: KeptEstimate) -> int:
    with database.work() as work:
        revision = work.estimates.keep_estimate(estimate)
        work.commit()
    return revision


def test_an_estimate_comes_back_as_it_was_given(database: Database) -> None:
    with_job(database)
    assert keep(database, ESTIMATE) == 1
    with database.read() as work:
        assert work.estimates.estimate(JOB.number) == replace(ESTIMATE, revision=1)


def test_a_word_from_a_list_of_words_is_kept_as_a_plain_word(database: Database) -> None:
    with_job(database)
    line = replace(ESTIMATE.lines[0], kind=LineKind.WORK)
    keep(database, replace(ESTIMATE, lines=(line,)))
    with database.read() as work:
        (read,) = work.estimates.estimate(JOB.number).lines
    assert (read.kind, type(read.kind)) == ("outside work", str)


def test_a_later_price_list_does_not_change_what_the_customer_was_told(database: Database) -> None:
    with_job(database)
    keep(database, ESTIMATE)
    dearer = tuple(replace(offer, price=offer.price * 2, breaks=()) for offer in TRADE.offers)
    with database.work() as work:
        assert work.trade.load_trade(replace(TRADE, offers=dearer)).changed
        work.commit()
    with database.read() as work:
        line = work.estimates.estimate(JOB.number).lines[0]
    assert (line.pack_price, line.net) == (Decimal("10.54"), Decimal("24.80"))


def test_each_estimate_of_a_job_is_its_next_revision_and_all_are_kept(database: Database) -> None:
    with_job(database)
    second = replace(ESTIMATE, lines=ESTIMATE.lines[1:], note="without shells")
    assert [keep(database, ESTIMATE), keep(database, second)] == [1, 2]
    with database.read() as work:
        kept = (replace(ESTIMATE, revision=1), replace(second, revision=2))
        assert work.estimates.estimates(JOB.number) == kept
        assert work.estimates.estimate(JOB.number) == kept[1]
        assert work.estimates.estimate(JOB.number, 1) == kept[0]


def test_a_line_that_cannot_be_kept_exactly_leaves_nothing_of_the_estimate(
    database: Database,
) -> None:
    with_job(database)
    fine = replace(ESTIMATE.lines[1], net=Decimal("136.500001"))
    astray = replace(ESTIMATE, lines=(ESTIMATE.lines[0], fine))
    with database.work() as work:
        with pytest.raises(BadInput, match=r"estimate_lines 2: 136\.500001 is too fine for"):
            work.estimates.keep_estimate(astray)
        work.commit()
    assert [count(database, table) for table in ("estimates", "estimate_lines")] == [0, 0]


@pytest.mark.parametrize(
    ("revision", "sentence"),
    [
        (None, "no estimate of job '24-001'"),
        (3, "no estimate of job '24-001 revision 3'"),
    ],
)
def test_an_estimate_that_was_never_given_is_not_found(
    database: Database, revision: int | None, sentence: str
) -> None:
    with_job(database)
    with pytest.raises(NotFound) as refused, database.read() as work:
        work.estimates.estimate(JOB.number, revision)
    assert str(refused.value) == sentence


def test_an_estimate_needs_its_job(database: Database) -> None:
    with pytest.raises(NotFound, match="no job '24-001'"), database.work() as work:
        work.estimates.keep_estimate(ESTIMATE)
