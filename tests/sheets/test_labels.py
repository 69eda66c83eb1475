"""Labels on their sheet and in the PDF."""

import re
from pathlib import Path

import pytest
import segno
from pypdf import PdfReader

from kitting.errors import BadInput, NotFound
from kitting.sheets.label_pdf import write_labels
from kitting.sheets.labels import (
    PAGE_HEIGHT,
    PAGE_WIDTH,
    SHEETS,
    Label,
    LabelSheet,
    placed,
    sheet_named,
)

POINTS = 72 / 25.4


def labels(count: int) -> list[Label]:
    return [
        Label((f"Job 24-{at}", "Bag 1 of 1", "top end", "3 lines", "check AB2C"), f"JOB 24-{at}")
        for at in range(count)
    ]


@pytest.mark.parametrize("sheet", SHEETS.values(), ids=str)
def test_every_sheet_of_labels_fits_a4_and_its_labels_do_not_overlap(sheet: LabelSheet) -> None:
    spots = placed(labels(sheet.count), sheet)
    assert {spot.page for spot in spots} == {0}
    for spot in spots:
        assert spot.x >= 0
        assert spot.y >= -0.01
        assert spot.x + sheet.width <= PAGE_WIDTH + 0.01
        assert spot.y + sheet.height <= PAGE_HEIGHT + 0.01
    for one in spots:
        for other in spots:
            apart = (
                abs(one.x - other.x) >= sheet.width - 0.01
                or abs(one.y - other.y) >= sheet.height - 0.01
            )
            assert apart or one is other


@pytest.mark.parametrize("sheet", SHEETS.values(), ids=str)
def test_the_margins_of_a_sheet_are_alike_on_both_sides(sheet: LabelSheet) -> None:
    right = PAGE_WIDTH - sheet.left - sheet.across * sheet.width - (sheet.across - 1) * sheet.gap
    bottom = PAGE_HEIGHT - sheet.top - sheet.down * sheet.height
    assert right == pytest.approx(sheet.left, abs=0.11)
    assert bottom == pytest.approx(sheet.top, abs=0.11)


def test_labels_that_are_used_up_are_passed_over_on_the_first_sheet_only() -> None:
    spots = placed(labels(20), SHEETS["2x4"], skip=5)
    assert [spot.page for spot in spots] == [0] * 3 + [1] * 8 + [2] * 8 + [3]
    assert (spots[0].x, spots[0].y) == SHEETS["2x4"].corner(5)
    assert (spots[3].x, spots[3].y) == SHEETS["2x4"].corner(0)


def test_the_pdf_is_a4_says_it_all_in_plain_text_and_is_the_same_each_time(
    tmp_path: Path,
) -> None:
    one, two = tmp_path / "one.pdf", tmp_path / "two.pdf"
    assert write_labels(labels(30), SHEETS["3x8"], one, "Bags", skip=1) == 2
    write_labels(labels(30), SHEETS["3x8"], two, "Bags", skip=1)
    assert one.read_bytes() == two.read_bytes()
    pages = PdfReader(one).pages
    assert [float(side) for side in pages[0].mediabox[2:]] == pytest.approx(
        [PAGE_WIDTH * POINTS, PAGE_HEIGHT * POINTS], abs=0.01
    )
    said = "\n".join(page.extract_text() for page in pages)
    assert [f"Job 24-{at}" in said.splitlines() for at in range(30)] == [True] * 30
    assert said.count("check AB2C") == 30


def test_the_code_is_drawn_dark_for_dark_as_its_standard_makes_it(tmp_path: Path) -> None:
    file, text = tmp_path / "one.pdf", "JOB 24-001; BAG 2 of 7, top end; 17 lines; CHECK TWTA"
    write_labels([Label(("Job",), text)], SHEETS["3x8"], file, "Bags")
    contents = PdfReader(file).pages[0].get_contents()
    assert contents is not None
    number = r"(-?[\d.]+)"
    drawn = [
        tuple(map(float, found))
        for found in re.findall(
            rf"{number} {number} {number} {number} re", contents.get_data().decode("latin-1")
        )
    ]
    side = min(height for _, _, _, height in drawn)
    left, top = min(x for x, *_ in drawn), max(y for _, y, *_ in drawn)
    rows = [bytes(row) for row in segno.make(text, error="m", micro=False).matrix]
    dark = {(row, column) for row, cells in enumerate(rows) for column, c in enumerate(cells) if c}
    seen = {
        (round((top - y) / side), round((x - left) / side) + run)
        for x, y, width, _ in drawn
        for run in range(round(width / side))
    }
    assert seen == dark


def test_a_text_too_long_for_its_label_is_set_smaller_and_then_cut(tmp_path: Path) -> None:
    file = tmp_path / "one.pdf"
    long = "crankcase halves and everything that goes between them before they are closed " * 3
    write_labels([Label(("Job", "Bag", long), "JOB")], SHEETS["3x8-gap"], file, "Bags")
    said = PdfReader(file).pages[0].extract_text()
    assert "crankcase halves" in said
    assert "…" in said


def test_letters_of_other_alphabets_are_drawn(tmp_path: Path) -> None:
    file = tmp_path / "one.pdf"
    write_labels([Label(("Ж-14 Ωß",), "Ж-14")], SHEETS["3x8"], file, "Bags")
    assert "Ж-14 Ωß" in PdfReader(file).pages[0].extract_text()


def test_wrong_requests_are_refused_in_a_sentence(tmp_path: Path) -> None:
    with pytest.raises(NotFound, match="no sheet of labels '3x9'; did you mean"):
        sheet_named("3x9")
    with pytest.raises(BadInput, match="24 of the sheet's 24 labels cannot be passed over"):
        placed(labels(1), SHEETS["3x8"], skip=24)
    with pytest.raises(BadInput, match="-1 of the sheet's 24"):
        placed(labels(1), SHEETS["3x8"], skip=-1)
    with pytest.raises(BadInput, match="there is no bag to label"):
        placed([], SHEETS["3x8"])
    with pytest.raises(BadInput, match="labels are written to a PDF; name it bags"):
        write_labels(labels(1), SHEETS["3x8"], tmp_path / "bags.xlsx", "Bags")
    (tmp_path / "taken.pdf").mkdir()
    with pytest.raises(BadInput, match="cannot be written"):
        write_labels(labels(1), SHEETS["3x8"], tmp_path / "taken.pdf", "Bags")
