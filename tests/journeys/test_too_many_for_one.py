"""What an order brought for a job that wants it no more, and another job that would buy it."""

import shlex
from typing import Any

from tests.journeys.shop import DAY, Shop
from tests.journeys.test_failed_and_unused import JOB, OTHER, WHO, approve_all, cheapest, ready

__all__ = ["ready"]


def _here_for_nobody(shop: Shop) -> tuple[str, dict[str, Any]]:
    """Everything comes for an engine that is not built then: an order, and a line of one of it."""
    shop.types("order", "make", JOB, "--plan", "cheapest", "--on", DAY)
    approve_all(shop)
    for order in shop.reads("order", "list")["orders"]:
        shop.types("order", "receive", order["order"], "--all", *WHO)
    shop.types("job", "close", JOB, *WHO, "--not-built", "sold as it lay")
    shop.types("job", "open", OTHER, "--family", "corvane-650", "--engine", "CV23418")
    shop.types("strip", "add", OTHER, "barrel", "sound", *WHO)
    wanted = {line["part"] for line in shop.reads("kit", OTHER)["lines"]}
    return next(
        (order["order"], line)
        for order in shop.reads("order", "list")["orders"]
        for line in shop.reads("order", "show", order["order"])["lines"]
        if line["part"] in wanted and line["good"] and not line["unmeasured"]
    )


def test_what_lies_here_for_nobody_is_named_until_it_is_on_the_shelf(ready: Shop) -> None:
    number, line = _here_for_nobody(ready)
    (mind,) = (each for each in cheapest(ready, OTHER)["mind"] if f" {line['part']} " in each)
    assert mind.startswith(f"order {number} brought")
    made = ready.types("order", "make", OTHER, "--on", DAY)
    assert f"Mind: {mind}" in made
    typed = mind.partition("(kitting ")[2].partition(")")[0].replace("PLACE", "'bin 4'")
    pieces = int(shlex.split(typed)[3])
    too_many = shlex.split(typed.replace(f" {pieces} ", f" {pieces + 1} "))
    assert f"brought {pieces} more than its jobs ask for" in ready.refuses(*too_many)
    assert f"{pieces} lie free now" in ready.types(*shlex.split(typed))
    assert not any(f" {line['part']} " in each for each in cheapest(ready, OTHER)["mind"])
    assert "brought 0 more" in ready.refuses(*shlex.split(typed))
    found = ready.reads("order", "show", number)["lines"]
    (after,) = (each for each in found if each["line"] == line["line"])
    assert (after["good"], after["asked_for_no_more"]) == (0, 0)


def test_what_no_order_brought_by_itself_is_put_in_without_one(ready: Shop) -> None:
    number, line = _here_for_nobody(ready)
    other = next(
        each["part"]
        for order in ready.reads("order", "list")["orders"]
        for each in ready.reads("order", "show", order["order"])["lines"]
        if order["order"] != number and each["part"] != line["part"]
    )
    put = ("shelf", "in", other, "1", "--where", "bin 4", "--from-order", number)
    assert "put in without --from-order" in ready.refuses(*put)
