"""Orders from the draft to the last piece sent back, by the commands that a user types."""

from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from pydantic import TypeAdapter

from kitting.cli.shapes.order import OrderShape, OrdersShape
from tests.journeys.shop import DAY, Shop
from tests.sheets.opened import everything_in

JOB = "26-041"
CUSTOMER = "Aldous"
_COLUMNS = {"answer": 11, "packs": 12, "price": 13, "day": 14, "substitute": 15, "remark": 16}


def order(shop: Shop, number: str = "P1001") -> Any:
    return shop.reads("order", "show", number)


def lines(shop: Shop, number: str = "P1001") -> dict[str, Any]:
    return {line["line"]: line for line in order(shop, number)["lines"]}


def a_line(shop: Shop, **wanted: object) -> Any:
    """The first line of the first order of which all of that is so."""
    for line in lines(shop).values():
        if all(line[key] == value for key, value in wanted.items()):
            return line
    raise AssertionError(wanted)


def measured_line(shop: Shop) -> Any:
    return next(line for line in lines(shop).values() if line["measure"])


def replied(
    shop: Shop,
    boxes: dict[str, dict[str, Any]],
    name: str = "reply.xlsx",
    order: str = "P1001",
) -> Path:
    """The order's sheet, filled in by the supplier."""
    file = shop.folder / name
    shop.types("order", "sheet", order, "--to", str(file))
    book = openpyxl.load_workbook(file)
    sheet = book.worksheets[0]
    for row in sheet.iter_rows():
        for box, value in boxes.get(str(row[0].value), {}).items():
            sheet.cell(int(row[0].row or 0), _COLUMNS[box]).value = value
    book.save(file)
    return file


def test_a_job_drafts_one_order_a_supplier_and_a_second_make_changes_nothing(ready: Shop) -> None:
    before = ready.reads("order", "list")
    assert len(before["orders"]) >= 3
    assert {each["state"] for each in before["orders"]} == {"draft"}
    assert "unchanged" in ready.types("order", "make", JOB, "--on", DAY)
    assert ready.reads("order", "list") == before


def test_the_orders_are_what_the_estimate_priced(ready: Shop) -> None:
    estimate = ready.reads("estimate", JOB, "--on", DAY)
    held = {line["line"] for line in ready.reads("kit", JOB, "--on", DAY)["lines"] if line["hold"]}
    priced = {
        line["part"]
        for line in estimate["lines"]
        if line["kind"] in {"part", "set"} and line["line"] not in held and line["supplier"]
    }
    orders = [each["order"] for each in ready.reads("order", "list")["orders"]]
    assert {line["part"] for each in orders for line in lines(ready, each).values()} == priced


def test_an_order_of_a_job_that_is_not_ready_is_drafted_and_not_approved(loaded: Shop) -> None:
    assert "NOT ready to order" in loaded.types("order", "make", JOB, "--on", DAY)
    said = loaded.refuses("order", "approve", "P1001", "--who", "K. Ferris", "--on", DAY)
    assert "job 26-041: it is not ready to order" in said
    assert order(loaded)["brief"]["state"] == "draft"


def test_an_order_is_approved_once_by_a_named_person(ordered: Shop) -> None:
    brief = order(ordered)["brief"]
    assert (brief["state"], brief["approved_by"]) == ("approved", "K. Ferris")
    said = ordered.refuses("order", "approve", "P1001", "--who", "J. Marlowe", "--on", DAY)
    assert "it was approved already, by K. Ferris" in said
    assert "empty" in ordered.refuses("order", "approve", "P1002", "--who", " ", "--on", DAY)


def test_nothing_that_leaves_the_shop_says_whose_it_is_or_what_it_earns(ordered: Shop) -> None:
    """Sheet, documents and text are searched for customer, job, engine, margin, other suppliers."""
    for words in (("sheet",), ("xml", "--as", "ubl"), ("xml", "--as", "order-x"), ("csv",)):
        file = ordered.folder / f"out-{'-'.join(words).replace('--', '')}"
        ordered.types("order", words[0], "P1001", *words[1:], "--to", str(file))
    mine = order(ordered)
    others = {each["supplier"] for each in ordered.reads("order", "list")["orders"]}
    others.discard(mine["brief"]["supplier"])
    estimate = ordered.reads("estimate", JOB, "--on", DAY)
    told = {each["pack_price"] for each in mine["lines"]} | {each["net"] for each in mine["lines"]}
    ours = {
        line["unit_net"]
        for line in estimate["lines"]
        if line["part"] in {each["part"] for each in mine["lines"]} and line["unit_net"] not in told
    }
    assert ours
    for text in _contents(ordered.folder):
        for word in (CUSTOMER, JOB, "CV23417", "corvane", "margin", "markup", *others):
            assert word.casefold() not in text.casefold()
        for price in ours:
            assert f">{price}<" not in text
            assert f",{price}," not in text


