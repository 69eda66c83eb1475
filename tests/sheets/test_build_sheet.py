"""A build sheet out, filled in, and back: every figure, every problem at its cell."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from openpyxl import load_workbook
from openpyxl.cell.cell import Cell

from kitting.errors import BadInput
from kitting.job.build import plan_build
from kitting.job.path import JobPath
from kitting.sheets.build.sheet_in import BuildReport, read_build_sheet
from kitting.sheets.build.sheet_out import write_build_sheet
from kitting.sheets.strip.sheet_in import read_strip_sheet
from kitting.sheets.strip.sheet_out import write_strip_sheet
from tests.job.test_build import GAP, SHELLS, TORQUE, a_build

WHO = "field|who"
TODAY = date(2024, 6, 30)


def a_path() -> JobPath:
    return a_build(SHELLS, GAP, TORQUE)


def written(path: JobPath, folder: Path) -> Path:
    file = folder / "build.xlsx"
    write_build_sheet(path, file, overwrite=True)
    return file


def filled(file: Path, boxes: Mapping[str, str | float], column: str = "E") -> None:
    """Write into the first reading's box of the rows with these keys; a key may name a column."""
    book = load_workbook(file)
    left = dict(boxes)
    for sheet in book.worksheets:
        for row in range(2, sheet.max_row + 1):
            key = str(sheet[f"A{row}"].value)
            for box in (key, *(f"{key}@{letter}" for letter in "BCDEFGH")):
                if box in left:
                    at = box.rpartition("@")[2] if "@" in box else column
                    at = "C" if key.startswith("field|") else at
                    cell = sheet[f"{at}{row}"]
                    assert isinstance(cell, Cell)
                    cell.value = left.pop(box)
    assert not left
    book.save(file)


def read(file: Path, path: JobPath) -> BuildReport:
    return read_build_sheet(file, path, TODAY)


def test_every_planned_figure_has_a_box_with_the_plan_beside_it(tmp_path: Path) -> None:
    path = a_path()
    book = load_workbook(written(path, tmp_path))
    keys = {str(row[0].value): row for sheet in book.worksheets for row in sheet.iter_rows()}
    assert keys["read|shell-clearance||"][2].value == (
        "plan 0.0005 to 0.0025\ncrankpin -010 grade\nsize not settled yet"
    )
    for planned in plan_build(path):
        for station, direction in planned.places:
            assert f"read|{planned.feature.key}|{station}|{direction}" in keys


def test_what_is_written_comes_back_signed_with_its_place(tmp_path: Path) -> None:
    path = a_path()
    file = written(path, tmp_path)
    filled(
        file,
        {
            WHO: "Joan",
            "field|when": "2024-06-03",
            "read|shell-clearance||": 0.0015,
            "read|nut-gap|left|": "0.3 mm",
            "signed|top-end@G": "Karl",
        },
    )
    report = read(file, path)
    assert report.warnings == ()
    said = [(f.feature, f.station, f.text, str(f.value), f.who) for f in report.figures]
    assert said == [
        ("shell-clearance", "", "0.0015", "0.0015 in", "Joan"),
        ("nut-gap", "left", "0.3 mm", "0.300 mm", "Karl"),
    ]
    assert {f.when for f in report.figures} == {date(2024, 6, 3)}
    assert report.figures[0].place.startswith('build.xlsx, sheet "')


def test_every_problem_is_named_at_its_cell_and_nothing_is_taken(tmp_path: Path) -> None:
    path = a_path()
    file = written(path, tmp_path)
    filled(
        file,
        {
            WHO: "Joan",
            "read|shell-clearance||": "1.5.2",
            "read|nut-gap|left|": 0.3,
            "read|nut-gap|right|": "=A1",
            "read|bolt-torque||": "19 in",
        },
    )
    with pytest.raises(BadInput) as refused:
        read(file, path)
    said = [str(problem) for problem in refused.value.problems]
    assert len(said) == 4
    assert all(each.startswith('build.xlsx, sheet "') and ", cell E" in each for each in said)
    assert "look at the decimal point" in " ".join(said)
    assert "holds the formula" in " ".join(said)


