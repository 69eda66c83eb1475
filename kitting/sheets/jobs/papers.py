"""All the workbooks that a job sends out, each written under its usual name."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.buying.drafting import orders_of
from kitting.sheets.jobs.book import write_job_book
from kitting.sheets.jobs.customer_estimate import write_customer_estimate
from kitting.sheets.jobs.pick_list import write_pick_list
from kitting.sheets.jobs.works_sheet import machinists_of, write_works_sheet
from kitting.sheets.orders.supplier_sheet import write_supplier_order
from kitting.sheets.pictures.album import Album
from kitting.sheets.words import file_word

if TYPE_CHECKING:
    from pathlib import Path

    from kitting.job.path import JobPath


def write_papers(path: JobPath, folder: Path) -> tuple[Path, ...]:
    """Write every workbook of a job into `folder`, over older ones; returns them in order.

    A supplier's file is named by the order's number and his own key, never by the job.

    Raises:
        BadInput: a file cannot be written.
    """
    job = file_word(path.bench.job.number)
    album = Album(path)
    written = [folder / f"{job}-estimate.xlsx"]
    write_customer_estimate(path, written[0])
    for order in orders_of(path):
        file = folder / f"order-{order.number}-{file_word(order.supplier.key)}.xlsx"
        write_supplier_order(order, path.trade.shop, file)
        written.append(file)
    for machinist in machinists_of(path):
        file = folder / f"{job}-works-{file_word(machinist or 'unpriced')}.xlsx"
        write_works_sheet(path, machinist, file, album)
        written.append(file)
    written.append(folder / f"{job}-pick-list.xlsx")
    write_pick_list(path, written[-1])
    written.append(folder / f"{job}-job-book.xlsx")
    write_job_book(path, written[-1], album)
    return tuple(written)