def _contents(folder: Path) -> Iterator[str]:
    files = sorted(folder.glob("out-*"))
    assert len(files) == 4
    for file in files:
        sheet = file.name == "out-sheet"
        text = everything_in(file) if sheet else file.read_text(encoding="utf-8")
        # A page's own margins are no trade secret.
        yield text.replace("pageMargins", "")


def test_a_draft_makes_a_sheet_that_says_so_and_no_document(ready: Shop) -> None:
    assert "It is a draft" in ready.types("order", "sheet", "P1001", "--to", "d.xlsx")
    said = ready.refuses("order", "xml", "P1001", "--as", "ubl", "--to", "d.xml")
    assert "it is a draft" in said
    assert not (ready.folder / "d.xml").exists()


def test_a_dearer_short_late_reply_is_a_question_that_a_named_person_answers(
    ordered: Shop,
) -> None:
    line = a_line(ordered, quantity=2, pack=1)
    dear = {"packs": 1, "price": float(line["pack_price"]) + 1, "day": "2027-01-08"}
    file = replied(ordered, {line["line"]: dict(dear)})
    ordered.types("order", "reply", str(file), "--only-look")
    assert order(ordered)["replies"] == 0
    assert "1 question." in ordered.types("order", "reply", str(file))
    question = lines(ordered)[line["line"]]["question"]
    assert question["changes"] == ["short", "dearer", "later"]
    assert (Decimal(question["dearer"]), question["missing"]) == (Decimal(1), 1)
    (effect,) = question["dates"]
    assert (effect["job"], effect["offered"]) == (JOB, "2027-01-08")
    assert effect["says"] in " ".join(ordered.types("order", "show", "P1001").split())
    said = ordered.types("order", "answer", "P1001", line["line"], "accept", "--who", "K. Ferris")
    assert "Open again: 1 piece." in said
    assert f"Date: the last part for job {JOB} then comes on 08 Jan 2027" in said
    after = lines(ordered)[line["line"]]
    assert (after["agreed_packs"], after["coming"], after["reopened"]) == (1, 1, 1)
    again = ordered.refuses("order", "answer", "P1001", line["line"], "refuse", "--who", "K. F.")
    assert "asks nothing of it that is still open" in again


def test_a_reply_loaded_twice_changes_nothing(ordered: Shop) -> None:
    line = next(iter(lines(ordered)))
    file = replied(ordered, {line: {"answer": "none"}})
    ordered.types("order", "reply", str(file))
    before = order(ordered)
    assert "Nothing new" in ordered.types("order", "reply", str(file))
    assert order(ordered) == before


def test_a_refused_line_is_drafted_anew_elsewhere(ordered: Shop) -> None:
    parts = {line["part"] for line in lines(ordered).values()}
    line = next(
        each
        for each in lines(ordered).values()
        if sum(o["part"] == each["part"] for o in _offers(ordered, each["part"])) > 1
    )
    file = replied(ordered, {line["line"]: {"price": 99.0}})
    ordered.types("order", "reply", str(file))
    ordered.types("order", "answer", "P1001", line["line"], "refuse", "--who", "K. Ferris")
    ordered.types("order", "make", JOB, "--on", DAY)
    others = [each["order"] for each in ordered.reads("order", "list")["orders"]][1:]
    now = {each["part"] for number in others for each in lines(ordered, number).values()}
    assert line["part"] in now
    assert not (parts - {line["part"]}) & now


def _offers(shop: Shop, part: str) -> list[dict[str, str]]:
    from kitting.catalog.files import read_trade
    from kitting.catalog.shipped import catalogue_folders, shipped_folder

    _, (folder, *_) = catalogue_folders(shipped_folder())
    return [{"part": str(o.part)} for o in read_trade(folder).offers if str(o.part) == part]


