"""Parts off the shop's own shelf into the bags of a job, by the commands that a user types."""

from decimal import Decimal
from pathlib import Path
from typing import Any

from openpyxl import load_workbook
from pypdf import PdfReader

from tests.journeys.shop import DAY, Shop

JOB = "26-041"
NUT = "WF BN516U"


def line_for(shop: Shop, position: str) -> Any:
    kit = shop.reads("kit", JOB, "--on", DAY)
    return next(line for line in kit["lines"] if position in line["positions"])


def nuts(shop: Shop) -> Any:
    return line_for(shop, "big-end-nuts-left")


def test_what_is_taken_shows_on_shelf_kit_bags_and_pick_list(loaded: Shop) -> None:
    loaded.types("shelf", "in", NUT, "6", "--where", "bin 9", "--cost", "1.10", "--who", "Joan")
    line = nuts(loaded)
    said = loaded.types("shelf", "take", JOB, line["line"], "--who", "Joan")
    assert "4 × wen:WF BN516U taken" in said
    assert "2 lie free" in said
    shelf = loaded.reads("shelf", "show")
    assert [(i["where"], i["free"], i["cost"]) for i in shelf["items"]] == [("bin 9", 2, "1.10")]
    assert [(t["job"], t["quantity"]) for t in shelf["taken"]] == [(JOB, 4)]
    assert (nuts(loaded)["in_hand"], nuts(loaded)["from_shelf"]) == (4, 4)
    assert "4 from the shelf" in loaded.types("kit", JOB, "--find", NUT, "--on", DAY)
    bags = loaded.reads("bags", JOB, "--on", DAY)["bags"]
    assert line["line"] not in [wait["key"] for wait in bags[0]["waits"]]
    loaded.types("sheets", JOB, "--to", "out", "--on", DAY)
    book = load_workbook(loaded.folder / "out" / f"{JOB}-pick-list.xlsx")
    cells = [str(cell.value) for row in book.worksheets[0] for cell in row]
    assert "our shelf: bin 9" in cells


def test_a_line_that_has_its_parts_takes_no_more(loaded: Shop) -> None:
    loaded.types("shelf", "in", NUT, "9", "--where", "bin 9")
    key = nuts(loaded)["line"]
    loaded.types("shelf", "take", JOB, key)
    assert "its 4 are in hand already" in loaded.refuses("shelf", "take", JOB, key)
    loaded.types("shelf", "give-back", JOB, key, "--quantity", "1")
    said = loaded.refuses("shelf", "take", JOB, key, "--quantity", "2")
    assert "misses only 1, not 2" in said


def test_what_one_job_has_taken_another_cannot(loaded: Shop) -> None:
    loaded.types("shelf", "in", NUT, "4", "--where", "bin 9")
    loaded.types("shelf", "take", JOB, nuts(loaded)["line"])
    loaded.types(
        "job", "open", "26-042", "--family", "corvane-650", "--engine", "CV23418"
    )  # fmt: skip
    loaded.types("strip", "load", "26-042", str(refilled(loaded)))
    other = loaded.reads("kit", "26-042", "--on", DAY)["lines"]
    key = next(each["line"] for each in other if "big-end-nuts-left" in each["positions"])
    assert "none of it lies free" in loaded.refuses("shelf", "take", "26-042", key)
    loaded.types("shelf", "give-back", JOB, nuts(loaded)["line"])
    assert "4 × wen:WF BN516U taken" in loaded.types("shelf", "take", "26-042", key)


def refilled(shop: Shop) -> Path:
    return shop.filled("26-042", shop.demo_entries(), "other.xlsx")


def test_parts_that_the_kit_no_longer_asks_for_are_shown_and_can_be_given_back(
    loaded: Shop,
) -> None:
    shells = line_for(loaded, "big-end-shells-left")
    loaded.types("shelf", "in", shells["part"], "2", "--where", "drawer", "--cost", "9.50")
    said = loaded.types("shelf", "take", JOB, shells["line"])
    assert "HELD" in said
    loaded.types(
        "decide", "size", JOB, "crankpin", "under-020",
        "--who", "K. Ferris", "--reason", "the grinder clocked it",
    )  # fmt: skip
    bags = loaded.reads("bags", JOB, "--on", DAY)
    assert [(each["part"], each["quantity"]) for each in bags["left_over"]] == [(shells["part"], 2)]
    assert "no longer asked for" in loaded.types("bags", JOB, "--on", DAY)
    loaded.types("shelf", "give-back", JOB, shells["part"])
    assert loaded.reads("bags", JOB, "--on", DAY)["left_over"] == []


def test_a_stage_can_start_when_all_of_it_is_marked(loaded: Shop) -> None:
    def bag() -> Any:
        return next(b for b in loaded.reads("bags", JOB, "--on", DAY)["bags"] if b["number"] == 3)

    assert not bag()["can_start"]
    marks = [word for line in bag()["lines"] for word in ("--in-hand", line["line"])]
    loaded.types("bags", JOB, *marks, "--who", "Joan")
    assert bag()["can_start"], bag()["waits"]
    loaded.types("bags", JOB, "--not-in-hand", bag()["lines"][0]["line"], "--who", "Joan")
    assert [wait["why"] for wait in bag()["waits"]] == ["parts to order"]


