"""The job book: the whole job in one workbook, for the shop alone."""

from decimal import Decimal
from pathlib import Path

import openpyxl

from kitting.job.path import JobPath
from kitting.sheets.jobs.book import write_job_book
from tests.sheets.opened import rows_of, text_of, the_sheet
from tests.sheets.values import CUSTOMER, a_job

_LONG = (
    "Findings",
    "Verdicts",
    "Sizes",
    "Made to suit",
    "What follows",
    "Kit",
    "Why",
    "Sets",
    "Work",
    "Offers",
)


def written(folder: Path, path: JobPath | None = None) -> Path:
    file = folder / "book.xlsx"
    write_job_book(path or a_job(), file)
    return file


def test_every_room_of_the_job_has_its_sheet(tmp_path: Path) -> None:
    names = openpyxl.load_workbook(written(tmp_path)).sheetnames
    assert names == ["Summary", *_LONG[:-1], "Estimate", "Offers", "Advice", "Pictures"]


def test_long_tables_can_be_narrowed_down_and_keep_their_headings_in_sight(tmp_path: Path) -> None:
    book = openpyxl.load_workbook(written(tmp_path))
    for name in (*_LONG, "Estimate"):
        assert book[name].auto_filter.ref, name
        assert book[name].freeze_panes == "A3", name


def test_every_finding_reading_by_reading_is_there(tmp_path: Path) -> None:
    path = a_job()
    listed = rows_of(the_sheet(written(tmp_path, path), "Findings"))
    readings = sum(len(finding.readings) for finding in path.bench.findings)
    seen = sum(len(finding.seen) for finding in path.bench.findings)
    assert len(listed) == 2 + readings + seen


def test_each_line_of_the_kit_says_why_to_the_root(tmp_path: Path) -> None:
    path = a_job()
    why = rows_of(the_sheet(written(tmp_path, path), "Why"))
    steps = sum(
        1
        for line in path.kit.lines
        for reason in (*line.needed, *line.chosen)
        for _ in reason.steps()
    )
    assert len(why) == 2 + steps
    assert any("because of bolts-go-too" in row for row in why)


def test_cost_and_what_it_leaves_add_up_to_what_is_asked(tmp_path: Path) -> None:
    path = a_job()
    found = rows_of(the_sheet(written(tmp_path, path), "Summary"))
    shown = {row[0]: row[1] for row in found if len(row) > 1}
    cost = sum(line.cost for line in path.estimate.lines)
    assert Decimal(shown["What it costs us, without VAT"]) == cost
    assert Decimal(shown["What it leaves us, likely"]) == path.estimate.likely.net - cost


def test_the_offers_passed_over_stand_beside_the_one_taken(tmp_path: Path) -> None:
    offers = rows_of(the_sheet(written(tmp_path), "Offers"))
    nuts = [row for row in offers if row[0] == "1.03"]
    assert [("taken" in row, len(nuts)) for row in nuts] == [(True, 2), (False, 2)]


def test_the_summary_names_the_job_and_every_open_point(tmp_path: Path) -> None:
    text = text_of(written(tmp_path))
    for said in (CUSTOMER, "relief spring: not looked at", "oil pump: check asked for"):
        assert said in text
