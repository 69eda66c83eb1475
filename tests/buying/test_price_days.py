"""What holds today is compared with what held today; later prices and those over stand apart."""

from datetime import date, timedelta
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from kitting.buying.price_lists.changes import Comparison
from kitting.buying.price_lists.matching import Held, Known
from kitting.buying.price_lists.report import ChangeReport
from tests.buying.test_price_changes import DAY, SEAL, a_row, compare, parts
from tests.buying.test_price_doubles import gone_through

NEXT_YEAR = {"valid_from": "2027-01-01", "valid_until": "2027-12-31"}


def known(*held: tuple[int, str, str]) -> Known:
    """The seal, held at prices in pence, each from a day until a day."""
    offers = [
        Held(at, *SEAL, 1, pence * 100, "GBP", until, since=since)
        for at, (pence, since, until) in enumerate(held, 1)
    ]
    return Known(parts=parts(SEAL), held={"W320": offers})


def counted(report: ChangeReport) -> dict[str, int]:
    return {kind: count for kind, count in report.counts.items() if count and kind != "offers"}


def test_a_price_of_next_year_is_not_dearer_but_later_and_told_with_its_day() -> None:
    report = compare([a_row("W320", 180, **NEXT_YEAR)], known((150, "2026-01-01", "2026-12-31")))
    assert counted(report) == {"later": 1, "not yet": 1}
    assert (report.dearer, report.later[0].since) == ([], "2027-01-01")
    assert (report.later[0].before, report.later[0].percent) == (Decimal("1.50"), Decimal("20.0"))


def test_a_price_and_a_later_one_count_once_each() -> None:
    rows = [a_row("W320", 150), a_row("W320", 180, **NEXT_YEAR)]
    report, offers, _ = gone_through(rows, known((150, "2026-01-01", "2026-12-31")), 2)
    assert (counted(report), len(offers)) == ({"same": 1, "later": 1}, 2)


def test_a_later_price_that_was_known_is_as_before_and_one_that_went_is_told() -> None:
    held = known((150, "2026-01-01", "2026-12-31"), (180, "2027-01-01", "2027-12-31"))
    rows = [a_row("W320", 150), a_row("W320", 180, **NEXT_YEAR)]
    assert counted(gone_through(rows, held, 2)[0]) == {"same": 2}
    report = compare(rows[:1], held)
    assert counted(report) == {"same": 1, "later gone": 1}
    assert report.changes
    (gone,) = report.later
    assert (gone.before, gone.after, gone.since) == (Decimal("1.80"), None, "2027-01-01")


def test_a_price_that_is_over_is_told_and_leaves_the_part_without_an_offer() -> None:
    over = a_row("W320", 140, valid_from="2025-01-01", valid_until="2025-12-31")
    comparison = Comparison(Decimal(5), 20, 1, DAY)
    comparison.add([over], known((150, "2026-01-01", "2026-12-31")))
    report = comparison.finish()
    assert (counted(report), report.cheaper) == ({"over": 1}, [])
    assert (report.over[0].after, report.over[0].until) == (Decimal("1.40"), "2025-12-31")
    assert not comparison.seen[1]  # so that the offer that holds is counted as gone


def test_a_price_that_stands_is_not_gone_for_an_older_one_that_is_over() -> None:
    rows = [
        a_row("W320", 140, valid_from="2025-01-01", valid_until="2025-12-31"),
        a_row("W320", 150),
    ]
    held = known((140, "2025-01-01", "2025-12-31"), (150, "2026-01-01", "2026-12-31"))
    first = Comparison(Decimal(5), 20, 2, DAY)
    first.add(rows, held)
    comparison = Comparison(Decimal(5), 20, 2, DAY, first.doubles)
    comparison.add(rows, held)
    ((mark, part, _), *_) = kept = comparison.take_kept_back()
    comparison.together([(mark, part, [row for *_, row in kept])], held)
    assert counted(comparison.finish()) == {"same": 1, "over": 1}
    assert list(comparison.seen[1:]) == [1, 1]


def test_prices_that_ran_out_are_still_what_a_new_list_is_compared_with() -> None:
    report = compare([a_row("W320", 180)], known((150, "2025-01-01", "2025-12-31")))
    assert counted(report) == {"dearer": 1}


def test_what_held_on_no_day_so_far_is_new_today() -> None:
    report = compare([a_row("W320", 180)], known((180, "2026-06-01", "2026-12-31")))
    assert report.counts["new"] == 1


SPAN = st.tuples(st.integers(1, 3), st.integers(0, 60), st.integers(0, 60))


def _days(first: int, long: int) -> tuple[str, str]:
    day = date(2026, 2, 1) + timedelta(first)
    return day.isoformat(), (day + timedelta(long)).isoformat()


@given(st.lists(SPAN, max_size=4), SPAN)
def test_dearer_and_cheaper_speak_of_what_holds_on_the_day_alone(
    held: list[tuple[int, int, int]], told: tuple[int, int, int]
) -> None:
    known_of = known(*((pence, *_days(first, long)) for pence, first, long in held))
    pence, first, long = told
    since, until = _days(first, long)
    row = a_row("W320", pence, valid_from=since, valid_until=until)
    report = compare([row], known_of)
    kinds = ("same", "dearer", "a little dearer", "cheaper", "new", "later", "over")
    assert sum(report.counts[kind] for kind in kinds) == 1
    if not since <= DAY <= until:
        assert report.counts["dearer"] == report.counts["cheaper"] == 0
    then = [each.price for each in known_of.held["W320"] if each.since <= DAY <= each.until]
    for change in (*report.dearer, *report.cheaper):
        assert not then or change.before in {Decimal(price) / 10000 for price in then}


def test_numbers_without_a_price_until_a_later_day_are_named() -> None:
    report = compare([a_row("W320", 180, **NEXT_YEAR)], known((150, "2026-01-01", "2026-12-31")))
    assert report.not_yet == ["W320 (until 2027-01-01)"]
    held = known((150, "2026-01-01", "2026-12-31"), (180, "2027-01-01", "2027-12-31"))
    report = compare([a_row("W320", 180, **NEXT_YEAR)], held)
    assert (counted(report), report.not_yet) == (
        {"same": 1, "not yet": 1}, ["W320 (until 2027-01-01)"],
    )  # fmt: skip
    rows = [a_row("W320", 150), a_row("W320", 180, **NEXT_YEAR)]
    assert gone_through(rows, held, 2)[0].not_yet == []
