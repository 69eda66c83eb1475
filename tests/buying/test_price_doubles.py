"""A number that stands in a list several times: one offer, the same again, or a question."""

from collections.abc import Sequence
from decimal import Decimal
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.buying.price_lists.changes import Comparison
from kitting.buying.price_lists.doubles import FROM_MORE, MOST_TOGETHER, TOO_OFTEN, settle
from kitting.buying.price_lists.matching import Held, Key, Known
from kitting.buying.price_lists.report import ChangeReport
from kitting.buying.price_lists.rows import PriceRow
from tests.buying.test_price_changes import DAY, RING, SEAL, a_row, held, parts

KNOWN = Known(parts=parts(SEAL, RING))


def gone_through(
    rows: Sequence[PriceRow], known: Known = KNOWN, last_line: int = 0
) -> tuple[ChangeReport, list[Any], list[str]]:
    """What comes of a list read as often as it must be: the report, its offers, its strays' why."""
    first = Comparison(Decimal(5), 20, last_line, DAY)
    offers, strays = first.add(rows, known)
    if first.doubles:
        first = Comparison(Decimal(5), 20, last_line, DAY, first.doubles)
        offers, strays = first.add(rows, known)
        groups: dict[int, tuple[int, Key, list[PriceRow]]] = {}
        for mark, part, row in first.take_kept_back():
            groups.setdefault(mark, (mark, part, []))[2].append(row)
        later, aside = first.together(groups.values(), known)
        offers, strays = offers + later, strays + aside
    return first.finish(), offers, [stray.why for stray in strays]


