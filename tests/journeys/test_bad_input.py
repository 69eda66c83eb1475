"""What cannot be taken is refused with a sentence at its place, and the job stays as it was."""

import shutil
from pathlib import Path

import pytest
from openpyxl import load_workbook

from kitting.catalog.shipped import shipped_folder
from kitting.sheets.strip.fill import Entry
from tests.journeys.shop import Shop

JOB = "26-041"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("job", "show", "99"), "no job '99'"),
        (("verdicts", "99"), "no job '99'"),
        (("job", "open", JOB, "--family", "corvane-650", "--engine", "CV23418"), "there already"),
        (("job", "open", "26-042", "--family", "corvan-650", "--engine", "CV1"), "corvane-650"),
        (
            ("job", "open", "26-042", "--family", "corvane-650", "--engine", "CV999999"),
            "outside every variant of Corvane 650 twin; the numbers run CV1001 to CV15240",
        ),
        (("strip", "sheet"), "name a job"),
        (("strip", "add", JOB, "cranckshaft", "sound", "--who", "J"), "did you mean crankshaft"),
        (("strip", "add", JOB, "crankshaft", "shiny", "--who", "J"), "shiny"),
        (("strip", "load", JOB, "nowhere.xlsx"), "nowhere.xlsx"),
        (("kit", JOB, "--why", "9.99"), "no kit line '9.99'"),
        (("kit", JOB, "--on", "yesterday"), "write one such as 2026-11-24"),
        (("sizes", JOB, "--why", "crankpn"), "crankpin"),
        (("decide", "size", JOB, "crankpin", "under-11", "--who", "K", "--reason", "r"), "under-0"),
        (("decide", "verdict", JOB, "barrel", "reuse", "--who", " ", "--reason", "r"), "a name"),
        (("decide", "verdict", JOB, "barrel", "fine", "--who", "K", "--reason", "r"), "'reuse'"),
        (("estimate", JOB, "--kept", "7"), "revision 7"),
        (("catalog", "show", "corvane"), "corvane-650"),
        (("catalog", "load", "nowhere"), "nowhere"),
        (("knit",), "No such command"),
    ],
)
def test_a_command_that_cannot_be_taken_says_what_would_be_right(
    open_shop: Shop, words: tuple[str, ...], said: str
) -> None:
    assert said in open_shop.refuses(*words)


def test_every_bad_cell_is_named_at_once_and_nothing_is_stored(open_shop: Shop) -> None:
    entries = (
        Entry("crankshaft", "crankpin-left", "middle", "0", "1.68.72"),
        Entry("crankshaft", "crankpin-left", "middle", "90", "1,7162"),
        Entry("crankshaft", "main-journal", "inner", "0", "17.486"),
        Entry("oil-pump", "pump-feed-end-float", "", "", "ok"),
        Entry("main-bush", "play", "", "", "lots"),
        Entry("oil-tank", "sound", "", "", "x"),
    )
    said = open_shop.refuses("strip", "load", JOB, str(open_shop.filled(JOB, entries)))
    for part in ("1.68.72", "1.7162", "17.486", "'ok'", "lots", "nothing was stored"):
        assert part in said, said
    assert said.count("cell ") == 5
    assert open_shop.reads("strip", "show", JOB)["findings"] == []


def test_a_sheet_of_another_family_is_refused(open_shop: Shop) -> None:
    other = open_shop.folder / "other.xlsx"
    open_shop.types(
        "strip", "sheet", "--family", "tarnwick-s45", "--variant",
        open_shop.reads("catalog", "show", "tarnwick-s45")["family"]["variants"][0]["key"],
        "--to", str(other),
    )  # fmt: skip
    assert "tarnwick-s45" in open_shop.refuses("strip", "load", JOB, str(other))


def test_two_people_who_disagree_are_asked_and_nothing_is_stored(open_shop: Shop) -> None:
    first = (
        Entry("cover", "who", "", "", "J. Marlowe"),
        Entry("oil-pump", "pump-feed-end-float", "", "", "0.0020"),
    )
    second = (
        Entry("cover", "who", "", "", "P. Quill"),
        Entry("oil-pump", "pump-feed-end-float", "", "", "0.0038"),
    )
    open_shop.types("strip", "load", JOB, str(open_shop.filled(JOB, first, "one.xlsx")))
    two = str(open_shop.filled(JOB, second, "two.xlsx"))
    said = open_shop.refuses("strip", "load", JOB, two)
    assert "J. Marlowe" in said
    assert "P. Quill" in said
    before = open_shop.reads("strip", "show", JOB)["findings"][0]
    assert before["readings"][0]["text"] == "0.0020"
    open_shop.types("strip", "load", JOB, two, "--take", "P. Quill")
    after = open_shop.reads("strip", "show", JOB)["findings"][0]
    assert after["readings"][0]["text"] == "0.0038"