def test_machining_that_is_back_is_marked_with_what_it_cost(loaded: Shop) -> None:
    loaded.types("bags", JOB, "--back", "regrind", "--cost", "96.00", "--who", "Joan")
    bottom = loaded.reads("bags", JOB, "--on", DAY)["bags"][0]
    assert "regrind" in bottom["machining"]
    assert "regrind" not in [wait["key"] for wait in bottom["waits"]]
    loaded.types("bags", JOB, "--not-back", "regrind", "--who", "Joan")
    bottom = loaded.reads("bags", JOB, "--on", DAY)["bags"][0]
    assert "regrind" in [wait["key"] for wait in bottom["waits"]]


def test_a_set_that_came_brings_all_its_lines(loaded: Shop) -> None:
    kit = loaded.reads("kit", JOB, "--on", DAY)
    chosen = kit["sets"][0]
    loaded.types("bags", JOB, "--in-hand", chosen["set"], "--who", "Joan", "--on", DAY)
    lines = {line["line"]: line for line in loaded.reads("kit", JOB, "--on", DAY)["lines"]}
    assert all(lines[key]["in_hand"] == lines[key]["quantity"] for key in chosen["covers"])


def test_labels_are_printed_and_an_old_one_is_known_when_scanned(loaded: Shop) -> None:
    said = loaded.types(
        "bags", JOB, "--labels", "bags.pdf", "--sheet", "2x4", "--skip", "3", "--on", DAY
    )
    assert "7 labels on 2 sheets" in said
    words = "\n".join(page.extract_text() for page in PdfReader(loaded.folder / "bags.pdf").pages)
    assert words.count(f"Job {JOB}") == 7
    assert "Aldous" not in words
    bag = loaded.reads("bags", JOB, "--on", DAY)["bags"][0]
    label = bag["label"]
    assert "Aldous" not in label
    assert "Right: bag 1" in loaded.types("bags", JOB, "--scan", bag["check"].lower(), "--on", DAY)
    assert "Right: bag 1" in loaded.types("bags", JOB, "--scan", label, "--on", DAY)
    loaded.types(
        "decide", "size", JOB, "crankpin", "under-020", "--who", "K.", "--reason", "clocked",
    )  # fmt: skip
    scan = ("bags", JOB, "--on", DAY, "--scan")
    assert "OLD: the contents of bag 1" in loaded.refuses(*scan, label)
    assert "NOT of job" in loaded.refuses(*scan, "JOB 26-999; BAG 1")


REFUSED = (
    (("shelf", "in", "XX-404", "2", "--where", "bin"), "no part 'XX-404'"),
    (("shelf", "in", NUT, "0", "--where", "bin"), "0 is not in the range"),
    (("shelf", "in", NUT, "two", "--where", "bin"), "'two' is not a valid integer"),
    (("shelf", "in", NUT, "2", "--where", "  "), "--where: it is empty"),
    (("shelf", "in", NUT, "2", "--where", "x" * 300), "it has 300 letters"),
    (("shelf", "in", NUT, "2", "--where", "a\x07b"), "a sign that cannot be shown"),
    (("shelf", "in", NUT, "2", "--where", "bin", "--cost", "1,10"), "'1,10' is no amount of money"),
    (("shelf", "in", NUT, "2", "--where", "bin", "--cost", "-3"), "'-3' is no amount of money"),
    (("shelf", "in", NUT, "2", "--where", "bin", "--cost", "£3"), "'£3' is no amount of money"),
    (("shelf", "out", NUT, "1"), "1 wanted, and none of it lies free"),
    (("shelf", "count", NUT, "-1"), "No such option"),
    (("shelf", "count", NUT, "3"), "no place is named"),
    (("shelf", "take", JOB, "9.99"), "no kit line '9.99'"),
    (("shelf", "take", "26-999", "1.01"), "no job '26-999'"),
    (("shelf", "take", JOB, "if.1"), "only if the recheck says so"),
    (("shelf", "give-back", JOB, "7.01"), "has none of it from the shelf"),
    (("bags", "26-999"), "no job '26-999'"),
    (("bags", JOB, "--in-hand", "7.01"), "--who: it is empty"),
    (("bags", JOB, "--in-hand", "9.99", "--who", "J"), "--in-hand 9.99: no kit line '9.99'"),
    (("bags", JOB, "--not-in-hand", "7.01", "--who", "J"), "nothing of it was marked by hand"),
    (("bags", JOB, "--back", "regind", "--who", "J"), "did you mean regrind?"),
    (("bags", JOB, "--not-back", "regrind", "--who", "J"), "what stands there already"),
    (
        ("shelf", "in", NUT, "2", "--where", "bin", "--cost", "0.905", "--who", "J"),
        "--cost: 0.905 GBP is finer than money is paid; nearest is 0.91",
    ),
    (
        ("bags", JOB, "--back", "regrind", "--cost", "96.005", "--who", "J"),
        "--cost: 96.005 GBP is finer than money is paid; nearest is 96.01",
    ),
    (("bags", JOB, "--cost", "3", "--who", "J"), "--cost: it goes with one line or operation"),
    (("bags", JOB, "--quantity", "3", "--who", "J"), "--quantity: it goes with one line"),
    (
        ("bags", JOB, "--in-hand", "7.01", "--quantity", "9", "--who", "J"),
        "only 1 of it miss, not 9",
    ),
    (("bags", JOB, "--labels", "bags.doc"), "name it bags.pdf"),
    (("bags", JOB, "--labels", "b.pdf", "--sheet", "9x9"), "no sheet of labels '9x9'"),
    (("bags", JOB, "--labels", "b.pdf", "--skip", "24"), "24 of the sheet's 24 labels"),
)


