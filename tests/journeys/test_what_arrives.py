"""What arrives, by the commands that a user types: measured, settled, late, and spoken of later."""

from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from kitting.buying.orders import LineFor, OrderState
from kitting.buying.standing import Step
from kitting.catalog.cells import part_number
from kitting.store import Database
from tests.buying.orders import a_line as a_bought_line
from tests.buying.orders import an_order
from tests.journeys.shop import DAY, Shop

JOB = "26-041"
JO = ("--who", "J. Marlowe")
KIT = ("--who", "K. Ferris")
_ANSWER = 11


@pytest.fixture
def ordered(loaded: Shop) -> Shop:
    """Every question answered, an order drafted to each supplier, and each approved."""
    loaded.types("strip", "add", JOB, "timing-cover", "sound", *JO)
    loaded.types("strip", "add", JOB, "idler-spindle", "outer 0 = .6237", *JO)
    loaded.types(
        "decide", "verdict", JOB, "valve-exhaust-left", "renew", *KIT, "--reason", "on its limit"
    )
    loaded.types("order", "make", JOB, "--on", DAY)
    for each in loaded.reads("order", "list")["orders"]:
        loaded.types("order", "approve", each["order"], *KIT, "--on", DAY)
    return loaded


def lines(shop: Shop, number: str) -> dict[str, Any]:
    return {each["line"]: each for each in shop.reads("order", "show", number)["lines"]}


def a_line(shop: Shop, *, measured: bool, pieces: int = 1) -> tuple[str, Any]:
    """The first order with a line of so many pieces or more, to be measured or not."""
    for each in shop.reads("order", "list")["orders"]:
        for line in lines(shop, each["order"]).values():
            if bool(line["measure"]) is measured and line["quantity"] >= pieces:
                return each["order"], line
    raise AssertionError((measured, pieces))


def middles(line: Any) -> dict[str, Decimal]:
    """The middle of what each drawing allows, by what is measured."""
    found = {}
    for check in line["measure"]:
        key, _, limits = check.partition(": ")
        low, _, high = limits.partition(" to ")
        found[key] = (Decimal(low.split()[0]) + Decimal(high.split()[0])) / 2
    return found


def places(shop: Shop, number: str, line: Any, key: str) -> list[str]:
    """Where a figure of what came is wanted, as its refusal lists them."""
    said = shop.refuses("order", "measure", number, line["line"], f"{key} nowhere = 1", *JO)
    return said.strip().rpartition("one of ")[2].split(", ")


def figures(shop: Shop, number: str, line: Any, **at: Decimal) -> list[str]:
    """A figure for everything that is wanted: the middle, but where another is given."""
    return [
        f"{key} {place} = {at.get(key, middle)}"
        for key, middle in middles(line).items()
        for place in places(shop, number, line, key)
    ]


def waits(shop: Shop, line: Any) -> list[tuple[str, str]]:
    """What the bags wait for of what an order line is for."""
    keys = {need["kit_line"] for need in line["needed_by"]}
    return [
        (wait["why"], wait["because"][0]["says"])
        for bag in shop.reads("bags", JOB, "--on", DAY)["bags"]
        for wait in bag["waits"]
        if wait["key"] in keys and wait["why"] in {"parts to come", "parts to be measured"}
    ]


def test_what_came_and_is_not_measured_keeps_its_stage_until_it_is(ordered: Shop) -> None:
    number, line = a_line(ordered, measured=True)
    said = ordered.types(
        "order", "receive", number, "--good", f"{line['line']}={line['quantity']}", *JO
    )
    assert f"{line['quantity']} here, to be measured" in said
    assert "1 line to measure" in " ".join(ordered.types("order", "list").split())
    shown = " ".join(ordered.types("order", "show", number).split())
    assert f"{line['quantity']} here, to be measured: {line['measure'][0].split(':')[0]}" in shown
    after = lines(ordered, number)[line["line"]]
    assert (after["good"], after["unmeasured"], after["reopened"]) == (0, line["quantity"], 0)
    for why, says in waits(ordered, line):
        assert why == "parts to be measured"
        assert f"here, to be measured (order {number}, line {line['line']})" in says
    assert waits(ordered, line)
    refused = ordered.refuses("bags", JOB, "--in-hand", line["needed_by"][0]["kit_line"], *JO)
    assert f"it is here, to be measured (order {number}, line {line['line']})" in refused
    wanted = figures(ordered, number, line)
    said = ordered.types("order", "measure", number, line["line"], *wanted, *JO)
    assert "measured: good" in said
    assert waits(ordered, line) == []
    assert "to measure" not in ordered.types("order", "list")


