"""The shop's terms for a buying plan at the terminal: quality, soundness, days, small orders."""

import shutil
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from kitting.catalog.shipped import shipped_folder
from tests.journeys.shop import DAY, Shop

JOB, SMALL = "26-041", "26-042"
BUSH, SPACER = "4.10", "3.04"
Trading = Callable[..., Shop]


@pytest.fixture
def trading(loaded: Shop) -> Trading:
    """A shop whose suppliers say this instead of that; the rows that name a part, of a quality."""

    def changed(*changes: tuple[str, str, str]) -> Shop:
        folder = loaded.folder / "catalogue"
        shutil.copytree(shipped_folder(), folder)
        for file, old, new in changes:
            path = folder / "trade" / f"{file}.csv"
            text = path.read_text(encoding="utf-8")
            assert old in text, (file, old)
            path.write_text(text.replace(old, new), encoding="utf-8")
        loaded.types("catalog", "load", str(folder))
        return loaded

    return changed


def used_bush(supplier: str, row: str) -> tuple[tuple[str, str, str], ...]:
    """A supplier's row of the centre cam bush, used; an offer without quality needs no column."""
    heading = (f"offers-{supplier}", "days,stock\n", "days,stock,quality\n")
    marked = (f"offers-{supplier}", row, f"{row},used")
    return (marked,) if supplier == "penhollow" else (heading, marked)


MARLBECKS = used_bush(
    "marlbeck", "hob:HC 4034/010,1,8.91,6: 8.02 | 12: 7.38,,2026-07-01,2027-12-31,,"
)
PENHOLLOWS = used_bush("penhollow", "hob:HC 4034/010,1,11.00,4: 10.00,,2026-01-05,2027-12-31,,1")


def cheapest(shop: Shop, *terms: str, job: str = JOB) -> Any:
    return shop.reads("order", "plan", job, "--only", "cheapest", "--on", DAY, *terms)["plans"][0]


def line(plan: Any, key: str) -> Any:
    return next(each for each in plan["lines"] if each["line"] == key)


def bought(plan: Any) -> list[Any]:
    return [each for parcel in plan["parcels"] for each in parcel["bought"]]


def test_nothing_used_goes_where_the_engine_rests_on_it_unless_asked_for(trading: Trading) -> None:
    shop = trading(*MARLBECKS)
    bush = line(cheapest(shop), BUSH)
    assert (bush["suppliers"], bush["qualities"]) == (["penhollow"], [None])
    bush = line(cheapest(shop, "--used-where-critical"), BUSH)
    assert (bush["suppliers"], bush["qualities"]) == (["marlbeck"], ["used"])


def test_where_only_used_ones_are_offered_the_job_waits_for_a_better(trading: Trading) -> None:
    shop = trading(*MARLBECKS, *PENHOLLOWS)
    said = shop.types("order", "make", JOB, "--on", DAY)
    told = " ".join(said.split())
    assert "In no order: Cam bush, centre, .010 under (hob:HC 4034/010): only used ones" in told
    flags = [
        each["flags"]
        for each in shop.reads("estimate", JOB, "--on", DAY)["lines"]
        if each["part"] == "hob:HC 4034/010"
    ]
    assert flags == [
        ["no price but for a used one, where the position is critical: ask the suppliers"]
    ]


def test_a_quality_is_left_out_of_the_whole_plan(loaded: Shop) -> None:
    before = cheapest(loaded)
    assert "pattern" in {each["quality"] for each in bought(before)}
    plan = cheapest(loaded, "--not-of", "pattern")
    assert "pattern" not in {each["quality"] for each in bought(plan)}
    assert Decimal(plan["total"]) > Decimal(before["total"])


def test_a_quality_is_left_out_where_the_position_is_critical_alone(trading: Trading) -> None:
    shop = trading(*((file, old, new.replace("used", "pattern")) for file, old, new in MARLBECKS))
    assert line(cheapest(shop), BUSH)["qualities"] == ["pattern"]
    plan = cheapest(shop, "--not-where-critical", "pattern")
    assert line(plan, BUSH)["suppliers"] == ["penhollow"]
    assert "pattern" in {each["quality"] for each in bought(plan)}


def test_what_is_bought_is_shown_with_its_quality_from_the_order_to_the_suppliers_sheet(
    loaded: Shop,
) -> None:
    loaded.types("order", "make", JOB, "--plan", "cheapest", "--on", DAY)
    orders = loaded.reads("order", "list")["orders"]
    number = next(each["order"] for each in orders if each["supplier"].startswith("Penhollow"))
    lines = loaded.reads("order", "show", number)["lines"]
    assert {each["quality"] for each in lines} >= {"new old stock", "pattern"}
    assert "new old" in loaded.types("order", "show", number)
    loaded.types("order", "sheet", number, "--to", "sheet.xlsx")
    sheet = openpyxl.load_workbook(Path("sheet.xlsx")).worksheets[0]
    shown = " ".join(str(cell.value) for row in sheet.iter_rows() for cell in row if cell.value)
    assert "New old stock, as you offer it" in shown
    assert "Calder" not in shown