def test_a_substitute_is_held_against_the_engine_before_it_can_be_accepted(
    ordered: Shop,
) -> None:
    line, wrong, *_ = lines(ordered).values()
    file = replied(
        ordered,
        {
            line["line"]: {"substitute": wrong["their_number"]},
            wrong["line"]: {"substitute": "ZX 99"},
        },
    )
    ordered.types("order", "reply", str(file))
    fit = lines(ordered)[line["line"]]["question"]["fit"]
    assert {each["serves"] for each in fit} == {"does not serve"}
    said = ordered.refuses("order", "answer", "P1001", line["line"], "accept", "--who", "K. F.")
    assert "does not serve" in said
    unknown = ("order", "answer", "P1001", wrong["line"], "accept", "--who", "K. Ferris")
    assert "say why it will do: --reason" in ordered.refuses(*unknown)
    ordered.types(*unknown, "--reason", "measured beside the old one")
    assert lines(ordered)[wrong["line"]]["agreed_number"] == "ZX 99"


@pytest.mark.parametrize(
    ("boxes", "sentence"),
    [
        ({"price": "on request"}, "'on request' is no price"),
        ({"packs": 99}, "99 packs are confirmed where"),
        ({"remark": "=1+1"}, "the cell holds the formula =1+1"),
    ],
)
def test_a_reply_that_cannot_be_taken_is_refused_whole(
    boxes: dict[str, object], sentence: str, ordered: Shop
) -> None:
    good, bad, *_ = lines(ordered)
    file = replied(ordered, {good: {"answer": "as asked"}, bad: boxes})
    before = order(ordered)
    assert sentence in ordered.refuses("order", "reply", str(file))
    assert order(ordered) == before


def test_a_reply_to_a_draft_or_from_nowhere_is_refused(ready: Shop) -> None:
    line = next(iter(lines(ready)))
    file = replied(ready, {line: {"answer": "as asked"}})
    assert "it is draft: it cannot be answered" in ready.refuses("order", "reply", str(file))
    assert "there is no such file" in ready.refuses("order", "reply", "nowhere.xlsx")


def test_a_whole_delivery_is_here_and_what_has_a_drawing_waits_to_be_measured(
    ordered: Shop,
) -> None:
    line = measured_line(ordered)
    said = ordered.types("order", "receive", "P1001", "--all", "--who", "J. Marlowe")
    assert "not measured" in said
    assert order(ordered)["brief"]["state"] == "delivered"
    here = lines(ordered)[line["line"]]
    assert (here["good"], here["unmeasured"]) == (0, line["pack"] * line["packs"])
    assert "P1001" not in ordered.types("order", "make", JOB, "--on", DAY)


def test_a_part_outside_its_drawing_on_arrival_is_the_wrong_part_and_open_again(
    ordered: Shop,
) -> None:
    line = measured_line(ordered)
    name, _, limits = line["measure"][0].partition(": ")
    ordered.types("order", "receive", "P1001", "--all", "--who", "J. Marlowe")
    asked = _figures(ordered, line, "9.9")
    unlikely = ordered.refuses("order", "measure", "P1001", line["line"], *asked, "--who", "J. M.")
    assert "if it is right as it stands, put ! after it" in unlikely
    figures = _figures(ordered, line, "9.9 !")
    said = ordered.types("order", "measure", "P1001", line["line"], *figures, "--who", "J. M.")
    assert "wrong part" in said
    assert f"outside {limits}" in said
    after = lines(ordered)[line["line"]]
    assert (after["good"], after["reopened"]) == (0, line["quantity"])
    assert after["may_go_back"]["wrong"] >= line["quantity"]
    assert name in figures[0]
    back = ("order", "return", "P1001", line["line"])
    ordered.types(*back, str(after["wrong"]), "--why", "wrong", "--who", "J. Marlowe")
    said = ordered.refuses(*back, "1", "--why", "wrong", "--who", "J. Marlowe")
    assert "nothing of this line may go back" in said


def _figures(shop: Shop, line: Any, figure: str) -> list[str]:
    """That figure at every place of the line's first check, as its refusal lists them."""
    name = line["measure"][0].partition(":")[0]
    said = shop.refuses(
        "order", "measure", "P1001", line["line"], f"{name} nowhere = 1", "--who", "J. Marlowe"
    )
    places = said.strip().rpartition("one of ")[2]
    return [f"{name} {place} = {figure}".replace("  ", " ") for place in places.split(", ")]


def test_a_short_delivery_opens_the_line_and_a_back_order_does_not(ordered: Shop) -> None:
    one, two = [each for each in lines(ordered).values() if each["quantity"] > 1][:2]
    ordered.types(
        "order", "receive", "P1001", "--good", f"{one['line']}=1", "--good", f"{two['line']}=1",
        "--to-follow", f"{two['line']}={two['pack'] * two['packs'] - 1}", "--who", "J. Marlowe",
    )  # fmt: skip
    after = lines(ordered)
    assert (after[one["line"]]["reopened"], after[one["line"]]["coming"]) == (
        one["quantity"] - 1,
        0,
    )
    assert (after[two["line"]]["reopened"], after[two["line"]]["coming"] > 0) == (0, True)
    assert order(ordered)["brief"]["state"] == "part delivered"


