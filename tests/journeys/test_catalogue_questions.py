"""The catalogue asked at the terminal: what answers for what, where it goes, how two differ."""

from pathlib import Path

import pytest

from tests.journeys.shop import DAY, Shop

QUESTIONS = (
    ("trace", "C61-1067/010", "--engine", "CV23417", "--on", DAY),
    ("trace", "C61-3301", "--on", DAY),
    ("trace", "C61-1546", "--position", "drive-side-bearing", "--on", DAY),
    ("where-used", "C66-1067/010", "--on", DAY),
    ("fits", "big-end-shells-left", "--family", "corvane-650", "--on", DAY),
    ("compare", "C61-1546", "PV NUP 306 C3", "--on", DAY),
)


@pytest.mark.parametrize("words", QUESTIONS, ids=" ".join)
def test_every_answer_fits_eighty_columns(words: tuple[str, ...], stocked_shop: Shop) -> None:
    if "--position" in words:
        family = stocked_shop.reads("catalog", "show", "corvane-650")["family"]
        words = tuple(
            next(p["key"] for p in family["positions"] if "bearing" in p["key"])
            if word == "drive-side-bearing"
            else word
            for word in words
        )
    lines = stocked_shop.types("catalog", *words).splitlines()
    assert max(map(len, lines)) <= 80


def test_a_shell_is_traced_through_two_supersessions_to_its_interchange(stocked_shop: Shop) -> None:
    found = stocked_shop.reads(
        "catalog", "trace", "c61 1067/010", "--engine", "CV23417", "--on", DAY
    )
    assert found["answer"]["buy"] == [{"part": "cor:C66-1067/010", "quantity": 1}]
    assert found["grade"] == "under-010"
    assert [way["buy"][0]["part"] for way in found["ways"]] == [
        "cor:C66-1067/010",
        "hob:HW 1718/010",
    ]
    why = {row["part"]: row["not_taken"] for row in found["tree"] if row["not_taken"]}
    assert why["cor:C61-1067/010"] == ["superseded by cor:C64-1067/010"]


def test_the_engine_number_decides_whether_a_supersession_holds(stocked_shop: Shop) -> None:
    def answer(engine: str) -> str:
        found = stocked_shop.reads("catalog", "trace", "C66-4078", "--engine", engine, "--on", DAY)
        return str(found["answer"]["buy"][0]["part"])

    assert answer("CV28110") == "cor:C69-4084"
    assert answer("CV23417") == "cor:C66-4078"


def test_the_picture_is_written_beside_the_answer(stocked_shop: Shop) -> None:
    file = stocked_shop.folder / "tree.svg"
    said = stocked_shop.types("catalog", "trace", "C61-1546", "--svg", str(file))
    assert str(file) in said
    assert "pen:PV NU 306 C3" in file.read_text(encoding="utf-8")


def test_a_suppliers_number_is_taken_and_words_never_are(stocked_shop: Shop) -> None:
    told = stocked_shop.refuses("catalog", "trace", "timing bush")
    assert "no part 'timing bush'" in told


def test_a_mistyped_number_is_a_question_with_the_difference(stocked_shop: Shop) -> None:
    told = stocked_shop.refuses("catalog", "trace", "C61-1076/010")
    assert "did you mean" in told
    assert "cor:C61-1067/010 (76 typed where it has 67, at place 6)" in told


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("trace", "C61-1067", "--engine", "ZZ12"), "engine ZZ12 is no Corvane 650 twin"),
        (("trace", "C61-1067", "--position", "cam-shaft"), "did you mean camshaft"),
        (("trace", "C61-1067", "--grade", "under-11"), "no grade of corvane-650 'under-11'"),
        (("fits", "camshaft", "--family", "corvane"), "no engine family 'corvane'"),
        (("trace", "C61-1067", "--on", "yesterday"), "'yesterday' is no day"),
        (("export", "corvane", "--to", "c.xlsx"), "no engine family 'corvane'"),
        (("import", "none.xlsx"), "there is no such file"),
    ],
)
def test_what_cannot_be_answered_is_refused_in_a_sentence(
    words: tuple[str, ...], told: str, stocked_shop: Shop
) -> None:
    assert told in stocked_shop.refuses("catalog", *words)


