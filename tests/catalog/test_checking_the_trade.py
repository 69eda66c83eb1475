"""Offers, work and rates name what is there, and every price can be used; whole folders check."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from kitting.catalog.check import check_catalogue
from kitting.catalog.check_notes import CheckReport
from kitting.catalog.check_trade import check_trade
from kitting.catalog.trade import Rate, Trade
from tests.builders import an_offer
from tests.wren import tiny_family, tiny_trade


def checked(trade: Trade) -> CheckReport:
    return check_trade(trade, [tiny_family()], {})


def test_the_wrens_trade_has_no_fault_and_knows_what_nobody_offers() -> None:
    report = checked(tiny_trade())
    assert report.faults == ()
    assert [str(warning) for warning in report.warnings] == [
        "offers: nobody offers 1 part of Wren single: hob:W130"
    ]


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"part": "hob:W3200"}, "no family has the part 'hob:W3200'; did you mean 'hob:W320'?"),
        ({"part": "hob:w-320"}, "no family has the part 'hob:w-320'; it is written hob:W320"),
        ({"part": "hub:W320"}, "there is no maker 'hub'; did you mean 'hob'?"),
        ({"currency": "JPY"}, "there is no exchange rate for JPY"),
        ({"valid_until": "2023-01-01"}, "it ends on 2023-01-01, before it begins on 2024-01-01"),
    ],
)
def test_an_offer_that_cannot_be_used_is_caught(change: dict[str, str], said: str) -> None:
    trade = tiny_trade()
    offer = an_offer("brook", change.get("part", "hob:W320"), "3.00", pack=2)
    offer = replace(
        offer,
        currency=change.get("currency", "GBP"),
        valid_until=date.fromisoformat(change.get("valid_until", "2024-12-31")),
    )
    found = checked(replace(trade, offers=(*trade.offers, offer))).faults
    assert any(said in str(fault) for fault in found), found


def test_a_break_that_is_no_cheaper_and_an_offer_made_twice_are_warned_of() -> None:
    trade = tiny_trade()
    more = (
        an_offer("brook", "hob:W101", "17.00"),
        an_offer("ashby", "hob:W320", "3.00", pack=9, breaks="10: 3.20"),
    )
    warned = [str(w) for w in checked(replace(trade, offers=(*trade.offers, *more))).warnings]
    assert any("more packs are no cheaper by the pack" in w for w in warned)
    assert any("the same pack is offered for the same days" in w for w in warned)


def test_work_by_nobody_and_work_that_is_none_are_caught() -> None:
    trade = tiny_trade()
    work = trade.work_prices[0]
    odd = (replace(work, machinist="grindwel"), replace(work, operation="regrynd"))
    found = [str(f) for f in checked(replace(trade, work_prices=odd)).faults]
    assert any("no supplier 'grindwel'; did you mean 'grindwell'?" in f for f in found)
    assert any("no operation 'regrynd'; did you mean 'regrind'?" in f for f in found)


def test_an_operation_a_family_asks_for_must_be_there() -> None:
    trade = tiny_trade()
    without = tuple(each for each in trade.operations if each.key != "crack-test")
    found = [str(fault) for fault in checked(replace(trade, operations=without)).faults]
    assert any("Wren single asks for the operation 'crack-test'" in fault for fault in found)


def test_the_shop_must_know_its_rates_of_vat_and_of_exchange() -> None:
    trade = tiny_trade()
    shop = replace(trade.shop, vat={"Z": Decimal(0)}, uncertainty={})
    rates = (*trade.rates, *trade.rates, Rate("GBP", Decimal("1.1"), date(2024, 1, 1)))
    report = checked(replace(trade, shop=shop, rates=rates))
    found = [str(fault) for fault in report.faults]
    assert "shop.csv: no rate for the VAT category S; add a row vat S,…" in found
    assert any("EUR has a rate of that day" in fault for fault in found)
    assert any("GBP is the shop's own money" in fault for fault in found)
    assert any("uncertainty of the micrometer is not said" in str(w) for w in report.warnings)


def test_a_whole_catalogue_is_checked_folder_by_folder(
    wren_folder: Path, trade_folder: Path
) -> None:
    (wren_folder / "sets.csv").write_text("set,part,quantity\nhob:W900,hob:W31,1\n", "utf-8")
    report = check_catalogue(wren_folder.parent)
    found = [str(fault) for fault in report.faults]
    assert any(
        f.startswith("wren-single/sets.csv line 2, column part: there is no part 'hob:W31'")
        for f in found
    )
    assert any(f.startswith("trade/operations.csv: Wren single asks for") for f in found)


def test_a_catalogue_that_cannot_be_read_or_is_not_there_says_so(
    wren_folder: Path, trade_folder: Path
) -> None:
    (wren_folder / "sets.csv").unlink()
    (trade_folder / "shop.csv").unlink()
    assert [str(fault) for fault in check_catalogue(wren_folder.parent).faults] == [
        "wren-single/sets.csv: the file is missing; put it into wren-single/",
        "trade/shop.csv: the file is missing; put it into trade/",
    ]
    nowhere = check_catalogue(wren_folder.parent / "none")
    assert "there is no catalogue here" in str(nowhere.faults[0])
