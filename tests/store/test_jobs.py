"""Jobs in the database: opened once, then only added to."""

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import date
from time import sleep

import pytest
from sqlalchemy import URL

from kitting.catalog.model import Verdict
from kitting.errors import BadInput, NotFound
from kitting.job.findings import Bench, Finding, Fitted
from kitting.store.database import Database
from kitting.store.jobs import Added
from tests.store.samples import (
    CRANK,
    JOB,
    NUTS,
    OVERRIDE,
    SIZE_DECISION,
    SPRING,
    with_catalogue,
    with_job,
)


def add(database: Database, *findings: Finding, stripped: tuple[str, ...] = ()) -> Added:
    with database.work() as work:
        added = work.jobs.add_findings(JOB.number, findings, stripped)
        work.commit()
    return added


def bench(database: Database) -> Bench:
    with database.read() as work:
        return work.jobs.bench(JOB.number)


def history(database: Database) -> Bench:
    with database.read() as work:
        return work.jobs.bench_history(JOB.number)


def test_what_the_bench_said_comes_back_word_for_word(database: Database) -> None:
    with_job(database)
    assert add(database, CRANK, SPRING, NUTS, stripped=("bottom-end", "oil")) == Added(3, 2)
    assert bench(database) == Bench(JOB, ("bottom-end", "oil"), (CRANK, SPRING, NUTS))


def test_a_reading_keeps_the_text_and_unit_that_were_typed(database: Database) -> None:
    with_job(database)
    add(database, CRANK)
    rule, millimetres = bench(database).findings[0].readings
    assert (rule.text, str(rule.value)) == ('1 7/16"', "1.4375 in")
    assert (str(millimetres.value), str(millimetres.uncertainty)) == ("36.510 mm", "0.5 thou")


def test_the_last_finding_of_a_position_holds_and_the_earlier_is_kept(database: Database) -> None:
    with_job(database)
    add(database, CRANK, NUTS)
    later = replace(CRANK, readings=(), seen=(), sound=True, who="Peter", when=date(2024, 5, 2))
    add(database, later)
    assert bench(database).findings == (NUTS, later)
    assert history(database).findings == (CRANK, NUTS, later)


def test_the_same_sheet_loaded_twice_adds_nothing(database: Database) -> None:
    with_job(database)
    add(database, CRANK, SPRING, stripped=("bottom-end",))
    assert add(database, CRANK, SPRING, stripped=("bottom-end",)) == Added(0, 0)
    assert history(database).findings == (CRANK, SPRING)


def test_a_finding_taken_back_and_said_again_stands_three_times(database: Database) -> None:
    with_job(database)
    other = replace(CRANK, sound=True)
    for said in (CRANK, other, CRANK):
        add(database, said)
    assert history(database).findings == (CRANK, other, CRANK)
    assert bench(database).findings == (CRANK,)


def test_nothing_measured_off_a_fitted_part_is_the_same_as_an_empty_list(
    database: Database,
) -> None:
    with_job(database)
    add(database, replace(NUTS, fitted=Fitted("W320", {})))
    assert bench(database).findings == (NUTS,)
    assert add(database, NUTS) == Added(0, 0)


def test_two_peoples_findings_of_one_position_are_both_in_the_history(database: Database) -> None:
    with_job(database)
    joan, peter = replace(NUTS, who="Joan"), replace(NUTS, who="Peter", fitted=Fitted("R320"))
    add(database, joan)
    add(database, peter)
    assert [finding.who for finding in history(database).findings] == ["Joan", "Peter"]


def test_an_override_holds_until_the_next_one_and_both_are_kept(database: Database) -> None:
    with_job(database)
    second = replace(OVERRIDE, verdict=Verdict.REWORK, operation="regrind", who="Peter")
    for override in (OVERRIDE, second):
        with database.work() as work:
            work.jobs.add_override(JOB.number, override)
            work.commit()
    assert bench(database).overrides == (second,)
    assert history(database).overrides == (OVERRIDE, second)


def test_jobs_are_listed_by_the_day_they_were_opened(database: Database) -> None:
    with_job(database)
    older = replace(JOB, number="24-000", opened=date(2024, 1, 9))
    newer = replace(JOB, number="23-900", opened=date(2024, 6, 1))
    with database.work() as work:
        work.jobs.open_job(newer)
        work.jobs.open_job(older)
        work.commit()
    with database.read() as work:
        assert work.jobs.jobs() == (older, JOB, newer)


def test_a_job_number_is_given_once(database: Database) -> None:
    with_job(database)
    with pytest.raises(BadInput) as refused, database.work() as work:
        work.jobs.open_job(replace(JOB, customer="Someone else"))
    assert str(refused.value) == "job '24-001' is there already; give this one another number"


def test_two_units_of_work_that_open_the_same_number_at_once(postgres_url: URL) -> None:
    """On a server both may look before either has committed; SQLite lets one wait."""
    ours, theirs = Database(postgres_url), Database(postgres_url)
    with_catalogue(ours)
    with ThreadPoolExecutor(1) as thread, ours.work() as first:
        first.jobs.open_job(JOB)
        second = thread.submit(open_it, theirs)
        sleep(0.5)
        first.commit()
        with pytest.raises(BadInput, match="job '24-001' is there already"):
            second.result(timeout=20)
    ours.close()
    theirs.close()


def open_it(database: Database) -> None:
    with database.work() as work:
        work.jobs.open_job(JOB)


def test_a_job_needs_an_edition_that_was_loaded(database: Database) -> None:
    with_catalogue(database)
    with pytest.raises(NotFound) as refused, database.work() as work:
        work.jobs.open_job(replace(JOB, edition="1999"))
    assert str(refused.value) == "no edition of an engine family 'wren-single 1999'"


def test_a_mistyped_job_number_is_answered_with_the_nearest(database: Database) -> None:
    with_job(database)
    for ask in ("job", "bench", "bench_history"):
        with pytest.raises(NotFound) as refused, database.read() as work:
            getattr(work.jobs, ask)("24-01")
        assert str(refused.value) == "no job '24-01'; did you mean 24-001?"
    with pytest.raises(NotFound, match="did you mean 24-001"), database.work() as work:
        work.jobs.add_findings("24-01", (NUTS,))
    with pytest.raises(NotFound, match="did you mean 24-001"), database.work() as work:
        work.jobs.add_override("24-01", OVERRIDE)


def test_a_decided_size_holds_until_the_next_one_and_both_are_kept(database: Database) -> None:
    with_job(database)
    second = replace(SIZE_DECISION, grade="-010", who="Peter")
    for decision in (SIZE_DECISION, second):
        with database.work() as work:
            work.jobs.add_size_decision(JOB.number, decision)
            work.commit()
    assert bench(database).size_decisions == (second,)
    assert history(database).size_decisions == (SIZE_DECISION, second)
