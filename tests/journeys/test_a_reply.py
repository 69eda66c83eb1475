"""What a supplier answers, read, shown whole and answered, by the commands that a user types."""

from decimal import Decimal
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from tests.journeys.shop import DAY, Shop
from tests.journeys.test_an_order import a_line, lines, order, replied
from tests.libreoffice import convert


def signed(file: Path, who: str, reference: str) -> Path:
    """The reply with who answered, and by which reference."""
    book = openpyxl.load_workbook(file)
    sheet = book.worksheets[0]
    for row in sheet.iter_rows(max_col=2):
        if row[0].value in {"Answered by", "Your reference"}:
            sheet.cell(int(row[0].row or 0), 2).value = {
                "Answered by": who,
                "Your reference": reference,
            }[str(row[0].value)]
    book.save(file)
    return file


def shown(shop: Shop) -> str:
    return " ".join(shop.types("order", "show", "P1001").split())


def test_everything_that_was_said_of_an_order_is_shown(ordered: Shop) -> None:
    one, two, three, *_ = lines(ordered)
    boxes: dict[str, dict[str, Any]] = {
        one: {"answer": "as asked", "remark": "-will ring you"},
        two: {"substitute": "ZX 99"},
        three: {"price": 99.5},
    }
    ordered.types("order", "reply", str(signed(replied(ordered, boxes), "U. Held", "TTS/77")))
    why = "measured beside the old one"
    who = ("--who", "K. Ferris")
    ordered.types("order", "answer", "P1001", two, "accept", *who, "--reason", why)
    ordered.types("order", "answer", "P1001", three, "refuse", *who, "--reason", "too dear")
    text = shown(ordered)
    assert "answered by U. Held, their reference TTS/77" in text
    for said in ("-will ring you", "ZX 99 in the place of", f"accepted by {who[1]}", why):
        assert said in text
    assert "refused by K. Ferris" in text
    assert "too dear" in text
    (reply,) = order(ordered)["said"]
    assert (reply["who"], reply["reference"]) == ("U. Held", "TTS/77")
    told = {each["line"]: each for each in reply["lines"]}
    assert told[one]["remark"] == "-will ring you"
    assert told[two]["substitute"] == "ZX 99"
    assert told[two]["answer"]["reason"] == why
    assert told[three]["answer"]["word"] == "refuse"
    assert told[one]["answer"] is None


def test_a_question_is_asked_with_what_either_word_comes_to(ordered: Shop) -> None:
    """The rest elsewhere with its carriage, this order's carriage, and the stage that waits."""
    short = {"packs": 1, "day": "2027-01-08"}
    many = {key for key, line in lines(ordered).items() if line["packs"] > 1 and line["pack"] == 1}
    ordered.types("order", "reply", str(replied(ordered, dict.fromkeys(many, short))))
    line, (accept, refuse) = next(
        (line, choices)
        for line in lines(ordered).values()
        if line["line"] in many and (choices := line["question"]["choices"])[0]["elsewhere"]
    )
    assert (accept["word"], refuse["word"]) == ("accept", "refuse")
    assert (accept["missing"], refuse["missing"]) == (line["quantity"] - 1, line["quantity"])
    assert Decimal(accept["goods"]) - Decimal(refuse["goods"]) == Decimal(line["pack_price"])
    assert {(wait["job"], wait["until"]) for wait in accept["stages"]} == {("26-041", "2027-01-08")}
    text = shown(ordered)
    for choice in (accept, refuse):
        assert "; ".join(choice["says"]) in text
    said = ordered.types("order", "answer", "P1001", line["line"], "refuse", "--who", "K. Ferris")
    assert f"Effect: {'; '.join(refuse['says'])}." in " ".join(said.split())


def test_a_price_that_a_supplier_goes_back_to_is_asked_about_anew(ordered: Shop) -> None:
    line = next(iter(lines(ordered)))
    for price, word in ((95.0, "accept"), (97.0, "refuse"), (95.0, "accept")):
        ordered.types("order", "reply", str(replied(ordered, {line: {"price": price}})))
        ordered.types("order", "answer", "P1001", line, word, "--who", "K. Ferris")
        assert lines(ordered)[line]["refused"] is (word == "refuse")
    assert Decimal(lines(ordered)[line]["agreed_price"]) == 95


