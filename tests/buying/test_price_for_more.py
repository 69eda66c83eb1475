"""The prices for more packs in the report of changes: dearer, cheaper, new, gone at a quantity."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.buying.price_lists.matching import Known
from kitting.buying.price_lists.quantities import Steps, changes_at, price_at
from kitting.buying.price_lists.report import ChangeReport
from tests.buying.test_price_changes import SEAL, a_row, compare, held, parts

PENCE = 100


def steps(*told: tuple[int, int]) -> tuple[tuple[int, int], ...]:
    return tuple((packs, pence * PENCE) for packs, pence in told)


BEFORE = steps((10, 120), (100, 100))


def against(*now: tuple[int, int], price: int = 150) -> ChangeReport:
    """A seal at 1.50, from 10 packs 1.20 and from 100 packs 1.00, against what it is now."""
    known = Known(held={"W320": [held(1, SEAL, 150)._replace(breaks=BEFORE)]})
    return compare([a_row("W320", price, breaks=steps(*now))], known)


def test_the_same_prices_for_more_are_as_before() -> None:
    report = against((10, 120), (100, 100))
    assert (report.counts["same"], report.changes, report.for_more) == (1, False, [])


@pytest.mark.parametrize(
    ("now", "packs", "what", "after"),
    [
        (((10, 120), (100, 900)), 100, "dearer", "9.00"),
        (((10, 90), (100, 100)), 10, "cheaper", "0.90"),
        (((10, 120),), 100, "gone", "1.20"),
        (((10, 120), (50, 110), (100, 100)), 50, "new", "1.10"),
    ],
)
def test_one_price_for_more_that_differs_is_told_and_the_offer_is_not_as_before(
    now: tuple[tuple[int, int], ...], packs: int, what: str, after: str
) -> None:
    report = against(*now)
    assert (report.counts["same"], report.counts["other for more"]) == (0, 1)
    assert report.counts[f"for more: {what}"] == 1
    assert report.changes
    (change,) = report.for_more
    assert (change.packs, change.what, change.after) == (packs, what, Decimal(after))


def test_a_price_for_more_that_is_a_little_dearer_is_counted_alone() -> None:
    report = against((10, 126), (100, 100))
    assert (report.counts["for more: a little dearer"], report.for_more) == (1, [])


def test_the_first_price_and_those_for_more_are_told_each_for_itself() -> None:
    report = against((10, 120), (100, 300), price=200)
    assert (report.counts["dearer"], report.counts["for more: dearer"]) == (1, 1)
    assert report.for_more[0].percent == Decimal("200.0")


def test_prices_for_more_in_other_money_are_not_compared() -> None:
    known = Known(held={"W320": [held(1, SEAL, 150, currency="EUR")._replace(breaks=BEFORE)]})
    report = compare([a_row("W320", 150)], known)
    assert (report.counts["other money"], report.for_more) == (1, [])


def test_a_price_that_is_dearer_for_more_than_for_fewer_asks_for_a_look() -> None:
    row = a_row("W320", 400, breaks=steps((10, 450), (50, 380)))
    report = compare([row], Known(parts=parts(SEAL)), last_line=0)
    assert report.remarks == [
        "row 7: W320 costs GBP 4.50 a pack from 10 packs on, and 4.00 for fewer"
    ]
    assert (report.counts["dearer for more"], report.counts["offers"]) == (1, 1)


def test_a_new_offer_is_told_with_its_prices_for_more() -> None:
    row = a_row("W320", 150, breaks=BEFORE)
    report = compare([row], Known(parts=parts(SEAL)), last_line=0)
    assert report.new[0].breaks == ((10, Decimal("1.20")), (100, Decimal("1.00")))


STEPS = st.dictionaries(st.integers(2, 6), st.integers(1, 5), max_size=3).map(
    lambda found: tuple(sorted(found.items()))
)


@given(st.integers(1, 5), STEPS, st.integers(1, 5), STEPS)
def test_nothing_told_at_a_quantity_means_that_every_number_of_packs_costs_as_before(
    before: int, then: Steps, after: int, now: Steps
) -> None:
    told = list(changes_at(before, then, after, now))
    if before == after and not told:
        assert all(
            price_at(packs, before, then) == price_at(packs, after, now) for packs in range(1, 8)
        )
    for each in told:
        assert each.before == price_at(each.packs, before, then)
        assert each.after == price_at(each.packs, after, now)
    assert not list(changes_at(before, then, before, then))
