"""What is bought elsewhere, and what each there says he has."""

from dataclasses import replace

import pytest

from kitting.buying.replies import ReplyLine
from kitting.buying.standing import OrderRecord
from kitting.catalog.trade import Trade
from tests.builders import number
from tests.buying.orders import a_line, an_order
from tests.buying.test_choices import BROOK, NUT, TRADE, replied, weighed


def told_stock(**stock: int | None) -> Trade:
    """Everybody sells the nuts, and says that he has so many packs of four."""
    offers = (o for o in TRADE.offers if o.part == number("hob:W320") and o.supplier == "brook")
    known = next(offers)
    suppliers = {key: replace(TRADE.supplier_by_key["brook"], key=key, name=key) for key in stock}
    return replace(
        TRADE,
        suppliers=(*TRADE.suppliers, *(suppliers[key] for key in stock)),
        offers=tuple(
            replace(known, supplier=key, pack=4, stock=packs, price=known.price + at)
            for at, (key, packs) in enumerate(stock.items())
        ),
    )


def pieces_from(trade: Trade, *others: OrderRecord) -> list[tuple[str, int]]:
    _, refuse = weighed(replied(ReplyLine(NUT, packs=1)), *others, trade=trade)
    assert refuse.missing == 8
    return [(way.supplier.key, way.pieces) for way in refuse.elsewhere]


@pytest.mark.parametrize(
    ("stock", "bought"),
    [
        ({"elm": 2, "oak": None}, [("elm", 8)]),
        ({"elm": 1, "oak": None}, [("oak", 8)]),
        ({"elm": 0, "oak": 1}, [("elm", 8)]),
        ({"elm": 1, "fir": 1, "oak": 1}, [("elm", 4), ("fir", 4)]),
    ],
)
def test_no_more_is_bought_of_anybody_than_he_says_he_has(
    stock: dict[str, int | None], bought: list[tuple[str, int]]
) -> None:
    """One who says that he has none delivers within his days, as the plan takes it."""
    trade = told_stock(**stock)
    assert pieces_from(trade) == bought
    _, refuse = weighed(replied(ReplyLine(NUT, packs=1)), trade=trade)
    for at, (name, pieces) in enumerate(bought):
        assert refuse.sentences[at].startswith(f"{pieces} pieces from {name}: ")
    assert refuse.more is not None


def test_where_nobody_is_known_to_have_enough_it_is_said_who_has_how_many() -> None:
    trade = told_stock(elm=1)
    accept, refuse = weighed(replied(ReplyLine(NUT, packs=1)), trade=trade)
    assert [way.pieces for way in accept.elsewhere] == [4]
    assert (refuse.elsewhere, refuse.more) == ((), None)
    assert refuse.sentences[0] == (
        "nobody else is known to have enough of it: elm has no more than 1 pack of 4 of "
        "hob:W320; 'kitting order plan' looks at sets, several numbers and work too"
    )
    assert any("cannot start" in each for each in refuse.sentences)


def test_what_a_waiting_draft_asks_for_is_not_there_for_another() -> None:
    trade = told_stock(brook=2, elm=2)
    known = trade.offers[0]
    nuts = replace(a_line("hob:W320", 1, "1.00", pack=4), their_number=known.their_number)
    draft = replace(an_order(nuts, approved=False, supplier=BROOK), number="P1002")
    assert pieces_from(trade) == [("brook", 8)]
    assert pieces_from(trade, OrderRecord(draft)) == [("elm", 8)]