def test_a_delivery_for_a_cancelled_order_is_refused_and_its_lines_are_drafted_anew(
    ordered: Shop,
) -> None:
    ordered.types("order", "cancel", "P1001", "--who", "K. Ferris", "--reason", "shut for August")
    said = ordered.refuses("order", "receive", "P1001", "--all", "--who", "J. Marlowe")
    assert "it is cancelled: nothing of it was to come" in said
    ordered.types("order", "make", JOB, "--on", DAY)
    newest = ordered.reads("order", "list")["orders"][-1]["order"]
    assert {each["part"] for each in lines(ordered, newest).values()} == {
        each["part"] for each in lines(ordered).values()
    }


def test_a_parcel_counted_on_its_sheet_is_booked_once(ordered: Shop) -> None:
    ordered.types("order", "delivery-sheet", "P1001", "--to", "parcel.xlsx")
    line = next(iter(lines(ordered).values()))
    book = openpyxl.load_workbook(ordered.folder / "parcel.xlsx")
    sheet = book.worksheets[0]
    for row in sheet.iter_rows():
        if row[0].value == line["line"] and row[5].value:
            sheet.cell(int(row[0].row or 0), 7).value = row[5].value
        if row[0].value == "Their delivery note":
            sheet.cell(int(row[0].row or 0), 2).value = "LN 77"
        if row[0].value == "Counted by":
            sheet.cell(int(row[0].row or 0), 2).value = "J. Marlowe"
    book.save(ordered.folder / "parcel.xlsx")
    ordered.types("order", "receive", "P1001", "parcel.xlsx")
    assert lines(ordered)[line["line"]]["came"][0]["their_note"] == "LN 77"
    assert "Nothing new" in ordered.types("order", "receive", "P1001", "parcel.xlsx")


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("--good", "ZZZZZ=1"), "it has no line 'ZZZZZ'"),
        (("--good", "many"), "'many' is no count; write it as KQRTB=2"),
        (("--read", "wall = 1"), "names no line"),
        ((), "the delivery has no line"),
    ],
)
def test_counts_that_cannot_be_taken_are_refused(
    words: tuple[str, ...], sentence: str, ordered: Shop
) -> None:
    said = ordered.refuses("order", "receive", "P1001", *words, "--who", "J. Marlowe")
    assert sentence in said
    assert order(ordered)["deliveries"] == 0


def test_an_exchange_rate_of_nought_is_refused_where_it_is_written(shop: Shop) -> None:
    from kitting.catalog.shipped import shipped_folder

    copy = shop.folder / "mine" / "trade"
    copy.mkdir(parents=True)
    for file in (shipped_folder() / "trade").glob("*.csv"):
        text = file.read_text(encoding="utf-8")
        (copy / file.name).write_text(text.replace("EUR,0.8610", "EUR,0"), encoding="utf-8")
    said = shop.refuses("catalog", "load", str(copy.parent))
    assert "rates.csv line 3, column worth: the exchange rate is nothing; say what one is" in said


def test_the_lists_say_what_needs_somebody(ordered: Shop) -> None:
    assert "approval" in ordered.types("order", "list")
    text = ordered.types("order", "show", "P1001")
    assert "approved" in text
    assert "K. Ferris" in text
    assert ordered.refuses("order", "show", "P9").startswith("no order 'P9'; did you mean")


@pytest.mark.parametrize("stage", ["draft", "asked about", "delivered"])
def test_what_an_order_shows_keeps_to_its_shape_and_to_eighty_columns(
    stage: str, ready: Shop
) -> None:
    if stage != "draft":
        ready.types("order", "approve", "P1001", "--who", "K. Ferris", "--on", DAY)
        line = next(iter(lines(ready)))
        boxes = {"price": 99.5, "substitute": "ZX 99", "remark": "as long as stock lasts " * 5}
        ready.types("order", "reply", str(replied(ready, {line: boxes})))
    if stage == "delivered":
        ready.types("order", "receive", "P1001", "--all", "--who", "J. Marlowe")
    for words, shape in ((("list",), OrdersShape), (("show", "P1001"), OrderShape)):
        answer = ready.types("order", *words, "--json")
        TypeAdapter[Any](shape).validate_json(answer, strict=True)
        assert max(map(len, ready.types("order", *words).splitlines())) <= 80
