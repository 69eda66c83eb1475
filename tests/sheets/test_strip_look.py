"""How a strip sheet looks to whoever fills it in, on a tablet and on paper."""

from dataclasses import replace
from pathlib import Path

import openpyxl
import pytest
from openpyxl import Workbook
from openpyxl.utils import get_column_letter

from kitting.errors import BadInput, NotFound
from kitting.sheets.strip.keys import Column
from kitting.sheets.strip.sheet_out import write_strip_sheet
from tests.libreoffice import convert
from tests.sheets.bench import JOB, WREN, blank_sheet, cell_of, row_of


@pytest.fixture
def book(tmp_path: Path) -> Workbook:
    return openpyxl.load_workbook(blank_sheet(tmp_path))


def test_assemblies_stand_in_the_order_in_which_the_engine_comes_apart(book: Workbook) -> None:
    assert book.sheetnames == ["Cover", "Top end", "Lubrication", "Bottom end", "Sizes", "Lists"]
    assert book["Lists"].sheet_state == "hidden"


def test_the_cover_names_the_job_and_cautions_of_left_hand_threads_first(book: Workbook) -> None:
    texts = [str(cell.value) for row in book["Cover"].iter_rows() for cell in row if cell.value]
    assert "J-104" in texts
    assert "WS 612" in texts
    assert "catalogue edition 2024-1" in " ".join(texts)
    cautions = [text for text in texts if text.startswith("•")]
    assert cautions[0].startswith("•  LEFT-HAND THREADS FIRST")
    assert any("asbestos" in text for text in texts)
    assert any("Used engine oil" in text for text in texts)
    assert any("The rod bolts stretch" in text for text in texts)


def test_the_customers_name_is_not_on_it(book: Workbook) -> None:
    for sheet in book.worksheets:
        for row in sheet.iter_rows():
            assert not any("Pettifer" in str(cell.value) for cell in row)


def test_limits_and_unit_stand_beside_every_box(book: Workbook) -> None:
    sheet = book["Bottom end"]
    row = row_of(sheet, "plan|crankpin-diameter")
    assert [sheet.cell(row + at, 3).value for at in range(3)] == [
        "std 1.4990 to 1.4995",
        "worn under 1.4980",
        "ovality 0.0005, taper 0.0005",
    ]
    assert sheet.cell(row, 4).value == "in"
    assert [sheet.cell(row, at).value for at in (5, 6)] == ["at 0", "at 90"]
    single = book["Lubrication"]
    row = row_of(single, "read|pump-float||")
    assert single.cell(row, 3).value == "new 0.0010 to 0.0030\nworn over 0.0050"


def test_grades_are_chosen_from_the_observations_own_list(book: Workbook) -> None:
    sheet = book["Bottom end"]
    box = cell_of(sheet, "seen|shells|scoring", Column.LIMITS)
    offered = [v for v in sheet.data_validations.dataValidation if box in v.sqref]
    assert len(offered) == 1
    lists = book["Lists"]
    column = next(at for at, cell in enumerate(lists[1], start=1) if cell.value == "scoring")
    grades = [lists.cell(row, column).value for row in range(2, 6)]
    assert grades == ["none", "light", "fingernail catches", "deep"]
    letter = get_column_letter(column)
    assert offered[0].formula1 == f"'Lists'!${letter}$2:${letter}$5"


def test_headings_stay_in_sight_and_are_repeated_on_paper(book: Workbook) -> None:
    for name in ("Top end", "Lubrication", "Bottom end"):
        sheet = book[name]
        assert sheet.freeze_panes == "C4"
        assert sheet.print_title_rows == "$2:$3"
        assert str(sheet.page_setup.paperSize) == sheet.PAPERSIZE_A4
        assert sheet.page_setup.fitToWidth == 1


def test_boxes_keep_what_is_typed_and_nothing_is_a_formula(book: Workbook) -> None:
    sheet = book["Bottom end"]
    box = cell_of(sheet, "read|crankpin-diameter|front|0|90", Column.FIRST)
    assert sheet[box].number_format == "@"
    for each in book.worksheets:
        assert not any(cell.data_type == "f" for row in each.iter_rows() for cell in row)
        assert not each.merged_cells.ranges


def test_a_position_of_another_variant_is_left_out(tmp_path: Path) -> None:
    path = tmp_path / "early.xlsx"
    write_strip_sheet(WREN, "mark-1", path)
    keys = [str(row[0].value) for row in openpyxl.load_workbook(path)["Bottom end"].iter_rows()]
    assert "position|shells" in keys
    assert "position|tab-washer" not in keys


def test_names_that_no_sheet_may_have_are_made_fit(tmp_path: Path) -> None:
    names = ("Left/right: [crank] and everything that turns with it", "Cover", "=1+1")
    family = replace(
        WREN,
        assemblies=tuple(
            replace(assembly, name=name)
            for assembly, name in zip(WREN.assemblies, names, strict=True)
        ),
    )
    path = tmp_path / "odd.xlsx"
    write_strip_sheet(family, "mark-2", path)
    book = openpyxl.load_workbook(path)
    assert book.sheetnames[1:4] == ["Left right crank and everything", "Cover 2", "=1+1"]
    assert book["=1+1"]["B2"].data_type == "s"


def test_an_unknown_variant_and_a_job_of_another_edition_are_refused(tmp_path: Path) -> None:
    with pytest.raises(NotFound, match="no variant 'mark-9'"):
        write_strip_sheet(WREN, "mark-9", tmp_path / "sheet.xlsx")
    with pytest.raises(BadInput, match="it is on wren-single mark-2, edition 2020-1"):
        write_strip_sheet(WREN, "mark-2", tmp_path / "sheet.xlsx", replace(JOB, edition="2020-1"))
    assert list(tmp_path.iterdir()) == []


def test_it_prints_one_page_wide(tmp_path: Path) -> None:
    printed = convert(blank_sheet(tmp_path), "pdf", tmp_path / "print")
    pages = printed.read_bytes().count(b"/Type/Page/")
    assert pages == 5  # the cover, three assemblies, the sizes; a second width would double them