def test_everything_that_cannot_be_taken_is_refused_in_a_sentence(loaded: Shop) -> None:
    for words, sentence in REFUSED:
        assert sentence in loaded.refuses(*words), words
    assert loaded.reads("shelf", "show")["ledger"] == []


def test_another_number_is_taken_only_where_it_serves_and_only_when_it_is_named(
    loaded: Shop,
) -> None:
    seal = line_for(loaded, "drive-side-seal")
    loaded.types("shelf", "in", "C61-1067/010", "4", "--where", "drawer")
    said = loaded.refuses("shelf", "take", JOB, seal["line"], "--part", "C61-1067/010")
    assert "does not serve in" in said
    shells = line_for(loaded, "big-end-shells-left")
    asked = loaded.refuses("shelf", "take", JOB, shells["line"])
    assert "the shelf has no cor:C66-1067/010, but it has cor:C61-1067/010" in asked
    one = ("--part", "C61-1067/010", "--quantity", "1")
    assert "only as a whole, all 2" in loaded.refuses("shelf", "take", JOB, shells["line"], *one)
    loaded.types("shelf", "take", JOB, shells["line"], "--part", "C61-1067/010")
    assert line_for(loaded, "big-end-shells-left")["from_shelf"] == 2


def test_the_screens_fit_a_terminal(loaded: Shop) -> None:
    loaded.types("shelf", "in", NUT, "6", "--where", "the long bin by the window", "--who", "Joan")
    loaded.types("shelf", "take", JOB, nuts(loaded)["line"], "--note", "for the left rod")
    for words in (
        ("shelf", "show"), ("shelf", "show", "--ledger"), ("bags", JOB), ("bags", JOB, "--whole"),
    ):  # fmt: skip
        lines = loaded.types(*words).splitlines()
        assert max(map(len, lines)) <= 80, words


def test_a_set_on_the_shelf_is_told_and_opened_before_its_parts_are_taken(ready: Shop) -> None:
    number = "amb:AS 650 SET"
    ready.types("shelf", "in", number, "1", "--where", "bin 9", "--cost", "31.24")
    plain = " ".join(ready.types("order", "make", JOB, "--on", DAY).split())
    assert f"the set {number}, 1 free on the shelf, holds what line" in plain
    plan = " ".join(ready.types("order", "make", JOB, "--plan", "cheapest", "--on", DAY).split())
    assert f"still to open on the shelf: 1 × the set {number}" in plan
    assert "2 wanted, and 1 of it lie free" in ready.refuses("shelf", "open", number, "2")
    said = ready.types("shelf", "open", number, "--where", "bin 10")
    assert f"{number} opened; of each one on the shelf now" in said
    items = ready.reads("shelf", "show")["items"]
    assert number not in {each["part"] for each in items}
    assert {each["where"] for each in items} == {"bin 10"}
    assert "and none of it lie free" in ready.refuses("shelf", "open", number)
    assert "no family lists what is in it" in ready.refuses("shelf", "open", items[0]["part"])
    kit = ready.reads("kit", JOB, "--on", DAY)["lines"]
    lying = {each["part"] for each in items}
    line = next(each for each in kit if each["part"] in lying)
    ready.types("shelf", "take", JOB, line["line"])
    after = next(each for each in ready.reads("kit", JOB)["lines"] if each["line"] == line["line"])
    assert after["from_shelf"] == line["quantity"]


def test_of_sets_that_cost_different_sums_the_pieces_carry_what_the_opened_one_cost(
    ready: Shop,
) -> None:
    number = "amb:AS 650 SET"
    for cost in ("24.00", "12.00"):
        ready.types("shelf", "in", number, "1", "--where", "bin 9", "--cost", cost)
    for left in (1, 0):
        ready.types("shelf", "open", number)
        items = ready.reads("shelf", "show")["items"]
        assert sum(each["free"] * Decimal(each["cost"]) for each in items) == 36
        sets = [(each["free"], each["cost"]) for each in items if each["part"] == number]
        assert sets == [(1, "12.00")] * left
