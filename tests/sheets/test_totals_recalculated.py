"""Every total in a workbook, worked out again by other programs, is ours to the penny."""

from collections.abc import Sequence
from decimal import Decimal
from pathlib import Path

import pytest

from kitting.buying.drafting import orders_of
from kitting.job.path import JobPath
from kitting.sheets.jobs.book import write_job_book
from kitting.sheets.jobs.customer_estimate import write_customer_estimate
from kitting.sheets.orders.supplier_sheet import write_supplier_order
from tests.sheets.random_jobs import random_job
from tests.sheets.reckoners import RECKONERS, our_results
from tests.sheets.values import a_ready_job

_SEEDS = {"formulas": range(8), "libreoffice": range(24)}


def _disagreements(reckoner: str, files: Sequence[Path], folder: Path) -> list[str]:
    return [
        f"{file.name} {place}: we say {ours[place]}, {reckoner} says {figure}"
        for file, theirs in zip(files, RECKONERS[reckoner](files, folder), strict=True)
        for ours in (our_results(file),)
        for place, figure in theirs.items()
        if ours[place] != figure
    ]


def _results_of(file: Path) -> set[Decimal]:
    return {value.normalize() for value in our_results(file).values()}


@pytest.mark.parametrize("reckoner", sorted(RECKONERS))
def test_estimates_at_awkward_prices_come_out_the_same_in_every_program(
    reckoner: str, tmp_path: Path
) -> None:
    files = []
    for seed in _SEEDS[reckoner]:
        files.append(tmp_path / f"estimate{seed}.xlsx")
        write_customer_estimate(random_job(seed), files[-1])
    assert _disagreements(reckoner, files, tmp_path) == []


@pytest.mark.parametrize("reckoner", sorted(RECKONERS))
def test_orders_come_out_the_same_in_every_program(reckoner: str, tmp_path: Path) -> None:
    files = []
    for seed in _SEEDS[reckoner][:12]:
        path = random_job(seed)
        for number, order in enumerate(orders_of(path)):
            files.append(tmp_path / f"order{seed}-{number}.xlsx")
            write_supplier_order(order, path.trade.shop, files[-1])
    assert len(files) > 12
    assert _disagreements(reckoner, files, tmp_path) == []


@pytest.mark.parametrize("reckoner", sorted(RECKONERS))
def test_the_job_book_comes_out_the_same_in_every_program(reckoner: str, tmp_path: Path) -> None:
    file = tmp_path / "book.xlsx"
    write_job_book(a_ready_job(), file)
    assert _disagreements(reckoner, [file], tmp_path) == []


@pytest.mark.parametrize("seed", range(24))
def test_the_sheet_holds_the_totals_of_the_estimate(seed: int, tmp_path: Path) -> None:
    path, file = random_job(seed), tmp_path / "estimate.xlsx"
    write_customer_estimate(path, file)
    wanted = [
        amount
        for totals in (path.estimate.likely, path.estimate.worst)
        for amount in (totals.net, totals.gross, *(line.amount for line in totals.vat))
    ]
    assert {amount.normalize() for amount in wanted} <= _results_of(file)


def test_the_random_jobs_hold_what_makes_sums_go_wrong() -> None:
    jobs: list[JobPath] = [random_job(seed) for seed in _SEEDS["libreoffice"]]
    lines = [line for job in jobs for line in job.estimate.lines]
    assert {job.estimate.currency for job in jobs} >= {"GBP", "EUR", "JPY", "KWD"}
    assert {line.vat for line in lines} == {"S", "Z", "E", "R"}
    assert any(line.quantity != line.quantity.to_integral_value() for line in lines)
    assert any(line.worst_net > line.net for line in lines)
    halves = [line.quantity * line.unit_net * 1000 % 10 for line in lines]
    assert Decimal(5) in halves