def test_a_new_guide_is_measured_outside_before_it_is_pressed_in(ordered: Shop) -> None:
    number, line = next(
        (each["order"], line)
        for each in ordered.reads("order", "list")["orders"]
        for line in lines(ordered, each["order"]).values()
        if any("guide-inlet-right" in need["positions"] for need in line["needed_by"])
    )
    assert line["measure"] == ["diameter: 0.5020 in to 0.5025 in"]
    said = ordered.types("order", "receive", number, "--good", f"{line['line']}=1", *JO)
    assert "1 here, to be measured" in said
    measure = ("order", "measure", number, line["line"])
    assert "wrong part" in ordered.types(*measure, "diameter = .5072", *JO)


def test_half_a_parcel_is_proven_by_as_many_figures_as_came(ordered: Shop) -> None:
    number, line = a_line(ordered, measured=True, pieces=2)
    rest = line["quantity"] - 1
    ordered.types(
        "order", "receive", number, "--good", f"{line['line']}=1",
        "--to-follow", f"{line['line']}={rest}", *JO,
    )  # fmt: skip
    assert all(len(places(ordered, number, line, key)) == 1 for key in middles(line))
    wanted = figures(ordered, number, line)
    assert "measured: good" in ordered.types("order", "measure", number, line["line"], *wanted, *JO)
    after = lines(ordered, number)[line["line"]]
    assert (after["good"], after["unmeasured"], after["coming"]) == (1, 0, rest)


def test_what_is_in_doubt_is_settled_by_a_named_person_and_kept(ordered: Shop) -> None:
    number, line = a_line(ordered, measured=True)
    part = line["line"]
    ordered.types("order", "receive", number, "--good", f"{part}={line['quantity']}", *JO)
    key, limits = line["measure"][0].split(": ")
    wanted = figures(ordered, number, line, **{key: Decimal(limits.split()[0])})
    said = ordered.types("order", "measure", number, part, *wanted, *JO)
    assert "measured: recheck" in said
    assert f"kitting order settle {number} {part} accept|refuse" in said
    assert "kitting decide" not in said
    verdicts = ordered.reads("verdicts", JOB)
    settle = ("order", "settle", number, part)
    assert "empty" in ordered.refuses(*settle, "accept", *KIT, "--reason", " ")
    said = ordered.types(*settle, "accept", *KIT, "--reason", "the housing is at its smallest")
    assert "taken as good, by K. Ferris" in " ".join(said.split())
    after = lines(ordered, number)[part]
    assert (after["good"], after["doubtful"]) == (line["quantity"], 0)
    (came,) = after["came"]
    assert (came["near"], came["proof"]) == (line["quantity"], {"sound": line["quantity"]})
    assert [(w["word"], w["who"], w["reason"]) for w in came["words"]] == [
        ("accept", "K. Ferris", "the housing is at its smallest")
    ]
    assert "accepted by K. Ferris" in " ".join(ordered.types("order", "show", number).split())
    assert waits(ordered, line) == []
    assert ordered.reads("verdicts", JOB) == verdicts
    again = ordered.refuses(*settle, "accept", *KIT, "--reason", "as before")
    assert "K. Ferris said so already" in again
    said = ordered.types(*settle, "refuse", *KIT, "--reason", "the maker calls them back")
    assert f"Open again: {line['quantity']} piece" in said


