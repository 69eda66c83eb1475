"""The trade's files are read whole or refused whole; prices are figures, never words."""

from collections.abc import Callable
from decimal import Decimal
from pathlib import Path

import pytest

from kitting.catalog.files import read_trade, read_trade_with_sources
from kitting.catalog.trade import Quality
from kitting.errors import BadInput
from tests.builders import number, q

Change = Callable[[Path, str, str], Path]


def problems_of(folder: Path) -> list[str]:
    with pytest.raises(BadInput) as caught:
        read_trade(folder)
    return [str(problem) for problem in caught.value.problems]


def test_a_trade_reads_with_the_suppliers_terms_where_an_offer_says_nothing(
    trade_folder: Path,
) -> None:
    trade, sources = read_trade_with_sources(trade_folder)
    first, second = trade.offers
    assert (first.currency, first.days, first.stock) == ("GBP", 3, 4)
    assert (second.currency, second.days, second.stock) == ("EUR", 9, None)
    assert [first.pack_price(packs) for packs in (9, 10, 50)] == [
        Decimal("12.40"),
        Decimal("11.20"),
        Decimal("10.00"),
    ]
    assert trade.offers_of[number("hob:W310")] == (second,)
    assert trade.shop.uncertainty["micrometer"] == q("0.0001 in")
    assert (trade.shop.work_markup, trade.shop.vat["S"]) == (Decimal(10), Decimal(20))
    assert [maker.name for maker in trade.makers] == ["Hobday", "Dale Pattern Parts"]
    assert sources["offers", "1"] == "offers-ashby.csv line 3"


def test_an_offer_says_its_quality_where_the_supplier_does(trade_folder: Path) -> None:
    assert {offer.quality for offer in read_trade(trade_folder).offers} == {Quality.UNSAID}
    path = trade_folder / "offers-ashby.csv"
    heading, first, second = path.read_text().splitlines()
    path.write_text(f"{heading},quality\n{first},used\n{second}\n")
    assert [offer.quality for offer in read_trade(trade_folder).offers] == [
        Quality.USED,
        Quality.UNSAID,
    ]
    path.write_text(path.read_text().replace(",used", ",usd"))
    (said,) = problems_of(trade_folder)
    assert said == (
        "offers-ashby.csv line 2, column quality: 'usd' is none of maker's own, new old stock, "
        "pattern, used; did you mean 'used'?"
    )


@pytest.mark.parametrize(
    ("file", "old", "new", "said"),
    [
        ("offers-ashby", ",12.40,", ",POA,", "'POA' is no price; write the figure, such as 12.50"),
        ("offers-ashby", ",12.40,", ",£12.40,", "'£12.40' is no price; the figure alone: 12.40"),
        ("offers-ashby", ",12.40,", ',"12,40",', "use a point for the decimals: 12.40"),
        ("offers-ashby", ",12.40,", ',"1,240.50",', "the comma of the thousands: 1240.50"),
        ("offers-ashby", ",12.40,", ",-12.40,", "'-12.40' is no price"),
        ("offers-ashby", ",12.40,", ",0.00,", "the price is nothing"),
        ("offers-ashby", "10: 11.20", "60: 11.20", "does not rise in packs"),
        ("offers-ashby", "10: 11.20", "11.20 from 10", "is no price break; packs, colon, price"),
        ("offers-ashby", "EUR", "euro", "'euro' is no currency; three capital letters"),
        ("offers-ashby", "hob:W310", "W310", "'W310' names no maker"),
        ("shop", "lean,recheck", "lean,renw", "did you mean 'renew'?"),
        ("shop", "labour rate", "labor rate", "'labor rate' is no setting here; did you mean"),
        ("shop", "0.0001 in", "0.0001", "'0.0001' has no unit; add one"),
        ("shop", "vat S,20", "vat S,twenty", "'twenty' is no plain figure"),
        ("work_prices", "regrind,each", "regrind,pin", "'pin' is none of each, job"),
        ("rates", "0.86", "", "column worth: the cell is empty; it must be filled"),
        ("makers", "dal,", "hob,", "'hob' is there already: makers.csv line 2"),
    ],
)
def test_a_slip_is_named_with_what_would_be_right(
    trade_folder: Path, changed: Change, file: str, old: str, new: str, said: str
) -> None:
    changed(trade_folder / f"{file}.csv", old, new)
    found = problems_of(trade_folder)
    assert any(said in problem and problem.startswith(f"{file}.csv") for problem in found), found


def test_offers_of_a_supplier_nobody_knows_are_asked_about(trade_folder: Path) -> None:
    (trade_folder / "offers-ashby.csv").rename(trade_folder / "offers-ashbey.csv")
    assert problems_of(trade_folder)[0] == (
        "offers-ashbey.csv: there is no supplier 'ashbey'; did you mean 'ashby'?"
    )


def test_offers_of_nobody_in_particular_are_told_how_to_be_named(trade_folder: Path) -> None:
    (trade_folder / "offers.csv").write_text("part,price\n", encoding="utf-8")
    (problem,) = problems_of(trade_folder)
    assert problem.startswith("offers.csv: no file of that name belongs here; the files are shop")
    assert problem.endswith("rates.csv, offers-SUPPLIER.csv")
