"""Figures of a reply as people write them: read where exact, told where a cell hides some of it."""

from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import Workbook
from openpyxl.cell.cell import Cell
from openpyxl.worksheet.worksheet import Worksheet

from kitting.errors import BadInput
from kitting.sheets.orders.keys import Box
from kitting.sheets.orders.reply import read_reply
from kitting.sheets.orders.reply_boxes import price_in
from kitting.sheets.orders.shown import shown_otherwise
from tests.libreoffice import convert_all
from tests.sheets.opened import the_sheet
from tests.sheets.test_order_reply import (
    BOLT,
    LOADED,
    NUT,
    ORDER,
    SHELL,
    Typed,
    filled,
    handled,
    refusal,
    row_of,
)


@pytest.mark.parametrize(
    ("typed", "price"),
    [("£4.25", "4.25"), ("4.25 GBP", "4.25"), ("GBP 4.25", "4.25"), ("4.250", "4.250")],
)
def test_a_price_with_its_currency_beside_it_is_read(
    typed: str, price: str, tmp_path: Path
) -> None:
    (line,) = read_reply(filled(tmp_path, (BOLT, Box.PRICE, typed)), ORDER, LOADED).reply.lines
    assert line.pack_price == Decimal(price)


def test_packs_typed_with_a_nought_behind_the_point_are_whole(tmp_path: Path) -> None:
    (line,) = read_reply(filled(tmp_path, (NUT, Box.PACKS, "1.0")), ORDER, LOADED).reply.lines
    assert line.packs == 1


@pytest.mark.parametrize("typed", ["1.5", "1.", ".0", "1,0"])
def test_packs_that_are_not_whole_are_refused(typed: str, tmp_path: Path) -> None:
    assert f"'{typed}' is no number of packs" in refusal(filled(tmp_path, (NUT, Box.PACKS, typed)))


@pytest.mark.parametrize(
    ("box", "value", "right"),
    [
        (Box.PACKS, True, "'TRUE' is a yes or no; a whole number from 0 to 2"),
        (Box.PRICE, False, "'FALSE' is a yes or no; the price of one pack"),
    ],
)
def test_a_yes_or_no_for_a_figure_is_refused_with_what_belongs_there(
    box: Box, value: Typed, right: str, tmp_path: Path
) -> None:
    assert right in refusal(filled(tmp_path, (NUT, box, value)))


@pytest.mark.parametrize("typed", ["€5", "5 EUR", "$5"])
def test_a_price_typed_in_another_currency_is_refused(typed: str, tmp_path: Path) -> None:
    text = refusal(filled(tmp_path, (BOLT, Box.PRICE, typed)))
    assert f"'{typed}' is in {'USD' if '$' in typed else 'EUR'}, and the order is in GBP" in text


def formatted(file: Path, number_format: str) -> Path:
    def show(sheet: Worksheet) -> None:
        sheet[f"M{row_of(sheet, BOLT)}"].number_format = number_format

    return handled(file, show)


@pytest.mark.parametrize("kind", ["xlsx", "ods"])
def test_a_price_that_its_cell_shows_in_another_currency_is_refused(
    kind: str, tmp_path: Path
) -> None:
    file = formatted(filled(tmp_path, (BOLT, Box.PRICE, 5)), "[$€-407] #,##0.00")
    (saved,) = convert_all([file], kind, tmp_path / "saved")
    shown = "€ 5" if kind == "xlsx" else "EUR 5"
    assert f"'{shown}' is in EUR, and the order is in GBP" in refusal(saved)


@pytest.mark.parametrize("number_format", ['"£"#,##0.00', "[$£-809]#,##0.00", "General", "0.0000"])
def test_a_price_shown_as_it_is_tells_nothing(number_format: str, tmp_path: Path) -> None:
    file = formatted(filled(tmp_path, (BOLT, Box.PRICE, 17.95)), number_format)
    assert read_reply(file, ORDER, LOADED).written_over == ()


@pytest.mark.parametrize("kind", ["xlsx", "ods"])
@pytest.mark.parametrize(("number_format", "shown"), [("0", "18"), ('"£"#,##0.0', "18.0")])
def test_a_price_whose_cell_shows_less_than_it_holds_is_told(
    kind: str, number_format: str, shown: str, tmp_path: Path
) -> None:
    file = formatted(filled(tmp_path, (BOLT, Box.PRICE, 17.96)), number_format)
    (saved,) = convert_all([file], kind, tmp_path / "saved")
    sheet = read_reply(saved, ORDER, LOADED)
    assert sheet.reply.lines[0].pack_price == Decimal("17.96")
    (told,) = sheet.written_over
    at = f'sheet "Order", cell M{row_of(the_sheet(file), BOLT)}, line {BOLT}'
    assert told == f"{at}: the cell shows {shown} and holds 17.96, which is taken"


_PER_HUNDRED = '0.00 "per 100"'


