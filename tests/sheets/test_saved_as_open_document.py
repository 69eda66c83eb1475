"""Filled sheets come back saved by a program that knows OpenDocument."""

import zipfile
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kitting.errors import BadInput
from kitting.sheets.cells import figure_in, words_in
from kitting.sheets.files import open_workbook
from kitting.sheets.orders.delivery_in import read_delivery
from kitting.sheets.orders.keys import Box, Count
from kitting.sheets.orders.reply import read_reply
from tests.libreoffice import convert_all
from tests.sheets import bench, test_build_sheet, test_delivery_sheet, test_order_reply
from tests.sheets.open_document import number_cell, row_of, sheet_of, text_cell, write_ods
from tests.sheets.test_strip_round import BENCH


def refused(file: Path) -> str:
    with pytest.raises(BadInput) as error:
        open_workbook(file)
    return str(error.value)


def test_every_sheet_that_comes_back_says_the_same_saved_as_open_document(tmp_path: Path) -> None:
    """Reply, delivery sheet, strip sheet and build sheet, saved as .ods by another program."""
    replied = test_order_reply.filled(
        tmp_path,
        (test_order_reply.SHELL, Box.ANSWER, "as asked"),
        (test_order_reply.BOLT, Box.PRICE, 17.95),
        (test_order_reply.NUT, Box.PACKS, 1),
        (test_order_reply.NUT, Box.DAY, date(2024, 5, 20)),
        (test_order_reply.SPRING, Box.SUBSTITUTE, "R 205"),
        (test_order_reply.GASKET, Box.REMARK, "the last  three, -see over"),
    )
    counted = test_delivery_sheet.filled(
        tmp_path,
        {
            (test_delivery_sheet.SHELL, Count.GOOD, None): 2,
            (test_delivery_sheet.SHELL, Count.FIGURE, "wall 1"): ".0609",
            (test_delivery_sheet.NUT, Count.GOOD, None): 5,
            (test_delivery_sheet.NUT, Count.NOTE, None): "box torn",
        },
    )
    stripped = bench.filled_sheet(tmp_path, *BENCH)
    path = test_build_sheet.a_path()
    built = test_build_sheet.written(path, tmp_path)
    test_build_sheet.filled(
        built,
        {
            test_build_sheet.WHO: "Joan",
            "read|shell-clearance||": 0.0015,
            "field|when": "3 May 2024",
        },
    )
    files = [replied, counted, stripped, built]
    reply, delivery, strip, build = convert_all(files, "ods", tmp_path / "saved")
    order, day = test_order_reply.ORDER, test_order_reply.LOADED
    assert read_reply(reply, order, day) == read_reply(replied, order, day)
    checks = (test_delivery_sheet.ORDER, test_delivery_sheet.CHECKS, test_delivery_sheet.DAY)
    assert read_delivery(delivery, *checks) == read_delivery(counted, *checks)
    assert [replace(f, place="") for f in bench.read(strip).findings] == [
        replace(f, place="") for f in bench.read(stripped).findings
    ]
    assert bench.read(strip).warnings == bench.read(stripped).warnings
    ours, theirs = (test_build_sheet.read(file, path) for file in (built, build))
    assert [(f.feature, f.value, f.who, f.when) for f in theirs.figures] == [
        (f.feature, f.value, f.who, f.when) for f in ours.figures
    ]
    assert theirs.warnings == ours.warnings


def test_what_is_wrong_is_told_at_its_cell(tmp_path: Path) -> None:
    nut, bolt = test_order_reply.NUT, test_order_reply.BOLT
    file = test_order_reply.filled(tmp_path, (nut, Box.PACKS, 9), (bolt, Box.REMARK, "=1+1"))
    (saved,) = convert_all([file], "ods", tmp_path / "saved")
    said = test_order_reply.refusal(saved).splitlines()
    assert [each.partition(":")[0].rstrip("0123456789") for each in said] == [
        'order.ods, sheet "Order", cell P',
        'order.ods, sheet "Order", cell L',
    ]
    assert "the cell holds the formula =1+1" in said[0]


def test_rows_and_cells_that_repeat_are_counted_and_not_built(tmp_path: Path) -> None:
    many = ' table:number-columns-repeated="1000000000"'
    rows = (
        row_of([f"<table:table-cell{many}/>"], ' table:number-rows-repeated="1000000000"'),
        row_of([f'<table:table-cell table:number-columns-repeated="2"/>{text_cell("here")}']),
    )
    file = write_ods(tmp_path / "long.ods", sheet_of(reversed(rows)))
    sheet = open_workbook(file).worksheets[0]
    assert [(c.coordinate, c.value) for row in sheet for c in row if c.value] == [("C1", "here")]


