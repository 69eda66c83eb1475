from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.catalog.trade import Offer, PriceBreak
from kitting.errors import BadInput
from kitting.job.estimate import totals
from kitting.job.pricing import Market, Quote, WorkQuote, rounded
from tests.builders import an_offer, number
from tests.wren import tiny_trade

DAY = date(2024, 5, 2)
TRADE = tiny_trade()
RATES = {"S": Decimal(20), "Z": Decimal(0)}
PART = number("hob:W500")


def market(*offers: Offer, day: date = DAY) -> Market:
    return Market(replace(TRADE, offers=offers), day)


def offer(
    supplier: str = "ashby",
    price: str = "4.00",
    *,
    pack: int = 1,
    breaks: tuple[tuple[int, str], ...] = (),
    currency: str = "GBP",
    begins: date = date(2024, 1, 1),
    ends: date = date(2024, 12, 31),
) -> Offer:
    base = an_offer(supplier, "hob:W500", price)
    steps = tuple(PriceBreak(packs, Decimal(cost)) for packs, cost in breaks)
    return replace(
        base,
        pack=pack,
        breaks=steps,
        currency=currency,
        valid_from=begins,
        valid_until=ends,
    )


def quote_of(on_offer: Market, quantity: int) -> Quote:
    quote = on_offer.quote(PART, quantity)
    assert quote is not None
    return quote


def work_of(operation: str, times: int) -> WorkQuote:
    quote = market().work(operation, times)
    assert quote is not None
    return quote


def test_packs_are_rounded_up_and_the_surplus_is_said() -> None:
    quote = quote_of(market(offer(pack=10, price="2.50")), 12)
    assert (quote.packs, quote.net, quote.surplus) == (2, Decimal("5.00"), 8)


def test_a_price_break_counts_packs_not_pieces() -> None:
    quote = quote_of(market(offer(pack=10, price="2.50", breaks=((2, "2.00"),))), 12)
    assert quote.net == Decimal("4.00")


def test_the_cheapest_is_chosen_in_the_shops_own_money() -> None:
    euro = offer("brook", "4.40", currency="EUR")
    quote = quote_of(market(offer(price="4.00"), euro), 1)
    assert quote.offer.supplier == "brook"
    assert quote.home == Decimal("3.78")


def test_a_price_past_its_validity_is_never_taken_while_a_valid_one_stands() -> None:
    old = offer("brook", "1.00", ends=date(2024, 5, 1))
    quote = quote_of(market(offer(price="4.00"), old), 1)
    assert quote.offer.supplier == "ashby"
    assert not quote.lapsed


def test_a_lapsed_price_standing_alone_is_used_and_flagged() -> None:
    quote = quote_of(market(offer(ends=date(2024, 5, 1))), 1)
    assert quote.lapsed


def test_a_price_is_good_on_its_last_day() -> None:
    assert not quote_of(market(offer(ends=DAY)), 1).lapsed


def test_a_price_that_has_not_begun_is_no_price() -> None:
    assert market(offer(begins=date(2024, 6, 1))).quote(PART, 1) is None


def test_a_currency_without_a_rate_says_where_to_put_one() -> None:
    with pytest.raises(BadInput, match=r"no rate for USD.*add a row"):
        market(offer(currency="USD")).quote(PART, 1)


def test_yen_have_no_pence_and_dinars_have_three_places() -> None:
    """ISO 4217 minor units."""
    assert rounded(Decimal("10.5"), "JPY") == Decimal(11)
    assert rounded(Decimal("10.0005"), "KWD") == Decimal("10.001")


def test_work_priced_for_the_job_is_not_multiplied() -> None:
    assert work_of("crack-test", 3).home == Decimal("30.00")
    assert work_of("regrind", 2).home == Decimal("96.00")


class TestTotalsAfterEN16931:
    """EN 16931-1: BR-CO-10, BR-CO-13, BR-CO-14, BR-CO-15, BR-CO-17."""

    def test_vat_is_worked_out_once_for_a_category_on_the_sum_of_its_lines(self) -> None:
        """Three lines of 0.33 at 20 %: 0.20 on 0.99, where line by line would give 0.21."""
        result = totals([("S", Decimal("0.33"))] * 3, RATES, "GBP")
        assert result.vat[0].amount == Decimal("0.20")
        assert result.gross == Decimal("1.19")

    def test_half_a_penny_goes_up(self) -> None:
        result = totals([("S", Decimal("0.125") * 100 / 5)], {"S": Decimal(5)}, "GBP")
        assert result.vat[0].amount == Decimal("0.13")

    @given(
        st.lists(
            st.tuples(
                st.sampled_from(["S", "Z"]),
                st.decimals(0, 5000, places=2, allow_nan=False, allow_infinity=False),
            )
        )
    )
    def test_gross_is_net_and_vat_and_every_line_is_in_one_base(
        self, lines: list[tuple[str, Decimal]]
    ) -> None:
        result = totals(lines, RATES, "GBP")
        assert result.net == sum((net for _, net in lines), Decimal(0))
        assert sum((line.base for line in result.vat), Decimal(0)) == result.net
        assert result.gross == result.net + sum((line.amount for line in result.vat), Decimal(0))


@given(
    quantity=st.integers(1, 500),
    pack=st.integers(1, 50),
    pence=st.integers(1, 100_000),
)
def test_whole_packs_always_cover_the_need_and_never_by_a_pack_too_many(
    quantity: int, pack: int, pence: int
) -> None:
    quote = quote_of(market(offer(pack=pack, price=str(Decimal(pence) / 100))), quantity)
    assert 0 <= quote.surplus < pack
