"""Several benches on one database: a price list loads while kits are built, on either database.

Each bench is a process of its own that types commands. Whoever builds a kit sees one list of prices
whole, the old or the new, and the same to the letter on SQLite and PostgreSQL.
"""

import contextlib
import csv
import io
import json
import multiprocessing
import os
from concurrent.futures import ProcessPoolExecutor
from decimal import Decimal
from pathlib import Path

import pytest
from sqlalchemy import URL

from kitting.catalog.shipped import shipped_folder
from kitting.cli.main import guarded
from tests.journeys.measured import JOB
from tests.journeys.shop import DAY

SUPPLIER = "marlbeck"
LOADS, LOOKS = 4, 4
QUESTIONS = ("kit", "estimate")


def typed(url: str, *words: str) -> str:
    """Type a command at a bench; what it printed."""
    os.environ["KITTING_DATABASE"] = url
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        status = guarded(list(words))
    assert status == 0, err.getvalue()
    return out.getvalue()


def load_prices(url: str, file: str) -> None:
    typed(
        url, "prices", "load", file, "--supplier", SUPPLIER, "--confirm",
        "--valid-from", "2026-07-01", "--valid-until", "2027-12-31",
    )  # fmt: skip


def asked(url: str, question: str) -> str:
    return typed(url, question, JOB, "--on", DAY, "--json")


def office(url: str, lists: tuple[str, str]) -> None:
    """Loads the dearer list and the usual one in turn."""
    for at in range(LOADS):
        load_prices(url, lists[(at + 1) % 2])


def bench(url: str) -> list[tuple[str, str]]:
    """Builds the kit and prices it, again and again."""
    return [(question, asked(url, question)) for _ in range(LOOKS) for question in QUESTIONS]


@pytest.fixture(scope="module")
def lists(tmp_path_factory: pytest.TempPathFactory) -> tuple[str, str]:
    """A supplier's list at the usual prices, and with every price a fifth dearer."""
    lines = (shipped_folder() / "trade" / f"offers-{SUPPLIER}.csv").read_text(encoding="utf-8")
    rows = list(csv.DictReader(line for line in lines.splitlines() if line[:1] not in {"", "#"}))
    folder = tmp_path_factory.mktemp("lists")
    made = []
    for name, times in (("usual", Decimal(1)), ("dearer", Decimal("1.2"))):
        path = folder / f"{name}.csv"
        with path.open("w", encoding="utf-8", newline="") as file:
            writer = csv.writer(file)
            writer.writerow(("Code", "Makers number", "Pack", "Price", "Valid from", "Valid until"))
            for row in rows:
                price = (Decimal(row["price"]) * times).quantize(Decimal("0.01"))
                said = (row["their_number"], row["part"], row["pack"], price)
                writer.writerow((*said, row["valid_from"], row["valid_until"]))
        made.append(str(path))
    return made[0], made[1]


def alone(url: str, lists: tuple[str, str], filled: str) -> list[dict[str, str]]:
    """Open the job; what a bench that is alone is told, at the usual prices and at the dearer."""
    typed(url, "catalog", "load")
    typed(
        url, "job", "open", JOB, "--family", "corvane-650", "--engine", "CV23417",
        "--customer", "R. Aldous",
    )  # fmt: skip
    typed(url, "strip", "load", JOB, filled)
    told = []
    for file in lists:
        load_prices(url, file)
        told.append({question: asked(url, question) for question in QUESTIONS})
    load_prices(url, lists[0])
    assert told[0]["estimate"] != told[1]["estimate"]
    assert asked(url, "estimate") == told[0]["estimate"]
    return told


def offers_kept(url: str) -> set[int]:
    """How many offers each list that there ever was of the supplier has."""
    said = json.loads(typed(url, "prices", "history", "--supplier", SUPPLIER, "--json"))
    return {kept["offers"] for kept in said["lists"]}


def test_benches_at_once_are_told_what_one_alone_is_told_on_a_file_and_on_a_server(
    sqlite_url: URL, postgres_url: URL, lists: tuple[str, str], measured_database: Path
) -> None:
    filled = str(measured_database.with_name("filled.xlsx"))
    urls = [url.render_as_string(hide_password=False) for url in (sqlite_url, postgres_url)]
    processes = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(2, mp_context=processes) as pool:
        expected = list(pool.map(alone, urls, [lists] * 2, [filled] * 2))
        assert expected[0] == expected[1]
        assert json.loads(expected[0][0]["kit"])["lines"]
        for url in urls:
            loading = pool.submit(office, url, lists)
            told = pool.submit(bench, url).result()
            loading.result()
            assert len(told) == LOOKS * len(QUESTIONS)
            for question, answer in told:
                assert answer in {each[question] for each in expected[0]}
            assert pool.submit(asked, url, "estimate").result() == expected[0][0]["estimate"]
            assert len(pool.submit(offers_kept, url).result()) == 1