_SHOWN = {
    "0%": "'500%'",
    "$#,##0.00": "'$5' is in USD",
    "[$CHF-807] 0.00": "'CHF 5' is in CHF",
    '"kr" 0.00': "'kr 5'",
    "[$¥-411]0": "'¥5'",
    _PER_HUNDRED: "'5 per 100'",
    '0.00"p"': "'5p'",
}


@pytest.mark.parametrize("number_format", _SHOWN)
def test_a_price_that_its_cell_shows_as_something_else_is_refused_as_text_would_be(
    number_format: str, tmp_path: Path
) -> None:
    file = formatted(filled(tmp_path, (BOLT, Box.PRICE, 5)), number_format)
    said = refusal(file)
    assert f'order.xlsx, sheet "Order", cell M{row_of(the_sheet(file), BOLT)}: ' in said
    assert _SHOWN[number_format] in said


def test_saved_as_an_open_document_the_same_prices_are_refused(tmp_path: Path) -> None:
    files = []
    for number, number_format in enumerate(_SHOWN):
        file = formatted(filled(tmp_path, (BOLT, Box.PRICE, 5)), number_format)
        files.append(file.rename(tmp_path / f"{number}.xlsx"))
    all_saved = convert_all(files, "ods", tmp_path / "saved")
    for saved, shown in zip(all_saved, _SHOWN.values(), strict=True):
        assert shown.replace(" ", "") in refusal(saved).replace(" ", "")


@pytest.mark.parametrize("number_format", ["0,", ";;;", '"POA"', "General;0"])
def test_a_price_whose_figures_its_cell_does_not_show_is_refused(
    number_format: str, tmp_path: Path
) -> None:
    file = formatted(filled(tmp_path, (BOLT, Box.PRICE, 1500)), number_format)
    if number_format == "General;0":
        assert read_reply(file, ORDER, LOADED).reply.lines[0].pack_price == 1500
        return
    assert "the cell holds 1500 and does not show it so" in refusal(file)


def test_packs_that_their_cell_shows_as_something_else_are_refused(tmp_path: Path) -> None:
    file = filled(tmp_path, (NUT, Box.PACKS, 2))

    def show(sheet: Worksheet) -> None:
        sheet[f"L{row_of(sheet, NUT)}"].number_format = '0 "dozen"'

    handled(file, show)
    for each in (file, *convert_all([file], "ods", tmp_path / "saved")):
        assert "the cell holds 2 and shows it as '2 dozen'" in refusal(each)


@pytest.mark.parametrize("typed", ["1 50", "1_5", "1e0", "12 34.50", "1.5."])
def test_figures_that_could_be_two_prices_are_none(typed: str, tmp_path: Path) -> None:
    assert f"'{typed}' is no price" in refusal(filled(tmp_path, (BOLT, Box.PRICE, typed)))


_SIGNS_OF_OURS = ('"£"{}', "[$£-809]{}", '{}_-"£"', "_-£* {}_-;-£* {}_-", "{}\\ [$GBP]", "{}")


@given(
    price=st.decimals("0.01", 5000, places=2),
    digits=st.sampled_from(["0.00", "#,##0.00", "# ##0.00", "0.00##", "General"]),
    sign=st.sampled_from(_SIGNS_OF_OURS),
)
def test_in_the_order_s_own_currency_every_format_leaves_a_price_as_it_is(
    price: Decimal, digits: str, sign: str
) -> None:
    cell = priced(float(price), sign.replace("{}", digits))
    assert price_in(cell, "GBP") == price
    assert shown_otherwise(cell) == ""


@given(words=st.text(st.characters(categories=["L"]), min_size=1, max_size=12), front=st.booleans())
def test_words_of_a_format_are_refused_where_the_same_text_is(words: str, front: bool) -> None:
    shown = f"{words} 5" if front else f"5 {words}"
    number_format = f'"{words} "0' if front else f'0" {words}"'
    answers = []
    for cell in (priced(shown), priced(5, number_format)):
        try:
            answers.append(price_in(cell, "GBP"))
        except BadInput:
            answers.append(None)
    assert answers[0] == answers[1]


def priced(value: Typed, number_format: str = "General") -> Cell:
    cell = Workbook().create_sheet()["A1"]
    assert isinstance(cell, Cell)
    cell.value = value
    cell.number_format = number_format
    return cell


@pytest.mark.parametrize("typed", ["W101", "w 101", "hob:W101", "AW101"])
def test_the_number_that_was_asked_for_is_no_other_number(typed: str, tmp_path: Path) -> None:
    sheet = read_reply(filled(tmp_path, (SHELL, Box.SUBSTITUTE, typed)), ORDER, LOADED)
    (line,) = sheet.reply.lines
    assert (line.substitute, line.packs, line.pack_price) == ("", 1, Decimal("18.00"))
    assert f"'{typed}' is the number that we asked for; taken as that" in sheet.written_over[0]


def test_of_the_number_that_was_asked_for_no_more_may_be_sent(tmp_path: Path) -> None:
    file = filled(tmp_path, (NUT, Box.SUBSTITUTE, "W320"), (NUT, Box.PACKS, 16))
    assert "16 packs are confirmed where 2 were asked for" in refusal(file)
