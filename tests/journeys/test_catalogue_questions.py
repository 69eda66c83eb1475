"""The catalogue asked at the terminal: what answers for what, where it goes, how two differ."""

import shutil
from pathlib import Path

import pytest

from kitting.catalog.shipped import shipped_folder
from tests.journeys.shop import DAY, Shop
from tests.sheets.price_lists import csv_file

QUESTIONS = (
    ("trace", "C61-1067/010", "--engine", "CV23417", "--on", DAY),
    ("trace", "C61-3301", "--on", DAY),
    ("trace", "C61-1546", "--position", "drive-side-bearing", "--on", DAY),
    ("where-used", "C66-1067/010", "--on", DAY),
    ("fits", "big-end-shells-left", "--family", "corvane-650", "--on", DAY),
    ("compare", "C61-1546", "PV NUP 306 C3", "--on", DAY),
    ("trace", "C61-1546", "--position", "camshaft", "--on", DAY),
    ("where-used", "C64-1067/010", "--on", DAY),
    ("where-used", "C61-2223", "--on", DAY),
    ("fits", "camshaft", "--family", "corvane-650", "--on", DAY),
    ("find", "oil seal for gearbox"),
    ("find", "camshaft", "77", "purple"),
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


def test_a_size_is_found_by_its_thousandths_and_a_part_by_what_it_fits(stocked_shop: Shop) -> None:
    def found(*words: str) -> set[str]:
        return {each["part"] for each in stocked_shop.reads("catalog", "find", *words)["parts"]}

    assert found("timing", "bush", "20") == {"cor:C61-1541/020", "hob:HB 2128/020"}
    assert found("timing", "bush", "20", "thou") == found("timing", "bush", ".020")
    assert "cor:C66-4078" in found("fits", "camshaft")
    assert "cor:C66-4078" in found("camshaft", "for", "the", "Corvane", "Mark", "2")
    assert "cor:C66-4078" in found("camshaft", "--family", "corvane-650")
    assert not found("C66-4078", "--family", "tarnwick-s45")
    words = ("catalog", "find", "c61 1067", "--family", "tarnwick-s45")
    said = stocked_shop.types(*words)
    assert "No part of tarnwick-s45 is 'c61 1067'." in said
    assert "It is a number of another family; is that the engine?" in said
    (other,) = stocked_shop.reads(*words)["elsewhere"]
    assert (other["part"], other["families"]) == ("cor:C61-1067", ["corvane-650"])


def test_where_nothing_has_every_word_the_odd_one_is_named_and_the_rest_asked_about(
    stocked_shop: Shop,
) -> None:
    said = " ".join(stocked_shop.types("catalog", "find", "timing", "bush", "77").split())
    assert "Nothing is 'timing bush 77'. No part has '77'." in said
    assert "These agree with the most of it; is it one of them?" in said
    said = " ".join(stocked_shop.types("catalog", "find", "oil seal for gearbox").split())
    assert "No part has 'gearbox' beside the rest" in said
    partly = stocked_shop.reads("catalog", "find", "oil seal for gearbox")["partly"]
    assert {"part": "cor:C61-6158", "name": "High gear seal", "lacks": ["oil"]} in partly


def test_a_part_traced_for_a_place_that_it_does_not_fit_is_told_so(stocked_shop: Shop) -> None:
    words = ("catalog", "trace", "C61-1546", "--position", "camshaft", "--on", DAY)
    said = " ".join(stocked_shop.types(*words).split())
    assert "Today's answer: nothing." in said
    assert "cor:C61-1546 fits drive-side-bearing, not camshaft." in said
    found = stocked_shop.reads(*words)
    assert (found["answer"], found["fits"]) == (None, ["drive-side-bearing"])


def test_an_old_number_and_a_companion_are_told_where_they_belong(stocked_shop: Shop) -> None:
    found = stocked_shop.reads("catalog", "where-used", "C64-1067/010", "--on", DAY)
    assert {use["fit"]["position"] for use in found["uses"]} == {
        "big-end-shells-left",
        "big-end-shells-right",
    }
    assert all(use["superseded"] for use in found["uses"])
    assert {use["today"]["buy"][0]["part"] for use in found["uses"]} == {"cor:C66-1067/010"}
    said = stocked_shop.types("catalog", "where-used", "C64-1067/010", "--on", DAY)
    assert "superseded, the list names" in " ".join(said.split())
    found = stocked_shop.reads("catalog", "where-used", "C61-2223", "--on", DAY)
    assert "camshaft-late" in {each["link"]["record"] for each in found["needed_with"]}
    said = stocked_shop.types("catalog", "where-used", "C61-2223", "--on", DAY)
    assert "bought with" in said


def test_fits_without_an_engine_says_so_and_shows_what_some_engines_take(
    stocked_shop: Shop,
) -> None:
    words = ("catalog", "fits", "camshaft", "--family", "corvane-650", "--on", DAY)
    said = " ".join(stocked_shop.types(*words).split())
    assert "No engine is named" in said
    parts = {each["fit"]["part"]: each for each in stocked_shop.reads(*words)["parts"]}
    (late,) = parts["cor:C66-4078"]["on_some_engines"]
    assert late["buy"] == [{"part": "cor:C69-4084", "quantity": 1}]
    assert "only engines 28001 to the last" in late["conditions"]
    said = " ".join(stocked_shop.types(*words, "--engine", "CV28110").split())
    assert "buy with it" in said
    named = stocked_shop.reads(*words, "--engine", "CV28110")
    assert named["engine_named"]
    assert [each["on_some_engines"] for each in named["parts"]] == [[] for _ in named["parts"]]


def test_a_part_beside_itself_is_one_number(stocked_shop: Shop) -> None:
    said = stocked_shop.types("catalog", "compare", "C61-1546", "c61 1546")
    assert "Both are one number" in said
    assert "may stand for" not in said
    assert stocked_shop.reads("catalog", "compare", "C61-1546", "c61 1546")["stands_for"] == []


def a_later_edition(folder: Path, name: str, more: str) -> Path:
    """The shipped family as text under another edition's name, with one link more."""
    place = folder / name / "corvane-650"
    shutil.copytree(shipped_folder() / "corvane-650", place)
    family = (place / "family.csv").read_text(encoding="utf-8")
    (place / "family.csv").write_text(family.replace("edition,1970-4", f"edition,{name}"), "utf-8")
    links = (place / "links.csv").read_text(encoding="utf-8").rstrip("\n")
    (place / "links.csv").write_text(f"{links}\n{more}\n", "utf-8")
    return place


def test_an_edition_that_closes_a_circle_with_an_accepted_link_is_refused_whole(
    stocked_shop: Shop,
) -> None:
    folder = stocked_shop.folder
    row = ["cor:C61-6110", "12.00", "cor:C61-1067"]
    csv_file(folder / "list.csv", [["Part number", "Price", "Superseded by"], row], ",")
    stocked_shop.types("prices", "load", "list.csv", "--supplier", "marlbeck", "--confirm")
    (link,) = stocked_shop.reads("prices", "review")["links"]
    accepts = ("prices", "review", "--accept", str(link["id"]), "--who", "Joan")
    assert "cor:C61-6110 is superseded by cor:C61-1067" in stocked_shop.types(*accepts)

    closes = "ring,superseded,cor:C66-1067,1,cor:C61-6110,1,,,,,,,,,,,bulletin 99"
    next_one = str(a_later_edition(folder, "1970-5", closes))
    told = stocked_shop.refuses("catalog", "load", next_one)
    assert "corvane-650, links.csv line" in told
    assert "cor:C61-1067" in told
    assert "accepted by Joan" in told
    assert f"kitting prices review --refuse {link['id']}" in told
    assert stocked_shop.reads("catalog", "show", "corvane-650")["family"]["edition"] == "1970-4"

    book = folder / "next.xlsx"
    stocked_shop.types("catalog", "export", next_one, "--to", str(book))
    told = stocked_shop.refuses("catalog", "import", str(book))
    assert "sheet Links, cell E" in told
    assert "supersessions in a circle with what is kept already" in told
    assert stocked_shop.reads("catalog", "show", "corvane-650")["family"]["edition"] == "1970-4"

    stocked_shop.types("prices", "review", "--refuse", str(link["id"]), "--who", "Joan")
    stocked_shop.types("catalog", "load", next_one)
    assert stocked_shop.reads("catalog", "show", "corvane-650")["family"]["edition"] == "1970-5"


def test_a_family_goes_out_is_edited_and_comes_back_and_jobs_keep_their_edition(
    open_shop: Shop,
) -> None:
    from openpyxl import load_workbook

    file = open_shop.folder / "corvane.xlsx"
    open_shop.types("catalog", "export", "corvane-650", "--to", str(file))
    said = open_shop.types("catalog", "import", str(file))
    assert "There already, unchanged; it is in force." in said
    book = load_workbook(file)
    edit(book["Family"], "edition", "1970-5")
    edit(book["Parts"], "cor:C61-1067", "Big-end shells, standard, renamed")
    book.save(file)
    open_shop.types("catalog", "import", str(file), "--check-only")
    assert open_shop.reads("catalog", "show", "corvane-650")["family"]["edition"] == "1970-4"
    assert "Loaded; it is in force." in open_shop.types("catalog", "import", str(file))
    assert open_shop.reads("catalog", "show", "corvane-650")["family"]["edition"] == "1970-5"
    loaded = open_shop.types("catalog", "load")
    assert "there already, unchanged; edition 1970-5 stays in force" in loaded
    put_back = "catalog put-back corvane-650 1970-4"
    assert f"kitting {put_back}" in loaded
    said = open_shop.types(*put_back.split())
    assert said.strip() == (
        "Corvane 650 twin, edition 1970-4: in force, in place of edition 1970-5."
    )
    assert open_shop.reads("catalog", "show", "corvane-650")["family"]["edition"] == "1970-4"
    open_shop.types("catalog", "put-back", "corvane-650", "1970-5")
    assert "did you mean" in open_shop.refuses("catalog", "put-back", "corvane-650", "1971")
    named = open_shop.reads("catalog", "trace", "cor:C61-1067")["name"]
    assert named == "Big-end shells, standard, renamed"
    assert open_shop.reads("job", "show", "26-041")["job"]["edition"] == "1970-4"


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
    edit(book["Family"], "edition", "1970-5")
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
    assert stocked_shop.reads("catalog", "show", "corvane-650")["family"]["edition"] == "1970-4"


def test_links_that_disagree_on_how_many_are_told_by_check_kit_and_order(
    stocked_shop: Shop,
) -> None:
    shop, own = stocked_shop, stocked_shop.folder / "corvane-650"
    shutil.copytree(shipped_folder() / "corvane-650", own)
    family = own / "family.csv"
    family.write_text(family.read_text("utf-8").replace("1970-4", "1970-5"), "utf-8")
    chain, plate, cups = "cor:C61-5053", "cor:C61-5065", "cor:C61-5071"
    rows = ((chain, plate, 1), (plate, cups, 1), (chain, cups, 2))
    with (own / "links.csv").open("a", encoding="utf-8") as file:
        for at, (old, new, count) in enumerate(rows):
            file.write(f"zz{at},one way,{old},1,{new},{count},,,,,,,,,,,bulletin 99\n")
    (warning,) = shop.reads("catalog", "check", str(own))["warnings"]
    assert f"for 1 × {chain} it takes 2 × {cups} by {chain} → {cups} (links.csv" in str(warning)
    shop.types("catalog", "load", str(own))

    wrong = f"by {chain} → {plate} → {cups} it takes 1 of it, by another chain 2"
    fits = ("catalog", "fits", "primary-chain", "--family", "corvane-650")
    assert wrong in " ".join(shop.types(*fits).split())
    served = shop.reads(*fits)["parts"]
    assert wrong in str([each["problems"] for each in served if each["fit"]["part"] == chain])
    shop.types("job", "open", "26-050", "--family", "corvane-650", "--engine", "CV23417")
    shop.types("strip", "add", "26-050", "primary-chain", "sound", "--who", "J. Fitter")
    renew = ("decide", "verdict", "26-050", "primary-chain", "renew")
    shop.types(*renew, "--who", "K. Ferris", "--reason", "noisy")
    lines = shop.reads("kit", "26-050")["lines"]
    (line,) = [each for each in lines if "primary-chain" in each["positions"]]
    assert f"{cups}: {wrong}" in str(line["wrong_in_data"])
    kit = " ".join(shop.types("kit", "26-050").split())
    assert f"- {line['line']} {line['name']}: {cups}: {wrong}" in kit
    assert wrong in " ".join(shop.types("kit", "26-050", "--why", line["line"]).split())
    made = shop.types("order", "make", "26-050")
    assert f"Mind: job 26-050, line {line['line']}, wrong in the catalogue: {cups}: {wrong}" in made


def edit(sheet: object, key: str, said: str, column: int = 2) -> None:
    """Write into a column of the row that opens with a key."""
    from openpyxl.worksheet.worksheet import Worksheet

    assert isinstance(sheet, Worksheet)
    for row in sheet.iter_rows(min_row=4):
        if row[0].value == key:
            row[column - 1].value = said
            return
    raise AssertionError(f"{key} is not in {sheet.title}")
