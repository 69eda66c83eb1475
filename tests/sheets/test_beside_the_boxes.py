"""What a supplier writes beside his boxes is told, and kept with its line where it has one."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

import openpyxl
import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st
from openpyxl.cell.cell import Cell
from openpyxl.comments import Comment
from openpyxl.styles import Font
from openpyxl.worksheet.worksheet import Worksheet

from kitting.errors import BadInput
from kitting.sheets.orders.keys import Box
from kitting.sheets.orders.reply import FilledSheet, read_reply
from tests.libreoffice import convert_all
from tests.sheets.opened import the_sheet
from tests.sheets.test_order_reply import (
    BOLT,
    LOADED,
    NUT,
    ORDER,
    SHELL,
    Typed,
    blank,
    filled,
    handled,
    refusal,
    row_of,
)

PART, TOTAL, NOTE, BESIDE = "DHJR"


def row_with(sheet: Worksheet, text: str, column: int = 4) -> int:
    return next(
        row
        for row in range(1, sheet.max_row + 1)
        if str(sheet.cell(row, column).value or "").startswith(text)
    )


def answered(folder: Path, do: Callable[[Worksheet], object]) -> Path:
    """The shell as asked, and something beside the boxes."""
    return handled(filled(folder, (SHELL, Box.ANSWER, "as asked")), do)


def read(file: Path) -> FilledSheet:
    return read_reply(file, ORDER, LOADED)


def remark_of(sheet: FilledSheet, line: str) -> str:
    return next((each.remark for each in sheet.reply.lines if each.line == line), "")


@pytest.mark.parametrize(
    ("column", "value", "sentence", "remark"),
    [
        (PART, "Bolt - only 6 left", "'Bolt - only 6 left' was written over our 'part W140'", ""),
        (
            NOTE,
            "discontinued, sorry",
            "'discontinued, sorry' was written over our 'Your price held",
            "",
        ),
        (TOTAL, 99, "'99' was written over our 34.80", "Line total: 99"),
        (TOTAL, "=30+4.80", "'=30+4.80' was written over our 34.80", "Line total: =30+4.80"),
        (BESIDE, "only 6 left", "'only 6 left' was written beside the table", "only 6 left"),
    ],
)
def test_what_stands_on_a_line_outside_the_boxes_is_told_and_is_his_remark(
    column: str, value: Typed, sentence: str, remark: str, tmp_path: Path
) -> None:
    file = answered(
        tmp_path, lambda sheet: sheet.__setitem__(f"{column}{row_of(sheet, BOLT)}", value)
    )
    sheet = read(file)
    place = f'sheet "Order", cell {column}{row_of(the_sheet(file), BOLT)}, line {BOLT}: '
    (told,) = sheet.written_over
    assert told.startswith(place + sentence)
    assert remark_of(sheet, BOLT) == (remark or f"{_HEADINGS[column]}: {value}")
    assert [each.line for each in sheet.reply.lines] == [SHELL, BOLT]


_HEADINGS = {PART: "Part", NOTE: "We note"}


def test_words_in_a_note_of_ours_that_was_empty_are_told(tmp_path: Path) -> None:
    file = answered(tmp_path, lambda sheet: sheet.__setitem__(f"J{row_of(sheet, NUT)}", "no more"))
    sheet = read(file)
    assert "'no more' was written in 'We note'; kept as his remark" in sheet.written_over[0]
    assert remark_of(sheet, NUT) == "We note: no more"


def test_his_own_remark_and_what_stands_beside_it_are_both_kept(tmp_path: Path) -> None:
    file = filled(tmp_path, (BOLT, Box.REMARK, "see note"))
    handled(file, lambda sheet: sheet.__setitem__(f"R{row_of(sheet, BOLT)}", "only 6 left"))
    assert remark_of(read(file), BOLT) == "see note; only 6 left"


def test_words_and_figures_above_and_below_the_table_are_told(tmp_path: Path) -> None:
    def write(sheet: Worksheet) -> None:
        sheet.cell(sheet.max_row + 2, 1).value = "All prices rise by 10 % on Monday"
        sheet[f"H{row_with(sheet, 'Carriage')}"] = 15
        sheet[f"F{row_with(sheet, 'Your reference', 1)}"] = "closed over Easter"

    told = read(answered(tmp_path, write)).written_over
    assert len(told) == 3
    assert any("'closed over Easter' was written" in each for each in told)
    assert any("our 6.50 for 'Carriage, by your terms' was written over with 15" in e for e in told)
    assert any("'All prices rise by 10 % on Monday' was written" in each for each in told)
    assert all("ask him what he means" in each for each in told)


def test_words_on_a_sheet_of_his_own_are_told(tmp_path: Path) -> None:
    file = filled(tmp_path, (SHELL, Box.ANSWER, "as asked"))
    book = openpyxl.load_workbook(file)
    book.create_sheet("Notes")["B2"] = "new address from May"
    book.create_sheet("Empty")
    book.save(file)
    (told,) = read(file).written_over
    assert told.startswith("sheet \"Notes\", cell B2: 'new address from May' was written")


def test_a_comment_pinned_to_a_cell_is_told_and_kept(tmp_path: Path) -> None:
    def pin(sheet: Worksheet) -> None:
        cell = sheet[f"M{row_of(sheet, BOLT)}"]
        assert isinstance(cell, Cell)
        cell.comment = Comment("only 6 left", "S")

    sheet = read(answered(tmp_path, pin))
    assert "the comment 'only 6 left' is pinned to it" in sheet.written_over[0]
    assert remark_of(sheet, BOLT) == "only 6 left"


def test_changed_with_nothing_beside_it_is_told(tmp_path: Path) -> None:
    file = filled(tmp_path, (SHELL, Box.ANSWER, "as asked"), (BOLT, Box.ANSWER, "changed"))
    sheet = read(file)
    assert [each.line for each in sheet.reply.lines] == [SHELL]
    (told,) = sheet.written_over
    assert f"line {BOLT}: 'changed' is chosen, and nothing beside it says what changes" in told


def test_with_no_line_answered_what_was_written_elsewhere_is_named_in_the_refusal(
    tmp_path: Path,
) -> None:
    file = filled(tmp_path, (BOLT, Box.ANSWER, "changed"))
    handled(file, lambda sheet: sheet.__setitem__("A40", "all as you ask, thank you"))
    text = refusal(file)
    assert "nothing is filled in" in text
    assert "'changed' is chosen" in text
    assert "'all as you ask, thank you' was written" in text


@pytest.mark.parametrize("column", ["A", "D"])
def test_prices_in_another_currency_than_the_order_s_are_refused(
    column: str, tmp_path: Path
) -> None:
    def change(sheet: Worksheet) -> None:
        if column == "A":
            sheet[f"B{row_with(sheet, 'Prices', 1)}"] = "in EUR, without VAT, as you gave them"
        else:
            sheet[f"D{row_with(sheet, 'Total in')}"] = "Total in EUR, without VAT"

    text = refusal(answered(tmp_path, change))
    assert "the order is in GBP" in text
    assert "give the prices in GBP" in text


def test_a_box_merged_over_two_lines_is_refused(tmp_path: Path) -> None:
    def merge(sheet: Worksheet) -> None:
        row = row_of(sheet, BOLT)
        sheet[f"N{row}"] = date(2024, 5, 20)
        sheet.merge_cells(f"N{row}:N{row + 1}")

    file = answered(tmp_path, merge)
    row = row_of(the_sheet(file), BOLT)
    text = refusal(file)
    assert f"cell N{row}: it is merged over lines {BOLT} and {NUT}" in text
    assert "unmerge it, and write beside each line what holds of it" in text


def test_a_figure_struck_through_in_a_box_is_refused(tmp_path: Path) -> None:
    file = filled(tmp_path, (BOLT, Box.PRICE, 17.95))

    def strike(sheet: Worksheet) -> None:
        sheet[f"M{row_of(sheet, BOLT)}"].font = Font(strike=True)

    assert "'17.95' is struck through" in refusal(handled(file, strike))


def test_a_line_struck_out_is_told(tmp_path: Path) -> None:
    def strike(sheet: Worksheet) -> None:
        for column in "DEG":
            sheet[f"{column}{row_of(sheet, BOLT)}"].font = Font(strike=True)

    sheet = read(answered(tmp_path, strike))
    (told,) = sheet.written_over
    assert f"line {BOLT}: 'part W140', '2', '17.4' are struck through" in told
    assert remark_of(sheet, BOLT) == "struck through: 'part W140', '2', '17.4'"


def test_a_sheet_as_it_went_out_tells_of_nothing_beside_its_boxes(tmp_path: Path) -> None:
    file = filled(tmp_path, *((line.id, Box.ANSWER, "as asked") for line in ORDER.lines))
    ods, xlsx = (convert_all([file], kind, tmp_path / kind)[0] for kind in ("ods", "xlsx"))
    for each in (file, ods, xlsx):
        assert read(each).written_over == ()


def test_the_same_is_told_of_an_open_document(tmp_path: Path) -> None:
    """Comments, struck figures and words beside, saved by another program; and a merged box."""

    def write(sheet: Worksheet) -> None:
        row = row_of(sheet, BOLT)
        sheet[f"R{row}"] = "only 6 left"
        sheet[f"E{row}"].font = Font(strike=True)
        cell = sheet[f"M{row_of(sheet, NUT)}"]
        assert isinstance(cell, Cell)
        cell.comment = Comment("ring me", "S")

    merged = filled(tmp_path, (BOLT, Box.DAY, date(2024, 5, 20))).rename(tmp_path / "merged.xlsx")
    row = row_of(the_sheet(merged), BOLT)
    handled(merged, lambda sheet: sheet.merge_cells(f"N{row}:N{row + 1}"))
    file = answered(tmp_path, write)
    told, refused = convert_all([file, merged], "ods", tmp_path / "saved")
    assert read(told) == read(file)
    assert len(read(told).written_over) == 3
    with pytest.raises(BadInput, match="it is merged over lines"):
        read(refused)


def test_a_blank_sheet_is_still_nothing_filled_in(tmp_path: Path) -> None:
    assert refusal(blank(tmp_path)).endswith("nothing is filled in; give the sheet that came back")


@settings(max_examples=10, deadline=None)
@example(row=1, column=5)
@example(row=3, column=1)
@example(row=4, column=2)
@given(row=st.integers(1, 45), column=st.integers(1, 20))
def test_no_word_on_the_sheet_is_lost_wherever_it_stands(
    row: int, column: int, tmp_path_factory: pytest.TempPathFactory
) -> None:
    file = filled(tmp_path_factory.mktemp("reply"), (SHELL, Box.ANSWER, "as asked"))
    sheet = the_sheet(file)
    cell = sheet.cell(row, column)
    assume(isinstance(cell, Cell))
    handled(file, lambda sheet: sheet.cell(row, column).__setattr__("value", "sold out"))
    try:
        found = read(file)
    except BadInput:
        return
    kept = [each.remark for each in found.reply.lines] + [found.reply.who, found.reply.reference]
    kept += [each.substitute for each in found.reply.lines]
    assert any("sold out" in each for each in (*found.written_over, *kept))
