"""The whole job in one workbook, for the shop's own eyes: it shows costs, margin and suppliers."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.job.estimate import NOTHING
from kitting.sheets.cautions import BENCH
from kitting.sheets.files import save_workbook
from kitting.sheets.jobs.book_bench import findings_table, size_table, verdict_table
from kitting.sheets.jobs.book_kit import advice_table, demand_table, kit_table, set_table, why_table
from kitting.sheets.jobs.book_prices import estimate_page, offer_table, work_table
from kitting.sheets.jobs.book_suits import suit_table
from kitting.sheets.money import money_format
from kitting.sheets.outgoing import OutgoingWorkbook
from kitting.sheets.page import Column, Kind, Page, strong_line
from kitting.sheets.pictures.album import Album
from kitting.sheets.style import BAND_FILL, FAINT
from kitting.sheets.words import day_text, engine_facts, open_point_text

if TYPE_CHECKING:
    from decimal import Decimal
    from pathlib import Path

    from kitting.job.path import JobPath


def write_job_book(path: JobPath, file: Path, album: Album | None = None) -> None:
    """Write the job's own workbook, over any that is there. It is for the shop alone.

    `album` holds the job's pictures where they are drawn for other sheets too.

    Raises:
        BadInput: the file cannot be written.
    """
    job = path.bench.job
    book = OutgoingWorkbook(f"Job {job.number}", path.trade.shop.name, path.day)
    foot = f"Job {job.number} · shop's own, not for others · {day_text(path.day)}"
    summary = Page(book, "Summary", _summary_columns(path.estimate.currency))
    _summary(summary, path)
    summary.finish(foot)
    for table in (
        findings_table(path),
        verdict_table(path),
        size_table(path),
        suit_table(path),
        demand_table(path),
        kit_table(path),
        why_table(path),
        set_table(path),
        work_table(path),
    ):
        table.write(book, foot)
    estimate_page(book, path).finish(foot)
    offer_table(path).write(book, foot)
    advice_table(path).write(book, foot)
    _pictures(book, path, album or Album(path), foot)
    save_workbook(book, file, replace=True)


def _pictures(book: OutgoingWorkbook, path: JobPath, album: Album, foot: str) -> None:
    """Every picture of what is machined; no sheet where nothing is."""
    drawn = [png for choice in path.sizes.choices for png in album.of_size(choice).values()]
    if not drawn:
        return
    page = Page(book, "Pictures", (Column("", 97),))
    page.line("Wear, sizes and clearances of what is machined", FAINT)
    for png in drawn:
        with page.together():
            page.picture(png)
    page.finish(foot)


def _summary_columns(currency: str) -> tuple[Column, ...]:
    money = money_format(currency)
    return (
        Column("", 38),
        Column("Likely", 16, Kind.AMOUNT, money),
        Column("Worst case", 16, Kind.AMOUNT, money),
        Column("", 34),
    )


def _summary(page: Page, path: JobPath) -> None:
    job, shop = path.bench.job, path.trade.shop
    page.title(f"Job {job.number}", f"{shop.name}: the shop's own book of the job, not for others")
    page.facts(
        (
            ("Customer", job.customer),
            *engine_facts(path),
            ("Catalogue", f"{job.family}, edition {job.edition}"),
            ("Opened", day_text(job.opened)),
            ("Priced on", day_text(path.day)),
            (
                "Stripped",
                ", ".join(path.family.assembly_by_key[k].name for k in path.bench.stripped),
            ),
            *((("Note", job.note),) if job.note else ()),
        )
    )
    readiness = path.kit.readiness
    strong_line(page, readiness.sentence, good=readiness.ready)
    page.lines(open_point_text(point) for point in readiness.points)
    page.gap()
    _totals(page, path)
    if path.estimate.warnings:
        page.gap()
        page.band("Mind")
        page.lines(path.estimate.warnings)
    page.cautions(BENCH)


def _totals(page: Page, path: JobPath) -> None:
    likely, worst = path.estimate.likely, path.estimate.worst
    lines = path.estimate.lines
    cost = sum((line.cost for line in lines), NOTHING)
    page.headings(repeat=False)
    rows: list[tuple[str, Decimal, Decimal | None]] = [("Without VAT", likely.net, worst.net)]
    for one, other in zip(likely.vat, worst.vat, strict=True):
        rows.append((f"VAT {one.category} at {one.rate} %", one.amount, other.amount))
    rows.append(("With VAT", likely.gross, worst.gross))
    rows.append(("What it costs us, without VAT", cost, None))
    rows.append(("What it leaves us, likely", likely.net - cost, None))
    for name, at_likely, at_worst in rows:
        whole = name in {"Without VAT", "With VAT"}
        page.put((name, at_likely, at_worst, None), strong=whole, fill=BAND_FILL if whole else "")
