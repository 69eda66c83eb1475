"""Which part a row speaks of, and what a new list changes."""

from collections.abc import Sequence
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitting.buying.price_lists.changes import Comparison
from kitting.buying.price_lists.matching import Held, Key, Known, match, numbers_in
from kitting.buying.price_lists.report import ChangeReport
from kitting.buying.price_lists.rows import PriceRow, plain_number

SEAL, RING, OTHER = ("hob", "W 320"), ("hob", "W-321"), ("kes", "W320")
DAY = "2026-03-01"


def a_row(number: str, pence: int = 100, **more: Any) -> PriceRow:
    row = PriceRow(
        "", 7, number, plain_number(number), "", "", pence * 100, "GBP", 1, (),
        "2026-01-01", "2026-12-31", None, None, "", "",
    )  # fmt: skip
    return row._replace(**more)


def held(line: int, part: Key, pence: int, *, pack: int = 1, currency: str = "GBP") -> Held:
    return Held(line, *part, pack, pence * 100, currency, "2026-12-31")


def parts(*keys: Key) -> dict[str, list[Key]]:
    found: dict[str, list[Key]] = {}
    for key in keys:
        found.setdefault(plain_number(key[1]), []).append(key)
    return found


def compare(
    rows: Sequence[PriceRow], known: Known, last_line: int = 9, dearer_by: str = "5"
) -> ChangeReport:
    comparison = Comparison(Decimal(dearer_by), 20, last_line, DAY)
    comparison.add(rows, known)
    return comparison.finish()


@pytest.mark.parametrize("written", ["W320", "w-320", "W 320", "hob:W320", "HOB:w.320"])
def test_a_makers_number_in_any_spelling_is_his_part(written: str) -> None:
    assert match(a_row(written), Known(parts=parts(SEAL, RING))).part == SEAL


def test_a_number_that_two_makers_have_is_a_question() -> None:
    found = match(a_row("W320"), Known(parts=parts(SEAL, OTHER)))
    assert (found.part, found.why) == (None, "may be hob:W 320 or kes:W320")


def test_the_maker_decides_between_two() -> None:
    known = Known(parts=parts(SEAL, OTHER))
    assert match(a_row("W320", maker="kes"), known).part == OTHER
    assert match(a_row("kes:W320"), known).part == OTHER
    assert match(a_row("X1", part="kes:W320"), known).part == OTHER
    assert match(a_row("X1", part="W320", maker="hob"), known).part == SEAL


def test_the_suppliers_own_number_goes_before_a_makers() -> None:
    known = Known(held={"W320": [held(1, RING, 100)]}, parts=parts(SEAL))
    assert match(a_row("W320"), known).part == RING
    assert match(a_row("W320"), Known(past={"W320": [RING]}, parts=parts(SEAL))).part == RING


def test_a_persons_word_goes_before_everything() -> None:
    known = Known(decided={"W320": RING}, held={"W320": [held(1, SEAL, 1)]}, parts=parts(SEAL))
    assert match(a_row("W320"), known).part == RING
    assert match(a_row("W320", part="hob:W 320"), known).part == RING
    known.decided = {"W320": None}
    assert match(a_row("W320"), known).not_ours


def test_a_number_that_nobody_knows_goes_to_a_person_with_all_that_it_says() -> None:
    row = a_row("Q-9", 320, text="valve, odd", superseded_by="Q-10")
    report = compare([row], Known())
    (stray,) = report.strays
    assert stray == (
        "row 7", "Q-9", "Q9", "valve, odd · GBP 3.20 · superseded by Q-10",
        "nobody knows this number",
    )  # fmt: skip
    assert report.counts == {"strays": 1, "offers": 0}


def test_a_row_without_a_price_goes_to_a_person_with_its_part() -> None:
    row = a_row("W320", 0, why="price on application")
    report = compare([row], Known(parts=parts(SEAL)))
    assert report.strays[0].says == "our hob:W 320"
    assert report.reasons == {"price on application": 1}


@pytest.mark.parametrize(
    ("before", "after", "kind"),
    [
        (1000, 1000, "same"),
        (1000, 1050, "a little dearer"),
        (1000, 1051, "dearer"),
        (1000, 999, "cheaper"),
        (1, 2, "dearer"),
    ],
)
def test_a_price_is_dearer_by_more_than_so_many_per_cent_or_not(
    before: int, after: int, kind: str
) -> None:
    report = compare([a_row("W320", after)], Known(held={"W320": [held(1, SEAL, before)]}))
    assert {name for name, count in report.counts.items() if count} == {kind, "offers"}


def test_a_change_says_what_it_was_what_it_is_and_by_how_much() -> None:
    report = compare([a_row("W320", 1234)], Known(held={"W320": [held(1, SEAL, 1000)]}))
    assert report.dearer[0][:8] == (
        "hob:W 320", "W320", 1, Decimal("10.00"), Decimal("12.34"), "GBP", Decimal("23.4"), "row 7",
    )  # fmt: skip


