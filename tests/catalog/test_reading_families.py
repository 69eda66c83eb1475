"""A family's files are read whole or refused whole, every problem at its line and column."""

from collections.abc import Callable
from decimal import Decimal
from pathlib import Path

import pytest

from kitting.catalog.files import read_family, read_family_with_sources
from kitting.catalog.textfile import LARGEST_BYTES
from kitting.errors import BadInput
from tests.wren import tiny_family

Change = Callable[[Path, str, str], Path]


def problems_of(folder: Path) -> list[str]:
    with pytest.raises(BadInput) as caught:
        read_family(folder)
    return [str(problem) for problem in caught.value.problems]


def test_a_family_written_out_reads_back_the_same(wren_folder: Path) -> None:
    read = read_family(wren_folder)
    for value in ("positions", "features", "size_tables", "parts", "fits", "links", "labour"):
        assert getattr(read, value) == getattr(tiny_family(), value)
    assert read.unit.symbol == "in"
    assert read.variant_of_engine("WS 612") == read.variant_by_key["mark-2"]


def test_rules_know_the_line_they_stand_on_and_sources_every_row(wren_folder: Path) -> None:
    family, sources = read_family_with_sources(wren_folder)
    assert [rule.line for rule in family.judgements] == [2, 3]
    assert family.consequences[0].line == 2
    assert sources["positions", "barrel"] == "positions.csv line 2"
    assert sources["grades", "crankpin/-010"] == "grades.csv line 4"
    assert sources["links", "1"] == "links.csv line 3"


def test_every_problem_of_every_file_comes_at_once(wren_folder: Path, changed: Change) -> None:
    changed(wren_folder / "positions.csv", "barrel nuts,nut,4", "barrel nuts,nut,four")
    changed(wren_folder / "grades.csv", "1.498 in", "about 1.498")
    (wren_folder / "labour.csv").unlink()
    assert problems_of(wren_folder) == [
        "positions.csv line 5, column quantity: 'four' is no whole number; digits only, such as 2",
        "grades.csv line 2, column worn: 'about 1.498' is not a figure; write the number read off "
        "the instrument, such as 1.6872; words go in the notes",
        "labour.csv: the file is missing; put it into wren-single/",
    ]


@pytest.mark.parametrize(
    ("file", "old", "new", "said"),
    [
        ("positions", "must_look", "must_lok", "'must_lok' is no column here; did you mean 'must"),
        ("positions", "must_look", "must_lok", "the column must_look is missing"),
        ("positions", "key,assembly", "key,key", "the column key is there twice"),
        (
            "positions",
            "crank,bottom-end,1",
            "Crank Pin,bottom-end,1",
            "lower case with dashes: crank-pin",
        ),
        (
            "positions",
            "rod,bottom-end,1",
            "crank,bottom-end,1",
            "'crank' is there already: positions.csv line 9",
        ),
        (
            "positions",
            "tab washer,tab-washer,1",
            "tab washer,tab-washer,0",
            "0 is too small; 1 or more",
        ),
        (
            "positions",
            "barrel,1,,yes",
            "barrel,1,,maybe",
            "'maybe' is no mark; yes, or leave the cell empty",
        ),
        (
            "positions",
            "piston,piston,1,,,bore,,,",
            "piston,piston,1,,,bore,,",
            "the row has 11 cells and the heading 12",
        ),
        (
            "positions",
            "rod,rod,1",
            "rod, big,rod,1",
            "the row has 13 cells and the heading 12; quote a text",
        ),
        ("features", "nut height,height", "nut height,hight", "did you mean 'height'?"),
        (
            "features",
            "pump float,end float,in",
            "pump float,end float,ins of",
            "is no unit known here",
        ),
        ("features", "24 lbf/in", "24 psi", "'24 psi' is a pressure; a stiffness belongs here"),
        (
            "features",
            "micrometer,rework,regrind",
            "micrometer,rewrk,regrind",
            "did you mean 'rework'?",
        ),
        (
            "size_tables",
            "crankpin,crankpin,shaft",
            "crankpin,crankpin,shift",
            "did you mean 'shaft'?",
        ),
        (
            "grades",
            "crankpin,-020",
            "crankpn,-020",
            "there is no size table 'crankpn'; did you mean 'crankpin'?",
        ),
        ("grades", "bore,+020", "bore,+O20!", "'+O20!' is no key of a grade"),
        ("observations", "none | few | many", "none | | many", "has an empty place in its list"),
        (
            "judgements",
            "kind:shell",
            "knd:shell",
            "'knd:' is no sort of target; did you mean 'kind'?",
        ),
        (
            "consequences",
            "bottom-end,,,renew,kind:tab",
            "bottom-end@x,,,renew,kind:tab",
            "only a kind stands within an assembly",
        ),
        (
            "consequences",
            "because of crack",
            "",
            "column because: the cell is empty; it must be filled",
        ),
        (
            "parts",
            "hob:W130,",
            "W130,",
            "'W130' names no maker; maker, colon, number, such as hob:W130",
        ),
        ("parts", "hob:W131,", "hob:w-130,", "'hob:W130' is there already: parts.csv line 7"),
        ("parts", "undersize=0.002 in", "undersize 0.002 in", "is no attribute; name=value"),
        ("links", "1963-01-01", "1/1/63", "'1/1/63' is no day; write the day as 1966-03-31"),
        ("links", "1963-01-01", "1963-02-30", "there is no day 1963-02-30"),
        ("labour", "1.5", "an hour", "'an hour' is no number of hours"),
        ("labour", "1.5", '"0,75"', "'0,75' is no number of hours"),
        ("labour", "1.5", "0", "no hours at all"),
        ("family", "unit,in", "unit,inn", "'inn' is no unit known here"),
        ("family", "years,", "yeers,", "'yeers' is no setting here; did you mean 'years'?"),
    ],
)
def test_a_slip_is_named_with_what_would_be_right(
    wren_folder: Path, changed: Change, file: str, old: str, new: str, said: str
) -> None:
    changed(wren_folder / f"{file}.csv", old, new)
    found = problems_of(wren_folder)
    assert any(said in problem and problem.startswith(f"{file}.csv") for problem in found), found


