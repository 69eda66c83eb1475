"""A plan buys halves where the kit asks for pairs: right to the piece, from draft to bag."""

from typing import Any

import pytest

from tests.journeys.shop import DAY, Shop
from tests.journeys.test_an_order import replied

JOB = "26-041"
WHO = ("--who", "K. Ferris")
HALF, PAIR = "cor:C66-2133", "lat:LV 310"


@pytest.fixture
def planned(loaded: Shop) -> Shop:
    """The demo's job, ready, with the orders of its cheapest plan approved."""
    loaded.types("strip", "add", JOB, "timing-cover", "sound", "--who", "J. Marlowe")
    loaded.types("strip", "add", JOB, "idler-spindle", "outer 0 = .6237", "--who", "J. Marlowe")
    loaded.types(
        "decide", "verdict", JOB, "valve-exhaust-left", "renew", *WHO, "--reason", "on its limit"
    )
    make(loaded)
    approve_all(loaded)
    return loaded


def make(shop: Shop, *terms: str) -> str:
    return shop.types("order", "make", JOB, "--plan", "cheapest", "--on", DAY, *terms)


def approve_all(shop: Shop) -> None:
    for order in shop.reads("order", "list")["orders"]:
        if order["state"] == "draft":
            shop.types("order", "approve", order["order"], *WHO, "--on", DAY)


def collets(shop: Shop) -> list[tuple[str, Any]]:
    """The order lines that bring collets, each with its order."""
    return [
        (order["order"], line)
        for order in shop.reads("order", "list")["orders"]
        for line in shop.reads("order", "show", order["order"])["lines"]
        if line["part"] in {HALF, PAIR} and line["needed_by"]
    ]


def bagged(shop: Shop) -> Any:
    """The collets in their bag, counted in pairs."""
    bags = shop.reads("bags", JOB)["bags"]
    (line,) = [each for bag in bags for each in bag["lines"] if each["part"] == PAIR]
    assert line["quantity"] == 4
    return line


def coming(shop: Shop) -> int:
    """How many halves, a pair for two, are needed of what is here or still to come."""
    return sum(
        (line["quantity"] - line["reopened"]) * (2 if line["part"] == PAIR else 1)
        for _, line in collets(shop)
    )


def test_four_pairs_are_bought_as_eight_halves_and_approved_and_nothing_is_left(
    planned: Shop,
) -> None:
    bought = collets(planned)
    assert {line["part"] for _, line in bought} == {HALF}
    assert sum(line["quantity"] for _, line in bought) == 8
    need = bought[0][1]["needed_by"][0]
    assert (need["per"], need["makes"], need["stands_for"]) == (2, 1, PAIR)
    text = planned.types("order", "show", bought[0][0])
    assert f"takes 2 of it for 1 of {PAIR}" in " ".join(text.split())
    assert "Nothing is left to order." in make(planned)


def test_halves_that_come_in_part_are_bagged_as_pairs_and_the_rest_is_bought_to_the_piece(
    planned: Shop,
) -> None:
    number, line = max(collets(planned), key=lambda each: int(each[1]["quantity"]))
    came = line["quantity"] - 4
    planned.types(
        "order", "receive", number, *WHO,
        "--good", f"{line['line']}={came}", "--damaged", f"{line['line']}=1",
    )  # fmt: skip
    assert bagged(planned)["in_hand"] == came // 2
    if came % 2:
        wait = " ".join(planned.types("bags", JOB).split())
        assert f"beside that 1 × {HALF} here, which is no whole one yet" in wait
    assert coming(planned) == 4
    make(planned)
    assert coming(planned) == 8
    approve_all(planned)
    assert "Nothing is left to order." in make(planned)
    for order in planned.reads("order", "list")["orders"]:
        if order["coming"]:
            planned.types("order", "receive", order["order"], "--all", *WHO)
    assert bagged(planned)["in_hand"] == 4


def test_halves_off_the_shelf_are_taken_eight_for_four_pairs(planned: Shop) -> None:
    for order, _ in collets(planned):
        planned.types("order", "cancel", order, *WHO, "--reason", "shut for August")
    planned.types("shelf", "in", HALF, "9", "--where", "bin 4")
    line = bagged(planned)["line"]
    take = ("shelf", "take", JOB, line, "--part", HALF)
    assert "only as a whole, all 8" in planned.refuses(*take, "--quantity", "4")
    assert "8 × cor:C66-2133" in planned.types(*take)
    assert bagged(planned)["in_hand"] == 4
    waits = [wait for bag in planned.reads("bags", JOB)["bags"] for wait in bag["waits"]]
    assert line not in {wait["key"] for wait in waits}


def test_the_rest_of_four_pairs_is_taken_off_the_shelf_as_the_plan_says(ready: Shop) -> None:
    ((number, line),) = collets(ready)
    assert (line["part"], line["quantity"]) == (PAIR, 4)
    ready.types("order", "approve", number, *WHO, "--on", DAY)
    ready.types("order", "receive", number, "--good", f"{line['line']}=2", *WHO)
    ready.types("shelf", "in", HALF, "4", "--where", "bin 4")
    key = bagged(ready)["line"]
    take = f"kitting shelf take {JOB} {key} --part '{HALF}'"
    plain = " ".join(ready.types("order", "make", JOB, "--on", DAY).split())
    assert f"4 × {HALF} free on the shelf serves line {key}" in plain
    assert f"is left there: {take}, then" in plain
    said = " ".join(make(ready).split())
    assert f"{take} --quantity 4" in said
    ready.types("shelf", "take", JOB, key, "--part", HALF, "--quantity", "4", *WHO)
    assert bagged(ready)["in_hand"] == 4
    assert all(int(line["quantity"]) == 4 and line["good"] == 2 for _, line in collets(ready))


def test_eight_halves_offered_for_the_four_pairs_that_were_ordered_cover_the_line(
    ready: Shop,
) -> None:
    ((number, line),) = collets(ready)
    assert (line["part"], line["quantity"]) == (PAIR, 4)
    ready.types("order", "approve", number, *WHO, "--on", DAY)
    key = line["line"]
    boxes = {key: {"substitute": HALF, "packs": 8, "price": 1.25}}
    said = ready.types("order", "reply", str(replied(ready, boxes, order=number)))
    assert f"2 of it for 1 of {PAIR}: the 8 pieces that he offers make 4" in " ".join(said.split())
    accepted = ready.types("order", "answer", number, key, "accept", *WHO)
    assert "Open again" not in accepted
    ((_, line),) = collets(ready)
    assert (line["agreed_part"], line["coming"], line["reopened"]) == (HALF, 8, 0)
    text = " ".join(ready.types("order", "show", number).split())
    assert f"takes 2 of {HALF} for 1 of {PAIR}" in text
    ready.types("order", "receive", number, "--all", *WHO)
    assert bagged(ready)["in_hand"] == 4