def taken(offers: Sequence[Any]) -> list[tuple[Any, ...]]:
    """Number, pack, price in pence and steps of each offer."""
    steps = [tuple((packs, price // 100) for packs, price in offer[-1]) for offer in offers]
    return [(o[0], o[4], o[5] // 100, more) for o, more in zip(offers, steps, strict=True)]


def test_rows_for_several_quantities_are_one_offer() -> None:
    rows = [a_row("W320", 150), a_row("W320", 130, least=10), a_row("W320", 110, least=100)]
    report, offers, strays = gone_through(rows)
    assert taken(offers) == [("W320", 1, 150, ((10, 130), (100, 110)))]
    assert (strays, report.counts["offers"], report.counts["new"]) == ([], 1, 1)


def test_rows_for_several_quantities_may_stand_far_apart() -> None:
    rows = [a_row("W320", 110, least=100), a_row("W321", 200), a_row("W320", 150)]
    _, offers, _ = gone_through(rows)
    assert taken(offers) == [("W321", 1, 200, ()), ("W320", 1, 150, ((100, 110),))]


def test_two_prices_for_one_number_wait_for_a_person_both_of_them() -> None:
    rows = [a_row("W320", 150, row=2), a_row("W321", 9), a_row("W-320", 160, row=4)]
    report, offers, strays = gone_through(rows)
    assert taken(offers) == [("W321", 1, 9, ())]
    assert strays == ["the number stands 2 times at different prices: rows 2 and 4"] * 2
    assert (report.counts["strays"], report.counts["offers"]) == (2, 1)


def test_rows_of_two_sheets_are_told_with_their_sheets() -> None:
    rows = [a_row("W320", 150, sheet="Studs", row=3), a_row("W320", 160, sheet="2024", row=3)]
    assert settle(rows).why == (
        "the number stands 2 times at different prices: sheets Studs, row 3 and 2024, row 3"
    )
    later = [
        a_row("W320", 150, sheet="Studs", row=3),
        a_row("W320", 160, sheet="2024", valid_from="2026-06-01", valid_until="2026-08-01", row=3),
    ]
    assert settle(later).why.endswith("sheets Studs, row 3 and 2024, row 3")


def test_the_same_again_is_taken_once_and_told() -> None:
    rows = [a_row("W320"), a_row("W-320", row=9), a_row("W320", pack=5)]
    report, offers, strays = gone_through(rows)
    assert sorted(taken(offers)) == [("W320", 1, 100, ()), ("W320", 5, 100, ())]
    assert (strays, report.counts["twice"], report.twice) == ([], 1, ["row 9: W-320"])


def test_another_pack_is_no_double() -> None:
    report, offers, strays = gone_through([a_row("W320"), a_row("W320", 900, pack=10)])
    assert (len(offers), strays, report.counts["twice"]) == (2, [], 0)


def days(offers: Sequence[Any]) -> list[tuple[int, str, str]]:
    """The price in pence of each offer with its first and last day, in the order of the days."""
    return sorted(((o[5] // 100, o[7], o[8]) for o in offers), key=lambda each: each[1])


def test_a_price_ends_the_day_before_a_later_one_begins() -> None:
    later = a_row("W-320", 160, valid_from="2026-06-01")
    report, offers, strays = gone_through([later, a_row("W320", 150), a_row("W320", 160, pack=5)])
    assert days([each for each in offers if each[4] == 1]) == [
        (150, "2026-01-01", "2026-05-31"),
        (160, "2026-06-01", "2026-12-31"),
    ]
    assert (len(offers), strays, report.counts["twice"]) == (3, [], 0)


def test_a_later_price_that_ends_sooner_is_a_question() -> None:
    passing = a_row("W320", 90, row=9, valid_from="2026-06-01", valid_until="2026-06-30")
    _, offers, strays = gone_through([a_row("W320", 100), passing])
    assert offers == []
    assert (
        strays
        == ["the number's price from 2026-06-01 ends before the one from 2026-01-01: rows 7 and 9"]
        * 2
    )


def test_a_price_and_a_later_one_are_each_compared_with_their_own() -> None:
    rows = [a_row("W320", 150), a_row("W320", 160, valid_from="2026-06-01")]
    first = Held(1, *SEAL, 1, 15000, "GBP", "2026-05-31")
    second = Held(2, *SEAL, 1, 16000, "GBP", "2026-12-31", since="2026-06-01")
    known = Known(parts=parts(SEAL), held={"W320": [first, second]})
    report, _, _ = gone_through(rows, known, 2)
    assert (report.counts["same"], report.changes) == (2, False)


@given(
    st.lists(
        st.tuples(st.integers(1, 3), st.integers(1, 4), st.integers(5, 8)), min_size=1, max_size=6
    )
)
def test_on_no_day_do_two_prices_of_one_number_hold(told: list[tuple[int, int, int]]) -> None:
    rows = [
        a_row("W320", pence, valid_from=f"2026-0{first}-01", valid_until=f"2026-0{last}-01")
        for pence, first, last in told
    ]
    _, offers, strays = gone_through(rows)
    in_order = days(offers)
    assert all(one[2] < other[1] for one, other in pairwise(in_order))
    assert len(strays) in {0, len(rows)}
    for pence, first, last in in_order:
        assert any(
            (row.price, row.valid_from) == (pence * 100, first) and last <= row.valid_until
            for row in rows
        )


@pytest.mark.parametrize(
    "rows",
    [
        [a_row("W320", 130, least=10)],
        [a_row("W320", 130, least=10), a_row("W320", 110, least=100)],
    ],
)
def test_a_price_for_many_and_none_for_one_waits_for_a_person(rows: list[PriceRow]) -> None:
    assert gone_through(rows)[1:] == ([], [FROM_MORE] * len(rows))


@pytest.mark.parametrize(
    "second",
    [
        {"least": 10, "currency": "EUR"},
        {"least": 10, "valid_until": "2026-06-30"},
        {"least": 10, "breaks": ((5, 900),)},
        {"currency": "EUR"},
    ],
)
def test_rows_that_differ_in_more_than_the_quantity_are_a_question(second: dict[str, Any]) -> None:
    _, offers, strays = gone_through([a_row("W320", 150), a_row("W320", 130, **second)])
    assert (offers, len(strays)) == ([], 2)


def test_a_number_on_every_row_is_no_offer_and_takes_little_memory() -> None:
    rows = [a_row("W320", row=at) for at in range(MOST_TOGETHER + 20)]
    _, offers, strays = gone_through(rows)
    assert (offers, strays) == ([], [TOO_OFTEN] * len(rows))


def test_a_part_without_one_price_is_not_gone() -> None:
    known = Known(held={"W320": [held(1, SEAL, 100)], "W321": [held(2, RING, 100)]})
    rows = [
        a_row("W320", 0, why="price on application"),
        a_row("W321", 150),
        a_row("W321", 160),
    ]
    first = Comparison(Decimal(5), 20, 2, DAY)
    first.add(rows, known)
    again = Comparison(Decimal(5), 20, 2, DAY, first.doubles)
    again.add(rows, known)
    kept = again.take_kept_back()
    again.together([(kept[0][0], kept[0][1], [row for _, _, row in kept])], known)
    assert list(again.seen) == [0, 1, 1]
    assert again.finish().counts["unpriced"] == 2


ROWS = st.lists(
    st.tuples(st.sampled_from(["W320", "W-320", "W321"]), st.integers(1, 3),
              st.sampled_from([1, 1, 10, 100])),
    max_size=12,
)  # fmt: skip


@given(ROWS, st.randoms())
def test_no_two_offers_for_one_thing_hold_and_no_row_is_lost(
    told: list[tuple[str, int, int]], turn: Any
) -> None:
    rows = [a_row(number, pence, least=least) for number, pence, least in told]
    report, offers, strays = gone_through(rows)
    assert len({offer[1] for offer in offers}) == len(offers)
    steps = sum(len(offer[-1]) for offer in offers)
    assert len(offers) + steps + len(strays) + report.counts["twice"] == len(rows)
    turned = list(rows)
    turn.shuffle(turned)
    _, others, left = gone_through(turned)
    assert {each[1:] for each in taken(offers)} == {each[1:] for each in taken(others)}
    assert len(left) == len(strays)


@given(st.permutations([(1, 150), (10, 130), (100, 110)]))
def test_the_order_of_the_quantities_does_not_matter(rows: list[tuple[int, int]]) -> None:
    settled = settle([a_row("W320", pence, least=least) for least, pence in rows])
    (offer,) = settled.offers
    assert offer.price == 15000
    assert offer.breaks == ((10, 13000), (100, 11000))
