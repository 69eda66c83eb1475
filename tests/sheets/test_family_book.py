"""A family out to a workbook and back: nothing lost, and every fault with its sheet and cell."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl import load_workbook
from openpyxl.worksheet.worksheet import Worksheet

from kitting.catalog.check import check_family
from kitting.catalog.columns import (
    FAMILY_FILES,
    FAMILY_KEYS,
    FEATURE_KINDS,
    LABOUR_ACTIONS,
    VAT_CATEGORIES,
)
from kitting.catalog.family import Family
from kitting.catalog.model import LinkKind, Verdict
from kitting.catalog.pages import FamilyPages, Page, PageLine, pages_of, read_pages, write_pages
from kitting.catalog.rules import Then, Weight, When
from kitting.catalog.shipped import catalogue_folders, shipped_folder
from kitting.catalog.size_tables import SizeKind
from kitting.errors import BadInput
from kitting.sheets.families.book_in import FamilyBook, read_family_book
from kitting.sheets.families.book_out import write_family_book
from kitting.sheets.families.words import family_sheets
from tests.catalog.test_writing import a_random_family
from tests.libreoffice import convert
from tests.wren import tiny_family

# What the Wren's sheets open with: what the sheet holds, the headings, their notes.
FIRST_ROW = 4
FAMILIES, _ = catalogue_folders(shipped_folder())
Change = Callable[[Worksheet], object]


def carried(pages: FamilyPages) -> FamilyBook:
    with TemporaryDirectory() as folder:
        path = Path(folder) / "family.xlsx"
        write_family_book(pages, path)
        return read_family_book(path)


def faults(folder: Path, sheet: str, change: Change) -> list[str]:
    """What is told of the Wren's workbook after a change in one sheet."""
    path = folder / "wren.xlsx"
    write_family_book(pages_of(tiny_family()), path, overwrite=True)
    book = load_workbook(path)
    change(book[sheet])
    book.save(path)
    try:
        read = read_family_book(path)
    except BadInput as error:
        return [str(problem) for problem in error.problems]
    report = check_family(read.family, read.sources)
    return [str(problem) for problem in read.told(report.faults)]


def test_every_column_of_the_text_files_has_a_heading_and_a_note_in_words() -> None:
    sheets = family_sheets()
    assert list(sheets) == list(FAMILY_FILES)
    for table, columns in FAMILY_FILES.items():
        assert tuple(column.name for column in sheets[table].columns) == columns
        headings = {column.heading.casefold() for column in sheets[table].columns}
        assert len(headings) == len(columns)
        assert sheets[table].about
        assert all(column.note and "_" not in column.heading for column in sheets[table].columns)


def test_every_reference_of_a_column_is_to_a_key_that_a_sheet_has() -> None:
    for sheet in family_sheets().values():
        for column in sheet.columns:
            if column.refers:
                table, name = column.refers
                assert name in FAMILY_FILES[table]


WORDS: Mapping[str, Iterable[str]] = {
    "family.key": ("key", *FAMILY_KEYS),
    "features.kind": FEATURE_KINDS,
    "features.if_out": set(Verdict) - {Verdict.REUSE},
    "size_tables.kind": SizeKind,
    "judgements.verdict": Verdict,
    "consequences.when": When,
    "consequences.then": Then,
    "consequences.weight": Weight,
    "parts.vat": VAT_CATEGORIES,
    "links.kind": LinkKind,
    "labour.action": LABOUR_ACTIONS,
}


def test_the_words_offered_are_those_that_the_program_knows() -> None:
    offered = {
        f"{sheet.table}.{column.name}": set(column.words)
        for sheet in family_sheets().values()
        for column in sheet.columns
        if column.words and not column.is_mark
    }
    assert offered == {where: {str(word) for word in words} for where, words in WORDS.items()}


@settings(max_examples=40, deadline=None)
@given(a_random_family())
def test_whatever_a_family_holds_comes_back_from_its_workbook(family: Family) -> None:
    assert carried(pages_of(family)).family == family


_COMMENTS = st.text(
    st.characters(blacklist_categories=("Cs", "Cc", "Zs", "Zl", "Zp")), max_size=20
).map(lambda text: f"# {text}".strip())


@settings(max_examples=40, deadline=None)
@given(st.data())
def test_comments_come_back_in_their_places(data: st.DataObject) -> None:
    pages = pages_of(tiny_family())
    said: dict[str, Page] = {}
    for file, page in pages.pages.items():
        lines = list(page.lines)
        for comment in data.draw(st.lists(_COMMENTS, max_size=2)):
            lines.insert(data.draw(st.integers(0, len(lines))), PageLine(comment=comment))
        head = tuple(data.draw(st.lists(_COMMENTS, max_size=2)))
        said[file] = Page(head, tuple(lines))
    assert carried(FamilyPages(pages.key, said)).pages == FamilyPages(pages.key, said)