@pytest.mark.parametrize(
    "rows",
    [
        [row_of([text_cell("x")], ' table:number-rows-repeated="1000000000"')],
        [row_of([text_cell("x", ' table:number-columns-repeated="1000000000"')])] * 2001,
        [row_of([], ' table:number-rows-repeated="900000"'), row_of([text_cell("x")])],
    ],
)
def test_a_sheet_with_far_more_in_it_than_a_filled_one_is_refused(
    rows: list[str], tmp_path: Path
) -> None:
    text = refused(write_ods(tmp_path / "bomb.ods", sheet_of(rows)))
    assert 'bomb.ods, sheet "Sheet": far more is written in it than in a filled sheet' in text


def test_other_open_documents_and_damaged_ones_are_refused_in_a_sentence(tmp_path: Path) -> None:
    whole = sheet_of([row_of([text_cell("x")])])
    letter = "application/vnd.oasis.opendocument.text"
    assert "no sheet" in refused(write_ods(tmp_path / "letter.ods", whole, kind=letter))
    locked = write_ods(tmp_path / "a.ods", whole, **{"META-INF/manifest__xml": "encryption-data"})
    assert "protected by a password" in refused(locked)
    wrapped = write_ods(tmp_path / "b.ods", whole, **{"encrypted-package": "?"})
    assert "protected by a password" in refused(wrapped)
    assert "the workbook is damaged" in refused(write_ods(tmp_path / "c.ods", "<table:table>"))
    assert "the workbook is damaged" in refused(write_ods(tmp_path / "d.ods", ""))
    huge = write_ods(tmp_path / "e.ods", whole + "<!--" + "x" * 61_000_000 + "-->")
    assert "the workbook unpacks to 61 MB, far more than a filled sheet" in refused(huge)


def test_a_table_inside_a_cell_is_none_of_the_sheets(tmp_path: Path) -> None:
    inner = sheet_of([row_of([text_cell("within")])], "Inner")
    outer = f"<table:table-cell>{inner}</table:table-cell>{text_cell('beside')}"
    file = write_ods(tmp_path / "nested.ods", sheet_of([row_of([outer])]))
    (sheet,) = open_workbook(file).worksheets
    assert [(c.coordinate, c.value) for row in sheet for c in row if c.value] == [("B1", "beside")]


def test_days_times_and_yes_or_no_are_what_a_workbook_makes_of_them(tmp_path: Path) -> None:
    def cell(kind: str, value: str) -> str:
        part = "boolean" if kind == "boolean" else kind
        return (
            f'<table:table-cell office:value-type="{kind}" office:{part}-value="{value}">'
            "<text:p>shown</text:p></table:table-cell>"
        )

    cells = [
        cell("date", "2027-01-20"),
        cell("date", "never"),
        cell("time", "PT13H30M00S"),
        cell("boolean", "true"),
    ]
    file = write_ods(tmp_path / "kinds.ods", sheet_of([row_of(cells)], "a/b"))
    sheet = open_workbook(file).worksheets[0]
    values = [each.value for each in sheet[1]]
    assert [str(each) for each in values] == ["2027-01-20 00:00:00", "shown", "13:30:00", "True"]
    assert sheet.title == "a b"


_PRINTED = st.characters(min_codepoint=33, max_codepoint=0x24F)


@settings(max_examples=40, deadline=None)
@given(
    number=st.decimals(-(10**6), 10**6, places=4),
    text=st.text(_PRINTED, min_size=1, max_size=30),
    gap=st.integers(1, 9),
)
def test_a_figure_comes_back_as_it_was_typed_and_text_stays_text(
    number: Decimal, text: str, gap: int, tmp_path_factory: pytest.TempPathFactory
) -> None:
    blank = f'<table:table-cell table:number-columns-repeated="{gap}"/>'
    row = row_of([number_cell(format(number, "f")), blank, text_cell(text)])
    file = tmp_path_factory.mktemp("typed") / "typed.ods"
    sheet = open_workbook(write_ods(file, sheet_of([row]))).worksheets[0]
    assert Decimal(figure_in(sheet.cell(1, 1))) == number
    assert words_in(sheet.cell(1, gap + 2)) == " ".join(text.split())
    assert sheet.cell(1, gap + 2).data_type == "s"


def test_a_sheet_under_the_wrong_name_is_read_as_what_it_is(tmp_path: Path) -> None:
    file = write_ods(tmp_path / "reply.xlsx", sheet_of([row_of([text_cell("x")])]))
    assert not zipfile.ZipFile(file).namelist().count("xl/workbook.xml")
    assert open_workbook(file).worksheets[0]["A1"].value == "x"
