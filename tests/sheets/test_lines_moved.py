"""Lines, sums and headings that a supplier moved or translated are known again."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl.cell.cell import Cell, MergedCell
from openpyxl.cell.rich_text import CellRichText, TextBlock
from openpyxl.cell.text import InlineFont
from openpyxl.comments import Comment
from openpyxl.styles import Font
from openpyxl.worksheet.worksheet import Worksheet

from kitting.sheets.orders.formulas import shape_of
from kitting.sheets.orders.keys import Addresses, Box
from kitting.sheets.orders.reply import FilledSheet, read_reply
from kitting.sheets.orders.supplier_sheet import write_supplier_order
from tests.libreoffice import convert_all
from tests.libreoffice_hands import by_hand, inserts_row, sorts
from tests.sheets.opened import the_sheet
from tests.sheets.test_order_reply import (
    BOLT,
    LOADED,
    NUT,
    ORDER,
    SHELL,
    SHOP,
    filled,
    handled,
    refusal,
    row_of,
    said,
)

ANSWERS = ((SHELL, Box.ANSWER, "as asked"), (NUT, Box.PACKS, 1), (BOLT, Box.PRICE, 17.95))
_LAST = 16


def read(file: Path) -> FilledSheet:
    return read_reply(file, ORDER, LOADED)


def answered(folder: Path, do: Callable[[Worksheet], object] = lambda _: None) -> Path:
    return handled(filled(folder, *ANSWERS), do)


def table(sheet: Worksheet) -> range:
    """The rows of the headings and of the lines."""
    first = row_of(sheet, "Line")
    return range(first, first + len(ORDER.lines) + 1)


def arranged(sheet: Worksheet, order: Callable[[list[int]], list[int]]) -> None:
    """Put the rows of the table, headings and all, into another order."""
    rows = list(table(sheet))
    held = {row: [sheet.cell(row, at).value for at in range(1, _LAST + 1)] for row in rows}
    for to, source in zip(rows, order(rows), strict=True):
        for at, value in enumerate(held[source], start=1):
            text = str(value)
            own = text.replace(str(source), str(to)) if text.startswith("=ROUND") else value
            cell = sheet.cell(to, at)
            assert isinstance(cell, Cell)
            kind = "f" if own is not value else "s" if isinstance(value, str) else ""
            cell.value = own
            cell.data_type = kind or cell.data_type


@settings(max_examples=8, deadline=None)
@given(seed=st.integers(0, 10**6))
def test_sorted_with_its_headings_a_reply_says_the_same(
    seed: int, tmp_path_factory: pytest.TempPathFactory
) -> None:
    folder = tmp_path_factory.mktemp("sorted")
    before = read(answered(folder))
    shuffle = Random(seed).sample
    after = read(answered(folder, lambda s: arranged(s, lambda rows: shuffle(rows, len(rows)))))
    assert after.reply == before.reply
    assert after.written_over == ()


@pytest.mark.parametrize("falling", [False, True])
def test_sorted_with_its_headings_in_another_program_it_says_the_same(
    falling: bool, tmp_path: Path
) -> None:
    file = answered(tmp_path)
    rows = table(the_sheet(file))
    cells = f"A{rows[0]}:P{rows[-1]}"
    steps = (sorts(cells, 0, falling=falling), inserts_row(rows[2]))
    back = by_hand(file, tmp_path / "back.xlsx", *steps)
    sorted_rows = [cell.value for cell in the_sheet(back)["A"] if cell.value]
    first = ORDER.line(str(sorted_rows[sorted_rows.index("Line") - 1]))
    assert first is not None, "the headings stand among the lines"
    for each in (back, *convert_all([back], "ods", tmp_path / "saved")):
        assert read(each).reply == read(file).reply
        assert read(each).written_over == ()


def test_a_row_put_above_the_headings_is_still_its_line(tmp_path: Path) -> None:
    def move(sheet: Worksheet) -> None:
        row, to = row_of(sheet, NUT), row_of(sheet, "Line") - 1
        sheet.move_range(f"A{row}:P{row}", to - row, translate=True)

    sheet = read(answered(tmp_path, move))
    assert said(sheet.reply)[NUT][0] == 1
    assert sheet.written_over == ()


def test_a_row_above_the_headings_with_numbers_but_without_its_letters_is_refused(
    tmp_path: Path,
) -> None:
    def move(sheet: Worksheet) -> None:
        row, to = row_of(sheet, NUT), row_of(sheet, "Line") - 1
        sheet.move_range(f"A{row}:P{row}", to - row, translate=True)
        sheet.cell(to, 1).value = "nut"

    assert "'NUT' is no line of order P1001" in refusal(answered(tmp_path, move))


_GERMAN = {"Line": "Zeile", "Part": "Teil", "Packs": "Menge", "Line total": "Summe"}


@pytest.mark.parametrize("words", [{"Line": "Zeile"}, _GERMAN])
def test_translated_headings_are_told_once_and_hide_no_answer(
    words: dict[str, str], tmp_path: Path
) -> None:
    def translate(sheet: Worksheet) -> None:
        for cell in sheet[row_of(sheet, "Line")]:
            cell.value = words.get(str(cell.value), cell.value)

    file = answered(tmp_path, translate)
    sheet = read(file)
    plain = read(answered(tmp_path)).reply
    assert sheet.reply == replace(plain, beside=sheet.reply.beside)
    (told,), (kept,) = sheet.written_over, sheet.reply.beside
    assert told.startswith(kept)
    assert ", ".join(f"'{word}'" for word in words.values()) in told


def test_a_whole_sheet_of_his_is_told_in_a_few_sentences(tmp_path: Path) -> None:
    def add(sheet: Worksheet) -> None:
        assert sheet.parent is not None
        his = sheet.parent.create_sheet("List")
        for row in range(300):
            his.cell(row + 1, 1, f"W{row}").offset(0, 1).value = row
            sheet.cell(sheet.max_row + 1, 1).value = f"See page {row}"

    file = answered(tmp_path, add)
    told = read(file).written_over
    assert len(told) == 42
    assert "sheet \"List\", cells A1 to B1: 'W0', '0' were written on a sheet of his" in told[-21]
    assert all("280 more rows have words of his" in told[at] for at in (20, -1))


def over_sum(name: str, value: str | float) -> Callable[[Worksheet], None]:
    def write(sheet: Worksheet) -> None:
        named = {str(cell.value): cell.row for cell in sheet["D"]}
        sheet[f"H{named[name]}"] = value

    return write


def on_line(column: str, value: str | float) -> Callable[[Worksheet], None]:
    def write(sheet: Worksheet) -> None:
        row = row_of(sheet, NUT)
        sheet[f"{column}{row}"] = value.replace("#", str(row)) if isinstance(value, str) else value

    return write


_TOLD = [
    (on_line("H", "=ROUND(E#*G#*1.1,2)"), "*1.1,2)' was written over our 6.40"),
    (on_line("H", "=ROUND(E#*E#,2)"), "' was written over our 6.40"),
    (on_line("Q", "=G#*1.05"), "*1.05' was written beside the table"),
    (on_line("Q", 2), "'2' was written beside the table"),
    (on_line("Q", "W320"), "'W320' was written beside the table"),
    (over_sum("Carriage, by your terms", "=H19*0.1"), "was written over with =H19*0.1"),
    (over_sum("Goods", "=SUM(H3:H4)"), "for 'Goods' was written over with =SUM(H3:H4)"),
    (lambda s: s.__setitem__("B4", "Unit 9"), "cell B4: 'Unit 9' was written there"),
    (lambda s: s.__setitem__("A3", "new owner"), "cell A3: 'new owner' was written there"),
]


@pytest.mark.parametrize("kind", ["", "xlsx", "ods"])
def test_formulas_and_figures_of_his_are_told_wherever_they_stand(
    kind: str, tmp_path: Path
) -> None:
    files = [
        answered(tmp_path, do).rename(tmp_path / f"{number}.xlsx")
        for number, (do, _) in enumerate(_TOLD)
    ]
    saved = convert_all(files, kind, tmp_path / "saved") if kind else files
    for file, (_, sentence) in zip(saved, _TOLD, strict=True):
        (told,) = read(file).written_over
        assert sentence in told


def test_a_comment_and_a_line_through_the_addresses_are_told(tmp_path: Path) -> None:
    def pin(sheet: Worksheet) -> None:
        sheet["A3"].comment = Comment("see letter", "S")
        sheet["B4"].font = Font(strike=True)

    told = read(answered(tmp_path, pin)).written_over
    assert "the comment 'see letter' is pinned to it" in told[0]
    assert told[1].endswith("is struck through; it changes nothing here: ask him what he means")


def test_addresses_that_are_others_by_now_are_no_words_of_his(tmp_path: Path) -> None:
    file = tmp_path / "order.xlsx"
    moved = replace(ORDER, supplier=replace(ORDER.supplier, address="as it was, in May"))
    write_supplier_order(moved, replace(SHOP, name="Our old name"), file)
    handled(file, lambda sheet: sheet.__setitem__(f"K{row_of(sheet, SHELL)}", "as asked"))
    assert read(file).written_over == ()


def test_a_sheet_from_before_its_addresses_were_marked_is_believed(tmp_path: Path) -> None:
    def forget(sheet: Worksheet) -> None:
        (marked,) = (cell for cell in sheet[1] if Addresses.read(cell.value) is not None)
        marked.value = None
        sheet["B4"] = "another by now"

    assert read(answered(tmp_path, forget)).written_over == ()


def partly(sheet: Worksheet, column: str) -> None:
    struck = TextBlock(InlineFont(strike=True), "R205")
    cell = sheet[f"{column}{row_of(sheet, NUT)}"]
    assert not isinstance(cell, MergedCell)
    cell.value = CellRichText(struck, " R206")


@pytest.mark.parametrize("kind", ["", "ods"])
@pytest.mark.parametrize("column", ["O", "P", "L", "R"])
def test_words_of_which_a_part_is_struck_out_count_for_nothing_unasked(
    kind: str, column: str, tmp_path: Path
) -> None:
    file = answered(tmp_path, lambda sheet: partly(sheet, column))
    if kind:
        (file,) = convert_all([file], kind, tmp_path / "saved")
    if column == "R":
        told = read(file).written_over
        assert any("'R205' of 'R205 R206' is struck through" in each for each in told)
        return
    text = refusal(file)
    assert "'R205' of 'R205 R206' is struck through; clear what holds no more" in text


@given(
    columns=st.lists(st.sampled_from("BCDEFGH"), min_size=2, max_size=2, unique=True),
    row=st.integers(1, 900),
    pinned=st.booleans(),
)
def test_a_formula_is_the_same_wherever_its_row_and_columns_were_moved(
    columns: list[str], row: int, pinned: bool
) -> None:
    named = dict(zip(columns, ("Packs", "Price"), strict=True))
    packs, price = columns
    mark = "$" if pinned else ""
    moved = f"=ROUND(ROUND(({packs}{row} * {mark}{price}{mark}{row})*100.0,4),0)/100"
    ours = shape_of("=ROUND(ROUND((E7*G7)*100,4),0)/100", {"E": "Packs", "G": "Price"})
    assert shape_of(moved, named) == ours
    assert shape_of(moved.replace("*100", "*110"), named) != ours
    assert shape_of(moved, {packs: "Price", price: "Packs"}) != ours