def test_figures_without_a_name_are_refused(tmp_path: Path) -> None:
    path = a_path()
    file = written(path, tmp_path)
    filled(file, {"read|shell-clearance||": 0.0015})
    with pytest.raises(BadInput, match="figures without a name: a build record is signed"):
        read(file, path)


def test_sheets_that_are_not_this_jobs_build_are_refused(tmp_path: Path) -> None:
    path = a_path()
    file = written(path, tmp_path)
    other = replace(path.bench.job, number="24-002")
    with pytest.raises(BadInput, match="the sheet is of job 24-001, and this is job 24-002"):
        read(file, replace(path, bench=replace(path.bench, job=other)))
    edition = replace(path.bench.job, edition="1999-1")
    with pytest.raises(BadInput, match="write a fresh sheet with 'kitting build sheet'"):
        read(file, replace(path, bench=replace(path.bench, job=edition)))
    with pytest.raises(BadInput, match="it is a build sheet, not a strip sheet; load it with"):
        read_strip_sheet(file, path.family, path.bench.job)
    strip = tmp_path / "strip.xlsx"
    write_strip_sheet(path.family, path.bench.job.variant, strip, path.bench.job)
    with pytest.raises(BadInput, match="it is a strip sheet, not a build sheet; load it with"):
        read(strip, path)


def test_rows_put_in_and_sheets_renamed_change_nothing(tmp_path: Path) -> None:
    path = a_path()
    file = written(path, tmp_path)
    filled(file, {WHO: "Joan", "read|shell-clearance||": 0.0015})
    before = read(file, path).figures
    book = load_workbook(file)
    book.worksheets[0].title = "mine"
    book.worksheets[0].insert_rows(5, 3)
    book.save(file)
    after = read(file, path).figures
    assert [replace(f, place="") for f in after] == [replace(f, place="") for f in before]


def test_words_outside_the_boxes_are_told_and_figures_there_refused(tmp_path: Path) -> None:
    path = a_path()
    file = written(path, tmp_path)
    filled(file, {WHO: "Joan", "read|shell-clearance||": 0.0015, "read|bolt-torque||@G": "again"})
    (warning,) = read(file, path).warnings
    assert "'again' stands in none of the sheet's boxes; not taken" in warning
    filled(file, {"read|bolt-torque||@F": 19})
    with pytest.raises(BadInput, match="'19' stands in none of the sheet's boxes"):
        read(file, path)


def test_a_sheet_with_yesterdays_plan_is_read_and_the_change_is_told(tmp_path: Path) -> None:
    path = a_path()
    file = written(path, tmp_path)
    filled(file, {WHO: "Joan", "read|bolt-torque||": 19, "read|bolt-torque||@C": "plan 30 to 40"})
    report = read(file, path)
    assert [figure.text for figure in report.figures] == ["19"]
    assert "'plan 30 to 40' is not the plan of today" in report.warnings[0]


def test_a_job_with_nothing_stripped_has_no_build_sheet(tmp_path: Path) -> None:
    path = a_path()
    bare = replace(path, bench=replace(path.bench, stripped=()))
    with pytest.raises(BadInput, match="nothing of it is to be measured at assembly"):
        write_build_sheet(bare, tmp_path / "build.xlsx")


def test_a_sheet_that_is_there_is_not_written_over_unasked(tmp_path: Path) -> None:
    path = a_path()
    write_build_sheet(path, tmp_path / "build.xlsx")
    with pytest.raises(BadInput, match="there is such a file already"):
        write_build_sheet(path, tmp_path / "build.xlsx")


def test_a_day_still_to_come_is_refused(tmp_path: Path) -> None:
    path = a_path()
    file = written(path, tmp_path)
    filled(file, {WHO: "Joan", "field|when": "2031-01-01"})
    with pytest.raises(BadInput, match="01 Jan 2031 is still to come"):
        read(file, path)
