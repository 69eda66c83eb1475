"""A part that failed with a supplier, and a size that nobody needs: what follows, and what not."""

from typing import Any

import openpyxl
import pytest

from tests.journeys.shop import DAY, Shop

JOB, OTHER = "26-041", "26-042"
WHO = ("--who", "K. Ferris")


@pytest.fixture
def ready(loaded: Shop) -> Shop:
    """The demo's job, ready to order."""
    loaded.types("strip", "add", JOB, "timing-cover", "sound", "--who", "J. Marlowe")
    loaded.types("strip", "add", JOB, "idler-spindle", "outer 0 = .6237", "--who", "J. Marlowe")
    loaded.types(
        "decide", "verdict", JOB, "valve-exhaust-left", "renew", *WHO, "--reason", "on its limit"
    )
    return loaded


def approve_all(shop: Shop) -> None:
    for order in shop.reads("order", "list")["orders"]:
        if order["state"] == "draft":
            shop.types("order", "approve", order["order"], *WHO, "--on", DAY)


def cheapest(shop: Shop, job: str, *terms: str) -> Any:
    return shop.reads("order", "plan", job, "--only", "cheapest", "--on", DAY, *terms)


def bought(answer: Any) -> set[tuple[str, str]]:
    """Who is asked for which part in the cheapest plan."""
    parcels = answer["plans"][0]["parcels"]
    return {(parcel["supplier"], each["part"]) for parcel in parcels for each in parcel["bought"]}


def test_a_damaged_part_is_bought_elsewhere_for_its_job_and_stays_on_offer_for_others(
    ready: Shop,
) -> None:
    ready.types("job", "open", OTHER, "--family", "corvane-650", "--engine", "CV23418")
    ready.types("strip", "add", OTHER, "barrel", "sound", *WHO)
    own, others = bought(cheapest(ready, JOB)), bought(cheapest(ready, OTHER))
    ready.types("order", "make", JOB, "--plan", "cheapest", "--on", DAY)
    approve_all(ready)
    supplier, part = sorted(own & others)[0]
    number, line = next(
        (order["order"], line["line"])
        for order in ready.reads("order", "list")["orders"]
        for line in ready.reads("order", "show", order["order"])["lines"]
        if line["part"] == part
    )
    ready.types("order", "receive", number, "--damaged", f"{line}=1", *WHO)

    assert bought(cheapest(ready, OTHER)) == others
    (mind,) = cheapest(ready, OTHER)["mind"]
    assert part in mind
    assert f"1 damaged ({number}, for job {JOB})" in mind

    again = cheapest(ready, JOB)
    assert (supplier, part) not in bought(again)
    why = [says for says in (*again["left_out"], *again["mind"]) if part in says]
    assert why
    assert all(f"--even-from {supplier}" in says for says in why)
    assert not any("at a price that is valid today" in says for says in again["left_out"])
    assert (supplier, part) in bought(cheapest(ready, JOB, "--even-from", supplier))
    said = ready.types("order", "make", JOB, "--plan", "cheapest", "--on", DAY)
    assert f"--even-from {supplier}" in said
    brief = listed(ready)[number]
    assert (brief["to_order_again"], brief["bought_again_in"]) == (0, [])
    (draft,) = brief["drafted_again_in"]
    text = ready.types("order", "list", "--job", JOB)
    assert [text.count(said) for said in ("drafted", "again", draft)] == [1, 1, 2]
    ready.types("order", "approve", draft, *WHO, "--on", DAY)
    assert listed(ready)[number]["bought_again_in"] == [draft]
    assert f"bought again in {draft}" in ready.types("order", "show", number)
    assert "did you mean" in ready.refuses("order", "plan", JOB, "--even-from", supplier + "x")


def listed(shop: Shop) -> dict[str, Any]:
    """Every order of the job, by number."""
    orders = shop.reads("order", "list", "--job", JOB)["orders"]
    return {order["order"]: order for order in orders}


def shells(shop: Shop, number: str) -> dict[str, Any]:
    """An order's lines of big-end shells, by their undersize."""
    lines = shop.reads("order", "show", number)["lines"]
    return {line["name"][-9:-6]: line for line in lines if "shells" in line["name"]}