def test_another_pack_is_another_offer() -> None:
    known = Known(held={"W320": [held(1, SEAL, 1000, pack=1), held(2, SEAL, 8000, pack=10)]})
    comparison = Comparison(Decimal(5), 20, 2, DAY)
    comparison.add([a_row("W320", 7000, pack=10), a_row("W320", 7000, pack=5)], known)
    assert comparison.report.counts == {
        "cheaper": 1, "new": 1, "other pack": 1, "offers": 2, "strays": 0,
    }  # fmt: skip
    assert list(comparison.seen) == [0, 0, 1]


def test_prices_in_different_money_are_not_compared() -> None:
    known = Known(held={"W320": [held(1, SEAL, 1000, currency="EUR")]})
    report = compare([a_row("W320", 2000)], known)
    assert (report.counts["other money"], report.counts["dearer"]) == (1, 0)
    assert report.other_money[0].percent is None


def test_a_part_under_a_new_number_of_the_suppliers_is_compared_with_itself() -> None:
    known = Known(parts=parts(SEAL), held_of={SEAL: [held(3, SEAL, 1000)]})
    assert compare([a_row("W320", 1000)], known).counts["same"] == 1


def test_a_succession_in_a_list_is_proposed_with_both_parts() -> None:
    known = Known(parts=parts(SEAL, RING))
    rows = [
        a_row("W320", superseded_by="W 321"),
        a_row("W321", superseded_by="Z9"),
        a_row("W320", superseded_by="w-320"),
    ]
    report = compare(rows, known)
    assert [(each.old, each.new_said, each.new) for each in report.superseded] == [
        (SEAL, "W 321", RING),
        (RING, "Z9", None),
    ]


def test_no_list_before_makes_every_offer_new() -> None:
    report = compare([a_row("W320"), a_row("W321")], Known(parts=parts(SEAL, RING)), last_line=0)
    assert report.counts["new"] == 2
    assert report.changes


CHANGES = st.lists(st.tuples(st.integers(1, 10**6), st.integers(1, 10**6)), max_size=60)


@given(CHANGES)
def test_every_offer_is_counted_once_and_the_worst_few_are_kept(
    pairs: list[tuple[int, int]],
) -> None:
    known = Known(held={f"N{at}": [held(at, SEAL, before)] for at, (before, _) in enumerate(pairs)})
    rows = [a_row(f"N{at}", after) for at, (_, after) in enumerate(pairs)]
    comparison = Comparison(Decimal(5), 3, len(pairs), DAY)
    comparison.add(rows, known)
    report = comparison.finish()
    kinds = ("same", "dearer", "a little dearer", "cheaper")
    assert sum(report.counts[kind] for kind in kinds) == len(pairs)
    assert sum(comparison.seen) == len(pairs)
    rises = sorted(
        (Decimal(after - before) / before for before, after in pairs if after * 100 > before * 105),
        reverse=True,
    )
    assert [
        Decimal(c.after - c.before) / c.before for c in report.dearer if c.before and c.after
    ] == rises[:3]


@given(st.lists(st.text("AB1:-", max_size=6), max_size=5))
def test_a_part_that_the_store_was_asked_about_is_all_that_matching_needs(
    texts: list[str],
) -> None:
    rows = [a_row(text, part=text[::-1], superseded_by=text[1:]) for text in texts]
    every = {plain_number(text): [("B", text)] for text in (*texts, *(t[::-1] for t in texts))}
    every.pop("", None)
    asked = {number: keys for number, keys in every.items() if number in numbers_in(rows)}
    for row in rows:
        assert match(row, Known(parts=asked)) == match(row, Known(parts=every))


@pytest.mark.parametrize(
    ("before", "after", "says"),
    [(250, 25000, "dearer"), (25000, 250, "cheaper"), (25000, 2500, ""), (250, 500, "")],
)
def test_a_price_a_hundred_times_off_is_told(before: int, after: int, says: str) -> None:
    report = compare([a_row("W320", after)], Known(held={"W320": [held(1, SEAL, before)]}))
    told = [each for each in report.remarks if f"about a hundred times {says}" in each]
    assert len(told) == bool(says)
    assert len(report.remarks) == len(told)


def test_a_part_in_another_pack_stands_beside_the_pack_before() -> None:
    known = Known(held={"W320": [held(1, SEAL, 400), held(2, SEAL, 9000, pack=100)]})
    report = compare([a_row("W320", 900, pack=2)], known)
    assert (report.counts["new"], report.counts["other pack"]) == (1, 1)
    assert report.other_pack == [
        ("hob:W 320", "W320", 1, Decimal("4.00"), "GBP", 2, Decimal("9.00"), "GBP",
         Decimal("12.5"), "row 7"),
    ]  # fmt: skip
    by_part = Known(parts=parts(SEAL), held_of={SEAL: [held(1, SEAL, 400, currency="EUR")]})
    (found,) = compare([a_row("W320", 900, pack=2)], by_part).other_pack
    assert (found.currency_before, found.percent) == ("EUR", None)


def test_a_part_in_the_same_pack_or_never_offered_is_beside_none() -> None:
    known = Known(held={"W320": [held(1, SEAL, 400)]}, parts=parts(RING))
    rows = [a_row("W320", 900), a_row("W321", 100, pack=5)]
    assert compare(rows, known).other_pack == []