def test_a_reply_saved_as_open_document_is_read_and_an_old_one_told_how_to_save(
    ordered: Shop,
) -> None:
    line = next(iter(lines(ordered)))
    file = replied(ordered, {line: {"price": 99.5, "remark": "as long as it lasts"}})
    ordered.types("order", "reply", str(convert(file, "ods", ordered.folder / "saved")))
    assert lines(ordered)[line]["question"]["remark"] == "as long as it lasts"
    said = ordered.refuses("order", "reply", str(convert(file, "xls", ordered.folder / "saved")))
    assert "choose 'save as', take .xlsx or .ods as the kind of file" in said


def test_a_figure_written_over_ours_is_told_loudly_and_asked_about(ordered: Shop) -> None:
    line = a_line(ordered, pack=1)
    file = replied(ordered, {line["line"]: {"answer": "as asked"}})
    book = openpyxl.load_workbook(file)
    sheet = book.worksheets[0]
    row = next(int(r[0].row or 0) for r in sheet.iter_rows() if r[0].value == line["line"])
    sheet.cell(row, 7).value = 99
    sheet.cell(row, 10).value = "the last of them"
    sheet.cell(sheet.max_row + 2, 1).value = "closed in May"
    book.save(file)
    said = " ".join(ordered.types("order", "reply", str(file)).split())
    assert f'LOOK: reply.xlsx, sheet "Order", cell G{row}, line {line["line"]}: our ' in said
    assert "was written over with 99; taken as his price" in said
    assert lines(ordered)[line["line"]]["question"]["changes"] == ["dearer"]
    assert "he remarks: We note: the last of them" in shown(ordered)
    again = " ".join(ordered.types("order", "reply", str(file)).split())
    for told in (said, again):
        assert f"cell A{sheet.max_row}: 'closed in May' was written there; it changes" in told
    assert again.startswith("Nothing new")


def test_words_of_his_that_belong_to_no_line_are_kept_with_the_reply(ordered: Shop) -> None:
    line = a_line(ordered, pack=1)
    file = replied(ordered, {line["line"]: {"price": 99}})
    book = openpyxl.load_workbook(file)
    sheet = book.worksheets[0]
    at = sheet.max_row + 2
    kept = []
    for row, words in ((at, "=closed in May"), (at + 1, "carriage is 25 from now on")):
        sheet.cell(row, 1, words).data_type = "s"
        book.save(file)
        ordered.types("order", "reply", str(file))
        ordered.types("order", "reply", str(file))  # twice changes nothing
        kept.append(f"sheet \"Order\", cell A{row}: '{words}' was written there")
        (reply,) = order(ordered)["said"]
        assert reply["beside"] == kept
        assert all(f"he also wrote: {each}" in shown(ordered) for each in kept)
    ordered.types("order", "answer", "P1001", line["line"], "accept", "--who", "K. Ferris")
    ordered.types("order", "reply", str(file))
    assert lines(ordered)[line["line"]]["question"] is None


def test_a_line_that_he_leaves_out_is_named_though_all_the_others_are_answered(
    ordered: Shop,
) -> None:
    """One row is gone, another is left blank; a second reply answers both."""
    keys = list(lines(ordered))
    gone, left, *others = keys
    as_asked = {"answer": "as asked"}
    file = replied(ordered, dict.fromkeys(others, as_asked))
    book = openpyxl.load_workbook(file)
    sheet = book.worksheets[0]
    sheet.delete_rows(next(int(r[0].row or 0) for r in sheet.iter_rows() if r[0].value == gone))
    book.save(file)
    for options in (("--only-look",), (), ()):  # looked at, kept, and nothing new
        said = " ".join(ordered.types("order", "reply", str(file), *options).split())
        names = {key: lines(ordered)[key]["name"] for key in (gone, left)}
        assert (
            f"No answer to: {gone} {names[gone]} (its row is gone), {left} {names[left]}." in said
        )
    assert order(ordered)["brief"]["unanswered"] == [gone, left]
    assert f"No answer {gone}, {left}" in shown(ordered)
    assert "no answer to 2 lines" in " ".join(ordered.types("order", "list").split())
    ordered.types("order", "reply", str(replied(ordered, dict.fromkeys(keys, as_asked))))
    assert order(ordered)["brief"]["unanswered"] == []
    assert "No answer" not in shown(ordered)