def test_a_list_says_the_quality_of_each_part_and_prices_show_it(loaded: Shop) -> None:
    Path("pen.csv").write_text(
        "Code,Makers number,Net price,Condition\n"
        "H1,hob:HC 4034/010,11.00,Reproduction\nH2,cor:C61-1541,12.00,N.O.S.\n",
        encoding="utf-8",
    )
    load = ("prices", "load", "pen.csv", "--supplier", "penhollow")
    told = loaded.reads(*load, "--confirm")
    assert {each["field"]: each["heading"] for each in told["columns"]}["quality"] == "Condition"
    assert told["counts"]["other quality"] >= 1
    offers = loaded.reads("prices", "show", "hob:HC 4034/010", "--supplier", "penhollow")["offers"]
    assert [each["quality"] for each in offers] == ["pattern"]
    assert "new old stock" in loaded.types("prices", "show", "cor:C61-1541")


def test_only_the_sounder_ways_are_taken_for_a_critical_position(trading: Trading) -> None:
    shop = trading(("offers-thornhay", "cor:C61-5047,1,13.00", "cor:C61-5047,1,113.00"))
    spacer = line(cheapest(shop), SPACER)
    assert (spacer["way"], spacer["parts"]) == ("interchange with work", ["roo:RP 514S"])
    spacer = line(cheapest(shop, "--critical-up-to", "full-set"), SPACER)
    assert (spacer["way"], spacer["parts"]) == ("as in the kit", ["cor:C61-5047"])


def test_everything_comes_within_the_days_given(loaded: Shop) -> None:
    at_leisure, soon = cheapest(loaded), cheapest(loaded, "--within", "14")
    assert soon["days"] <= 14 < at_leisure["days"]
    assert Decimal(soon["total"]) > Decimal(at_leisure["total"])


def test_nothing_is_taken_that_the_supplier_has_none_of(loaded: Shop) -> None:
    assert any(each["back_order"] for each in bought(cheapest(loaded)))
    assert not any(each["back_order"] for each in bought(cheapest(loaded, "--no-back-orders")))


ONE_SHOP = ("--not-from", "marlbeck", "--not-from", "penhollow", "--not-from", "calder-flats")


def small_job(shop: Shop) -> Shop:
    """A second job that needs a few joints, all from one supplier."""
    shop.types("job", "open", SMALL, "--family", "corvane-650", "--engine", "CV23418")
    shop.types("strip", "add", SMALL, "barrel", "sound", "--who", "J. Marlowe")
    return shop


def test_nothing_is_bought_only_to_have_carriage_free_where_that_is_not_wanted(
    trading: Trading,
) -> None:
    shop = small_job(trading(("suppliers", "GBP,7.50,150.00,,2", "GBP,7.50,52.00,,2")))
    filled = cheapest(shop, *ONE_SHOP, job=SMALL)
    plain = cheapest(shop, *ONE_SHOP, "--no-top-up", job=SMALL)
    idle = [each for each in bought(filled) if each["surplus"] >= each["pack"]]
    assert (filled["carriage"], bool(idle)) == ("0.00", True)
    assert not [each for each in bought(plain) if each["surplus"] >= each["pack"]]
    assert Decimal(filled["total"]) <= Decimal(plain["total"])


def test_a_small_order_is_refused_or_made_up_to_the_suppliers_least(trading: Trading) -> None:
    shop = small_job(trading(("suppliers", "GBP,7.50,150.00,,2", "GBP,7.50,,5000.00,2")))
    told = shop.refuses("order", "plan", SMALL, "--on", DAY, *ONE_SHOP, "--no-top-up")
    assert "Thornhay Twin Spares takes no order under GBP 5000" in told
    made_up = cheapest(shop, *ONE_SHOP, "--make-up", job=SMALL)
    assert (made_up["goods"], made_up["carriage"]) == ("5000.00", "7.50")
    drafted = shop.types(
        "order", "make", SMALL, "--plan", "cheapest", "--on", DAY, "--make-up", *ONE_SHOP
    )
    assert "revision 1, drafted: Thornhay Twin Spares" in drafted


def test_terms_that_contradict_each_other_are_refused(loaded: Shop) -> None:
    asked = ("order", "plan", JOB, "--used-where-critical", "--not-of", "used")
    assert "both asked for and left out; say one of the two" in loaded.refuses(*asked)
    assert "'rusty' is not one of" in loaded.refuses("order", "plan", JOB, "--not-of", "rusty")