@pytest.mark.parametrize("folder", FAMILIES, ids=lambda folder: folder.name)
def test_the_shipped_files_come_back_to_the_letter_but_for_needless_quotation_marks(
    folder: Path, tmp_path: Path
) -> None:
    back = carried(read_pages(folder)).pages
    written = write_pages(back, tmp_path / folder.name)
    assert [path.name for path in written] == [f"{file}.csv" for file in FAMILY_FILES]
    assert read_pages(tmp_path / folder.name) == read_pages(folder)
    for path in written:
        before, after = (each.read_text() for each in (folder / path.name, path))
        assert after.replace('"', "") == before.replace('"', ""), path.name


def test_nothing_is_lost_by_way_of_another_spreadsheet_program(tmp_path: Path) -> None:
    path = tmp_path / "family.xlsx"
    pages = read_pages(FAMILIES[0])
    write_family_book(pages, path)
    back = read_family_book(convert(path, "xlsx", tmp_path / "saved"))
    assert back.pages == pages


def test_every_cell_is_text_and_stays_so_below_the_last_row(tmp_path: Path) -> None:
    path = tmp_path / "wren.xlsx"
    write_family_book(pages_of(tiny_family()), path)
    for title in ("Parts", "Grades", "Links"):
        sheet = load_workbook(path)[title]
        for row in sheet.iter_rows(min_row=FIRST_ROW):
            assert {cell.number_format for cell in row} == {"@"}
            assert {cell.data_type for cell in row if cell.value is not None} <= {"s"}
        assert sheet.column_dimensions["A"].number_format == "@"


def test_keys_and_words_are_offered_in_drop_downs(tmp_path: Path) -> None:
    path = tmp_path / "wren.xlsx"
    write_family_book(pages_of(tiny_family()), path)
    offered = {
        str(each.sqref): each.formula1
        for each in load_workbook(path)["Fits"].data_validations.dataValidation
    }
    assert offered["A4:A522"] == "'Positions'!$A$4:$A$517"
    assert offered["B4:B522"] == "'Parts'!$A$4:$A$529"


def set_cell(cell: str, value: object) -> Change:
    def change(sheet: Worksheet) -> None:
        sheet[cell].value = value

    return change


@pytest.mark.parametrize(
    ("sheet", "change", "told"),
    [
        (
            "Fits",
            set_cell("B4", "hob:W1OO"),
            "sheet Fits, cell B4 (Part): there is no part 'hob:W1OO'; did you mean 'hob:W100'?",
        ),
        (
            "Positions",
            set_cell("F5", "two"),
            "sheet Positions, cell F5 (How many): 'two' is no whole number; digits only, such as 2",
        ),
        (
            "Parts",
            set_cell("A6", date(2026, 2, 1)),
            "sheet Parts, cell A6 (Part): the spreadsheet has made 2026-02-01 00:00:00 of what was "
            "typed; format the cell as text and type it again",
        ),
        (
            "Parts",
            set_cell("B6", "=A1&A2"),
            "sheet Parts, cell B6 (Name): the cell holds the formula =A1&A2; type the words "
            "as text",
        ),
        (
            "Parts",
            set_cell("B6", "two\nlines"),
            "sheet Parts, cell B6 (Name): the cell has more than one line; write it in one line",
        ),
        (
            "Grades",
            set_cell("F6", "1.4999 in"),
            "sheet Grades, cell G6 (Finish high): the limits 1.4999 in to 1.4895 in are the wrong "
            "way round; low first, then high",
        ),
        (
            "Judgements",
            set_cell("A5", "scored-shells"),
            "sheet Judgements, cell A5 (Key): 'scored-shells' is there already: sheet Judgements, "
            "row 4; keep one of them",
        ),
        (
            "Links",
            set_cell("Z9", "my own sum"),
            "sheet Links, cell Z9: it stands under no heading, and would be lost; take out what is "
            "in column Z",
        ),
        (
            "Sets",
            set_cell("C2", "How mani"),
            "sheet Sets, cell C2: 'How mani' is no heading here; is it 'How many', which is "
            "missing?",
        ),
        (
            "Sets",
            set_cell("A2", "Bag"),
            "sheet Sets, cell A2: 'Bag' is no heading here; is it 'Set', which is missing?",
        ),
    ],
)
def test_what_is_wrong_is_told_with_sheet_cell_and_heading(
    sheet: str, change: Change, told: str, tmp_path: Path
) -> None:
    assert told in faults(tmp_path, sheet, change)


@pytest.mark.parametrize(
    "value", [date(2026, 2, 1), "=A1&A2", "two\nlines", True], ids=["day", "sum", "lines", "mark"]
)
def test_a_cell_that_cannot_be_taken_is_told_once_and_not_as_empty_too(
    value: object, tmp_path: Path
) -> None:
    (told,) = faults(tmp_path, "Labour", set_cell("C4", value))
    assert told.startswith("sheet Labour, cell C4")


