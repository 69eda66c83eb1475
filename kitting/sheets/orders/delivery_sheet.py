"""The sheet beside the parcel: what is still to come of an order, to count and to measure."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kitting.sheets.cautions import AIDS
from kitting.sheets.files import save_workbook
from kitting.sheets.orders.boxes import Rule, lock, open_boxes, put_field, put_keys, whole
from kitting.sheets.orders.keys import (
    COUNTED_BY,
    DELIVERY_NOTE,
    Apart,
    Count,
    Form,
    OrderKey,
    Told,
)
from kitting.sheets.outgoing import OutgoingWorkbook
from kitting.sheets.page import Column, Kind, Page
from kitting.sheets.words import day_text

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from datetime import date
    from pathlib import Path

    from kitting.buying.drawings import Check
    from kitting.buying.standing import LineStanding, OrderRecord
    from kitting.catalog.trade import Shop

_COLUMNS = (
    Column("Line", 16, Kind.MARK),
    Column("Their number", 16, Kind.NUMBER),
    Column("Our number", 16, Kind.NUMBER),
    Column("Part, or what to measure", 30),
    Column("Where", 17, Kind.NUMBER),
    Column("Still to come", 8, Kind.COUNT),
    Column("Good", 7, Kind.COUNT),
    Column("Damaged", 9, Kind.COUNT),
    Column("Wrong", 7, Kind.COUNT),
    Column("To follow", 8, Kind.COUNT),
    Column("Figure", 11, Kind.NUMBER),
    Column("Drawing", 21),
    Column("Note", 20, Kind.NUMBER),
)
_KEYS: Mapping[int, str] = {
    0: Told.LINE,
    1: Told.THEIRS,
    2: Told.OURS,
    4: Apart.WHAT,
    6: Count.GOOD,
    7: Count.DAMAGED,
    8: Count.WRONG,
    9: Count.FOLLOWS,
    10: Count.FIGURE,
    12: Count.NOTE,
}
_FILL_IN = (
    "Count pieces, line by line. Leave a line blank that is not in this parcel. What is missing of "
    "a line that is filled in is bought again, but for what is said to follow. Of the right part "
    "but spoilt: damaged. Another part, or not asked for: wrong."
)


def write_delivery_sheet(
    record: OrderRecord,
    checks: Mapping[str, Iterable[Check]],
    shop: Shop,
    day: date,
    file: Path,
) -> None:
    """Write what may come of an order, with a row for each figure that is wanted.

    `checks` are what is measured of each line, by its id.

    Raises:
        BadInput: the file cannot be written.
    """
    order = record.order
    title = f"Delivery of order {order.number}"
    book = OutgoingWorkbook(title, shop.name, day)
    page = Page(book, "Delivery", _COLUMNS, landscape=True)
    put_keys(page, OrderKey.of(Form.DELIVERY, order), _KEYS)
    page.title(title, f"{shop.name} · from {order.supplier.name} · {day_text(day)}")
    for name in (DELIVERY_NOTE, COUNTED_BY):
        put_field(page, name)
    page.line(_FILL_IN)
    page.gap()
    page.headings()
    counted: list[int] = []
    measured: list[int] = []
    for each in record.lines:
        if _may_come(each):
            counted.append(_line(page, each))
            wanted = [check.of_pieces(_may_come(each)) for check in checks.get(each.line.id, ())]
            measured.extend(_figures(page, each, wanted))
    open_boxes(page, counted, _COUNTS)
    open_boxes(page, measured, {10: None})
    page.cautions((AIDS,))
    page.finish(f"{shop.name} · {title} · {day_text(day)}")
    lock(page)
    save_workbook(book, file, replace=True)


_MOST = whole("$F{row}", "Pieces, no more than are still to come.")
_COUNTS: Mapping[int, Rule | None] = {
    6: _MOST,
    7: _MOST,
    8: whole("9999", "Pieces."),
    9: _MOST,
    12: None,
}


def _line(page: Page, each: LineStanding) -> int:
    return page.put(
        (
            each.line.id,
            each.line.their_number,
            str(each.line.part),
            _name(each),
            None,
            _may_come(each),
            None,
            None,
            None,
            None,
            None,
            None,
            None,
        )
    )


def _may_come(each: LineStanding) -> int:
    """What is still to come, or was missed and may turn up."""
    return each.coming or (each.late if each.reopened else 0)


def _name(each: LineStanding) -> str:
    if not each.coming:
        return f"{each.line.name}; missed before"
    if each.part == each.line.part and each.their_number == each.line.their_number:
        return each.line.name
    return f"{each.line.name}; agreed instead: {each.their_number} ({each.part})"


def _figures(page: Page, each: LineStanding, checks: Iterable[Check]) -> Iterable[int]:
    for check in checks:
        for place in check.places:
            where = " ".join(filter(None, (check.key, *place)))
            yield page.put(
                (
                    each.line.id,
                    each.line.their_number,
                    str(each.line.part),
                    f"   {check.feature.name}, {check.feature.instrument}",
                    where,
                    None,
                    None,
                    None,
                    None,
                    None,
                    None,
                    check.limits_text,
                    None,
                )
            )
