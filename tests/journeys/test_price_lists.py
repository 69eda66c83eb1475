"""A supplier's list through the door: looked at, agreed to, loaded, reviewed."""

import json
import shutil
from typing import Any

import openpyxl
import pytest
from pydantic import TypeAdapter

from kitting.catalog.shipped import shipped_folder
from kitting.cli.shapes.prices import LoadShape, PricesShape, ReviewShape
from tests.journeys.shop import Shop
from tests.sheets.price_lists import csv_file, workbook

AUTUMN = [
    ["Marlbeck Motor Factors", "", "", "", ""],
    ["Autumn list", "", "", "", ""],
    [],
    ["Order code", "Description", "Net £", "Pack", "Replaced by"],
    ["BEARINGS AND SHELLS", "", "", "", ""],
    ["31-46-1043", "main bearing", "£ 14,98", "", ""],
    ["31-54-1044", "bearing", "1.016,37", "5", ""],
    ["31-62-1048", "bearing", "POA", "", "31-19-1049"],
    ["C61-4031B", "big-end shells", "12,10", "pair", ""],
    ["88-00-1", "something new", "3,20", "", ""],
    ["Order code", "Description", "Net £", "Pack", "Replaced by"],
    ["31-59-1060", "shells", "13,58", "", ""],
    ["Total", "", "1.059,83", "", ""],
]
LOAD = ("prices", "load", "autumn.csv", "--supplier", "marlbeck")


@pytest.fixture
def factors(stocked_shop: Shop) -> Shop:
    """A shop with the catalogue loaded, and a list that has come in."""
    csv_file(stocked_shop.folder / "autumn.csv", AUTUMN, ";")
    return stocked_shop


def answer(shop: Shop, *words: str) -> Any:
    return json.loads(shop.types(*words, "--json"))


def test_a_list_is_looked_at_and_nothing_is_stored(factors: Shop) -> None:
    told = answer(factors, *LOAD, "--only-look")
    assert not told["stored"]
    assert {each["field"]: each["heading"] for each in told["columns"]} == {
        "number": "Order code",
        "price": "Net £",
        "pack": "Pack",
        "superseded_by": "Replaced by",
        "text": "Description",
    }
    counts = told["counts"]
    kinds = ("offers", "strays", "dearer", "other for more")
    assert [counts[kind] for kind in kinds] == [4, 2, 1, 1]
    days = {"valid_from": "", "valid_until": ""}
    assert told["dearer"][0] | {"place": "", **days} == {
        "part": "cor:C61-6151", "their_number": "31-46-1043", "pack": 1, "before": "13.98",
        "after": "14.98", "currency": "GBP", "percent": "7.2", "place": "", "breaks": {}, **days,
    }  # fmt: skip
    assert told["superseded"] == [
        {"old": "pen:PV 6304", "new_said": "31-19-1049", "new": "pen:PV 6304 C3", "place": "row 8"}
    ]
    assert told["reasons"] == {"price on application": 1, "nobody knows this number": 1}
    assert [each["origin"] for each in answer(factors, "prices", "show")["lists"]] == [""] * 5


def test_without_a_word_of_agreement_nothing_is_stored_and_the_status_says_so(
    factors: Shop,
) -> None:
    said = factors.tries(*LOAD)
    assert said.status == 2
    assert "Nothing was stored." in said.out
    assert said.err == "Not stored: look at it, then run it again with --confirm.\n"


def test_a_list_that_is_agreed_to_holds_from_then_on(factors: Shop) -> None:
    out = factors.types(*LOAD, "--confirm")
    assert "Stored: 4 offers of Marlbeck Motor Factors; the list before is kept." in out
    assert max(map(len, out.splitlines())) <= 80
    shown = answer(factors, "prices", "show", "cor:C61-6151", "--supplier", "marlbeck")
    assert [(each["price"], each["ended"]) for each in shown["offers"]] == [("14.98", None)]
    past = answer(factors, "prices", "history", "C61 6151", "--supplier", "marlbeck")
    assert [each["price"] for each in past["offers"]] == ["14.98", "13.98"]
    again = factors.types(*LOAD, "--confirm")
    assert "It is the list that holds; nothing was stored." in again
    assert len(answer(factors, "prices", "history", "--supplier", "marlbeck")["lists"]) == 2