def test_a_piece_that_turns_up_the_next_day_is_good_and_closes_its_line(ordered: Shop) -> None:
    number, line = a_line(ordered, measured=False)
    part, pieces = line["line"], line["packs"] * line["pack"]
    ordered.types("order", "receive", number, "--damaged", f"{part}=1", *JO)
    assert lines(ordered, number)[part]["reopened"] == line["quantity"]
    ordered.types("order", "make", JOB, "--on", DAY)
    said = " ".join(
        ordered.types("order", "receive", number, "--good", f"{part}={pieces}", *JO).split()
    )
    assert "came after all, and had been open again" in said
    assert "was drafted to buy it again: kitting order make" in said
    after = lines(ordered, number)[part]
    assert (after["good"], after["wrong"], after["reopened"]) == (pieces, 0, 0)
    ordered.types("order", "make", JOB, "--on", DAY)
    states = {each["state"] for each in ordered.reads("order", "list")["orders"]}
    assert "draft" not in states


def test_a_piece_that_turns_up_after_it_was_bought_elsewhere_is_said_to_be_so(
    ordered: Shop,
) -> None:
    number, line = a_line(ordered, measured=False)
    part = line["line"]
    ordered.types("order", "receive", number, "--damaged", f"{part}=1", *JO)
    ordered.types("order", "make", JOB, "--on", DAY)
    newest = ordered.reads("order", "list")["orders"][-1]["order"]
    ordered.types("order", "approve", newest, *KIT, "--on", DAY)
    before = ordered.reads("order", "show", number)
    booked = ("order", "receive", number, "--good", f"{part}={line['quantity']}", *JO)
    said = ordered.refuses(*booked)
    assert f"turned up after order {newest} asked for it again" in said
    assert ordered.reads("order", "show", number) == before
    ordered.types("order", "cancel", newest, *KIT, "--reason", "the first one came")
    ordered.types(*booked)
    assert lines(ordered, number)[part]["reopened"] == 0


def test_a_reply_to_what_is_on_the_bench_asks_nothing_and_is_told(ordered: Shop) -> None:
    number, line = a_line(ordered, measured=False)
    file = answered(ordered, number, line["line"], "none")
    ordered.types("order", "receive", number, "--all", *JO)
    said = " ".join(ordered.types("order", "reply", str(file)).split())
    assert "0 questions" in said
    assert "Of what is here already it speaks too: 1 line" in said
    assert f"0 of {line['packs']} pack" in said
    after = lines(ordered, number)[line["line"]]
    assert (after["coming"], after["reopened"], after["question"]) == (0, 0, None)
    assert after["good"] == line["packs"] * line["pack"]
    assert after["told"]
    refused = ordered.refuses("order", "answer", number, line["line"], "accept", *KIT)
    assert "what was to come of it is here: the reply asks nothing of it" in refused
    assert ordered.reads("order", "show", number)["brief"]["state"] == "delivered"


def test_what_was_given_up_and_bought_elsewhere_is_not_accepted_after_all(ordered: Shop) -> None:
    number, line = a_line(ordered, measured=False)
    one = line["line"]
    as_asked = answered(ordered, number, one, "as asked")
    ordered.types("order", "reply", str(answered(ordered, number, one, "none")))
    ordered.types("order", "answer", number, one, "accept", *KIT)
    ordered.types("order", "make", JOB, "--on", DAY)
    newest = ordered.reads("order", "list")["orders"][-1]["order"]
    ordered.types("order", "approve", newest, *KIT, "--on", DAY)
    said = " ".join(ordered.types("order", "reply", str(as_asked)).split())
    assert "that had been open again would come after all" in said
    before = ordered.reads("order", "show", number)
    told = ordered.refuses("order", "answer", number, one, "accept", *KIT)
    assert f"is missing no more: order {newest} brings it" in told
    assert ordered.reads("order", "show", number) == before
    assert f"order {newest} brings" in said
    told = " ".join(ordered.types("order", "answer", number, one, "refuse", *KIT).split())
    assert f"order {newest} brings {line['quantity']} piece" in told
    assert "in all no more than as agreed by now" in told
    assert "Open again" not in told
    assert lines(ordered, number)[one]["coming"] == 0


