"""Several programs at once on one database: each one's work is kept whole, in an order."""

import multiprocessing
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from decimal import Decimal

from sqlalchemy import URL

from kitting.errors import BadInput
from kitting.job.findings import Fitted
from kitting.store.database import SCHEMA, Database
from tests.store.samples import ESTIMATE, JOB, NUTS, TRADE, WREN, count, with_job


def at_once(bench: Callable[[str, int], object], url: URL, benches: int = 2) -> Sequence[object]:
    """Run a function in several processes, each given the database and its own number."""
    text = url.render_as_string(hide_password=False)
    processes = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(benches, mp_context=processes) as pool:
        return list(pool.map(bench, [text] * benches, range(benches)))


def opens_first(url: str, bench: int) -> str | None:
    database = Database(url)
    with database.work() as work:
        work.catalogue.load_family(WREN)
        work.commit()
    version = database.version()
    database.close()
    return version


def adds_findings(url: str, bench: int) -> int:
    database = Database(url)
    added = 0
    for at in range(20):
        with database.work() as work:
            finding = replace(NUTS, who=f"bench {bench}", fitted=Fitted(f"{bench}-{at}"))
            added += work.jobs.add_findings(JOB.number, [finding]).findings
            work.commit()
    database.close()
    return added


def opens_jobs(url: str, bench: int) -> int:
    database = Database(url)
    taken = 0
    for at in range(20):
        try:
            with database.work() as work:
                work.jobs.open_job(replace(JOB, number=f"24-1{at:02}", customer=f"bench {bench}"))
                work.commit()
        except BadInput:
            taken += 1
    database.close()
    return taken


def keeps_estimates(url: str, bench: int) -> list[int]:
    database = Database(url)
    revisions = []
    for _ in range(5):
        with database.work() as work:
            revisions.append(work.estimates.keep_estimate(replace(ESTIMATE, who=f"bench {bench}")))
            work.commit()
    database.close()
    return revisions


def loads_prices_or_reads_them(url: str, bench: int) -> set[frozenset[Decimal]]:
    """Bench 0 loads price lists, each with one price throughout; bench 1 reads meanwhile."""
    database = Database(url)
    seen = set()
    for at in range(12):
        if bench == 0:
            price = Decimal(at + 1)
            offers = tuple(replace(each, price=price, breaks=()) for each in TRADE.offers)
            with database.work() as work:
                work.trade.load_trade(replace(TRADE, offers=offers))
                work.commit()
        else:
            with database.read() as work:
                seen.add(frozenset(offer.price for offer in work.trade.trade().offers))
    database.close()
    return seen


def test_two_programs_that_start_on_an_empty_database_make_its_tables_once(bare_url: URL) -> None:
    assert at_once(opens_first, bare_url) == [SCHEMA, SCHEMA]
    database = Database(bare_url)
    assert count(database, "editions") == 1
    database.close()


def test_findings_of_two_benches_on_one_job_are_all_kept(database: Database) -> None:
    with_job(database)
    assert at_once(adds_findings, database.url) == [20, 20]
    with database.read() as work:
        findings = work.jobs.bench_history(JOB.number).findings
    for bench in (0, 1):
        own = [
            each.fitted.number for each in findings if each.fitted and each.who[-1] == str(bench)
        ]
        assert own == [f"{bench}-{at}" for at in range(20)]


def test_a_job_number_that_two_benches_want_goes_to_one_of_them(database: Database) -> None:
    with_job(database)
    taken = at_once(opens_jobs, database.url)
    assert sum(int(str(each)) for each in taken) == 20
    assert count(database, "jobs") == 1 + 20


def test_estimates_of_two_benches_get_a_revision_each(database: Database) -> None:
    with_job(database)
    one, other = at_once(keeps_estimates, database.url)
    assert isinstance(one, list)
    assert isinstance(other, list)
    assert sorted(one + other) == list(range(1, 11))


def test_a_price_list_is_read_whole_while_another_is_loaded(database: Database) -> None:
    with_job(database)
    usual = frozenset(offer.price for offer in TRADE.offers)
    _, seen = at_once(loads_prices_or_reads_them, database.url)
    assert isinstance(seen, set)
    assert all(prices == usual or len(prices) == 1 for prices in seen)