def test_columns_agreed_to_are_remembered(factors: Shop) -> None:
    factors.types(*LOAD, "--map", "text=Pack", "--confirm")
    columns = answer(factors, *LOAD, "--only-look")["columns"]
    assert {each["field"]: each["how"] for each in columns} == dict.fromkeys(
        ("number", "price", "superseded_by", "text"), "as last time"
    )


def test_the_columns_of_every_sheet_are_shown_agreed_to_and_remembered(factors: Shop) -> None:
    trade: list[list[object]] = [["Code", "Trade price"], ["31-46-1043", 14], ["31-59-1060", 13]]
    more: list[list[object]] = [["Code", "Blue", "Red"], ["31-54-1044", 9, 8], ["88-00-1", 7, 6]]
    workbook(factors.folder / "book.xlsx", Trade=trade, More=more)
    load = ("prices", "load", "book.xlsx", "--supplier", "marlbeck")
    shown = factors.types(*load, "--map", "price@More=Red", "--only-look")
    assert [line for line in shown.splitlines() if line.startswith("Sheet")] == [
        "Sheet Trade",
        "Sheet More",
    ]
    assert "Not taken: Blue" in shown
    factors.types(*load, "--map", "price@More=Red", "--confirm")
    (other,) = answer(factors, *load, "--only-look")["other_sheets"]
    assert (other["sheets"], other["not_taken"]) == (["More"], ["Blue"])
    assert [(c["heading"], c["how"]) for c in other["columns"]] == [
        ("Code", "as last time"), ("Red", "as last time"),
    ]  # fmt: skip


def test_a_line_that_says_for_how_many_prices_are_is_asked_about(factors: Shop) -> None:
    rows = [["All prices per 100"], ["Code", "Price"], ["31-46-1043", "1400"], ["88-00-1", "7"]]
    csv_file(factors.folder / "hundreds.csv", rows)
    load = ("prices", "load", "hundreds.csv", "--supplier", "marlbeck", "--only-look")
    assert "say --per 100, or --per 1 where each price is for one" in factors.tries(*load).err
    told = answer(factors, *load, "--per", "100")
    assert [(each["pack"], each["after"]) for each in told["new"]] == [(100, "1400.00")]


def test_how_long_prices_hold_is_no_question_and_net_rows_hide_no_discounts(factors: Shop) -> None:
    numbers = ("31-46-1043", "31-54-1044", "31-59-1060")
    rows = [["Prices held for 30 days"], ["Order code", "Price"], *([n, "20.00"] for n in numbers)]
    csv_file(factors.folder / "held.csv", rows)
    factors.types("prices", "load", "held.csv", "--supplier", "marlbeck", "--only-look")
    shares = zip(rows[1:], ("Disc %", "35", "Nett", "20"), strict=True)
    csv_file(factors.folder / "net.csv", [[*row, share] for row, share in shares])
    said = factors.tries("prices", "load", "net.csv", "--supplier", "marlbeck", "--confirm")
    assert said.status != 0
    assert "may still have to be taken off 'Price'" in said.err


def test_one_part_in_packs_of_two_sizes_stands_side_by_side(factors: Shop) -> None:
    rows = [
        ["Code", "Pack", "Price"], ["31-46-1043", "1", "14.98"], ["31-46-1043", "10", "129.95"],
    ]  # fmt: skip
    csv_file(factors.folder / "packs.csv", rows)
    load = ("prices", "load", "packs.csv", "--supplier", "marlbeck")
    (found,) = answer(factors, *load, "--only-look")["other_pack"]
    assert (found["pack_before"], found["before"], found["pack"], found["percent"]) == (
        1, "13.98", 10, "-7.0",
    )  # fmt: skip
    assert "In another pack" in factors.types(*load, "--confirm")
    shown = factors.types("prices", "show", "cor:C61-6151", "--supplier", "marlbeck")
    assert "each" in shown
    assert "12.995" in shown