def test_a_key_that_is_not_there_is_told_beside_a_cell_that_cannot_be_taken(
    tmp_path: Path,
) -> None:
    def change(sheet: Worksheet) -> None:
        sheet["A4"].value = "no-such-place"
        sheet["D5"].value = date(2026, 2, 1)

    cell, key = faults(tmp_path, "Fits", change)
    assert cell.startswith("sheet Fits, cell D5 (")
    assert key.startswith("sheet Fits, cell A4 (Position): there is no position 'no-such-place'")


def test_a_heading_that_is_none_is_told_once_for_all_that_stands_under_it(tmp_path: Path) -> None:
    (told,) = faults(tmp_path, "Parts", set_cell("A2", "Number"))
    assert (
        told == "sheet Parts, cell A2: 'Number' is no heading here; is it 'Part', which is missing?"
    )


def test_a_column_without_a_heading_is_told_once(tmp_path: Path) -> None:
    def change(sheet: Worksheet) -> None:
        for row in range(4, 9):
            sheet[f"Z{row}"].value = "mine"

    (told,) = faults(tmp_path, "Parts", change)
    assert told.startswith("sheet Parts, cell Z4: it stands under no heading")


def test_a_missing_sheet_a_foreign_sheet_and_a_missing_key_are_told_in_one_go(
    tmp_path: Path,
) -> None:
    def change(sheet: Worksheet) -> None:
        book = sheet.parent
        assert book is not None
        book["Labour"].title = "Hours of mine"
        sheet["A4"].value = "name"

    told = faults(tmp_path, "Family", change)
    assert "sheet Labour: the sheet is missing" in told
    assert any(each.startswith("sheet Hours of mine: it is none of a family's") for each in told)
    assert any(each.startswith("sheet Family: the family's key is missing") for each in told)


def test_columns_may_be_moved_and_figures_and_days_typed_as_such(tmp_path: Path) -> None:
    def change(sheet: Worksheet) -> None:
        sheet.move_range(f"L2:L{sheet.max_row}", cols=8)
        sheet.delete_cols(12)
        for number in range(FIRST_ROW, sheet.max_row + 1):
            if sheet.cell(number, 18).value:
                sheet.cell(number, 18).value = date(1963, 1, 1)
            if sheet.cell(number, 4).value:
                sheet.cell(number, 4).value = 1

    path = tmp_path / "wren.xlsx"
    write_family_book(pages_of(tiny_family()), path)
    book = load_workbook(path)
    change(book["Links"])
    book.save(path)
    assert read_family_book(path).family == tiny_family()


def test_a_column_that_the_text_files_may_leave_out_a_workbook_may_too(tmp_path: Path) -> None:
    path = tmp_path / "wren.xlsx"
    write_family_book(pages_of(tiny_family()), path)
    book = load_workbook(path)
    book["Consequences"].delete_cols(11)
    book.save(path)
    assert read_family_book(path).family == tiny_family()


def test_the_note_row_may_be_taken_out(tmp_path: Path) -> None:
    path = tmp_path / "wren.xlsx"
    write_family_book(pages_of(tiny_family()), path)
    book = load_workbook(path)
    for sheet in book.worksheets[1:]:
        sheet.delete_rows(3)
    book.save(path)
    assert read_family_book(path).family == tiny_family()


@pytest.mark.parametrize("text", ["a\x0bbell", "_x0041_"])
def test_a_sign_that_no_workbook_keeps_is_refused_and_nothing_written(
    text: str, tmp_path: Path
) -> None:
    path = tmp_path / "wren.xlsx"
    with pytest.raises(BadInput, match="cannot stand in a cell"):
        write_family_book(pages_of(replace(tiny_family(), summary=text)), path)
    assert not path.exists()


def test_a_workbook_that_is_there_is_not_written_over_unasked(tmp_path: Path) -> None:
    path = tmp_path / "wren.xlsx"
    write_family_book(pages_of(tiny_family()), path)
    with pytest.raises(BadInput, match="there is such a file already"):
        write_family_book(pages_of(tiny_family()), path)
    write_family_book(pages_of(tiny_family()), path, overwrite=True)


def test_text_files_that_cannot_be_written_leave_the_old_ones_whole(tmp_path: Path) -> None:
    folder = tmp_path / "wren-single"
    write_pages(pages_of(tiny_family()), folder)
    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    (folder / ".labour.csv.part").mkdir()
    with pytest.raises(BadInput, match="cannot be written"):
        write_pages(pages_of(replace(tiny_family(), summary="another")), folder)
    (folder / ".labour.csv.part").rmdir()
    assert {path.name: path.read_bytes() for path in folder.iterdir()} == before


def test_a_folder_that_leaves_a_column_out_goes_out_with_it_empty(tmp_path: Path) -> None:
    folder = tmp_path / "wren-single"
    write_pages(pages_of(tiny_family()), folder)
    rules = folder / "consequences.csv"
    lines = rules.read_text(encoding="utf-8").splitlines()
    rules.write_text("\n".join(line.rpartition(",")[0] for line in lines), encoding="utf-8")
    assert carried(read_pages(folder)).family == tiny_family()
