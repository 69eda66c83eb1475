"""The sheet beside the parcel: written, filled, read back."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path

import openpyxl
import pytest
from openpyxl.worksheet.worksheet import Worksheet

from kitting.buying.deliveries import Delivery, DeliveryLine
from kitting.buying.drawings import Check, checks_of
from kitting.buying.standing import OrderRecord
from kitting.errors import BadInput
from kitting.sheets.orders.delivery_in import read_delivery
from kitting.sheets.orders.delivery_sheet import write_delivery_sheet
from kitting.sheets.orders.keys import Apart, Count
from tests.buying.orders import JOB, a_line, an_order
from tests.libreoffice_hands import by_hand, deletes_column, inserts_row, renames, sorts, types
from tests.sheets.opened import the_sheet
from tests.wren import tiny_family, tiny_trade

ORDER = an_order(
    a_line("hob:W110", 2, "18.00", positions=("shells",), grade="-010"),
    a_line("hob:W320", 2, "3.20", pack=4, quantity=6, positions=("barrel-nuts",)),
    a_line("hob:W205", 1, "9.75", positions=("relief-spring",)),
)
RECORD = OrderRecord(ORDER)
SHELL, NUT, SPRING = (line.id for line in ORDER.lines)
CHECKS: Mapping[str, tuple[Check, ...]] = {
    line.id: checks_of({JOB: tiny_family()}, line) for line in ORDER.lines
}
DAY = date(2024, 5, 9)
_AT = dict(zip((Count.GOOD, Count.DAMAGED, Count.WRONG, Count.FOLLOWS), "GHIJ", strict=True))
_AT |= {Count.FIGURE: "K", Count.NOTE: "M"}


def blank(folder: Path, record: OrderRecord = RECORD) -> Path:
    file = folder / "delivery.xlsx"
    write_delivery_sheet(record, CHECKS, tiny_trade().shop, DAY, file)
    return file


def row_of(sheet: Worksheet, line: str, where: str | None = None) -> int:
    return next(
        row
        for row in range(1, sheet.max_row + 1)
        if sheet.cell(row, 1).value == line and sheet.cell(row, 5).value == where
    )


def cell(file: Path, line: str, count: Count, where: str | None = None) -> str:
    return f"{_AT[count]}{row_of(the_sheet(file), line, where)}"


def filled(folder: Path, entries: Mapping[tuple[str, Count, str | None], str | int]) -> Path:
    file = blank(folder)
    book = openpyxl.load_workbook(file)
    for (line, count, where), value in entries.items():
        book.worksheets[0][cell(file, line, count, where)] = value
    book.save(file)
    return file


def read(file: Path) -> Delivery:
    return read_delivery(file, ORDER, CHECKS, DAY)


def refusal(file: Path) -> str:
    with pytest.raises(BadInput) as refused:
        read(file)
    return str(refused.value)


def test_counts_and_figures_come_back_line_by_line(tmp_path: Path) -> None:
    file = filled(
        tmp_path,
        {
            (SHELL, Count.GOOD, None): 2,
            (SHELL, Count.FIGURE, "wall 1"): ".0609",
            (SHELL, Count.FIGURE, "wall 2"): ".0608",
            (NUT, Count.GOOD, None): 5,
            (NUT, Count.DAMAGED, None): 1,
            (NUT, Count.FOLLOWS, None): 3,
            (NUT, Count.NOTE, None): "box torn",
        },
    )
    came = read(file)
    assert [line.line for line in came.lines] == [SHELL, NUT]
    assert [r.text for r in came.lines[0].readings] == [".0609", ".0608"]
    assert came.lines[1] == DeliveryLine(NUT, 5, damaged=1, to_follow=3, note="box torn")
    assert (came.who, came.their_note) == ("", "")


def test_only_what_is_still_to_come_stands_on_the_sheet(tmp_path: Path) -> None:
    before = Delivery("P1001", DAY, "J", (DeliveryLine(NUT, 8),))
    sheet = the_sheet(blank(tmp_path, replace(RECORD, deliveries=(before,))))
    shown = {str(each.value) for each in sheet["A"]}
    assert NUT not in shown
    assert {SHELL, SPRING} <= shown


def test_what_was_missed_may_be_counted_when_it_turns_up(tmp_path: Path) -> None:
    before = Delivery("P1001", DAY, "J", (DeliveryLine(NUT, 5), DeliveryLine(SHELL, 0)))
    sheet = the_sheet(blank(tmp_path, replace(RECORD, deliveries=(before,))))
    assert sheet[f"F{row_of(sheet, NUT)}"].value == 3
    assert str(sheet[f"D{row_of(sheet, NUT)}"].value).endswith("; missed before")
    assert sheet[f"F{row_of(sheet, SHELL)}"].value == 2
    enough = Delivery("P1001", DAY, "J", (DeliveryLine(NUT, 6),))
    sheet = the_sheet(blank(tmp_path, replace(RECORD, deliveries=(enough,))))
    assert NUT not in {str(each.value) for each in sheet["A"]}


def test_of_half_a_line_half_the_figures_are_taken_and_a_further_one_is_named(
    tmp_path: Path,
) -> None:
    one: dict[tuple[str, Count, str | None], str | int]
    one = {(SHELL, Count.GOOD, None): 1, (SHELL, Count.FIGURE, "wall 1"): ".0609"}
    assert [r.text for r in read(filled(tmp_path, one)).lines[0].readings] == [".0609"]
    two = {**one, (SHELL, Count.FIGURE, "wall 2"): ".0608"}
    said = refusal(filled(tmp_path, two))
    assert "'wall 2' is not measured of the 1 piece that came; its figures: wall 1" in said


def test_each_figure_has_its_drawing_beside_it(tmp_path: Path) -> None:
    sheet = the_sheet(blank(tmp_path))
    row = row_of(sheet, SPRING, "rate")
    (check,) = CHECKS[SPRING]
    assert sheet[f"L{row}"].value == check.limits_text
    assert not sheet[f"K{row}"].protection.locked
    assert sheet[f"G{row}"].protection.locked


@pytest.mark.parametrize(
    ("entries", "sentence"),
    [
        ({(NUT, Count.GOOD, None): "all"}, "'all' is no number of pieces"),
        ({(NUT, Count.WRONG, None): "=1+1"}, "the cell holds the formula =1+1"),
        ({(SHELL, Count.FIGURE, "wall 1"): ".0609"}, "is measured and not counted"),
        (
            {(SHELL, Count.GOOD, None): 2, (SHELL, Count.FIGURE, "wall 1"): "thick"},
            "thick",
        ),
        ({(NUT, Count.NOTE, None): "=HYPERLINK()"}, "write it as plain words"),
    ],
)
def test_what_cannot_be_taken_is_said(
    entries: Mapping[tuple[str, Count, str | None], str | int], sentence: str, tmp_path: Path
) -> None:
    assert sentence in refusal(filled(tmp_path, entries))


def test_a_blank_sheet_is_no_delivery(tmp_path: Path) -> None:
    assert "nothing is filled in; count what came" in refusal(blank(tmp_path))


def test_sorted_and_stretched_in_another_program_it_reads_the_same(tmp_path: Path) -> None:
    file = blank(tmp_path)
    sheet = the_sheet(file)
    first, last = row_of(sheet, SHELL), row_of(sheet, SPRING, "rate")
    back = by_hand(
        file,
        tmp_path / "back.xlsx",
        types(cell(file, SHELL, Count.GOOD), "2"),
        types(cell(file, SHELL, Count.FIGURE, "wall 2"), ".0608"),
        types(cell(file, SPRING, Count.GOOD), "1"),
        types(cell(file, SPRING, Count.FIGURE, "rate"), "22"),
        sorts(f"A{first}:M{last}", 4, falling=True),
        inserts_row(first + 1),
        renames("gezählt"),
    )
    came = {line.line: line for line in read(back).lines}
    assert came[SHELL].good == 2
    assert [(r.station, r.text) for r in came[SHELL].readings] == [("2", "0.0608")]
    assert [(r.feature, r.text) for r in came[SPRING].readings] == [("rate", "22")]


def test_a_deleted_column_is_named(tmp_path: Path) -> None:
    file = blank(tmp_path)
    good = types(cell(file, NUT, Count.GOOD), "8")
    back = by_hand(file, tmp_path / "back.xlsx", good, deletes_column("E"))
    assert f"the column '{Apart.WHAT.partition(':')[2]}' is gone" in refusal(back)


def test_all_that_is_wrong_comes_in_one_go_each_with_file_sheet_and_cell(tmp_path: Path) -> None:
    file = filled(
        tmp_path,
        {
            (SHELL, Count.GOOD, None): "two",
            (SHELL, Count.FIGURE, "wall 1"): "abc",
            (NUT, Count.GOOD, None): 9,
            (NUT, Count.WRONG, None): 10**12,
            (SPRING, Count.NOTE, None): "=1+1",
        },
    )
    book = openpyxl.load_workbook(file)
    sheet = book.worksheets[0]
    sheet.cell(sheet.max_row + 1, 1, "ZZZZZ")
    sheet.cell(sheet.max_row, 7, 1)
    book.save(file)
    with pytest.raises(BadInput) as refused:
        read_delivery(file, ORDER, CHECKS, DAY, RECORD)
    said = str(refused.value).splitlines()
    assert len(said) == 6, said
    assert all(each.startswith('delivery.xlsx, sheet "Delivery", cell ') for each in said)
    assert any("9 pieces came and 8 were still to come" in each for each in said)


@pytest.mark.parametrize("figure", ["1" * 30, "1000000 !", "2000000 thou !"])
def test_a_figure_too_large_for_any_part_is_refused_at_its_cell(
    figure: str, tmp_path: Path
) -> None:
    file = filled(tmp_path, {(SHELL, Count.GOOD, None): 2, (SHELL, Count.FIGURE, "wall 1"): figure})
    text = refusal(file)
    assert "is larger than anything measured" in text
    assert f'sheet "Delivery", cell {cell(file, SHELL, Count.FIGURE, "wall 1")}' in text


def test_a_note_that_was_booked_before_is_left_to_the_books(tmp_path: Path) -> None:
    file = filled(tmp_path, {(NUT, Count.GOOD, None): 8})
    book = openpyxl.load_workbook(file)
    sheet = book.worksheets[0]
    sheet.cell(row_of(sheet, "Their delivery note"), 2, "LN 77")
    book.save(file)
    came = read_delivery(file, ORDER, CHECKS, DAY, RECORD)
    booked = replace(RECORD, deliveries=(came,))
    assert read_delivery(file, ORDER, CHECKS, DAY, booked) == came


def test_a_line_counted_on_two_sheets_is_refused_though_the_counts_are_alike(
    tmp_path: Path,
) -> None:
    file = filled(tmp_path, {(NUT, Count.GOOD, None): 4})
    book = openpyxl.load_workbook(file)
    book.copy_worksheet(book.worksheets[0]).title = "Delivery (2)"
    book.save(file)
    at = cell(file, NUT, Count.GOOD)
    text = refusal(file)
    assert f"sheet \"Delivery (2)\", cell {at}: line {NUT} has '4' here, and '4' in " in text
    assert "keep one of them" in text