def test_what_is_accepted_after_all_of_a_line_that_a_parcel_named_is_to_come(
    ordered: Shop,
) -> None:
    """Refused, sent all the same and booked as wrong; by then it is wanted, and bought nowhere."""
    number, line = a_line(ordered, measured=False)
    one, packed = line["line"], line["packs"] * line["pack"]
    as_asked = answered(ordered, number, one, "as asked")
    ordered.types("order", "reply", str(answered(ordered, number, one, "none")))
    ordered.types("order", "answer", number, one, "refuse", *KIT)
    ordered.types("order", "receive", number, "--wrong", f"{one}={packed}", *JO)
    ordered.types("order", "reply", str(as_asked))
    said = ordered.types("order", "answer", number, one, "accept", *KIT)
    assert "Open again" not in said
    after = lines(ordered, number)[one]
    assert (after["coming"], after["reopened"], after["wrong"]) == (packed, 0, packed)
    assert "Nothing is left to order" in ordered.types("order", "make", JOB, "--on", DAY)
    ordered.types("order", "receive", number, "--damaged", f"{one}={packed}", *JO)
    after = lines(ordered, number)[one]
    assert (after["coming"], after["reopened"]) == (0, line["quantity"])


def answered(shop: Shop, number: str, line: str, word: str) -> Path:
    """The order's sheet with a word for one line."""
    file = shop.folder / f"{word}.xlsx"
    shop.types("order", "sheet", number, "--to", str(file))
    book = openpyxl.load_workbook(file)
    sheet = book.worksheets[0]
    for row in sheet.iter_rows():
        if row[0].value == line:
            sheet.cell(int(row[0].row or 0), _ANSWER).value = word
    book.save(file)
    return file


def test_what_the_shelf_gave_to_one_place_leaves_another_what_comes(loaded: Shop) -> None:
    kit = loaded.reads("kit", JOB, "--on", DAY)["lines"]
    tank, sump = (
        next(line for line in kit if line["name"].startswith(name))
        for name in ("Tank drain plug washer", "Sump drain plug washer")
    )
    assert (tank["quantity"], sump["quantity"]) == (1, 1)
    key = washers_for(tank, sump)
    loaded.types("shelf", "in", tank["part"], "1", "--where", "bin 4")
    said = loaded.types("shelf", "take", JOB, tank["line"], *JO)
    assert "LOOK: order P1001 brings 1 ×" in said
    loaded.types("order", "receive", "P1001", "--good", f"{key}=1", *JO)
    (line,) = loaded.reads("order", "show", "P1001")["lines"]
    assert (line["good"], line["reopened"], line["asked_for_no_more"]) == (1, 1, 0)
    (listed,) = loaded.reads("order", "list")["orders"]
    assert listed["to_order_again"] == 0
    bags = loaded.reads("bags", JOB, "--on", DAY)
    here = {line["line"]: line["in_hand"] for bag in bags["bags"] for line in bag["lines"]}
    assert (here[tank["line"]], here[sump["line"]], bags["left_over"]) == (1, 1, [])
    loaded.types("shelf", "give-back", JOB, tank["line"])
    (listed,) = loaded.reads("order", "list")["orders"]
    assert listed["to_order_again"] == 1


def washers_for(*wanted: Any) -> str:
    """One order line, approved, for several lines of the kit; its id."""
    needs = tuple(
        LineFor(
            JOB,
            line["line"],
            tuple(line["positions"]),
            1,
            stands_for=part_number(line["part"]),
            whole=1,
        )
        for line in wanted
    )
    of = replace(a_bought_line(wanted[0]["part"], len(needs), "1.10"), needed_by=needs)
    with Database().work() as work:
        made = work.orders.make_order(an_order(of, approved=False))
        step = Step(OrderState.APPROVED, "K. Ferris", made.day)
        work.orders.approve_order(made.number, made.revision, step)
        work.commit()
    return made.lines[0].id