def test_where_used_finds_a_number_that_no_parts_list_names(stocked_shop: Shop) -> None:
    found = stocked_shop.reads("catalog", "where-used", "C64-1067/010", "--on", "1965-01-01")
    assert {use["fit"]["position"] for use in found["uses"]} == {
        "big-end-shells-left",
        "big-end-shells-right",
    }
    assert {use["way"]["kind"] for use in found["uses"]} == {"superseded"}


def test_a_family_goes_out_is_edited_and_comes_back_and_jobs_keep_their_edition(
    open_shop: Shop,
) -> None:
    from openpyxl import load_workbook

    file = open_shop.folder / "corvane.xlsx"
    open_shop.types("catalog", "export", "corvane-650", "--to", str(file))
    assert "There already, unchanged." in open_shop.types("catalog", "import", str(file))
    book = load_workbook(file)
    edit(book["Family"], "edition", "1970-3")
    edit(book["Parts"], "cor:C61-1067", "Big-end shells, standard, renamed")
    book.save(file)
    open_shop.types("catalog", "import", str(file), "--check-only")
    assert open_shop.reads("catalog", "show", "corvane-650")["family"]["edition"] == "1970-2"
    open_shop.types("catalog", "import", str(file))
    assert open_shop.reads("catalog", "show", "corvane-650")["family"]["edition"] == "1970-3"
    named = open_shop.reads("catalog", "trace", "cor:C61-1067")["name"]
    assert named == "Big-end shells, standard, renamed"
    assert open_shop.reads("job", "show", "26-041")["job"]["edition"] == "1970-2"


def test_an_edition_that_jobs_rely_on_is_not_changed_under_them(open_shop: Shop) -> None:
    from openpyxl import load_workbook

    file = open_shop.folder / "corvane.xlsx"
    open_shop.types("catalog", "export", "corvane-650", "--to", str(file))
    book = load_workbook(file)
    edit(book["Parts"], "cor:C61-1067", "renamed")
    book.save(file)
    told = open_shop.refuses("catalog", "import", str(file))
    assert "jobs refer to it: 26-041" in told
    assert "new edition name in the sheet Family" in told


def test_a_workbook_is_written_back_as_text_that_checks(stocked_shop: Shop) -> None:
    file = stocked_shop.folder / "corvane.xlsx"
    stocked_shop.types("catalog", "export", "corvane-650", "--to", str(file))
    stocked_shop.types("catalog", "import", str(file), "--to", "text")
    folder = Path("text") / "corvane-650"
    assert stocked_shop.reads("catalog", "check", str(folder))["sound"]
    stocked_shop.types("catalog", "import", str(file), "--to", "text", "--load")


def test_every_fault_of_a_workbook_is_told_at_once_and_nothing_kept(stocked_shop: Shop) -> None:
    from openpyxl import load_workbook

    file = stocked_shop.folder / "corvane.xlsx"
    stocked_shop.types("catalog", "export", "corvane-650", "--to", str(file))
    book = load_workbook(file)
    edit(book["Family"], "edition", "1970-4")
    edit(book["Positions"], "camshaft", "timing", column=2)
    edit(book["Links"], "shells-1", "superceded", column=2)
    book.save(file)
    told = stocked_shop.refuses("catalog", "import", str(file), "--to", "text")
    assert "'superceded' is none of" in told
    edit(book["Links"], "shells-1", "superseded", column=2)
    edit(book["Links"], "shells-2", "cor:C66-1076", column=5)
    book.save(file)
    told = stocked_shop.refuses("catalog", "import", str(file), "--to", "text")
    assert "sheet Positions, cell B" in told
    assert "there is no assembly 'timing'" in told
    assert "sheet Links, cell E" in told
    assert "2 problems; nothing was stored." in told
    assert not Path("text").exists()
    assert stocked_shop.reads("catalog", "show", "corvane-650")["family"]["edition"] == "1970-2"


def edit(sheet: object, key: str, said: str, column: int = 2) -> None:
    """Write into a column of the row that opens with a key."""
    from openpyxl.worksheet.worksheet import Worksheet

    assert isinstance(sheet, Worksheet)
    for row in sheet.iter_rows(min_row=4):
        if row[0].value == key:
            row[column - 1].value = said
            return
    raise AssertionError(f"{key} is not in {sheet.title}")