def test_what_a_list_left_is_reviewed_by_name(factors: Shop) -> None:
    factors.types(*LOAD, "--confirm")
    review = answer(factors, "prices", "review")
    assert (review["rows_in_all"], review["links_in_all"]) == (2, 1)
    key = str(review["links"][0]["id"])
    assert "nobody's name is given" in factors.tries("prices", "review", "--accept", key).err
    accepted = factors.types("prices", "review", "--accept", key, "--who", "Joan")
    assert "Another answer from today on" in accepted
    assert "1 × pen:PV 6304 C3" in accepted
    trace = factors.types("catalog", "trace", "PV 6304")
    assert "1 × pen:PV 6304 C3 (superseded)" in trace
    assert "accepted by Joan" in " ".join(trace.split())
    factors.types(
        "prices", "review", "--supplier", "marlbeck", "--match", "88-00-1=cor:C61-6110",
        "--who", "Joan",
    )  # fmt: skip
    told = answer(factors, *LOAD, "--confirm")
    assert (told["stored"], told["counts"]["new"], told["new"][0]["part"]) == (
        True, 1, "cor:C61-6110",
    )  # fmt: skip
    assert "POA" not in factors.types("prices", "review")


def test_every_answer_keeps_to_its_documented_shape(factors: Shop) -> None:
    for words, shape in (
        ((*LOAD, "--confirm"), LoadShape),
        (("prices", "show"), PricesShape),
        (("prices", "show", "cor:C61-6151"), PricesShape),
        (("prices", "history"), PricesShape),
        (("prices", "review"), ReviewShape),
    ):
        TypeAdapter(shape).validate_json(factors.types(*words, "--json"), strict=True)
        for line in factors.types(*words).splitlines():
            assert len(line) <= 80, line


def test_a_workbook_that_a_spreadsheet_has_spoilt_is_refused_cell_by_cell(factors: Shop) -> None:
    book = openpyxl.Workbook()
    for row in (["Code", "Net"], ["31-46-1043", 14.98], ["1.2E+05", 3], ["31-54-1044", "=B2*2"]):
        book.worksheets[0].append(row)
    book.save(factors.folder / "spoilt.xlsx")
    said = factors.tries("prices", "load", "spoilt.xlsx", "--supplier", "marlbeck", "--confirm")
    assert said.status == 2
    assert said.err.splitlines() == [
        "spoilt.xlsx, sheet Sheet, row 3, column A (Code): the number '1.2E+05' was shortened by "
        "a spreadsheet, and its digits are lost; ask for the list with its numbers as text",
        "spoilt.xlsx, sheet Sheet, row 4, column B (Net): the cell holds the formula =B2*2; "
        "save the list with the figure itself there",
        "spoilt.xlsx: 2 of 3 rows cannot be taken; nothing was stored. Mend them, or load the rest "
        "and keep these for review with --put-aside.",
    ]
    told = answer(
        factors, "prices", "load", "spoilt.xlsx", "--supplier", "marlbeck", "--confirm",
        "--put-aside",
    )  # fmt: skip
    assert (told["stored"], told["counts"]["offers"], told["counts"]["strays"]) == (True, 1, 2)


def test_rows_for_each_quantity_become_one_offer_and_two_prices_a_question(
    factors: Shop,
) -> None:
    csv_file(
        factors.folder / "rows.csv",
        [
            ["Code", "Qty", "Net"],
            ["31-46-1043", "1", "14.00"],
            ["31-46-1043", "10", "13.00"],
            ["31-54-1044", "1", "9.00"],
            ["31-54-1044", "1", "9.50"],
            ["31-59-1060", "1", "POA"],
            ["C61-4031B", "1", "12.00"],
            ["C61-4031B", "1", "12.00"],
        ],
    )
    words = ("prices", "load", "rows.csv", "--supplier", "marlbeck", "--confirm")
    told = answer(factors, *words)
    counts = told["counts"]
    assert (counts["offers"], counts["strays"], counts["twice"]) == (2, 3, 1)
    assert counts["unpriced"] == 2
    assert not {"cor:C61-6151"} & {each["part"] for each in told["gone"]}
    shown = answer(factors, "prices", "show", "cor:C61-6151", "--supplier", "marlbeck")
    assert [(each["price"], each["breaks"]) for each in shown["offers"]] == [
        ("14.00", {"10": "13.00"})
    ]
    rows = answer(factors, "prices", "review")["rows"]
    assert [each["why"] for each in rows if each["number"] == "31-54-1044"] == [
        "the number stands 2 times at different prices: rows 4 and 5"
    ] * 2
    screen = factors.types(*words[:-1], "--only-look")
    assert "Saying the same again, taken once: row 8: C61-4031B" in screen
    assert max(map(len, screen.splitlines())) <= 80