def test_inch_and_millimetre_that_disagree_are_refused(wren_folder: Path, changed: Change) -> None:
    changed(wren_folder / "grades.csv", "1.498 in", "1.498 in (38.099 mm)")
    (problem,) = problems_of(wren_folder)
    assert "1.498 in and 38.099 mm disagree: 1.4980 in is 38.0492 mm" in problem


def test_inch_and_millimetre_that_agree_as_far_as_printed_are_taken(
    wren_folder: Path, changed: Change
) -> None:
    changed(wren_folder / "grades.csv", "1.498 in", "1.498 in (38.05 mm)")
    worn = read_family(wren_folder).table_by_key["crankpin"].grade("std").worn
    assert worn is not None
    assert worn.value == Decimal("1.498")


def test_what_a_spreadsheet_adds_does_not_matter(wren_folder: Path) -> None:
    before = read_family(wren_folder)
    path = wren_folder / "fits.csv"
    lines = path.read_text(encoding="utf-8").splitlines()
    dressed = ["# which part serves where", *lines[:3], "", ",,,,,,,", *lines[3:]]
    path.write_bytes(b"\xef\xbb\xbf" + "\r\n".join(dressed).encode())
    assert read_family(wren_folder).fits == before.fits


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        (b"", "fits.csv: the file is empty; its heading row is position,part,"),
        (b"# only a remark\n", "fits.csv: the file is empty"),
        (b"position;part;variants\n", "fits.csv line 1: the cells are separated by semicolons"),
        (b"position\tpart\n", "fits.csv line 1: the cells are separated by tabs"),
        (b"shells,hob:W1,,,,,,\n", "fits.csv line 1: this is no heading row"),
        (b"\xff\xfep\x00", "fits.csv: the file is written as UTF-16; save it as UTF-8"),
        (b"PK\x03\x04rest", "fits.csv: this is no text file"),
        (b"position,part,variants,first,last,grade,quantity,note\nrod,hob:W131,,,,,,caf\xe9\n",
         "fits.csv line 2: byte 22 is not UTF-8"),
        (b'position,part,variants,first,last,grade,quantity,note\nrod,hob:W131,,,,,,"cut\n',
         "fits.csv line 2: a quotation mark is opened and not closed"),
    ],
)  # fmt: skip
def test_a_file_that_is_no_table_is_told_so_clearly(
    wren_folder: Path, raw: bytes, said: str
) -> None:
    (wren_folder / "fits.csv").write_bytes(raw)
    assert said in problems_of(wren_folder)[0]


def test_a_file_of_a_hundred_megabytes_is_refused_unread(wren_folder: Path) -> None:
    with (wren_folder / "parts.csv").open("r+b") as file:
        file.truncate(100_000_000)
    assert problems_of(wren_folder) == [
        "parts.csv: the file is 100 MB, more than a catalogue file can be; "
        f"keep each file under {LARGEST_BYTES // 1_000_000} MB"
    ]


def test_a_misspelled_file_name_is_asked_about(wren_folder: Path) -> None:
    (wren_folder / "fits.csv").rename(wren_folder / "fit.csv")
    assert problems_of(wren_folder) == [
        "fit.csv: no file of that name belongs here; did you mean 'fits.csv'?",
        "fits.csv: the file is missing; put it into wren-single/",
    ]


def test_a_folder_that_is_not_there_is_asked_about(wren_folder: Path) -> None:
    assert problems_of(wren_folder.parent / "wren-singel")[0].endswith(
        "wren-singel; did you mean 'wren-single'?"
    )
