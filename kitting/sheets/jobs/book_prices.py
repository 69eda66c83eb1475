"""The job book's sheets of money: work, the estimate with cost and margin, offers considered."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.job.estimate import NOTHING
from kitting.job.pricing import Market
from kitting.sheets.money import added, money_format
from kitting.sheets.outgoing import Formula, OutgoingWorkbook
from kitting.sheets.page import Column, Kind, Page, Row
from kitting.sheets.style import BAND_FILL, FAINT
from kitting.sheets.tables import Table
from kitting.sheets.words import chain_text, position_names, supplier_name

if TYPE_CHECKING:
    from collections.abc import Iterator

    from kitting.job.estimate import EstimateLine
    from kitting.job.path import JobPath
    from kitting.job.pricing import Quote


def work_table(path: JobPath) -> Table:
    """The machinist's work, its price to us, and why."""
    columns = (
        Column("Work", 26),
        Column("Times", 7, Kind.COUNT),
        Column("On", 40),
        Column("Machinist", 22),
        Column("Days", 6, Kind.COUNT),
        Column("Because", 80),
    )
    quotes = {line.kit_line: line.work_quote for line in path.estimate.lines if line.kit_line}
    rows = []
    for work in path.kit.work:
        quote = quotes.get(work.operation)
        rows.append(
            (
                path.trade.operation_by_key[work.operation].name,
                work.times,
                position_names(path, work.positions),
                supplier_name(path, quote.price.machinist) if quote else "no price known",
                quote.price.days if quote else None,
                chain_text(work.because),
            )
        )
    return Table("Work", "Operations outside the shop", columns, tuple(rows))


def estimate_page(book: OutgoingWorkbook, path: JobPath) -> Page:
    """The estimate's lines with what each costs us and leaves us; live sums at the foot."""
    money = money_format(path.estimate.currency)
    columns = (
        Column("Sort", 13),
        Column("Stage", 20),
        Column("Line", 7, Kind.NUMBER),
        Column("Text", 36),
        Column("Quantity", 8, Kind.AMOUNT, "General"),
        Column("Unit", 11, Kind.MARK),
        Column("From", 22),
        Column("Cost", 11, Kind.AMOUNT, money),
        Column("Asked", 11, Kind.AMOUNT, money),
        Column("Leaves", 11, Kind.AMOUNT, money),
        Column("Worst case", 11, Kind.AMOUNT, money),
        Column("VAT", 5, Kind.MARK),
        Column("Remarks", 34),
    )
    page = Page(book, "Estimate", columns, landscape=True)
    page.line("What each line costs us, what is asked for it, and what it leaves", FAINT)
    page.table((_estimate_row(path, line) for line in path.estimate.lines), filtered=True)
    last = page.row
    first = last - len(path.estimate.lines) + 1
    lines = path.estimate.lines
    sums = {
        "H": sum((line.cost for line in lines), NOTHING),
        "I": path.estimate.likely.net,
        "J": sum((line.net - line.cost for line in lines), NOTHING),
        "K": path.estimate.worst.net,
    }
    formulas = (
        Formula(added(f"{letter}{first}:{letter}{last}", path.estimate.currency), result)
        for letter, result in sums.items()
    )
    contents = ("Total without VAT", *(None for _ in range(6)), *formulas, None, None)
    page.put(contents, strong=True, fill=BAND_FILL)
    return page


def _estimate_row(path: JobPath, line: EstimateLine) -> Row:
    return (
        str(line.kind),
        line.stage,
        line.kit_line,
        line.text,
        line.quantity,
        line.unit,
        _source(path, line),
        line.cost,
        line.net,
        line.net - line.cost,
        line.worst_net,
        line.vat,
        "\n".join(line.flags),
    )


def _source(path: JobPath, line: EstimateLine) -> str:
    if line.quote is not None:
        return supplier_name(path, line.quote.offer.supplier)
    if line.work_quote is not None:
        return supplier_name(path, line.work_quote.price.machinist)
    return supplier_name(path, line.supplier) if line.supplier else ""


def offer_table(path: JobPath) -> Table:
    """Every offer that could serve a line, cheapest first; the one taken is marked."""
    columns = (
        Column("Line", 7, Kind.NUMBER),
        Column("Part", 19, Kind.NUMBER),
        Column("Taken", 7, Kind.MARK),
        Column("Supplier", 24),
        Column("Their number", 19, Kind.NUMBER),
        Column("Packs", 7, Kind.COUNT),
        Column("In a pack", 7, Kind.COUNT),
        Column("Price of a pack", 11, Kind.AMOUNT, "#,##0.00##"),
        Column("Currency", 9, Kind.MARK),
        Column("At home", 11, Kind.AMOUNT, money_format(path.estimate.currency)),
        Column("Days", 6, Kind.COUNT),
        Column("Holds until", 11, Kind.DAY),
        Column("Remark", 18),
    )
    market = Market(path.trade, path.day)
    rows = tuple(
        row
        for line in path.estimate.lines
        if line.quote is not None
        for row in _offer_rows(path, market, line, line.quote)
    )
    return Table("Offers", "Offers considered, cheapest first", columns, rows)


def _offer_rows(path: JobPath, market: Market, line: EstimateLine, taken: Quote) -> Iterator[Row]:
    quotes = market.quotes(taken.offer.part, taken.quantity) or (taken,)
    for quote in quotes:
        offer = quote.offer
        yield (
            line.kit_line,
            str(offer.part),
            "taken" if offer == taken.offer else "",
            supplier_name(path, offer.supplier),
            offer.their_number,
            quote.packs,
            offer.pack,
            quote.pack_price,
            offer.currency,
            quote.home,
            offer.days,
            offer.valid_until,
            ", ".join(filter(None, (offer.quality, "price lapsed" if quote.lapsed else ""))),
        )
