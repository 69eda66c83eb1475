"""The reply after a supplier worked on it in another spreadsheet program."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from kitting.errors import BadInput
from kitting.sheets.orders.reply import read_reply
from tests.libreoffice_hands import (
    by_hand,
    dates,
    deletes_column,
    inserts_row,
    renames,
    sorts,
    types,
)
from tests.sheets.opened import the_sheet
from tests.sheets.test_order_reply import BOLT, GASKET, LOADED, NUT, ORDER, SHELL, blank, row_of


def test_sorted_renamed_with_rows_put_in_and_saved_by_another_program(tmp_path: Path) -> None:
    file = blank(tmp_path)
    sheet = the_sheet(file)
    rows = {line: row_of(sheet, line) for line in (SHELL, BOLT, NUT, GASKET)}
    first = min(row_of(sheet, line.id) for line in ORDER.lines)
    last = first + len(ORDER.lines) - 1
    back = by_hand(
        file,
        tmp_path / "zurück.xlsx",
        types(f"K{rows[SHELL]}", "as asked"),
        types(f"M{rows[BOLT]}", "17.95"),
        types(f"L{rows[NUT]}", "1"),
        dates(f"N{rows[NUT]}", "2024-05-20"),
        types(f"P{rows[GASKET]}", "the last three"),
        types(f"B{row_of(sheet, 'Answered by')}", "U. Held"),
        sorts(f"A{first}:P{last}", 3, falling=True),
        inserts_row(1),
        inserts_row(first + 3),
        inserts_row(first),
        renames("Antwort"),
    )
    sorted_rows = [c.value for c in the_sheet(back)["A"] if ORDER.line(str(c.value))]
    assert sorted_rows != [line.id for line in ORDER.lines]
    assert the_sheet(back).title == "Antwort"
    reply = read_reply(back, ORDER, LOADED).reply
    told = {each.line: each for each in reply.lines}
    assert set(told) == {SHELL, BOLT, NUT, GASKET}
    assert (told[SHELL].packs, told[SHELL].pack_price) == (1, Decimal("18.00"))
    assert told[BOLT].pack_price == Decimal("17.95")
    assert (told[NUT].packs, told[NUT].day) == (1, date(2024, 5, 20))
    assert told[GASKET].remark == "the last three"
    assert reply.who == "U. Held"


def test_saved_untouched_by_another_program_it_is_the_same_reply(tmp_path: Path) -> None:
    file = blank(tmp_path)
    row = row_of(the_sheet(file), NUT)
    once = by_hand(file, tmp_path / "once.xlsx", types(f"K{row}", "none"))
    twice = by_hand(once, tmp_path / "twice.xlsx")
    first, second = (read_reply(each, ORDER, LOADED).reply for each in (once, twice))
    assert first == second
    assert first.lines[0].packs == 0


def test_a_column_that_the_supplier_deleted_is_named(tmp_path: Path) -> None:
    file = blank(tmp_path)
    row = row_of(the_sheet(file), NUT)
    back = by_hand(file, tmp_path / "back.xlsx", types(f"L{row}", "1"), deletes_column("N"))
    with pytest.raises(BadInput, match="the column 'day' is gone"):
        read_reply(back, ORDER, LOADED)


def test_a_column_moved_aside_is_still_known(tmp_path: Path) -> None:
    file = blank(tmp_path)
    row = row_of(the_sheet(file), NUT)
    aside = "  sheet.Columns.insertByIndex(2, 2)"
    back = by_hand(file, tmp_path / "back.xlsx", types(f"L{row}", "1"), aside)
    assert read_reply(back, ORDER, LOADED).reply.lines[0].packs == 1


def test_a_formula_that_another_program_keeps_in_a_remark_is_refused(tmp_path: Path) -> None:
    file = blank(tmp_path)
    row = row_of(the_sheet(file), BOLT)
    back = by_hand(file, tmp_path / "back.xlsx", types(f"P{row}", "=1+1"))
    with pytest.raises(BadInput, match="the cell holds the formula =1"):
        read_reply(back, ORDER, LOADED)


def test_a_number_that_looks_like_a_formula_comes_back_as_it_went(tmp_path: Path) -> None:
    file = blank(tmp_path)
    row = row_of(the_sheet(file), GASKET)
    back = by_hand(file, tmp_path / "back.xlsx", types(f"K{row}", "as asked"))
    assert the_sheet(back)[f"B{row}"].value == "=1/2-20"
    assert replace(read_reply(back, ORDER, LOADED).reply.lines[0], remark="").line == GASKET
