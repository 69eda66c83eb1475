"""Every reading command answers where nothing can be written, as on a read-only replica."""

import multiprocessing
from concurrent.futures import ProcessPoolExecutor

from sqlalchemy import URL

from tests.conftest import PostgresServer
from tests.journeys.measured import JOB
from tests.journeys.shop import DAY
from tests.journeys.test_every_command import READING
from tests.journeys.test_several_benches import typed


def opened(url: str) -> None:
    typed(url, "catalog", "load")
    typed(
        url, "job", "open", JOB, "--family", "corvane-650", "--engine", "CV23417",
        "--customer", "R. Aldous",
    )  # fmt: skip
    typed(url, "strip", "add", JOB, "oil-pump", "sound", "--who", "K. Ferris")
    typed(url, "estimate", JOB, "--keep", "--on", DAY)


def answers(url: str) -> list[str]:
    """What every reading command prints."""
    return [typed(url, *words) for words, _ in READING]


def test_every_reading_command_answers_the_same_where_nothing_can_be_written(
    postgres_server: PostgresServer, postgres_url: URL
) -> None:
    url = postgres_url.render_as_string(hide_password=False)
    processes = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(1, mp_context=processes) as pool:
        pool.submit(opened, url).result()
        before = pool.submit(answers, url).result()
        name = postgres_url.database
        postgres_server.run(f"ALTER DATABASE {name} SET default_transaction_read_only = on")
        told = pool.submit(answers, url).result()
    assert told == before
