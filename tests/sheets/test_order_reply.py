"""A reply comes back from the supplier, as he left it."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

import openpyxl
import pytest
from openpyxl.worksheet.worksheet import Worksheet

from kitting.buying.replies import Reply
from kitting.catalog.trade import Shop
from kitting.errors import BadInput
from kitting.sheets.orders.keys import Box
from kitting.sheets.orders.reply import read_reply
from kitting.sheets.orders.supplier_sheet import write_supplier_order
from tests.buying.orders import an_order
from tests.sheets.opened import the_sheet
from tests.wren import tiny_trade

ORDER = an_order()
SHOP: Shop = tiny_trade().shop
LOADED = date(2024, 5, 4)
SHELL, BOLT, NUT, SPRING, GASKET = (line.id for line in ORDER.lines)
Typed = str | int | float | bool | date
_COLUMNS = dict(zip(Box, "KLMNOP", strict=True))


def blank(folder: Path) -> Path:
    file = folder / "order.xlsx"
    write_supplier_order(ORDER, SHOP, file)
    return file


def row_of(sheet: Worksheet, line: str) -> int:
    return next(row for row in range(1, sheet.max_row + 1) if sheet.cell(row, 1).value == line)


def filled(folder: Path, *entries: tuple[str, Box, Typed]) -> Path:
    file = blank(folder)
    book = openpyxl.load_workbook(file)
    sheet = book.worksheets[0]
    for line, box, value in entries:
        sheet[f"{_COLUMNS[box]}{row_of(sheet, line)}"] = value
    book.save(file)
    return file


def handled(file: Path, do: Callable[[Worksheet], object]) -> Path:
    book = openpyxl.load_workbook(file)
    do(book.worksheets[0])
    book.save(file)
    return file


def refusal(file: Path) -> str:
    with pytest.raises(BadInput) as refused:
        read_reply(file, ORDER, LOADED)
    return str(refused.value)


def said(reply: Reply) -> dict[str, tuple[object, ...]]:
    return {
        each.line: (each.packs, each.pack_price, each.day, each.substitute, each.remark)
        for each in reply.lines
    }


def test_what_was_written_in_the_boxes_is_the_reply(tmp_path: Path) -> None:
    file = filled(
        tmp_path,
        (SHELL, Box.ANSWER, "as asked"),
        (BOLT, Box.PRICE, 17.95),
        (NUT, Box.PACKS, 1),
        (NUT, Box.DAY, date(2024, 5, 20)),
        (SPRING, Box.SUBSTITUTE, "R205"),
        (GASKET, Box.REMARK, "last three"),
    )
    at = f"B{row_of(the_sheet(file), 'Your reference')}"
    handled(file, lambda sheet: sheet.__setitem__(at, "our 4711"))
    reply = read_reply(file, ORDER, LOADED).reply
    assert said(reply) == {
        SHELL: (1, Decimal("18.00"), None, "", ""),
        BOLT: (None, Decimal("17.95"), None, "", ""),
        NUT: (1, None, date(2024, 5, 20), "", ""),
        SPRING: (None, None, None, "R205", ""),
        GASKET: (None, None, None, "", "last three"),
    }
    assert (reply.reference, reply.who) == ("our 4711", "")


def test_of_another_number_more_may_be_sent_than_was_asked_for(tmp_path: Path) -> None:
    file = filled(tmp_path, (NUT, Box.PACKS, 16), (NUT, Box.SUBSTITUTE, "R321"))
    assert said(read_reply(file, ORDER, LOADED).reply)[NUT][0] == 16
    many = filled(tmp_path, (NUT, Box.PACKS, 201), (NUT, Box.SUBSTITUTE, "R321"))
    assert "a whole number from 0 to 200" in refusal(many)


def test_none_is_no_packs_at_all(tmp_path: Path) -> None:
    reply = read_reply(filled(tmp_path, (NUT, Box.ANSWER, "none")), ORDER, LOADED).reply
    assert said(reply)[NUT][0] == 0


@pytest.mark.parametrize(
    ("box", "value", "sentence"),
    [
        (Box.PACKS, 3, "3 packs are confirmed where 2 were asked for; a whole number from 0 to 2"),
        (Box.PACKS, "two", "'two' is no number of packs"),
        (Box.PACKS, 1.5, "'1.5' is no number of packs"),
        (Box.PACKS, -1, "'-1' is no number of packs"),
        (
            Box.PRICE,
            "on request",
            "'on request' is no price; the price of one pack with a decimal point",
        ),
        (Box.PRICE, -3, "'-3' is no price"),
        (Box.PRICE, "3.12345", "the price 3.12345 is too fine; give at most 4 decimals"),
        (Box.PRICE, 1e30, "the price of 31 digits is too large; a pack costs at most 100,000,000"),
        (Box.PRICE, 100_000_000.5, "the price 100,000,000.5 is too large"),
        (Box.PACKS, 1e30, "is no number of packs"),
        (Box.PRICE, True, "'TRUE' is a yes or no"),
        (Box.PRICE, "=1+2", "the cell holds the formula =1+2; type the figure itself"),
        (Box.DAY, "soon", "'soon' is no date"),
        (Box.DAY, date(2020, 1, 1), "01 Jan 2020 cannot be the day for an order of 02 May 2024"),
        (Box.REMARK, '=HYPERLINK("http://x")', "the cell holds the formula =HYPERLINK"),
        (Box.REMARK, "=1+1", "write it as plain words"),
        (Box.REMARK, "x" * 501, "it has 501 signs; give at most 500"),
        (Box.ANSWER, "perhaps", "'perhaps' is none of the answers; one of as asked, changed, none"),
        (Box.SUBSTITUTE, date(2024, 1, 2), "where a part number belongs"),
        (Box.SUBSTITUTE, "9" * 61, "the number has 61 signs; a number has at most 60"),
    ],
)
def test_what_cannot_be_taken_is_said_at_its_cell(
    box: Box, value: Typed, sentence: str, tmp_path: Path
) -> None:
    file = filled(tmp_path, (NUT, box, value))
    text = refusal(file)
    assert sentence in text
    assert f'order.xlsx, sheet "Order", cell {_COLUMNS[box]}' in text


def test_an_answer_that_its_own_figures_gainsay_is_refused(tmp_path: Path) -> None:
    file = filled(tmp_path, (NUT, Box.ANSWER, "as asked"), (NUT, Box.PACKS, 1))
    assert "the answer is 'as asked', and other figures stand beside it" in refusal(file)
    file = filled(tmp_path, (NUT, Box.ANSWER, "none"), (NUT, Box.PACKS, 1))
    assert "the answer is none, and 1 packs are sent" in refusal(file)


def test_all_that_is_wrong_comes_in_one_go_each_with_file_sheet_and_cell(tmp_path: Path) -> None:
    file = filled(
        tmp_path,
        (NUT, Box.PACKS, 9),
        (BOLT, Box.PRICE, "dear"),
        (SHELL, Box.DAY, "x"),
        (SPRING, Box.DAY, date(1999, 1, 1)),
        (SPRING, Box.PRICE, 1e25),
        (GASKET, Box.REMARK, "=1+1"),
    )

    def spoil(sheet: Worksheet) -> None:
        last = max(row_of(sheet, line.id) for line in ORDER.lines)
        copied = [sheet.cell(row_of(sheet, NUT), at).value for at in range(1, 17)]
        for row, letters in ((last + 1, "ZZZZZ"), (last + 2, NUT)):
            for at, value in enumerate(copied, start=1):
                sheet.cell(row, at).value = letters if at == 1 else value
        sheet[f"B{row_of(sheet, 'Answered by')}"] = "=NOW()"

    said = refusal(handled(file, spoil)).splitlines()
    assert len(said) == 9, said
    assert all(each.startswith('order.xlsx, sheet "Order", ') for each in said)
    assert sum(", cell " in each for each in said) == 8


def test_a_gone_column_does_not_hide_what_is_wrong_in_the_others(tmp_path: Path) -> None:
    file = filled(tmp_path, (NUT, Box.PACKS, 9), (BOLT, Box.DAY, "soon"))
    text = refusal(handled(file, lambda sheet: sheet.delete_cols(13)))
    assert "the column 'price' is gone" in text
    assert "9 packs are confirmed" in text
    assert "'soon' is no date" in text


def test_a_reply_to_another_order_is_refused(tmp_path: Path) -> None:
    file = filled(tmp_path, (NUT, Box.PACKS, 1))
    other = replace(ORDER, number="P1002")
    with pytest.raises(BadInput, match="it is of order P1001, and this is order P1002"):
        read_reply(file, other, LOADED)


def test_a_reply_to_an_older_revision_is_refused(tmp_path: Path) -> None:
    file = filled(tmp_path, (NUT, Box.PACKS, 1))
    with pytest.raises(BadInput, match="it is of revision 1, and the order is at revision 2"):
        read_reply(file, replace(ORDER, revision=2), LOADED)


def test_changed_line_letters_are_refused(tmp_path: Path) -> None:
    file = filled(tmp_path, (NUT, Box.PACKS, 1))
    handled(file, lambda sheet: sheet.__setitem__(f"A{row_of(sheet, NUT)}", "ZZZZZ"))
    assert "'ZZZZZ' is no line of order P1001" in refusal(file)


def test_the_letters_of_two_lines_exchanged_are_refused(tmp_path: Path) -> None:
    file = filled(tmp_path, (NUT, Box.PACKS, 1))

    def exchange(sheet: Worksheet) -> None:
        nut, bolt = row_of(sheet, NUT), row_of(sheet, BOLT)
        sheet[f"A{nut}"], sheet[f"A{bolt}"] = BOLT, NUT

    handled(file, exchange)
    assert f"line {BOLT} is AW140, and the row says AW320" in refusal(file)


def test_letters_wiped_out_are_refused_even_where_nothing_is_filled_in(tmp_path: Path) -> None:
    file = filled(tmp_path, (NUT, Box.PACKS, 1))
    handled(file, lambda sheet: sheet.__setitem__(f"A{row_of(sheet, BOLT)}", None))
    assert "no line's letters" in refusal(file)


def test_our_own_number_written_over_is_refused_at_its_cell(tmp_path: Path) -> None:
    file = filled(tmp_path, (NUT, Box.PACKS, 1))
    handled(file, lambda sheet: sheet.__setitem__(f"C{row_of(sheet, BOLT)}", "hob:W141"))
    text = refusal(file)
    assert f"line {BOLT} is hob:W140, and the row says hob:W141" in text
    assert f'sheet "Order", cell C{row_of(the_sheet(file), BOLT)}' in text


def test_a_line_filled_in_twice_is_refused(tmp_path: Path) -> None:
    file = filled(tmp_path, (NUT, Box.PACKS, 1))

    def copy_below(sheet: Worksheet) -> None:
        row = row_of(sheet, NUT)
        for at in range(1, 17):
            sheet.cell(sheet.max_row + (at == 1), at).value = sheet.cell(row, at).value

    handled(file, copy_below)
    assert f"line {NUT} stands twice, filled in" in refusal(file)


def test_a_line_whose_row_he_took_away_is_named_as_gone(tmp_path: Path) -> None:
    file = filled(tmp_path, (NUT, Box.PACKS, 1))
    assert read_reply(file, ORDER, LOADED).gone == set()
    handled(file, lambda sheet: sheet.delete_rows(row_of(sheet, BOLT)))
    sheet = read_reply(file, ORDER, LOADED)
    assert sheet.gone == {BOLT}
    assert [each.line for each in sheet.reply.lines] == [NUT]


def test_a_sheet_with_nothing_filled_in_says_so(tmp_path: Path) -> None:
    assert "nothing is filled in" in refusal(blank(tmp_path))


def test_a_deleted_column_is_named(tmp_path: Path) -> None:
    file = filled(tmp_path, (NUT, Box.PACKS, 1))
    handled(file, lambda sheet: sheet.delete_cols(13))
    assert "the column 'price' is gone; undo the deletion" in refusal(file)


def test_another_workbook_is_no_reply(tmp_path: Path) -> None:
    file = tmp_path / "other.xlsx"
    openpyxl.Workbook().save(file)
    assert "no sheet of this workbook is of an order of ours" in refusal(file)


def test_a_workbook_with_a_password_is_refused_in_a_sentence(tmp_path: Path) -> None:
    # The head of the container that every spreadsheet program wraps a locked workbook in.
    container = bytes.fromhex("d0cf11e0a1b11ae1") + bytes(600)
    file = tmp_path / "locked.xlsx"
    file.write_bytes(container + "EncryptedPackage".encode("utf-16-le"))
    assert refusal(file) == (
        "locked.xlsx: the workbook is protected by a password; save a copy without the password"
    )


def test_only_the_suppliers_boxes_are_open(tmp_path: Path) -> None:
    sheet = the_sheet(blank(tmp_path))
    assert sheet.protection.sheet
    open_cells = {c.coordinate for row in sheet.iter_rows() for c in row if not c.protection.locked}
    boxes = {
        f"{letter}{row_of(sheet, line.id)}" for line in ORDER.lines for letter in _COLUMNS.values()
    }
    named = [row_of(sheet, name) for name in ("Your reference", "Answered by")]
    fields = {f"{letter}{row}" for letter in "BCD" for row in named}
    assert open_cells == boxes | fields


def test_the_boxes_offer_lists_and_turn_away_what_cannot_be(tmp_path: Path) -> None:
    sheet = the_sheet(blank(tmp_path))
    rules = {rule.type: rule for rule in sheet.data_validations.dataValidation}
    assert rules["list"].formula1 == '"as asked,changed,none"'
    first = row_of(sheet, ORDER.lines[0].id)
    assert (rules["whole"].formula1, rules["whole"].formula2) == (
        "0",
        f'IF(O{first}="",E{first},E{first}*100)',
    )
    assert rules["decimal"].formula1 == "0"
    assert rules["date"].formula1 == "DATE(2024,5,2)"
