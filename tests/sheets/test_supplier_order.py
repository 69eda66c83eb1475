"""The order as its supplier reads it, and as a snoop would."""

import re
from dataclasses import replace
from pathlib import Path

import openpyxl
import pytest

from kitting.buying.drafting import orders_of
from kitting.buying.orders import Order
from kitting.catalog.trade import Quality
from kitting.job.path import JobPath
from kitting.sheets.orders.keys import Addresses, Box, Form, OrderKey, Printed, Told
from kitting.sheets.orders.supplier_sheet import write_supplier_order
from tests.sheets.opened import everything_in, rows_of, text_of, the_sheet
from tests.sheets.values import CUSTOMER, a_ready_job

_READY = a_ready_job()
_ORDERS = orders_of(_READY)
_APPROVED = tuple(replace(o, approved_by="K. Ferris", approved_on=o.day) for o in _ORDERS)
_EITHER_WAY = (*_ORDERS, *_APPROVED)


def written(order: Order, folder: Path, path: JobPath = _READY) -> Path:
    file = folder / "order.xlsx"
    write_supplier_order(order, path.trade.shop, file)
    return file


@pytest.mark.parametrize("order", _EITHER_WAY, ids=lambda order: order.supplier.key)
def test_no_trace_of_customer_margin_or_another_supplier_is_anywhere_in_the_file(
    order: Order, tmp_path: Path
) -> None:
    found = everything_in(written(order, tmp_path)).casefold()
    for word in CUSTOMER.split():
        assert word.casefold() not in found
    assert _READY.bench.job.number not in found
    assert _READY.bench.job.engine_number.casefold() not in found
    for other in _READY.trade.suppliers:
        if other.key != order.supplier.key:
            assert other.name.casefold() not in found
            assert other.address.casefold() not in found
    theirs = {line.part: line.net for line in order.lines}
    for line in _READY.estimate.lines:
        if line.part in theirs and line.net != theirs[line.part]:
            assert f">{line.net}<" not in found
    for word in ("margin", "markup", "mark-up", "customer", "estimate", "because"):
        assert word not in text_of(tmp_path / "order.xlsx").casefold()


@pytest.mark.parametrize("order", _EITHER_WAY, ids=lambda order: order.supplier.key)
def test_there_are_no_hidden_corners_in_the_file(order: Order, tmp_path: Path) -> None:
    file = written(order, tmp_path)
    book = openpyxl.load_workbook(file)
    assert book.sheetnames == ["Order"]
    assert [sheet.sheet_state for sheet in book.worksheets] == ["visible"]
    assert list(book.defined_names) == []
    sheet = the_sheet(file)
    assert not any(d.hidden for d in sheet.column_dimensions.values())
    hidden = [at for at, d in sheet.row_dimensions.items() if d.hidden]
    assert hidden == [1]
    told = {str(cell.value) for cell in sheet[1] if cell.value is not None}
    boxes = () if order.draft else tuple(Box)
    marks = {text for text in told if Addresses.read(text) is not None}
    assert len(marks) == (0 if order.draft else 1)
    assert told - marks == {*Told, *Printed, *boxes, str(OrderKey.of(Form.ORDER, order))}
    assert all(cell.comment is None for row in sheet.iter_rows() for cell in row)
    assert book.properties.creator == _READY.trade.shop.name
    assert book.properties.lastModifiedBy is None


def test_the_suppliers_numbers_come_before_ours_and_stay_text(tmp_path: Path) -> None:
    order = next(order for order in _ORDERS if order.supplier.key == "sued")
    sheet = the_sheet(written(order, tmp_path))
    cell = next(c for row in sheet.iter_rows() for c in row if c.value == "=1/2-20")
    assert (cell.column, cell.data_type, cell.number_format) == (2, "s", "@")
    assert cell.quotePrefix


def test_each_line_shows_packs_price_and_sum_in_the_suppliers_currency(tmp_path: Path) -> None:
    order = next(order for order in _ORDERS if order.supplier.key == "sued")
    sheet = the_sheet(written(order, tmp_path))
    line = next(row for row in sheet.iter_rows() if row[1].value == "=1/2-20")
    assert [cell.value for cell in line[2:7]] == ["hob:W302", "piston W302", 1, 2, 8.35]
    assert line[7].number_format == '"€"#,##0.00'
    assert "Total in EUR, without VAT" in text_of(tmp_path / "order.xlsx")


def test_held_parts_stand_apart_with_no_quantity_and_no_price(tmp_path: Path) -> None:
    order = next(order for order in _ORDERS if order.supplier.key == "ashby")
    rows = rows_of(the_sheet(written(order, tmp_path)))
    begin = next(at for at, row in enumerate(rows) if row[0].startswith("Not ordered yet"))
    assert rows[begin + 2 : begin + 4] == [
        ["AW110", "hob:W110", "shell W110"],
        ["AW120", "hob:W120", "shell W120"],
    ]


def test_a_supplier_is_asked_for_the_quality_that_he_offered(tmp_path: Path) -> None:
    order = _ORDERS[0]
    first, *rest = order.lines
    marked = replace(order, lines=(replace(first, quality=Quality.OLD_STOCK), *rest))
    rows = {row[0]: row for row in rows_of(the_sheet(written(marked, tmp_path)))}
    assert "New old stock, as you offer it" in " ".join(rows[first.id])
    assert not any("as you offer it" in " ".join(rows[line.id]) for line in rest)


def test_an_order_below_the_least_value_says_so(tmp_path: Path) -> None:
    order = next(order for order in _ORDERS if order.supplier.key == "brook")
    assert re.search(
        r"\d+\.\d\d GBP below your least order of 200\.00 GBP", text_of(written(order, tmp_path))
    )


def test_an_order_that_nobody_approved_says_that_it_is_none(tmp_path: Path) -> None:
    draft = _ORDERS[0]
    shown = text_of(written(draft, tmp_path))
    assert "NOT AN ORDER YET" in shown
    assert "send this file back" not in shown
    sheet = the_sheet(written(draft, tmp_path))
    assert all(cell.protection.locked for row in sheet.iter_rows() for cell in row)
    approved = replace(draft, approved_by="K. Ferris", approved_on=draft.day)
    shown = text_of(written(approved, tmp_path))
    assert "NOT AN ORDER YET" not in shown
    assert "approved by K. Ferris" in shown


def test_a_part_name_that_begins_like_a_formula_stays_a_name(tmp_path: Path) -> None:
    order = _ORDERS[0]
    bad = replace(order, lines=(replace(order.lines[0], name='=HYPERLINK("x")'),))
    sheet = the_sheet(written(bad, tmp_path))
    cell = next(c for row in sheet.iter_rows() for c in row if c.value == '=HYPERLINK("x")')
    assert cell.data_type == "s"
