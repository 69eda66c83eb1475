"""What a supplier writes over the figures that were printed for him is never passed over."""

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl.worksheet.worksheet import Worksheet

from kitting.buying.replies import Change, question_of
from kitting.errors import BadInput
from kitting.sheets.orders.keys import Box
from kitting.sheets.orders.reply import FilledSheet, read_reply
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

PACKS, PACK, PRICE, DUE = "EFGI"


def over(
    folder: Path, line: str, column: str, value: Typed, *boxes: tuple[str, Box, Typed]
) -> Path:
    file = filled(folder, *boxes)
    return handled(file, lambda sheet: sheet.__setitem__(f"{column}{row_of(sheet, line)}", value))


def read(file: Path) -> FilledSheet:
    return read_reply(file, ORDER, LOADED)


def test_a_price_written_over_ours_is_his_price_though_he_says_as_asked(tmp_path: Path) -> None:
    file = over(tmp_path, BOLT, PRICE, 99, (BOLT, Box.ANSWER, "as asked"))
    sheet = read(file)
    (line,) = sheet.reply.lines
    assert line.pack_price == Decimal(99)
    question = question_of(ORDER, 1, line)
    assert question is not None
    assert question.changes == (Change.DEARER,)
    at = f'sheet "Order", cell G{row_of(the_sheet(file), BOLT)}'
    assert sheet.written_over == (
        f"{at}, line {BOLT}: our 17.40 was written over with 99; taken as his price",
    )


def test_a_figure_in_his_own_box_goes_before_one_written_over_ours(tmp_path: Path) -> None:
    sheet = read(over(tmp_path, BOLT, PRICE, 99, (BOLT, Box.PRICE, 17.95)))
    assert sheet.reply.lines[0].pack_price == Decimal("17.95")
    assert "with 99; his own box says 17.95, and counts" in sheet.written_over[0]


def test_fewer_packs_or_a_later_day_written_over_ours_are_his_answer(tmp_path: Path) -> None:
    (line,) = read(over(tmp_path, NUT, PACKS, 1)).reply.lines
    assert (line.line, line.packs) == (NUT, 1)
    sheet = read(over(tmp_path, NUT, DUE, date(2024, 6, 1), (NUT, Box.ANSWER, "as asked")))
    assert sheet.reply.lines[0].day == date(2024, 6, 1)
    assert "our 05 May 2024 was written over with 01 Jun 2024" in sheet.written_over[0]


@pytest.mark.parametrize(
    ("column", "value", "sentence"),
    [
        (PACKS, 7, "written over what we printed: 7 packs are confirmed where 2 were asked for"),
        (PACK, 5, "we ordered packs of 4, and 5 was written over it; put 4 back"),
        (PRICE, "ring me", "written over what we printed: 'ring me' is no price"),
        (PRICE, 1e30, "written over what we printed: the price of 31 digits is too large"),
        (DUE, date(2020, 1, 1), "01 Jan 2020 cannot be the day"),
    ],
)
def test_what_cannot_be_taken_over_a_printed_figure_is_refused_at_its_cell(
    column: str, value: Typed, sentence: str, tmp_path: Path
) -> None:
    file = over(tmp_path, NUT, column, value, (NUT, Box.ANSWER, "as asked"))
    text = refusal(file)
    assert sentence in text
    assert f'sheet "Order", cell {column}{row_of(the_sheet(file), NUT)}' in text


@pytest.mark.parametrize(
    ("column", "ours"), [(PACKS, "2"), (PACK, "4"), (PRICE, "3.20"), (DUE, "05 May 2024")]
)
def test_a_figure_of_ours_that_he_cleared_is_told(column: str, ours: str, tmp_path: Path) -> None:
    file = over(tmp_path, NUT, column, " ", (BOLT, Box.ANSWER, "as asked"))
    sheet = read(file)
    place = f'sheet "Order", cell {column}{row_of(the_sheet(file), NUT)}, line {NUT}'
    assert sheet.written_over == (
        f"{place}: our {ours} was cleared; it changes nothing here: ask him what he means",
    )
    assert [each.line for each in sheet.reply.lines] == [BOLT]


def test_a_sheet_as_it_went_out_tells_of_nothing_written_over(tmp_path: Path) -> None:
    boxes = [(line.id, Box.ANSWER, "as asked") for line in ORDER.lines]
    assert read(filled(tmp_path, *boxes)).written_over == ()


def test_a_sheet_from_before_its_figures_had_keys_is_still_read(tmp_path: Path) -> None:
    def forget(sheet: Worksheet) -> None:
        for column in "EFGI":
            sheet[f"{column}1"] = None

    file = handled(filled(tmp_path, (SHELL, Box.ANSWER, "as asked")), forget)
    assert read(file).written_over == ()


@pytest.mark.parametrize("column", [PRICE, "M"])
def test_a_price_of_nothing_is_refused_where_something_comes(column: str, tmp_path: Path) -> None:
    file = over(tmp_path, NUT, column, 0, (BOLT, Box.ANSWER, "as asked"))
    text = refusal(file)
    assert f"cell {column}{row_of(the_sheet(file), NUT)}: the price is 0, and our order has" in text
    assert "choose 'none' where nothing comes" in text


def test_a_price_of_nothing_beside_none_is_none(tmp_path: Path) -> None:
    (line,) = read(over(tmp_path, NUT, "M", 0, (NUT, Box.ANSWER, "none"))).reply.lines
    assert (line.packs, line.pack_price) == (0, Decimal(0))


@settings(max_examples=10, deadline=None)
@given(price=st.decimals("0.01", 200, places=2), own=st.none() | st.decimals("0.01", 200, places=2))
def test_no_price_on_the_sheet_is_lost(
    price: Decimal, own: Decimal | None, tmp_path_factory: pytest.TempPathFactory
) -> None:
    boxes = [] if own is None else [(BOLT, Box.PRICE, float(own))]
    file = over(tmp_path_factory.mktemp("reply"), BOLT, PRICE, float(price), *boxes)
    ours = Decimal("17.40")
    if own is None and price == ours:
        with pytest.raises(BadInput, match="nothing is filled in"):
            read(file)
        return
    sheet = read(file)
    assert sheet.reply.lines[0].pack_price == (price if own is None else own)
    assert bool(sheet.written_over) is (price != ours)
