"""A thousand random orders: what the sheets' formulas come to is what the database says.

The formulas are worked out by another spreadsheet program; many orders' sheets are put into one
book for it, formulas and all, without the results that ours wrote beside them.
"""

from decimal import Decimal
from pathlib import Path

import openpyxl
import pytest
from openpyxl.worksheet.worksheet import Worksheet

from kitting.buying.orders import Order
from kitting.sheets.orders.supplier_sheet import supplier_book
from kitting.store.database import Database
from kitting.store.search_rows import in_batches
from tests.buying.orders import random_order
from tests.libreoffice import convert_all
from tests.store.samples import TRADE, with_job

# Together a thousand, in parts that can be tried beside each other; most on the quicker database.
PARTS = 4
MOST, FEW = 236, 14
IN_A_BOOK = 50


@pytest.mark.parametrize("part", range(PARTS))
def test_the_sheets_totals_worked_out_again_are_the_databases_to_the_penny(
    database: Database, tmp_path: Path, part: int
) -> None:
    with_job(database)
    first = part * (MOST + FEW)
    seeds = range(first, first + MOST)
    if not database.is_sqlite:
        seeds = range(first + MOST, first + MOST + FEW)
    with database.work() as work:
        made = [work.orders.make_order(random_order(seed)).number for seed in seeds]
        work.commit()
    with database.read() as work:
        orders = [work.orders.record(each).order for each in made]
    books = [
        a_book(some, tmp_path / f"{at}.xlsx")
        for at, some in enumerate(in_batches(orders, IN_A_BOOK))
    ]
    told = {}
    for file in convert_all(books, "xlsx", tmp_path / "again"):
        for sheet in openpyxl.load_workbook(file, data_only=True).worksheets:
            told[sheet.title] = totals_on(sheet)
    assert len(told) == len(orders) == len(seeds)
    for order in orders:
        assert told[order.number] == (order.goods, order.carriage, order.total), order.number


def a_book(orders: list[Order], path: Path) -> Path:
    """One workbook with a sheet an order, as it is written for the supplier."""
    book = openpyxl.Workbook()
    for order in orders:
        sheet = book.create_sheet(order.number)
        for row in supplier_book(order, TRADE.shop).worksheets[0].iter_rows():
            for cell in row:
                if cell.value is not None:
                    sheet[cell.coordinate] = cell.value
    del book["Sheet"]
    book.save(path)
    return path


def totals_on(sheet: Worksheet) -> tuple[Decimal, ...]:
    """Goods, carriage and total, as the formulas come to them."""
    found = {str(row[3].value): row[7].value for row in sheet.iter_rows()}
    wanted = [name for name in found if name in {"Goods", "Carriage, by your terms"}]
    wanted += [name for name in found if name.startswith("Total in")]
    return tuple(Decimal(repr(found[name])).quantize(Decimal("0.00001")) for name in wanted)