def test_of_many_lines_without_an_answer_the_first_are_named(ordered: Shop) -> None:
    keys = list(lines(ordered))
    assert len(keys) > 12
    file = replied(ordered, {keys[0]: {"answer": "as asked"}})
    said = " ".join(ordered.types("order", "reply", str(file)).split())
    assert f", and {len(keys) - 11} lines more." in said


def test_a_sheet_of_the_other_form_is_named_with_the_command_that_reads_it(ordered: Shop) -> None:
    file = replied(ordered, {})
    said = ordered.refuses("order", "receive", "P1001", str(file), "--who", "J. Marlowe")
    assert said.splitlines() == [
        'reply.xlsx, sheet "Order": it is an order sheet, and a delivery sheet is read here; '
        "'kitting order reply' reads it; 'kitting order delivery-sheet P1001' writes the other"
    ]
    ordered.types("order", "delivery-sheet", "P1001", "--to", "parcel.xlsx")
    said = ordered.refuses("order", "reply", "parcel.xlsx")
    assert "it is a delivery sheet, and an order sheet is read here" in said


@pytest.mark.parametrize("price", [1e30, 100_000_001])
def test_a_price_too_large_for_the_books_is_refused_at_its_cell(
    price: float, ordered: Shop
) -> None:
    line = next(iter(lines(ordered)))
    said = ordered.refuses("order", "reply", str(replied(ordered, {line: {"price": price}})))
    assert 'reply.xlsx, sheet "Order", cell M' in said
    assert "is too large; a pack costs at most 100,000,000" in said


def test_a_sheet_of_a_draft_that_was_only_shown_is_no_reply_to_anything(ordered: Shop) -> None:
    ordered.types("sheets", "26-041", "--to", "papers")
    shown, *_ = sorted((ordered.folder / "papers").glob("order-*.xlsx"))
    said = ordered.refuses("order", "reply", str(shown))
    assert f"{shown.name}: " in said
    assert "is a draft that was only shown and never stored as an order" in said
    assert "'kitting order make JOB' stores it" in said


def test_a_reply_to_an_order_that_is_not_here_is_told_with_its_file(ordered: Shop) -> None:
    file = replied(ordered, {next(iter(lines(ordered))): {"answer": "none"}})
    book = openpyxl.load_workbook(file)
    key = next(c for c in book.worksheets[0][1] if "|" in str(c.value))
    key.value = str(key.value).replace("P1001", "P9009")
    book.save(file)
    said = ordered.refuses("order", "reply", str(file))
    assert "reply.xlsx: it is of order P9009, and no such order is in this database" in said


def test_what_the_shelf_gave_meanwhile_is_bought_elsewhere_by_no_word(ordered: Shop) -> None:
    """He offers it dearer, and the kit has it by now: refused, it is open and nobody buys it."""
    kit = {each["part"]: each for each in ordered.reads("kit", "26-041", "--on", DAY)["lines"]}
    line = next(
        each
        for each in lines(ordered).values()
        if each["part"] in kit and kit[each["part"]]["quantity"] == each["quantity"] == 1
    )
    ordered.types("shelf", "in", line["part"], "1", "--where", "bin 4")
    taken = ("26-041", kit[line["part"]]["line"], "--who", "K. Ferris")
    ordered.types("shelf", "take", *taken)
    boxes = {line["line"]: {"price": 99.5}}
    ordered.types("order", "reply", str(replied(ordered, boxes)))
    _, refuse = lines(ordered)[line["line"]]["question"]["choices"]
    assert (refuse["missing"], refuse["elsewhere"]) == (0, [])
    assert "no kit misses 1 piece of what is then open" in refuse["says"]
    said = ordered.types("order", "answer", "P1001", line["line"], "refuse", "--who", "K. Ferris")
    assert "kitting order make" not in said