def test_a_note_that_looks_like_a_formula_stays_a_note(open_shop: Shop) -> None:
    words = "=HYPERLINK(1)"
    open_shop.types("strip", "add", JOB, "barrel", f"note {words}", "sound", "--who", "=cmd")
    open_shop.types("sheets", JOB, "--to", "out")
    book = load_workbook(next((open_shop.folder / "out").glob("*job-book.xlsx")))
    cells = [c for sheet in book for row in sheet for c in row if words in str(c.value)]
    assert cells
    assert all(cell.data_type == "s" for cell in cells)


@pytest.fixture
def own(shop: Shop) -> Path:
    """A catalogue of the user's own, a copy of the one that comes with the program."""
    folder = shop.folder / "mine"
    shutil.copytree(shipped_folder(), folder)
    return folder


def spoil(file: Path, old: str, new: str) -> None:
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), encoding="utf-8")


@pytest.mark.parametrize(
    ("file", "old", "new", "said"),
    [
        ("corvane-650/positions.csv", "key,assembly", "key,asembly", "assembly"),
        ("corvane-650/positions.csv", "tank-strainer,lub", "oil-tank,lub", "oil-tank"),
        ("corvane-650/fits.csv", "\noil-tank,", "\noil-tnak,", "did you mean 'oil-tank'"),
        ("trade/offers-thornhay.csv", ",1,9.75,", ",1,nine pounds,", "nine pounds"),
        ("corvane-650/grades.csv", "1.7080,1.7085", "1.7085,1.7080", "wrong way round"),
        ("corvane-650/grades.csv", "0.0608,0.0610", "0.0658,0.0660", "the full step"),
    ],
)
def test_a_slip_in_the_catalogue_is_named_by_file_and_line_and_nothing_is_loaded(
    shop: Shop, own: Path, file: str, old: str, new: str, said: str
) -> None:
    spoil(own / file, old, new)
    text = shop.tries("catalog", "check", str(own))
    assert text.status == 2
    assert said in text.out
    assert f"{file} line" in text.out
    assert said in shop.refuses("catalog", "load", str(own))
    assert shop.reads("catalog", "show")["editions"] == []


def test_a_rule_that_runs_in_a_circle_is_named_with_its_chain(shop: Shop, own: Path) -> None:
    rules = own / "corvane-650" / "consequences.csv"
    with rules.open("a", encoding="utf-8") as file:
        file.write("there,renew,oil-pump,,,renew,relief-valve,,one,common practice,\n")
        file.write("back,renew,relief-valve,,,renew,oil-pump,,two,common practice,\n")
    text = shop.tries("catalog", "check", str(own)).out
    assert "circle" in text
    assert "there" in text


def test_a_circle_that_two_families_close_is_told_once_by_check_and_by_load(
    shop: Shop, own: Path
) -> None:
    shutil.copytree(own / "corvane-650", own / "corvane-700")
    there, back = "cor:C61-6110,1,cor:C61-1067,1", "cor:C61-1067,1,cor:C61-6110,1"
    for family, step in (("corvane-650", there), ("corvane-700", back)):
        with (own / family / "links.csv").open("a", encoding="utf-8") as file:
            file.write(f"ring,superseded,{step},,,,,,,,,,,bulletin 99\n")
    told = "cor:C61-1067 → cor:C61-6110 → cor:C61-1067"
    checked = shop.tries("catalog", "check", str(own))
    assert checked.status == 2
    assert checked.out.count(told) == 1
    assert "by corvane-700 (record ring)" in checked.out
    assert shop.refuses("catalog", "load", str(own)).count(told) == 1


def test_loading_twice_changes_nothing(shop: Shop) -> None:
    shop.types("catalog", "load")
    again = shop.types("catalog", "load")
    assert again.count("unchanged") == 3


def test_the_doctor_says_what_is_missing_and_creates_nothing(shop: Shop) -> None:
    text = shop.types("doctor")
    assert "there is no database yet" in text
    assert not (shop.folder / "shop.sqlite").exists()


def test_a_database_that_is_none_is_refused(shop: Shop) -> None:
    (shop.folder / "shop.sqlite").write_bytes(b"not a database, whatever its name says" * 100)
    assert "shop.sqlite" in shop.refuses("job", "list")
