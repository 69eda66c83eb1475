"""Words in a text box that a supplier lays on the order's sheet stand in no cell, and are told."""

import zipfile
from collections.abc import Iterable
from pathlib import Path

import openpyxl
import pytest
from openpyxl.comments import Comment

from kitting.errors import BadInput
from kitting.sheets.drawn import drawn_words
from kitting.sheets.orders.keys import Box
from kitting.sheets.orders.reply import FilledSheet, read_reply
from tests.libreoffice import convert_all
from tests.sheets.open_document import row_of, sheet_of, text_cell, write_ods
from tests.sheets.test_order_reply import LOADED, ORDER, SHELL, blank, filled

_SPACE = "http://schemas.openxmlformats.org"
_DRAWING = f"{_SPACE}/drawingml/2006"
_RELATED = f"{_SPACE}/officeDocument/2006/relationships"
_KIND = "application/vnd.openxmlformats-officedocument.drawing+xml"
_OPEN = 'xmlns:draw="urn:oasis:names:tc:opendocument:xmlns:drawing:1.0"'
MARCH = "Oil seal set: out of stock until March"


def paragraph(text: str) -> str:
    return f"<a:p><a:r><a:t>{text}</a:t></a:r></a:p>"


def box(*paragraphs: str) -> str:
    lines = "".join(map(paragraph, paragraphs))
    return (
        '<xdr:sp><xdr:nvSpPr><xdr:cNvPr id="2" name="Box"/><xdr:cNvSpPr txBox="1"/></xdr:nvSpPr>'
        '<xdr:spPr><a:xfrm><a:off x="0" y="0"/><a:ext cx="2880000" cy="720000"/></a:xfrm>'
        '<a:prstGeom prst="rect"><a:avLst/></a:prstGeom></xdr:spPr>'
        f"<xdr:txBody><a:bodyPr/>{lines}</xdr:txBody></xdr:sp>"
    )


def at(row: int, column: int, shape: str) -> str:
    """A shape from a cell to one three rows and columns on, counted from 0."""
    corners = "".join(
        f"<xdr:{name}><xdr:col>{column + on}</xdr:col><xdr:colOff>0</xdr:colOff>"
        f"<xdr:row>{row + on}</xdr:row><xdr:rowOff>0</xdr:rowOff></xdr:{name}>"
        for name, on in (("from", 0), ("to", 3))
    )
    return f"<xdr:twoCellAnchor>{corners}{shape}<xdr:clientData/></xdr:twoCellAnchor>"


def drawn_on(file: Path, shapes: Iterable[str], sheet: int = 1) -> Path:
    """The workbook with shapes on one of its sheets, put in as other programs do."""
    with zipfile.ZipFile(file) as packed:
        parts = {name: packed.read(name) for name in packed.namelist()}
    page, listed = f"xl/worksheets/sheet{sheet}.xml", f"xl/worksheets/_rels/sheet{sheet}.xml.rels"
    assert listed not in parts
    link = f'<drawing xmlns:r="{_RELATED}" r:id="rId9"/>'
    before, end, rest = parts[page].decode().partition("</worksheet>")
    parts[page] = f"{before}{link}{end}{rest}".encode()
    parts[listed] = (
        f'<Relationships xmlns="{_SPACE}/package/2006/relationships"><Relationship Id="rId9" '
        f'Type="{_RELATED}/drawing" Target="../drawings/drawing{sheet}.xml"/></Relationships>'
    ).encode()
    parts[f"xl/drawings/drawing{sheet}.xml"] = (
        f'<xdr:wsDr xmlns:xdr="{_DRAWING}/spreadsheetDrawing" xmlns:a="{_DRAWING}/main" '
        'xmlns:mc="http://schemas.openxmlformats.org/markup-compatibility/2006">'
        f"{''.join(shapes)}</xdr:wsDr>"
    ).encode()
    known = parts["[Content_Types].xml"].decode()
    part = f'<Override PartName="/xl/drawings/drawing{sheet}.xml" ContentType="{_KIND}"/>'
    parts["[Content_Types].xml"] = known.replace("</Types>", f"{part}</Types>").encode()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, content in parts.items():
            packed.writestr(name, content)
    return file


def answered(folder: Path, *shapes: str) -> Path:
    return drawn_on(filled(folder, (SHELL, Box.ANSWER, "as asked")), shapes)


