"""Figures of a reply as people write them: read where exact, told where a cell hides some of it."""

from decimal import Decimal
from pathlib import Path

import pytest
from openpyxl.worksheet.worksheet import Worksheet

from kitting.sheets.orders.keys import Box
from kitting.sheets.orders.reply import read_reply
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


@pytest.mark.parametrize("typed", ["W101", "w 101", "hob:W101", "AW101"])
def test_the_number_that_was_asked_for_is_no_other_number(typed: str, tmp_path: Path) -> None:
    sheet = read_reply(filled(tmp_path, (SHELL, Box.SUBSTITUTE, typed)), ORDER, LOADED)
    (line,) = sheet.reply.lines
    assert (line.substitute, line.packs, line.pack_price) == ("", 1, Decimal("18.00"))
    assert f"'{typed}' is the number that we asked for; taken as that" in sheet.written_over[0]


def test_of_the_number_that_was_asked_for_no_more_may_be_sent(tmp_path: Path) -> None:
    file = filled(tmp_path, (NUT, Box.SUBSTITUTE, "W320"), (NUT, Box.PACKS, 16))
    assert "16 packs are confirmed where 2 were asked for" in refusal(file)
