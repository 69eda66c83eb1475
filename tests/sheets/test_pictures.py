"""Pictures of wear, sizes and clearances: what is on them, and the same bytes each time."""

import zipfile
from pathlib import Path

import pytest

from kitting.errors import BadInput
from kitting.job.path import JobPath
from kitting.sheets.jobs.book import write_job_book
from kitting.sheets.jobs.works_sheet import write_works_sheet
from kitting.sheets.pictures.of_job import pictures_of, write_pictures
from tests.sheets.values import a_job

ON_SIDE = a_job()


def svg(name: str, path: JobPath = ON_SIDE) -> str:
    found = {each.name: each.picture for each in pictures_of(path)}
    return found[name].svg().decode()


def images_in(file: Path) -> int:
    with zipfile.ZipFile(file) as packed:
        return sum(name.startswith("xl/media/") for name in packed.namelist())


def test_each_machined_size_has_its_grades_and_each_journal_or_bore_its_wear() -> None:
    names = [each.name for each in pictures_of(ON_SIDE)]
    assert names == ["sizes-crankpin", "wear-crankpin-diameter", "sizes-bore", "wear-barrel-bore"]


def test_wear_names_its_stations_directions_and_the_sizes_it_is_held_against() -> None:
    drawn = svg("wear-crankpin-diameter")
    for words in ("front", "rear", "at 0", "at 90", "worn limit, std grade"):
        assert words in drawn, words
    assert "cleans up, worn evenly" in drawn
    assert "the lines between them are drawn, not measured" in drawn


def test_every_grade_stands_by_name_with_what_to_finish_to_and_the_limit_of_use() -> None:
    drawn = svg("sizes-crankpin")
    for words in ("std grade", "-010 grade", "-020 grade", "finish to", "limit of use"):
        assert words in drawn, words


def test_a_bore_without_a_lining_has_no_clearance_to_draw() -> None:
    assert "clearance at every grade" not in svg("sizes-bore")


def test_the_same_job_gives_the_same_bytes() -> None:
    first, again = pictures_of(a_job()), pictures_of(a_job())
    for one, other in zip(first, again, strict=True):
        assert one.picture.svg() == other.picture.svg()
        assert one.picture.png() == other.picture.png()


def test_no_line_or_mark_is_told_apart_by_its_colour() -> None:
    """Grey paper and grey eyes: whatever is drawn in ink is drawn in one of three greys."""
    inks = {"#1f2933", "#5b6770", "#dde5ec", "#ffffff", "white", "none"}
    for each in pictures_of(ON_SIDE):
        drawn = each.picture.svg().decode()
        used = {part.split(";")[0].strip('" ') for part in drawn.split("stroke: ")[1:]}
        assert {ink.split('"')[0] for ink in used} <= inks | {"#000000"}, each.name


def test_a_pin_that_no_grade_cleans_up_is_drawn_all_the_same() -> None:
    path = a_job(pin=("1.4700", "1.4990", "1.4700", "1.4990"))
    assert "wear-crankpin-diameter" in [each.name for each in pictures_of(path)]


def test_pictures_are_written_as_files_named_by_the_job(tmp_path: Path) -> None:
    files = write_pictures(ON_SIDE, tmp_path / "new")
    assert files[0].name == "24-001-sizes-crankpin.svg"
    assert all(file.read_text().startswith("<?xml") for file in files)


def test_a_folder_that_cannot_be_written_is_said_in_a_sentence(tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("a file")
    with pytest.raises(BadInput, match="cannot be written"):
        write_pictures(ON_SIDE, tmp_path / "taken")


def test_they_stand_in_the_works_sheet_and_in_the_job_book(tmp_path: Path) -> None:
    write_works_sheet(ON_SIDE, "grindwell", tmp_path / "works.xlsx")
    write_job_book(ON_SIDE, tmp_path / "book.xlsx")
    assert images_in(tmp_path / "works.xlsx") == len(pictures_of(ON_SIDE))
    assert images_in(tmp_path / "book.xlsx") == len(pictures_of(ON_SIDE))


def test_a_sheet_with_pictures_is_still_the_same_file_each_time(tmp_path: Path) -> None:
    for name in ("one", "two"):
        write_works_sheet(a_job(), "grindwell", tmp_path / f"{name}.xlsx")
    assert (tmp_path / "one.xlsx").read_bytes() == (tmp_path / "two.xlsx").read_bytes()