def read(file: Path) -> FilledSheet:
    return read_reply(file, ORDER, LOADED)


def test_words_in_a_text_box_are_told_and_change_no_line(tmp_path: Path) -> None:
    file = answered(tmp_path, at(16, 1, box("Oil seal set:", "out of stock until March")))
    (saved,) = convert_all([file], "ods", tmp_path / "saved")
    words = f"'{MARCH}' was written in a box that he laid on the sheet"
    ask = "it changes nothing here: ask him what he means"
    assert read(file).written_over == (f'sheet "Order", at cell B17: {words}; {ask}',)
    assert read(saved).written_over == (f'sheet "Order": {words}; {ask}',)
    for each in (file, saved):
        (line,) = read(each).reply.lines
        assert (line.line, line.remark) == (SHELL, "")


def test_every_shape_is_read_once_a_group_and_a_second_choice_too(tmp_path: Path) -> None:
    group = f"<xdr:grpSp><xdr:grpSpPr/>{box('first')}{box('second')}</xdr:grpSp>"
    choice = (
        f'<mc:AlternateContent><mc:Choice Requires="a14">{box("third")}</mc:Choice>'
        f"<mc:Fallback>{box('third')}</mc:Fallback></mc:AlternateContent>"
    )
    file = answered(tmp_path, at(0, 0, group), at(30, 27, choice), at(40, 2, box("", " ")))
    assert [(each.cell, each.text) for each in drawn_words(file)] == [
        ("A1", "first"),
        ("A1", "second"),
        ("AB31", "third"),
    ]


def test_a_text_box_on_a_sheet_of_his_own_is_told_with_its_sheet(tmp_path: Path) -> None:
    file = filled(tmp_path, (SHELL, Box.ANSWER, "as asked"))
    book = openpyxl.load_workbook(file)
    book.create_sheet("Notes")
    book.save(file)
    (told,) = read(drawn_on(file, [at(2, 0, box(MARCH))], sheet=2)).written_over
    assert told.startswith(f"""sheet "Notes", at cell A3: '{MARCH}' was written in a box""")


def test_of_many_text_boxes_the_first_are_told(tmp_path: Path) -> None:
    told = read(answered(tmp_path, *(at(n, 0, box(f"no {n}")) for n in range(23)))).written_over
    assert len(told) == 21
    assert told[-1].startswith('sheet "Order": 3 more boxes have words of his')


def test_a_text_box_on_a_blank_sheet_is_told_though_nothing_is_filled_in(tmp_path: Path) -> None:
    file = drawn_on(blank(tmp_path), [at(16, 1, box(MARCH))])
    with pytest.raises(BadInput, match="nothing is filled in") as refused:
        read(file)
    assert f"order.xlsx, sheet \"Order\", at cell B17: '{MARCH}' was written" in str(refused.value)


def test_a_note_pinned_to_a_cell_is_no_text_box(tmp_path: Path) -> None:
    file = filled(tmp_path, (SHELL, Box.ANSWER, "as asked"))
    book = openpyxl.load_workbook(file)
    book.worksheets[0]["A3"].comment = Comment("see my letter", "U. Held")
    book.save(file)
    (saved,) = convert_all([file], "ods", tmp_path / "saved")
    for each in (file, saved):
        assert drawn_words(each) == ()
        assert len(read(each).written_over) == 1


def test_shapes_of_an_open_document_are_read_wherever_they_are_pinned(tmp_path: Path) -> None:
    shape = "<draw:custom-shape><text:p>on the {}</text:p><text:p>left</text:p></draw:custom-shape>"
    frame = "<draw:frame><draw:text-box><text:p>in a <text:span>frame</text:span></text:p>"
    frame += "</draw:text-box></draw:frame>"
    inner = sheet_of([row_of([text_cell("inner")])], "inner")
    pinned = f"<table:table-cell>{frame}<text:p>words</text:p></table:table-cell>"
    shapes = f"<table:shapes {_OPEN}>{shape.format('sheet')}</table:shapes>"
    rows = [shapes, row_of([pinned, f"<table:table-cell>{inner}</table:table-cell>"], f" {_OPEN}")]
    file = write_ods(tmp_path / "drawn.ods", sheet_of(rows, "One") + sheet_of([], "Two"))
    assert [(each.sheet, each.text) for each in drawn_words(file)] == [
        ("One", "on the sheet left"),
        ("One", "in a frame"),
    ]