def test_prices_for_more_packs_and_of_later_days_are_seen_before_anything_is_stored(
    factors: Shop,
) -> None:
    head = ["Code", "Net", "10+", "100+", "Valid from"]
    may, june = factors.folder / "may.csv", factors.folder / "june.csv"
    csv_file(may, [head, ["31-46-1043", "15.00", "13.00", "12.00", ""]])
    csv_file(
        june,
        [head, ["31-46-1043", "15.00", "13.00", "92.00", ""],
         ["31-54-1044", "9.00", "", "", "2099-01-01"]],
    )  # fmt: skip
    words = ("prices", "load", "--supplier", "marlbeck", "--valid-until", "2100-12-31")
    assert "10: 13.00, 100: 12.00" in " ".join(factors.types(*words, str(may), "--confirm").split())
    shown = factors.types("prices", "show", "cor:C61-6151", "--supplier", "marlbeck")
    assert "from 10 packs 13.00 GBP from 100 packs 12.00 GBP" in " ".join(shown.split())
    told = answer(factors, *words, str(june), "--only-look")
    assert told["counts"] == {
        "dearer for more": 1, "for more: dearer": 1, "later": 1, "not yet": 1, "offers": 2,
        "other for more": 1,
    }  # fmt: skip
    assert (told["for_more"][0]["packs"], told["for_more"][0]["percent"]) == (100, "666.7")
    assert told["later"][0]["valid_from"] == "2099-01-01"
    assert told["remarks"] == [
        "row 2: 31-46-1043 costs GBP 92.00 a pack from 100 packs on, and 13.00 for fewer"
    ]
    screen = factors.types(*words, str(june), "--only-look")
    assert "look at row 2: 31-46-1043 costs GBP 92.00 a pack" in screen
    assert max(map(len, screen.splitlines())) <= 80


def test_two_columns_that_may_be_the_price_are_asked_for(factors: Shop) -> None:
    csv_file(
        factors.folder / "two.csv",
        [["Code", "Price 2026", "Price 2027"], ["31-46-1043", "15.00", "15.00"]],
    )
    words = ("prices", "load", "two.csv", "--supplier", "marlbeck", "--confirm")
    said = factors.tries(*words)
    assert (said.status, said.err.splitlines()) == (
        2,
        [
            "two.csv, columns B and C: any of them ('Price 2026', 'Price 2027') may be the price; "
            'say which, such as --map "price=Price 2026"'
        ],
    )
    factors.types(*words, "--map", "price=Price 2027")
    shown = answer(factors, "prices", "show", "cor:C61-6151", "--supplier", "marlbeck")
    assert [each["price"] for each in shown["offers"]] == ["15.00"]


def test_a_list_that_says_it_is_in_another_money_is_stored_once_a_person_names_it(
    factors: Shop,
) -> None:
    rows = [["Alle Preise in EUR"], [], ["Code", "Price"], ["31-46-1043", "14.98"]]
    csv_file(factors.folder / "euro.csv", rows)
    load = ("prices", "load", "euro.csv", "--supplier", "marlbeck", "--confirm")
    refused = factors.tries(*load)
    assert refused.status == 2
    assert "euro.csv, row 1: 'Alle Preise in EUR' stands there" in refused.err
    assert "say --currency EUR, or --currency GBP" in refused.err
    assert "as was said" in factors.types(*load[:-1], "--currency", "GBP", "--only-look")
    factors.types(*load, "--currency", "EUR")
    shown = answer(factors, "prices", "show", "cor:C61-6151", "--supplier", "marlbeck")
    assert [(each["price"], each["currency"]) for each in shown["offers"]] == [("14.98", "EUR")]