def test_the_size_that_is_not_needed_goes_back_and_nothing_is_open_for_it(ready: Shop) -> None:
    ready.types(
        "order", "make", JOB, "--plan", "cheapest", "--returns-to", "calder-flats", "--on", DAY
    )
    approve_all(ready)
    number = next(
        order["order"]
        for order in ready.reads("order", "list")["orders"]
        if shells(ready, order["order"])
    )
    keys = {size: line["line"] for size, line in shells(ready, number).items()}
    first = ("--good", f"{keys['020']}=2", "--good", f"{keys['010']}=1")
    ready.types("order", "receive", number, *first, "--to-follow", f"{keys['010']}=1", *WHO)
    for line in shells(ready, number).values():
        here = line["good"] + line["unmeasured"]
        assert line["on_return_uses"] == {"wait for the machinist": here}
    size = ("decide", "size", JOB, "crankpin", "under-020", *WHO, "--reason", "ground so far")
    ready.types(*size)
    file = ready.folder / "parcel.xlsx"
    ready.types("order", "delivery-sheet", number, "--to", str(file))
    sheet = openpyxl.load_workbook(file).worksheets[0]
    rows = [row[0].value for row in sheet.iter_rows()]
    assert rows.count(keys["010"]) == 1  # its pieces, and no figure
    came = ready.types("order", "receive", number, "--all", *WHO)
    (said,) = [line for line in came.splitlines() if line.startswith(keys["010"])]
    assert said.endswith("1 here, needed by no job: back unused, and not measured")
    found = shells(ready, number)
    unused, needed = found["010"], found["020"]
    assert unused["on_return_uses"] == {"not needed": 2}
    assert needed["on_return_uses"] == {"needed": 2}
    text = " ".join(ready.types("order", "show", number).split())
    assert "2 sale or return; on return: 2 not needed" in text
    assert "2 sale or return; on return: 2 needed" in text
    assert "2 here that no job needs: back unused, and not measured" in text
    assert (unused["measure"], bool(needed["measure"])) == ([], True)
    every = ready.reads("order", "show", number)["lines"]
    others = sum(line["unmeasured"] for line in every if line["line"] != unused["line"])
    asks = listed(ready)[number]
    assert (asks["to_measure"], asks["idle_lines"]) == (others, [unused["line"]])
    assert "1 line to send back unused" in " ".join(ready.types("order", "list", "--open").split())

    back = ("order", "return", number, unused["line"], "2", "--why", "sale or return", *WHO)
    assert "kitting order make" not in ready.types(*back)
    assert shells(ready, number)["010"]["reopened"] == 0
    assert "to order again" not in ready.types("order", "list", "--open")
    make = ("order", "make", JOB, "--plan", "cheapest", "--on", DAY)
    assert "shells" not in ready.types(*make)

    back = ("order", "return", number, needed["line"], "1", "--why", "sale or return", *WHO)
    assert "The kit asks for 1 piece of it still: kitting order make" in ready.types(*back)
    ready.types("order", "make", JOB, "--plan", "cheapest", "--on", DAY)
    drafted = [
        line
        for order in ready.reads("order", "list")["orders"]
        if order["state"] == "draft"
        for line in shells(ready, order["order"]).values()
    ]
    assert [(line["part"], line["quantity"]) for line in drafted] == [(needed["part"], 1)]


def test_what_no_kit_asks_for_any_more_is_told_and_goes_back_without_a_failure(
    ready: Shop,
) -> None:
    ready.types("order", "make", JOB, "--plan", "cheapest", "--on", DAY)
    approve_all(ready)
    sound = ("decide", "verdict", JOB, "valve-exhaust-left", "reuse")
    ready.types(*sound, *WHO, "--reason", "it cleaned up after all")
    (number, line), *_ = (
        (order["order"], line["line"])
        for order in ready.reads("order", "list")["orders"]
        for line in ready.reads("order", "show", order["order"])["lines"]
        if line["asked_for_no_more"] == 1
    )
    assert "Asked for by no kit any more" in ready.types("order", "show", number)
    back = ("order", "return", number, line, "1", "--why", "surplus", *WHO)
    assert "nothing of this line may go back" in ready.refuses(*back)
    ready.types("order", "receive", number, "--all", *WHO)
    assert listed(ready)[number]["state"] == "delivered"
    idle = listed(ready)[number]["asked_for_no_more"]
    assert f"{idle} piece{'s' if idle > 1 else ''} that no" in ready.types("order", "list")
    ready.types(*back)
    assert listed(ready)[number]["asked_for_no_more"] == idle - 1
    (after,) = (
        each for each in ready.reads("order", "show", number)["lines"] if each["line"] == line
    )
    assert (after["reopened"], after["asked_for_no_more"]) == (0, 0)
    assert cheapest(ready, JOB)["mind"] == []
    assert "may go back" in ready.refuses(*back)


def test_a_job_that_closes_names_the_orders_that_still_want_somebody(ready: Shop) -> None:
    ready.types("order", "make", JOB, "--on", DAY)
    approve_all(ready)
    first, *others = sorted(listed(ready))
    said = ready.types("job", "close", JOB, "--not-built", "sold as it lay", *WHO)
    for number in (first, *others):
        assert f"Still open: order {number} (approved)" in said
    gone = ready.types("order", "cancel", first, "--reason", "the engine is sold", *WHO)
    assert "kitting order make" not in gone
    assert listed(ready)[first]["to_order_again"] == 0
