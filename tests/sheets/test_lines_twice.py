"""A line that stands twice in a reply: nothing of what he wrote is left out unsaid."""

from collections.abc import Callable, Mapping
from datetime import date
from decimal import Decimal
from pathlib import Path

import openpyxl
import pytest
from openpyxl.styles import Font
from openpyxl.worksheet.worksheet import Worksheet

from kitting.errors import BadInput
from kitting.sheets.orders.keys import Box
from kitting.sheets.orders.reply import FilledSheet, read_reply
from tests.libreoffice import convert_all
from tests.sheets.opened import the_sheet
from tests.sheets.test_order_reply import (
    BOLT,
    GASKET,
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

PACKS, PRICE, DUE, SENDS, COMES = "EGILN"
Entry = tuple[str, str, Typed]


def read(file: Path) -> FilledSheet:
    return read_reply(file, ORDER, LOADED)


def split(folder: Path, first: Mapping[str, Typed], second: Mapping[str, Typed]) -> Path:
    """The row of the nuts copied to below the table, and something typed in each of the two."""

    def copy(sheet: Worksheet) -> None:
        row, below = row_of(sheet, NUT), sheet.max_row + 1
        for at in range(1, 17):
            sheet.cell(below, at).value = sheet.cell(row, at).value
            sheet.cell(below, at).number_format = sheet.cell(row, at).number_format
        for number, typed in ((row, first), (below, second)):
            for column, value in typed.items():
                sheet[f"{column}{number}"] = value

    return handled(blank(folder), copy)


def two_sheets(folder: Path, *per_sheet: Callable[[Worksheet], object]) -> Path:
    """The order's sheet and a copy of it, each as its writer left it."""
    file = blank(folder)
    book = openpyxl.load_workbook(file)
    book.copy_worksheet(book.worksheets[0]).title = "Order (2)"
    for sheet, do in zip(book.worksheets, per_sheet, strict=True):
        do(sheet)
    book.save(file)
    return file


def typed(*entries: Entry) -> Callable[[Worksheet], None]:
    def type_in(sheet: Worksheet) -> None:
        for line, column, value in entries:
            sheet[f"{column}{row_of(sheet, line)}"] = value

    return type_in


def asked(*but: str) -> Callable[[Worksheet], None]:
    """As asked in every line but some."""
    return typed(*((line.id, "K", "as asked") for line in ORDER.lines if line.id not in but))


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ({PACKS: 1}, {PACKS: 1, DUE: date(2024, 5, 30)}),
        ({SENDS: 1}, {SENDS: 1, COMES: date(2024, 5, 30)}),
        ({PACKS: 1}, {SENDS: 1}),
        ({PACKS: 1}, {DUE: date(2024, 5, 30)}),
        ({PRICE: "ring me"}, {"K": "as asked"}),
    ],
)
def test_a_line_split_over_two_rows_is_refused_wherever_its_figures_stand(
    first: Mapping[str, Typed], second: Mapping[str, Typed], tmp_path: Path
) -> None:
    file = split(tmp_path, first, second)
    sheet = the_sheet(file)
    text = refusal(file)
    rows = f"rows {row_of(sheet, NUT)} and {sheet.max_row}"
    assert f'order.xlsx, sheet "Order", {rows}: line {NUT} stands twice, filled in' in text
    assert "keep one row of it, with all that holds of the line" in text


def test_a_row_of_which_the_copy_alone_is_filled_in_counts_and_that_is_told(tmp_path: Path) -> None:
    for first, second, counts in (({}, {PACKS: 1}, -1), ({PACKS: 1}, {}, 0)):
        file = split(tmp_path, first, second)
        sheet = the_sheet(file)
        rows = (row_of(sheet, NUT), sheet.max_row)
        found = read(file)
        assert [(each.line, each.packs) for each in found.reply.lines] == [(NUT, 1)]
        assert (
            f'sheet "Order", rows {rows[0]} and {rows[1]}: line {NUT} stands twice, and something '
            f"is filled in in row {rows[counts]} alone; that row counts"
        ) in found.written_over


def test_an_untouched_copy_of_the_sheet_hides_nothing_that_was_written_over(tmp_path: Path) -> None:
    def fill(sheet: Worksheet) -> None:
        asked(BOLT)(sheet)
        typed((BOLT, PRICE, 21.5))(sheet)
        for name, words in (("Your reference", "AB-1"), ("Answered by", "U. Held")):
            sheet[f"B{row_of(sheet, name)}"] = words

    for per_sheet, title in (((fill, id), "Order"), ((id, fill), "Order (2)")):
        file = two_sheets(tmp_path, *per_sheet)
        (one,) = convert_all([file], "ods", tmp_path / "saved") if title == "Order" else [file]
        for each in {file, one}:
            sheet = read(each)
            told = {line.line: line for line in sheet.reply.lines}
            assert told[BOLT].pack_price == Decimal("21.5")
            assert (sheet.reply.reference, sheet.reply.who) == ("AB-1", "U. Held")
            place = f'sheet "{title}", cell G{row_of(the_sheet(file), BOLT)}, line {BOLT}: '
            assert sheet.written_over == (
                f"{place}our 17.40 was written over with 21.5; taken as his price",
            )