def test_a_load_that_ends_a_suppliers_list_names_it_and_one_that_names_him_brings_it_back(
    factors: Shop,
) -> None:
    factors.types(*LOAD, "--confirm")
    own = factors.folder / "own"
    shutil.copytree(shipped_folder(), own)
    (own / "trade" / "offers-marlbeck.csv").unlink()
    suppliers = own / "trade" / "suppliers.csv"
    rows = suppliers.read_text("utf-8").splitlines(keepends=True)
    suppliers.write_text("".join(each for each in rows if "marlbeck" not in each), "utf-8")
    held = answer(factors, "prices", "show")
    ended = factors.types("catalog", "load", str(own))
    assert "Price list of marlbeck (autumn.csv): ended" in ended
    assert answer(factors, "prices", "show") != held
    back = factors.types("catalog", "load")
    assert "(price lists: marlbeck (autumn.csv))" in back
    assert "Price list of marlbeck (autumn.csv): holds again" in back
    assert answer(factors, "prices", "show") == held
    assert "terms: there already, unchanged" in factors.types("catalog", "load")


def test_a_load_whose_own_list_of_a_supplier_is_new_names_the_list_that_ends_with_it(
    factors: Shop,
) -> None:
    factors.types(*LOAD, "--confirm")
    own = factors.folder / "own"
    shutil.copytree(shipped_folder(), own)
    offers = own / "trade" / "offers-marlbeck.csv"
    offers.write_text(offers.read_text("utf-8").replace(",13.98,", ",14.98,"), "utf-8")
    said = factors.types("catalog", "load", str(own))
    assert "(price lists: marlbeck)" in said
    assert (
        "Price list of marlbeck (autumn.csv): ended, for offers-marlbeck.csv is another than it "
        "was and holds in its place" in said
    )
    factors.types(*LOAD, "--confirm")
    assert "Price list of" not in factors.types("catalog", "load", str(own))


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("load", "autumn.csv", "--supplier", "marlbek"), "no supplier 'marlbek'; did you mean"),
        (("load", "gone.csv", "--supplier", "marlbeck"), "the file cannot be read"),
        ((*LOAD[1:], "--map", "prise=Net"), "no field 'prise'"),
        ((*LOAD[1:], "--currency", "CHF"), "no exchange rate"),
        ((*LOAD[1:], "--dearer-by", "lots"), "no percentage"),
        (("show", "cor:NONE"), "no part 'cor:NONE'"),
        (("show", "--supplier", "marlbek"), "no supplier 'marlbek'"),
        (("review", "--accept", "7", "--who", "Joan"), "no proposal '7'"),
        (("review", "--match", "88-00-1", "--who", "J", "--supplier", "marlbeck"), "names no part"),
        (("review", "--none", "88-00-1", "--who", "Joan"), "no supplier is named"),
    ],
)  # fmt: skip
def test_what_cannot_be_done_is_told_in_a_sentence(
    factors: Shop, words: tuple[str, ...], said: str
) -> None:
    answered = factors.tries("prices", *words)
    assert answered.status == 2
    assert said in answered.err
    assert "Traceback" not in answered.err


def test_days_that_may_be_read_two_ways_are_told_and_settled_by_a_word(stocked_shop: Shop) -> None:
    rows = [["Prices valid until 12/31/2026", "", ""], ["Code", "Effective", "Net"],
            ["31-46-1043", "03/02/2026", "14.98"]]  # fmt: skip
    csv_file(stocked_shop.folder / "days.csv", rows)
    load = ("prices", "load", "days.csv", "--supplier", "marlbeck")
    notes = answer(stocked_shop, *load, "--only-look")["notes"]
    assert "'03/02/2026' is read as 2026-02-03, its day first" in notes[0]
    assert notes[1].startswith(
        "'Prices valid until 12/31/2026' stands there: if the prices hold until then, say "
        "--valid-until 2026-12-31; they are taken from "
    )
    assert not any("no last day" in note for note in notes)
    told = answer(stocked_shop, *load, "--days", "month-first", "--confirm")
    assert not any("--days" in note for note in told["notes"])
    shown = answer(stocked_shop, "prices", "show", "cor:C61-6151", "--supplier", "marlbeck")
    assert [each["valid_from"] for each in shown["offers"]] == ["2026-03-02"]
