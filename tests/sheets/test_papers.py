"""What every workbook that leaves the shop has in common."""

import zipfile
from pathlib import Path

import openpyxl
import pytest

from kitting.errors import BadInput
from kitting.sheets.jobs.papers import write_papers
from tests.libreoffice import convert_all
from tests.sheets.opened import text_of
from tests.sheets.values import a_job, a_ready_job


@pytest.fixture(scope="module")
def papers(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, ...]:
    """All that the Wren's job sends out."""
    return write_papers(a_job(), tmp_path_factory.mktemp("papers"))


def test_a_job_writes_one_file_for_each_reader(papers: tuple[Path, ...]) -> None:
    kinds = [file.name.split("-")[0] for file in papers]
    assert kinds.count("order") == 3
    assert len(papers) == 7
    assert all(file.is_file() for file in papers)


def test_the_name_of_an_orders_file_does_not_give_the_job_away(papers: tuple[Path, ...]) -> None:
    orders = [file.name for file in papers if file.name.startswith("order")]
    assert not any("24-001" in name for name in orders)


def test_every_sheet_prints_on_a4_one_page_wide_with_page_numbers(
    papers: tuple[Path, ...],
) -> None:
    for file in papers:
        for sheet in openpyxl.load_workbook(file).worksheets:
            assert str(sheet.page_setup.paperSize) == sheet.PAPERSIZE_A4
            assert (sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight) == (1, 0)
            assert sheet.oddFooter is not None
            assert "&P" in str(sheet.oddFooter.right.text)
            assert sheet.print_area


def test_long_sheets_repeat_their_headings_on_every_page(papers: tuple[Path, ...]) -> None:
    for file in papers:
        book = openpyxl.load_workbook(file)
        for name in {"Estimate", "Order", "Pick list", "Kit", "Findings"} & set(book.sheetnames):
            assert book[name].print_title_rows, f"{file.name} {name}"


def test_cautions_stand_at_the_foot_of_each_paper(papers: tuple[Path, ...]) -> None:
    for file in papers:
        text = text_of(file)
        if file.name.startswith("order"):
            assert "put no other part in the place of one asked for" in text
        else:
            assert "the maker's manual and a competent engineer come first" in text


def test_the_same_job_gives_the_same_bytes(papers: tuple[Path, ...], tmp_path: Path) -> None:
    again = write_papers(a_job(), tmp_path)
    assert [file.name for file in again] == [file.name for file in papers]
    for one, other in zip(papers, again, strict=True):
        assert one.read_bytes() == other.read_bytes(), one.name


def test_a_file_is_stamped_with_the_day_of_the_job_not_of_the_clock(
    papers: tuple[Path, ...],
) -> None:
    for file in papers:
        properties = openpyxl.load_workbook(file).properties
        assert f"{properties.modified:%Y-%m-%d}" == "2024-05-02"
        with zipfile.ZipFile(file) as packed:
            assert {entry.date_time[0] for entry in packed.infolist()} == {1980}


def test_writing_again_takes_the_place_of_the_older_paper(tmp_path: Path) -> None:
    before = text_of(write_papers(a_job(), tmp_path)[0])
    after = text_of(write_papers(a_ready_job(), tmp_path)[0])
    assert "NOT ready" in before
    assert "NOT ready" not in after


def test_a_paper_that_is_open_elsewhere_is_named_and_left(tmp_path: Path) -> None:
    estimate = write_papers(a_job(), tmp_path)[0]
    before = estimate.read_bytes()
    (tmp_path / f"~${estimate.name}").touch()
    with pytest.raises(BadInput, match="open in a spreadsheet program"):
        write_papers(a_ready_job(), tmp_path)
    assert estimate.read_bytes() == before


def test_every_paper_prints(papers: tuple[Path, ...], tmp_path: Path) -> None:
    from pypdf import PdfReader

    for file in convert_all(papers, "pdf", tmp_path):
        page = PdfReader(file).pages[0]
        across, down = sorted((float(page.mediabox.width), float(page.mediabox.height)))
        assert (round(across), round(down)) == (595, 842)