def test_lines_answered_on_one_sheet_and_on_the_other_all_count(tmp_path: Path) -> None:
    file = two_sheets(tmp_path, typed((NUT, SENDS, 1)), typed((BOLT, PRICE, 21.5), (NUT, "P", "")))
    lines = {each.line: (each.packs, each.pack_price) for each in read(file).reply.lines}
    assert lines == {BOLT: (None, Decimal("21.5")), NUT: (1, None)}


def test_a_copy_that_says_the_same_is_no_second_word(tmp_path: Path) -> None:
    def fill(sheet: Worksheet) -> None:
        asked(BOLT)(sheet)
        typed((BOLT, PRICE, 21.5), (NUT, "R", "last ones"))(sheet)

    sheet = read(two_sheets(tmp_path, fill, fill))
    assert len(sheet.reply.lines) == len(ORDER.lines)
    (nut,) = (each for each in sheet.reply.lines if each.line == NUT)
    assert nut.remark == "last ones"


@pytest.mark.parametrize(
    ("first", "second", "sentence"),
    [
        ((BOLT, PRICE, 39), (BOLT, "K", "as asked"), "has 'as asked' here, and '39' in {G}"),
        ((BOLT, "M", 39), (BOLT, "M", 41), "has '41' here, and '39' in {M}"),
        ((BOLT, "P", "in May"), (BOLT, "K", "none"), "has 'none' here, and 'in May' in {P}"),
    ],
)
def test_two_sheets_that_say_another_thing_of_one_line_are_refused_with_both_cells(
    first: Entry, second: Entry, sentence: str, tmp_path: Path
) -> None:
    file = two_sheets(tmp_path, typed(first), typed(second))
    row = row_of(the_sheet(file), BOLT)
    cells = {column: f'sheet "Order", cell {column}{row}' for column in "GMP"}
    assert refusal(file) == (
        f'order.xlsx, sheet "Order (2)", cell {second[1]}{row}: line {BOLT} '
        f"{sentence.format(**cells)}; leave it on one of the sheets, or write the same on both"
    )


def test_a_word_more_on_one_of_two_sheets_is_asked_about_where_it_stands(tmp_path: Path) -> None:
    file = two_sheets(tmp_path, asked(), typed((GASKET, "K", "as asked"), (GASKET, "L", 1)))
    row = row_of(the_sheet(file), GASKET)
    assert f"L{row}: line {GASKET} has '1' here, and nothing in " in refusal(file)


def test_a_box_struck_out_on_the_copy_is_not_the_same_word(tmp_path: Path) -> None:
    def struck(sheet: Worksheet) -> None:
        asked()(sheet)
        sheet[f"K{row_of(sheet, SHELL)}"].font = Font(strike=True)

    assert f"line {SHELL} has 'as asked' struck through here" in refusal(
        two_sheets(tmp_path, asked(), struck)
    )


def test_two_references_are_refused_with_both_cells(tmp_path: Path) -> None:
    def signed(name: str) -> Callable[[Worksheet], None]:
        return lambda sheet: sheet.__setitem__(f"B{row_of(sheet, 'Your reference')}", name)

    file = two_sheets(tmp_path, signed("AB-1"), signed("AB-2"))
    at = f"B{row_of(the_sheet(file), 'Your reference')}"
    assert (
        f"""cell {at}: 'Your reference' is 'AB-2' here, and 'AB-1' in sheet "Order", cell {at}"""
        in (refusal(file))
    )


def test_the_split_is_refused_in_an_open_document_too(tmp_path: Path) -> None:
    (file,) = convert_all([split(tmp_path, {PACKS: 1}, {PACKS: 1})], "ods", tmp_path / "saved")
    with pytest.raises(BadInput, match=f"line {NUT} stands twice, filled in"):
        read(file)


def test_a_box_filled_in_beside_an_untouched_copy_still_counts(tmp_path: Path) -> None:
    file = filled(tmp_path, (NUT, Box.PACKS, 1))
    book = openpyxl.load_workbook(file)
    copy = book.copy_worksheet(book.worksheets[0])
    copy[f"L{row_of(copy, NUT)}"] = None
    book.save(file)
    assert [(e.line, e.packs) for e in read(file).reply.lines] == [(NUT, 1)]
